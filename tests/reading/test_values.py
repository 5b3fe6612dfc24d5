"""What the facts come out as: plain text stays plain, missing is not none, and secrecy fails safe."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from guidebuild.guide.accounts import Account
from guidebuild.guide.characters import Known
from guidebuild.guide.findings import At, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.measures import Span
from guidebuild.guide.text.inline import Inline
from guidebuild.reading import parse_values
from guidebuild.reading.notes import Notes
from guidebuild.reading.whole import read_guide
from guidebuild.reading.yaml_text import read_block

CHARACTERS = """\
mark: {label: scutellum mark, states: {spotted: a dark spot on it, plain: no spot, banded: bands}}
length: {label: body length, kind: range, unit: mm, margin: 0.5 mm}
eggs: {label: eggs, kind: range, margin: 1}
"""


def plain(text: str) -> dict[str, object]:
    block = read_block(text, "x.yaml", Notes())
    assert block is not None
    return dict(block.data)


def guide(folder: Path, facts: str = "", *, body: str = "", **files: str) -> Guide:
    (folder / "accounts").mkdir()
    lists = {"guide": "title: Toads\nhemisphere: north\n", "characters": CHARACTERS, **files}
    for stem, text in lists.items():
        (folder / f"{stem}.yaml").write_text(text, encoding="utf-8")
    (folder / "accounts" / "toad.md").write_text(f"---\nname: Bufo bufo\n{facts}---\n{body}", encoding="utf-8")
    reading = read_guide(folder)
    assert reading.guide is not None
    return reading.guide


def account(folder: Path, facts: str, *, body: str = "") -> Account:
    return guide(folder, facts, body=body).accounts["toad"]


def test_words_and_numbers_stay_as_typed() -> None:
    typed = "country: NO\nedible: no\nflowering: on\nyes: present\nbest: 20:30\nearly: 06:30\nclip: 1:05\nwing: 12:15 mm\n"
    assert plain(typed + "code: 007\nyear: 1758\nday: 2026-05-02\nnone: null\nsize: 1e3\n") == {
        "country": "NO",
        "edible": "no",
        "flowering": "on",
        "yes": "present",
        "best": "20:30",
        "early": "06:30",
        "clip": "1:05",
        "wing": "12:15 mm",
        "code": "007",
        "year": "1758",
        "day": "2026-05-02",
        "none": "null",
        "size": "1e3",
    }


def test_a_key_with_nothing_after_it_says_nothing() -> None:
    assert plain("a:\nb: ~\nd: [x, ]\ne: {f: }\n") == {"d": ["x"], "e": {}}


def test_quotation_marks_round_nothing_say_nothing_either() -> None:
    assert plain('a: ""\nb: \' \'\nc: "\\0"\nd: "~"\ne: [\'\', x]\nf: |\n\n') == {"d": "~", "e": ["x"]}


def test_merged_keys_do_not_win_over_own_ones() -> None:
    assert plain("base: &b {x: 1, y: 2}\nmore:\n  <<: *b\n  y: 3\n")["more"] == {"x": "1", "y": "3"}


def test_every_value_knows_its_place() -> None:
    block = read_block("a:\n  - b: c\n  - d\n", "x.yaml", Notes(), first_line=10)
    assert block is not None
    places = [block.at("a", 0, "b"), block.key_at("a", 0, "b"), block.at("a", 1), block.at("a", 1, "no", "such"), block.key_at("a")]
    assert [(p.line, p.column) for p in places] == [(11, 8), (11, 5), (12, 5), (12, 5), (10, 1)]


@pytest.mark.parametrize(
    ("facts", "said", "reason"),
    [
        ("", False, ""),
        ("host plants:\n", False, ""),
        ("host plants: none\n", True, ""),
        ("host plants: []\n", True, ""),
        ("host plants: not applicable: it eats worms\n", True, "it eats worms"),
        ("host plants: {not applicable: it eats worms}\n", True, "it eats worms"),
        ("host plants: not applicable (it eats worms)\n", True, "it eats worms"),
        ("host plants: alder\n", True, ""),
    ],
)
def test_missing_is_not_the_same_as_none(tmp_path: Path, facts: str, said: bool, reason: str) -> None:
    hosts = account(tmp_path, facts).host_plants
    assert (hosts.said, hosts.reason.text, [h.plant for h in hosts]) == (said, reason, ["alder"] if "alder" in facts else [])


@pytest.mark.parametrize(
    ("facts", "category"),
    [
        ("sensitive: no\n", 0),
        ("sensitive: NO\n", 0),
        ("sensitive: low\n", 4),
        ("sensitive: {category: high, reason: nest, review: 2027-01-01}\n", 2),
        # Whatever cannot be read is kept wholly secret.
        ("sensitive: perhaps\n", 1),
        ("sensitive: yes\n", 1),
        ("sensitive: [high]\n", 1),
        ("sensitive: {reason: nest}\n", 1),
        ("sensitive: {category: hihg}\n", 1),
        ("sensitive: {category: low, reason: [a]}\n", 1),
        ("sensitiv: low\n", 1),
        ("Sensitive: low\n", 1),
    ],
)
def test_secrecy_fails_safe(tmp_path: Path, facts: str, category: int) -> None:
    assert account(tmp_path, facts).sensitivity.category == category


def test_places_fail_safe_too(tmp_path: Path) -> None:
    read = guide(tmp_path, places='pond: {name: Pond, position: "51.1, -1.3", uncertainty: 50 m, sensitve: high}\n')
    assert read.places["pond"].sensitivity.category == 1
    assert read.places["pond"].position is not None
    assert read.places["pond"].position.uncertainty == 50


def test_scores_are_read_against_the_characters(tmp_path: Path) -> None:
    facts = """\
