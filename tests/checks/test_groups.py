"""What is asked of an account is what its group asks: no plant of what a flower feeds on, no stage that does not occur."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.authoring import draft_account
from guidebuild.checks import complete, life
from guidebuild.checks.registry import check_guide
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import StageSeason, StageText, Stated
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import Season
from guidebuild.guide.text.denied import is_nothing
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.shipped_lists import stage_sets
from tests.checks.invented import JUNE, at, guide, with_account


def told(changed: Guide) -> set[tuple[str, str]]:
    found = check_guide(changed, rules=(*complete.RULES, *life.RULES)).findings
    return {(f.code, f.mend) for f in found if f.account == "red-bug"}


def of_group(food: str, **changes: object) -> Guide:
    group = replace(guide().stage_sets["bug"], food=food, questions=(("host plants", "On what does it grow?"),))
    return with_account(guide(stage_sets={"bug": group}), "red-bug", **changes)


@pytest.mark.parametrize(("food", "asked"), [("eaten", True), ("grown on", True), ("none", False)])
def test_food_is_asked_of_groups_that_feed(food: str, asked: bool) -> None:
    found = told(of_group(food, host_plants=Stated(), prey=Inline("")))
    assert found == ({("no-food", "On what does it grow?")} if asked else set())


def test_hunters_are_asked_for_prey_and_told_so_at_its_key() -> None:
    changed = of_group("hunted", host_plants=Stated(), prey=Inline(""), positions={"prey": at("red-bug", 9)})
    (found,) = [f for f in check_guide(changed, rules=complete.RULES).findings if f.account == "red-bug"]
    assert (found.message, found.mend, found.at.line) == (
        "Red Bug does not give what it eats, which a publishable account needs.", "What does it hunt or eat, if not plants?", 9
    )  # fmt: skip
    assert told(of_group("hunted", host_plants=Stated(), prey=Inline("flies"))) == set()


NOTHING_OF = {
    "size": {"size": None},
    "photos": {"photos": ()},
    "pointer": {"diagnostics": tuple(replace(m, point=None) for m in guide().accounts["red-bug"].diagnostics)},
    "life stages": {"stages": ()},
    "seasons": {"seasons": ()},
    "in brief": {"sections": guide().accounts["red-bug"].sections[1:]},
}


@pytest.mark.parametrize("word", NOTHING_OF)
def test_what_a_group_does_not_ask_counts_neither_as_missing_nor_as_said(word: str) -> None:
    """Its bar is full with one part less, and drafts leave the question out; without the word it is asked."""
    lacking = with_account(guide(photos={}) if word == "photos" else guide(), "red-bug", **NOTHING_OF[word])
    asked = complete.measure_completeness(lacking, lacking.accounts["red-bug"])
    group = replace(lacking.stage_sets["bug"], not_asked=(word, "pointer") if word == "photos" else (word,))
    spared = replace(lacking, stage_sets={**lacking.stage_sets, "bug": group})
    rest = complete.measure_completeness(spared, spared.accounts["red-bug"])
    assert asked.said < asked.asked
    assert (rest.said, rest.asked, rest.missing) == (asked.said, asked.said, ())
    assert rest.level == "publishable"
    name = parse_name("Inventa nova")
    assert isinstance(name, ScientificName)
    key = "at:  #" if word == "pointer" else "## In brief" if word == "in brief" else f"# {word}:"
    assert key in draft_account(lacking, name, {"group": "bug"})
    assert key not in draft_account(spared, name, {"group": "bug"})


def season(typed: str) -> Season:
    read = parse_season(typed)
    assert isinstance(read, Season)
    return read


@pytest.mark.parametrize("typed", ["none", "never", "not here", "not here: it breeds in the hills"])
def test_a_stage_that_does_not_occur_is_denied_once_under_seasons(typed: str) -> None:
    seasons = (StageSeason("egg", season(typed), at=at("red-bug", 21)), StageSeason("adult", JUNE, at=at("red-bug", 22)))
    changed = with_account(guide(), "red-bug", seasons=seasons, stages=(StageText("adult", Inline("Large.")),))
    assert told(changed) == set()
    published = make_published(changed).accounts["red-bug"]
    assert [s.stage for s in published.seasons] == ["adult"]


@pytest.mark.parametrize("typed", ["none", "None.", "not here: it breeds in the hills", "not applicable: born alive"])
def test_a_stage_that_does_not_occur_is_denied_once_under_life_stages(typed: str) -> None:
    stages = (StageText("egg", Inline(typed)), StageText("adult", Inline("Large.")))
    changed = with_account(guide(), "red-bug", seasons=(StageSeason("adult", JUNE),), stages=stages, prey=Inline("none"))
    assert told(changed) == set()
    published = make_published(changed).accounts["red-bug"]
    assert [s.stage for s in published.stages] == ["adult"]
    assert not published.prey


@pytest.mark.parametrize("text", ["None of them is spotted.", "nothing but leaves", "not here but in gardens", "", "No hair at all."])
def test_a_text_that_only_begins_like_a_denial_is_told(text: str) -> None:
    assert not is_nothing(text)


def draft_of(group: str) -> str:
    name = parse_name("Inventa nova")
    assert isinstance(name, ScientificName)
    settings = replace(guide().settings, group=group)
    own = {"waders": StageSet("waders", "Waders", (("winter", "winter plumage"),))}
    return draft_account(guide(settings=settings, stage_sets={**stage_sets(), **own}), name, {})


@pytest.mark.parametrize(
    ("group", "lines", "never"),
    [
        ("true-bug", ("stage:  # nymph | adult", "view: upperside", "How large is it"), ("How tall",)),
        ("flowering-plant", ("stage:  # leaf | flower | fruit", "view: whole plant",
          "How tall is it? Such as: 20–45 cm height", "whole plant?"),
         ("host plants", "prey", "voice", "adult", "nymph", "animal", "Acanthosomatidae", "Parent Bug", "1758")),
        ("fungus", ("stage:  # button | fresh | old", "view: side", "cap width", "On or with which plants does it grow?"),
         ("prey", "voice", "adult", "nymph", "animal", "feed on", "Acanthosomatidae")),
        ("bird", ("stage:  # juvenile | adult", "view: side", "From which plants does it eat?", "What animals does it eat?"),
         ("nymph", "hunt", "caterpillars", "Acanthosomatidae")),
        ("amphibian", ("stage:  # egg | larva | adult", "egg:  # spawn", "What does it eat when it is grown?"),
         ("nymph", "host plants", "hunt", "caterpillars", "Acanthosomatidae")),
        ("fly", ("stage: adult",), ()),
        ("waders", ("stage: winter", "winter:  # winter plumage"), ("nymph", "adult")),
    ],
)  # fmt: skip
def test_a_draft_asks_in_the_words_of_its_group(group: str, lines: tuple[str, ...], never: tuple[str, ...]) -> None:
    text = draft_of(group).replace("body length", "")
    assert [line for line in lines if line not in text] == []
    assert [word for word in never if word in text] == []


@pytest.mark.parametrize("group", sorted(stage_sets()))
def test_the_examples_in_a_draft_are_of_its_group(group: str) -> None:
    """An author of birds is not shown a bug's name, size, food and voice."""
    text = draft_of(group)
    bugs = ("Parent Bug", "6–9 mm")
    assert [word for word in bugs if word in text] == ([] if group != "true-bug" else list(bugs))
    if group in ("bird", "amphibian"):
        assert "leaf beetles" not in text
        assert "when it is held" not in text


