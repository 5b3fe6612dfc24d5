"""What tells look-alikes apart is tested, and each rule says so in exactly these words. All names are invented."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from guidebuild.checks.looks_alike import RULES
from guidebuild.guide.characters import Ease
from guidebuild.guide.guide import Guide
from guidebuild.guide.measures import Measure, Span
from tests.identify.invented import account, guide, length, like, measure, shows, states

SPOT = states("scutellum", spotted="a dark spot", plain="no spot")
BAND = states("connexivum", banded="dark bands", even="one colour")
LEGS = states("legs", pale="pale legs", dark="dark legs")
CLAW = states("claw", ease=Ease.UNDER_A_LENS, split="split", whole="whole")
LONG = length()
ALL = (SPOT, BAND, LEGS, CLAW, LONG)


def found(made: Guide) -> list[str]:
    return [f"{f.code} {f}" for rule in RULES for f in rule.run(made)]


def pair(ours: str, theirs: str, *tell_by: str, note: str = "", long: tuple[Measure, Measure] | None = None, listed: bool = True) -> Guide:
    """Two invented bugs: letters for SPOT, BAND, LEGS, CLAW (first or second state, `?` unknown)."""

    def scores(letters: str, place: int):
        made = [shows(c, "?" if v == "?" else c.states[int(v)].id) for c, v in zip(ALL, letters, strict=False)]
        return (*made, shows(LONG, long[place])) if long else tuple(made)

    similar = (like("dun-bug", *tell_by, note=note),) if listed else ()
    return guide(ALL, account("Ash Bug", *scores(ours, 0), similar=similar), account("Dun Bug", *scores(theirs, 1)))


@dataclass(frozen=True)
class Case:
    guide: Guide
    words: tuple[str, ...]


CASES = {
    "what separates is silent": Case(pair("0000", "1000", "scutellum", note="It has a dark spot; the other no spot."), ()),
    "the same state is named": Case(
        pair("0000", "0100", "scutellum"),
        (
            "tell-by-does-not-separate accounts/x.md:9: error: “scutellum” does not tell Ash Bug from Dun Bug: both are "
            "a dark spot. Write “connexivum”, which does, or correct the scores.",
        ),
    ),
    "the same range is named": Case(
        pair("0", "1", "body-length", long=(measure(6, 9), measure(6, 9))),
        (
            "tell-by-does-not-separate accounts/x.md:9: error: “body length” does not tell Ash Bug from Dun Bug: both are "
            "6–9 mm. Write “scutellum”, which does, or correct the scores.",
        ),
    ),
    "overlapping ranges are named": Case(
        pair("0", "1", "body-length", long=(measure(10, 13), measure(12, 15))),
        (
            "tell-by-does-not-separate accounts/x.md:9: error: “body length” does not tell Ash Bug from Dun Bug: 10–13 mm and "
            "12–15 mm overlap at 12–13\N{NO-BREAK SPACE}mm. Write “scutellum”, which does, or correct the scores.",
        ),
    ),
    "a claim that is not scored": Case(
        pair("0?", "1?", "connexivum"),
        (
            "tell-by-not-scored accounts/x.md:9: warning: “connexivum” cannot be shown to tell Ash Bug from Dun Bug: the two are "
            "not scored for a common stage and sex. Score it under `characters:` in both accounts.",
        ),
    ),
    "a claim scored for one only": Case(
        pair("00", "1", "connexivum"),
        (
            "tell-by-not-scored accounts/x.md:9: warning: “connexivum” cannot be shown to tell Ash Bug from Dun Bug: it is not "
            "scored for Dun Bug. Score it under `characters:` in both accounts.",
        ),
    ),
    "nothing separates a listed pair": Case(
        pair("0000", "0000"),
        (
            "nothing-separates accounts/x.md:9: error: Nothing under `characters:` tells Ash Bug from Dun Bug. Score a character "
            "that differs in both accounts.",
        ),
    ),
    "nothing separates a pair nobody lists": Case(
        pair("0000", "0000", listed=False),
        (
            "nothing-separates accounts/ash-bug.md:1: error: Nothing under `characters:` tells Ash Bug from Dun Bug, and neither "
            "lists the other as similar. Score a character that differs in both accounts.",
        ),
    ),
    "only under a lens": Case(
        pair("0000", "0001"),
        (
            "only-in-the-hand accounts/x.md:9: warning: Ash Bug and Dun Bug are told apart only under a lens (by the claw), which "
            "cannot be done on a walk. Add a character that shows close up, or say on the card that it needs a closer look.",
        ),
    ),
    "only in one sex": Case(
        pair("0", "0", long=(measure(10, 18, Span(10, 12, "male"), Span(13, 18, "female")), measure(14, 20))),
        (
            "only-in-the-hand accounts/x.md:9: warning: Ash Bug and Dun Bug are told apart only in the hand (by the body length), "
            "which cannot be done on a walk. Add a character that shows close up, or say on the card that it needs a closer look.",
            "only-in-part accounts/x.md:9: warning: Ash Bug and Dun Bug are told apart only in the male. Say so in the note, or "
            "score a character that holds for all.",
        ),
    ),
    "look-alikes that nobody lists": Case(
        pair("0000", "0001", listed=False),
        (
            "look-alike-not-listed accounts/ash-bug.md:1: note: Ash Bug and Dun Bug differ in nothing that is easily seen (3 "
            "characters agree), but neither lists the other as similar. Add `dun-bug` under `similar:`, or score what separates "
            "them.",
        ),
    ),
    "too little scored to suggest look-alikes": Case(pair("0??0", "0??1", listed=False), ()),
    "a note that neither score bears out": Case(
        pair("010", "110", "scutellum", note="The Dun Bug has dark bands along the connexivum."),
        (
            "score-against-note accounts/x.md:9: warning: The note on Dun Bug says “dark bands”, but neither is scored so for "
            "“connexivum”. Correct the note or the scores.",
        ),
    ),
    "a measurement in a note that neither score bears out": Case(
        pair("0", "1", "body-length", note="It is 20 to 25 mm long.", long=(measure(6, 9), measure(10, 12))),
        (
            "score-against-note accounts/x.md:9: warning: The note on Dun Bug says 20–25\N{NO-BREAK SPACE}mm, but the body length "
            "is scored as 6–9 mm and 10–12 mm. Correct the note or the scores.",
        ),
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_each_rule_says_what_is_wrong(name: str) -> None:
    assert tuple(found(CASES[name].guide)) == CASES[name].words


def test_a_scored_length_must_agree_with_the_size() -> None:
    one = account("Ash Bug", shows(LONG, measure(6, 9)), size=Measure("12–14 mm body length", 12, 14, "mm", "body length"))
    assert found(guide((LONG,), one)) == [
        "score-against-size guide.yaml: error: The body length is scored as 6–9 mm, but the size is given as 12–14 mm body "
        "length. Correct one of the two."
    ]


@pytest.mark.parametrize(
    ("scored", "size", "told"),
    [
        (measure(6, 9), Measure("6–10 mm", 6, 10), True),
        (measure(6, 9), Measure("5–9 mm", 5, 9), True),
        (measure(6, 9), Measure("6–9 mm", 6, 9), False),
        (measure(6, 9), Measure("0.24–0.35 in", 6.096, 8.89), True),
        (measure(101.5, 101.7), Measure("4 in", 101.6, 101.6), False),
    ],
)
def test_one_length_written_twice_is_the_same_length(scored: Measure, size: Measure, told: bool) -> None:
    one = account("Ash Bug", shows(LONG, scored), size=size)
    assert bool(found(guide((LONG,), one))) is told


@pytest.mark.parametrize(("low", "high", "told"), [(10, 12, False), (13, 18, False), (9, 12, True), (13, 19, True)])
def test_the_length_of_one_sex_lies_within_the_size(low: float, high: float, told: bool) -> None:
    of_females = replace(shows(LONG, measure(low, high)), sexes=frozenset({"female"}))
    one = account("Ash Bug", of_females, size=Measure("10–18 mm", 10, 18))
    assert bool(found(guide((LONG,), one))) is told


@pytest.mark.parametrize("what", ["body length", ""])
def test_a_length_inside_the_size_is_another_length(what: str) -> None:
    one = account("Ash Bug", shows(LONG, measure(6, 9)), size=Measure("5–10 mm", 5, 10, "mm", what))
    assert found(guide((LONG,), one)) == [
        "score-beside-size guide.yaml: warning: The body length is scored as 6–9 mm, but the size is given as 5–10 mm. Correct one "
        "of the two, or leave the score out: a size that says what was measured is a score as well."
    ]


@pytest.mark.parametrize(
    ("words", "warned"),
    [("body large", True), ("rather small", True), ("larger than the eye", False), ("a row of small dots", False), ("black", False)],
)
def test_large_and_small_alone_cannot_be_judged(words: str, warned: bool) -> None:
    made = guide((states("body", big=words, other="oval"),))
    message = f"size-word guide.yaml: warning: “body: {words}” cannot be judged without something to compare it with."
    mend = " Give a measurement, or compare: “longer than the head”."
    assert found(made) == ([message + mend] if warned else [])


def test_every_rule_is_named_in_these_tests() -> None:
    told = {words.split()[0] for case in CASES.values() for words in case.words} | {"score-against-size", "score-beside-size", "size-word"}
    assert told == {rule.code for rule in RULES}


def test_a_guide_without_characters_is_not_scolded() -> None:
    assert found(guide((), account("Ash Bug", similar=(like("dun-bug"),)), account("Dun Bug"))) == []