characters:
  scutellum mark: [a dark spot on it or plain, rarely banded]
  length: 6–9 mm
  eggs: 20–30
"""
    scores = {s.character: s for s in account(tmp_path, facts).scores}
    assert (scores["mark"].states, scores["mark"].rarely) == ({"spotted", "plain"}, {"banded"})
    assert scores["length"].measure is not None
    assert (scores["length"].measure.low, scores["length"].measure.unit) == (6, "mm")
    assert scores["eggs"].measure is not None
    assert scores["eggs"].measure.unit == "count"
    assert scores["length"].at == At("accounts/toad.md", 5, 11)


def test_scores_may_be_narrowed_or_denied(tmp_path: Path) -> None:
    facts = """\
characters:
  mark:
    - {value: banded, stage: nymph}
    - {value: spotted, stage: adult, sex: ♀}
    - {usually: [plain], rarely: [spotted], stage: adult, sex: male}
  length: unknown
  eggs: not applicable
"""
    scores = account(tmp_path, facts).scores
    assert [(s.states, s.rarely, s.stages, s.sexes) for s in scores[:3]] == [
        ({"banded"}, set(), {"nymph"}, set()),
        ({"spotted"}, set(), {"adult"}, {"female"}),
        ({"plain"}, {"spotted"}, {"adult"}, {"male"}),
    ]
    assert [s.known for s in scores[3:]] == [Known.UNKNOWN, Known.NOT_APPLICABLE]
    assert scores[1].at.line == 6


def test_seasons_may_differ_by_place(tmp_path: Path) -> None:
    facts = "seasons:\n  adult:\n    - June\n    - {place: pond, season: May}\n"
    seasons = account(tmp_path, facts).seasons
    assert [(s.stage, s.place, s.season.months) for s in seasons] == [("adult", "", {6}), ("adult", "pond", {5})]


def test_authority_may_stand_apart(tmp_path: Path) -> None:
    assert account(tmp_path, "authority: (Linnaeus, 1758)\n").name.authority == "(Linnaeus, 1758)"


def test_one_bad_value_does_not_lose_the_others(tmp_path: Path) -> None:
    facts = "diagnostics:\n  - {mark: warts, at: nowhere}\n  - {mark: gold eyes, at: 50% 12%}\n  - {stage: adult}\n"
    marks = account(tmp_path, facts).diagnostics
    assert [(m.mark.text, m.point) for m in marks] == [("warts", None), ("gold eyes", (50, 12))]


def test_width_of_a_mark_is_per_cent_of_its_photo(tmp_path: Path) -> None:
    widths = ("6", "6.5 %", "100", "0", "140", "6 mm")
    facts = "diagnostics:\n" + "".join(f"  - {{mark: spot {n}, wide: {wide}}}\n" for n, wide in enumerate(widths))
    assert [mark.wide for mark in account(tmp_path, facts).diagnostics] == [6, 6.5, 100, None, None, None]


def test_a_mark_may_be_of_several_stages_and_sexes(tmp_path: Path) -> None:
    facts = (
        "diagnostics:\n  - {mark: grey, stage: [winter, breeding], sex: [♂, females]}\n"
        "  - {mark: red, stage: breeding, sex: male}\n  - {mark: pale, sex: both}\n  - mark: thin\n    stage:\n    sex:\n"
    )
    marks = account(tmp_path, facts).diagnostics
    assert [(m.mark.text, m.stages, m.sexes) for m in marks] == [
        ("grey", ("winter", "breeding"), ("male", "female")),
        ("red", ("breeding",), ("male",)),
        ("pale", (), ()),
        ("thin", (), ()),
    ]


def test_sections_start_at_their_first_line(tmp_path: Path) -> None:
    body = "\n## In brief\n\nOne.\n\n```\n## not a heading\n```\n## Life story ##\n\n## Where to look\nTwo.\n"
    read = account(tmp_path, "", body=body)
    assert [(s.heading, s.at.line) for s in read.sections] == [("In brief", 7), ("Life story", 13), ("Where to look", 15)]
    assert read.sections[0].text == "One.\n\n```\n## not a heading\n```"


def test_sizes_of_the_sexes_are_kept_apart(tmp_path: Path) -> None:
    size = account(tmp_path, "size: male 10–12, female 13–18 mm\n").size
    assert size is not None
    assert size.spans == (Span(10, 12, "male"), Span(13, 18, "female"))


def test_translations_join_their_account(tmp_path: Path) -> None:
    (tmp_path / "guide").mkdir()
    read = tmp_path / "guide"
    (read / "accounts").mkdir()
    (read / "guide.yaml").write_text("title: Toads\nlanguages: [en, es]\n", encoding="utf-8")
    (read / "accounts" / "toad.md").write_text("---\nname: Bufo bufo\ndiagnostics: [warts]\n---\n", encoding="utf-8")
    (read / "accounts" / "toad.es.md").write_text(
        "---\nvernacular: Sapo\nmarks: {warts: verrugas}\nsimilar: {frog: lisa}\n---\n## En breve\nHola.\n", encoding="utf-8"
    )
    reading = read_guide(read)
    assert reading.findings == ()
    assert reading.guide is not None
    (spanish,) = reading.guide.accounts["toad"].translations
    assert (spanish.language, spanish.marks, spanish.similar_notes) == ("es", (Inline("verrugas"),), (("frog", Inline("lisa")),))
    assert spanish.sections[0].heading == "En breve"


def test_settings_are_read(tmp_path: Path) -> None:
    said = """\
