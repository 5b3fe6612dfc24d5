"""Seasons in the guide's languages: months after the CLDR, with or without a full stop, and the other words from content/seasons."""

from __future__ import annotations

from pathlib import Path

import pytest
from babel import Locale

from guidebuild.guide.months import month_names
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.season_vocabulary import MEANINGS
from guidebuild.guide.seasons import DEKADS, Season
from guidebuild.reading.season_words import read_words, season_vocabulary
from guidebuild.reading.whole import read_guide
from tests.guide_files import write_files

ROOT = Path(__file__).resolve().parents[2]
SHIPPED = sorted(path.stem for path in (ROOT / "content" / "seasons").glob("*.yaml"))


def span(first: int, last: int) -> frozenset[int]:
    return frozenset((first + n) % DEKADS for n in range((last - first) % DEKADS + 1))


def read(text: str, *languages: str, hemisphere: str = "") -> Season:
    season = parse_season(text, hemisphere, season_vocabulary(languages))
    assert isinstance(season, Season), season
    return season


READ = (
    ("es", "mayo – agosto", span(12, 23)),
    ("es", "de mayo a agosto", span(12, 23)),
    ("es", "desde mayo hasta agosto", span(12, 23)),
    ("es", "a finales de abril", span(11, 11)),
    ("es", "principios de junio – mediados de julio", span(15, 19)),
    ("es", "sept. – nov.", span(24, 32)),
    ("es", "sep–nov", span(24, 32)),
    ("es", "todo el año", span(0, 35)),
    ("es", "entre mayo y julio", span(12, 20)),
    ("es", "abril, mayo y junio", span(9, 17)),
    ("de", "Mai–Aug.", span(12, 23)),
    ("de", "Anfang Juni", span(15, 15)),
    ("de", "Mitte Mai bis Ende Juni", span(13, 17)),
    ("de", "Anfang bis Mitte Juni", span(15, 16)),
    ("de", "10. Mai – 20. Juli", span(12, 19)),
    ("de", "März–Juni", span(6, 17)),
    ("de", "Jänner und Feber", None),
    ("de", "ganzjährig", span(0, 35)),
    ("de", "KW 20–26", span(13, 18)),
    ("fr", "mi-juin", span(16, 16)),
    ("fr", "début mai à fin août", span(12, 23)),
    ("fr", "févr. – avr.", span(3, 11)),
    ("fr", "d'avril à juin", span(9, 17)),
    ("fr", "1er mai – 14 juillet", span(12, 19)),
    ("fr", "toute l’année", span(0, 35)),
    ("it", "inizio maggio – metà giugno", span(12, 16)),
    ("nl", "half mei tot en met augustus", span(13, 23)),
    ("pt", "meados de março a maio", span(7, 14)),
    ("pl", "maj – sierpień", span(12, 23)),
    ("pl", "5 maja – 10 sierpnia", span(12, 21)),
)


@pytest.mark.parametrize(("language", "text", "dekads"), READ, ids=[text for _, text, _ in READ])
def test_a_season_in_a_language_of_the_guide_gives_these_dekads(language: str, text: str, dekads: frozenset[int] | None) -> None:
    if dekads is None:
        assert isinstance(parse_season(text, "", season_vocabulary((language,))), Unreadable)
    else:
        assert read(text, language).dekads == dekads


@pytest.mark.parametrize("language", ["cs", "da", "de", "es", "fi", "fr", "hu", "it", "nb", "nl", "pl", "pt", "ro", "sv", "tr", "uk"])
def test_every_month_of_a_language_is_read_as_the_cldr_writes_it(language: str) -> None:
    for context in ("stand-alone", "format"):
        for width in ("wide", "abbreviated"):
            for month, name in month_names(Locale.parse(language), width, context).items():
                for typed in (name, name.upper() if language != "tr" else name, f"{name.rstrip('.')}."):
                    assert read(typed, language).months == {month}, (typed, month)


def test_season_words_follow_the_hemisphere_in_every_language() -> None:
    """Case A13 in Spanish, German and French: spring in the south is September to November, months stay as they are."""
    for language, word in (("es", "primavera"), ("de", "Frühling"), ("fr", "printemps"), ("it", "primavera"), ("nl", "voorjaar")):
        assert read(word, language, hemisphere="south").months == {9, 10, 11}
        assert read(word, language, hemisphere="north").months == {3, 4, 5}
        problem = parse_season(word, "", season_vocabulary((language,)))
        assert isinstance(problem, Unreadable)
        assert problem.code == "season-needs-hemisphere"
    assert read("jun.–sept.", "es", hemisphere="south").months == {6, 7, 8, 9}
    assert read("Spätsommer", "de", hemisphere="north").months == {8}
    assert read("Frühsommer bis Herbst", "de", hemisphere="south").months == {12, 1, 2, 3, 4, 5}


def test_most_seen_sometimes_and_not_are_kept_apart() -> None:
    season = read("mai à août, surtout en juin; parfois septembre", "fr")
    assert (season.dekads, season.most_seen, season.uncertain) == (span(12, 26), span(15, 17), span(24, 26))
    assert read("todo el año excepto enero", "es").dekads == span(3, 35)


@pytest.mark.parametrize("languages", [("es",), ("es", "en"), ("de", "fr"), ("it",)])
def test_english_is_always_read(languages: tuple[str, ...]) -> None:
    assert read("mid May – early July", *languages).dekads == span(13, 18)
    assert read("all year; most seen in May", *languages).most_seen == span(12, 14)
    assert read("from May to July, with a few in September", *languages).dekads == span(12, 20) | span(24, 26)


@pytest.mark.parametrize(
    ("language", "text", "near"),
    [("es", "maio – agosto", "mayo"), ("de", "Anfag Juni", "anfang"), ("fr", "mi-jiun", "juin"), ("es", "primabera", "primavera")],
)
def test_a_slip_of_the_pen_gets_the_nearest_word_of_the_language(language: str, text: str, near: str) -> None:
    problem = parse_season(text, "north", season_vocabulary((language,)))
    assert isinstance(problem, Unreadable)
    assert problem.mend == f"Did you mean “{near}”?"


@pytest.mark.parametrize("language", SHIPPED)
def test_a_shipped_language_has_words_for_each_part_of_a_season(language: str) -> None:
    simple = {meaning for meaning in MEANINGS if " " not in meaning} | {"all year", "most seen"}
    assert simple <= read_words(language).keys()
    assert all(words for words in read_words(language).values())


def test_a_guide_reads_its_own_languages_and_names_the_line_of_what_it_cannot(tmp_path: Path) -> None:
    files = {
        "guide.yaml": "title: Sapos\nlanguages: [es]\nhemisphere: south\n",
        "accounts/sapo.md": "---\nname: Bufo bufo\nseasons:\n  adult: primavera – febrero\n  egg: abrril\n---\n",
    }
    reading = read_guide(write_files(tmp_path, files))
    assert reading.guide is not None
    (season,) = reading.guide.accounts["sapo"].seasons
    assert season.season.months == {9, 10, 11, 12, 1, 2}
    assert [str(f) for f in reading.findings if f.code == "unreadable-season"] == [
        "accounts/sapo.md:5:8: error: The season “abrril” cannot be read: “abrril” is not a word for a time of year. Did you mean “abril”?"
    ]