def test_a_group_like_one_that_is_not_known_is_told() -> None:
    own = StageSet("wader", "Waders", (("winter", "winter plumage"),), like="brid", at=at("red-bug", 3))
    changed = guide(stage_sets={**guide().stage_sets, "bird": stage_sets()["bird"], "wader": own})
    (found,) = check_guide(changed, rules=life.RULES).findings
    assert (found.message, found.mend) == ("“brid” is not a group that another can be like.", "Did you mean “bird”?")


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"sought": ("winter", "summr")}, "“summr” under `sought:` is not a stage of the group “wader”."),
        ({"keyed": "summr"}, "“summr” under `key:` is not a stage of the group “wader”."),
    ],
)
def test_a_group_that_names_a_stage_it_does_not_have_is_told(changes: dict[str, object], message: str) -> None:
    stages = (("winter", "winter plumage"), ("summer", "summer plumage"))
    own = StageSet("wader", "Waders", stages, at=at("red-bug", 3), positions={"key": at("red-bug", 7)}, **changes)  # type: ignore[arg-type]
    changed = guide(stage_sets={**guide().stage_sets, "wader": own})
    (found,) = check_guide(changed, rules=life.RULES).findings
    assert (found.message, found.mend, found.at.line) == (message, "Did you mean “summer”?", 7 if "keyed" in changes else 3)
