"""What a film said on its day, held against the accounts today: the sample's film, with facts changed."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from guidebuild.authoring import note_film
from guidebuild.cli import exit_code
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import FieldMark
from guidebuild.guide.films import Film
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.measures import Measure
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.whole import read_guide
from guidebuild.views.scripts.film_facts import find_outdated, note_facts
from tests.guide_files import write_files

SAMPLE = Path(__file__).parents[3] / "sample_guide"
OWN = "parent-bug-at-birch-clump"


@cache
def sample() -> Guide:
    guide = read_guide(SAMPLE, as_of=dt.date(2026, 11, 28)).guide
    assert guide is not None
    return guide


def changed(**fields: object) -> Guide:
    account = replace(sample().accounts["parent-bug"], **fields)  # type: ignore[arg-type]
    return replace(sample(), accounts={**sample().accounts, "parent-bug": account})


def outdated(guide: Guide) -> list[Finding]:
    return [found for found in find_outdated(make_published(guide), guide.films.values()) if found.code == "film-out-of-date"]


def test_the_samples_film_says_what_is_still_so() -> None:
    film = sample().films[OWN]
    assert (film.noted, len(film.said)) == (dt.date(2026, 6, 12), 15)
    assert list(find_outdated(make_published(sample()), sample().films.values())) == []


def test_noting_finds_what_was_noted() -> None:
    film = sample().films[OWN]
    noted = note_facts(make_published(sample()), film)
    assert [(fact.account, fact.slot, fact.words, round(fact.second)) for fact in noted] == [
        (fact.account, fact.slot, fact.words, fact.second) for fact in film.said
    ]


def test_a_fact_that_changed_is_told_with_its_second_and_what_puts_it_right() -> None:
    (finding,) = outdated(changed(size=Measure("7–10 mm", 7, 10, unit="mm")))
    assert (
        finding.message
        == "The film “The Parent Bug in a minute” says at 0:28 of the Parent Bug, size: “6–9 mm”; its account says “7–10 mm” now."
    )
    assert finding.mend == (
        f"Post below it: “Correction to 0:28: size of the Parent Bug: 7–10 mm.” Once it is cut anew: guidebuild film {OWN}"
    )
    assert (str(finding.at.file), finding.level) == ("films.yaml", Level.WARNING)


def test_a_fact_that_is_gone_is_told_too() -> None:
    (finding,) = outdated(changed(status=Inline("")))
    assert finding.message.endswith("status: “common”; its account says nothing of it now.")


def test_marks_in_another_order_are_the_same_marks() -> None:
    marks = sample().accounts["parent-bug"].diagnostics
    assert outdated(changed(diagnostics=(marks[1], marks[0], *marks[2:]))) == []
    other: FieldMark = replace(marks[0], mark=Inline("black spot on the scutellum"))
    (finding,) = outdated(changed(diagnostics=(other, *marks[1:])))
    assert "says at 0:18 of the Parent Bug, mark 1: “dark spot on the scutellum”" in finding.message


def test_a_film_of_which_nothing_is_noted_asks_for_it() -> None:
    films = {OWN: replace(sample().films[OWN], said=(), noted=None)}
    guide = replace(sample(), films=films)
    (finding,) = find_outdated(make_published(guide), films.values())
    assert (finding.code, finding.level, finding.mend) == ("film-not-noted", Level.NOTE, f"Note it with: guidebuild film {OWN}")


def test_a_film_that_is_not_shown_tells_nothing() -> None:
    films = {OWN: replace(sample().films[OWN], file="")}
    assert list(find_outdated(make_published(replace(sample(), films=films)), films.values())) == []


@pytest.mark.parametrize("title", ["Plain", 'With "marks": and, {signs} # all', "Ñandú – ü"])
def test_what_is_written_down_is_read_back(tmp_path: Path, title: str) -> None:
    film = Film("toad-film", title, address="https://films.example/1", accounts=("toad",))
    facts = tuple(replace(fact, account="toad", words=f"{title}: {fact.words}") for fact in sample().films[OWN].said[:4])
    files = {
        "guide.yaml": "title: Toads\n",
        "films.yaml": f"toad-film:\n  title: A film\n  address: {film.address}\n  accounts: natterjack\n",
        "accounts/toad.md": "---\nname: Bufo bufo\nformerly: [natterjack]\n---\n",
    }
    note_film(write_files(tmp_path, files), film, facts, dt.date(2026, 6, 12))
    reading = read_guide(tmp_path)
    assert reading.guide is not None
    read = reading.guide.films["toad-film"]
    said = tuple(replace(fact, at=was.at) for fact, was in zip(read.said, facts, strict=True))
    assert (said, read.noted, read.accounts) == (facts, dt.date(2026, 6, 12), ("toad",))
    assert not [found for found in reading.findings if found.at.file.startswith("films")]


def test_a_note_that_cannot_be_read_is_one_clear_line(tmp_path: Path) -> None:
    files = {
        "guide.yaml": "title: Toads\n",
        "films.yaml": "toad-film: {title: A film, address: 'https://films.example/1'}\n",
        "films/toad-film.said.yaml": "noted: yesterday\n",
    }
    found = [one for one in read_guide(write_files(tmp_path, files)).findings if one.at.file.startswith("films")]
    assert [f"{one.at}: {one.message}" for one in found] == ["films/toad-film.said.yaml:1:8: 'yesterday' is not a date."]


@pytest.mark.parametrize(
    ("films", "told"),
    [
        ("", "films.yaml has no film with captions or a script."),
        ("toad-film: {title: A film, address: 'https://films.example/1'}\n", "films.yaml has no film with captions or a script."),
        (
            "toad-film: {title: A film, address: 'https://films.example/1', script: toad-short}\n",
            "Of every film in films.yaml it is noted what it says; name one to note it anew.",
        ),
    ],
)
def test_the_command_says_why_it_notes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str], films: str, told: str) -> None:
    files = {"guide.yaml": "title: Toads\n", "films.yaml": films, "accounts/toad.md": "---\nname: Bufo bufo\n---\n"}
    write_files(tmp_path, files | ({"films/toad-film.said.yaml": "noted: 2026-06-12\n"} if "script" in films else {}))
    assert exit_code(["film", "--in", str(tmp_path)]) == 0
    assert " ".join(capsys.readouterr().out.split()) == told