title: Toads
posts: [{name: short, characters: 280}, {name: wide, characters: 140, counted: Wide signs}]
episodes: [{name: short, length: 60–90 s, captions: Vertical}, {name: full, length: 4:30–5:30}]
pace: {syllables: 4.2}
region box: 51.0, -1.5, 51.2, -1.2
bleed: 3 mm
review after: 3 years
rules: {not-reviewed: off, season-words: warning}
hashtags: "#toads"
life stages:
  spider: {title: Spiders, stages: {egg: egg sac, adult: adult}, sought: adult}
cautions:
  barbed-wire: {title: Barbed wire, text: Mind the wire.}
"""
    settings = guide(tmp_path, guide=said)
    s = settings.settings
    assert [(slot.shortest, slot.longest, slot.captions) for slot in s.slots] == [(60, 90, "vertical"), (270, 330, "streaming")]
    assert [limit.counted for limit in s.post_limits] == ["signs", "wide signs"]
    assert (s.post_limits[0].characters, s.pace.syllables, s.region_box) == (280, 4.2, (51.0, -1.5, 51.2, -1.2))
    assert (s.bleed, s.review_after_months, s.hashtags) == (3.0, 36, ("toads",))
    assert s.rules == (("not-reviewed", None), ("season-words", Level.WARNING))
    assert settings.stage_sets["spider"].ids == ("egg", "adult")
    assert settings.cautions["barbed-wire"].text == "Mind the wire."
    assert "ticks" in settings.cautions


def test_captions_that_no_word_says_are_told_with_those_that_do(tmp_path: Path) -> None:
    (tmp_path / "accounts").mkdir()
    (tmp_path / "guide.yaml").write_text("title: Toads\nepisodes:\n  - {name: short, length: 60–90 s, captions: square}\n", "utf-8")
    reading = read_guide(tmp_path)
    assert [str(finding) for finding in reading.findings] == [
        "guide.yaml:3:46: error: 'square' is not one of the words for this. Write streaming, broadcast or vertical."
    ]
    assert reading.guide is not None
    assert [(slot.name, slot.longest, slot.captions) for slot in reading.guide.settings.slots] == [("short", 90, "streaming")]


def test_walks_are_read(tmp_path: Path) -> None:
    (tmp_path / "walks").mkdir()
    (tmp_path / "walks" / "dawn.yaml").write_text(
        "title: Dawn\ndate: 2026-05-02\nstart: 9:30\nlength: 90 min\nstops: [pond, {place: gate, minutes: 15, metres: 1.2 km}]\n",
        encoding="utf-8",
    )
    walk = guide(tmp_path).walks["dawn"]
    assert (walk.date, walk.start, walk.minutes) == (dt.date(2026, 5, 2), dt.time(9, 30), 90)
    assert [(s.place, s.minutes, s.metres) for s in walk.stops] == [("pond", 10, 0), ("gate", 15, 1200)]


@pytest.mark.parametrize(
    ("typed", "seconds"),
    [("1:05", 65), ("00:00:01,000", 1), ("1:02:03.450", 3723.45), ("90 s", 90), ("5 min", 300), ("1.5 h", 5400)],
)
def test_lengths_of_time(typed: str, seconds: float) -> None:
    assert parse_values.parse_seconds(typed) == pytest.approx(seconds)
