"""Shortest diagnoses are as short as trying every set of characters finds. All tables are invented."""

from __future__ import annotations

import io
import random
from itertools import combinations

import pytest
from rich.console import Console

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.characters import Ease
from guidebuild.guide.guide import Guide
from guidebuild.identify.covering import find_covers
from guidebuild.identify.diagnosis import diagnose, family_of, similar_to
from guidebuild.identify.separation import find_separations
from guidebuild.terminal.telling import print_diagnoses
from guidebuild.views.telling.diagnosis import diagnosis_views
from tests.identify.invented import account, guide, length, like, measure, shows, states, table

SPOT = states("scutellum", spotted="a dark spot", plain="no spot")
BAND = states("connexivum", ease=Ease.AT_A_DISTANCE, banded="banded", plain="plain")
CLAW = states("claw", ease=Ease.UNDER_A_LENS, split="split", whole="whole")


def shortest_by_trying(made, taxon: str) -> set[frozenset[str]]:
    others = [t for t in made.accounts if t != taxon]
    told = {o: {s.character.id for s in find_separations(made, taxon, o)} for o in others}
    reachable = [o for o in others if told[o]]
    for size in range(len(made.characters) + 1):
        found = {frozenset(c) for c in combinations(made.characters, size) if all(told[o] & set(c) for o in reachable)}
        if found:
            return found
    return set()


@pytest.mark.parametrize("seed", range(30))
def test_the_shortest_diagnoses_are_those_that_trying_all_sets_finds(seed: int) -> None:
    draw = random.Random(seed)
    rows = ["".join(draw.choice("abc?") for _ in range(draw.choice([5, 5]))) for _ in range(draw.randint(4, 12))]
    made = table({f"T{n}": row for n, row in enumerate(rows) if set(row) != {"?"}})
    for taxon in made.accounts:
        found = diagnose(made, taxon)
        assert found.exact
        assert {frozenset(t.character.id for t in s) for s in found.sets} == {s for s in shortest_by_trying(made, taxon) if s}
        assert set(found.untold) == {o for o in made.accounts if o != taxon and not find_separations(made, taxon, o)}


def test_of_equally_short_diagnoses_the_easiest_comes_first_with_its_words() -> None:
    made = guide(
        (CLAW, SPOT, BAND),
        account("One", shows(CLAW, "split"), shows(SPOT, "spotted"), shows(BAND, "banded")),
        account("Two", shows(CLAW, "whole"), shows(SPOT, "plain"), shows(BAND, "plain")),
    )
    found = diagnose(made, "one")
    assert [[(t.character.id, t.words) for t in s] for s in found.sets] == [
        [("connexivum", "banded")],
        [("scutellum", "a dark spot")],
        [("claw", "split")],
    ]


def test_ranges_take_part() -> None:
    long = length()
    sizes = {"One": (6, 8), "Two": (9, 12), "Three": (7, 9)}
    made = guide((long,), *(account(n, shows(long, measure(*s))) for n, s in sizes.items()))
    assert diagnose(made, "one").untold == ("three",)
    assert [t.words for t in diagnose(made, "one", against=["two"]).sets[0]] == ["6–8 mm"]


def test_family_and_similar_species_can_be_what_it_is_told_from() -> None:
    made = guide(
        (SPOT, BAND),
        account("One", shows(SPOT, "spotted"), shows(BAND, "banded"), family="A", similar=(like("two"),)),
        account("Two", shows(SPOT, "plain"), shows(BAND, "banded"), family="A"),
        account("Three", shows(SPOT, "spotted"), shows(BAND, "plain"), family="B", similar=(like("one"),)),
    )
    assert family_of(made, "one") == ("two",)
    assert similar_to(made, "one") == ("two", "three")
    assert [t.character.id for t in diagnose(made, "one", against=family_of(made, "one")).sets[0]] == ["scutellum"]
    assert [t.character.id for t in diagnose(made, "one", against=similar_to(made, "one")).sets[0]] == ["connexivum", "scutellum"]


def test_an_account_that_is_scored_for_nothing_has_no_diagnosis() -> None:
    made = guide((SPOT,), account("One"), account("Two", shows(SPOT, "plain")))
    found = diagnose(made, "one")
    assert (found.sets, found.untold) == ((), ("two",))
    assert (found.exact, found.at_least, found.factor) == (True, 0, 1.0)


@pytest.mark.parametrize("seed", range(20))
def test_beyond_the_stated_size_the_greedy_set_keeps_within_its_bound(seed: int) -> None:
    draw = random.Random(seed)
    columns = [draw.getrandbits(40) & draw.getrandbits(40) for _ in range(14)]
    wanted = (1 << 40) - 1
    exact, greedy = find_covers(wanted, columns, exact_columns=14), find_covers(wanted, columns, exact_columns=0)
    least = len(exact.smallest[0])
    assert exact.exact
    assert not greedy.exact
    assert greedy.at_least <= least <= len(greedy.smallest[0]) <= least * greedy.factor
    reached = 0
    for number in greedy.smallest[0]:
        reached |= columns[number]
    assert reached | greedy.uncovered == wanted


@pytest.mark.parametrize("seed", range(20))
def test_smallest_covers_are_all_found(seed: int) -> None:
    draw = random.Random(seed)
    columns = [draw.getrandbits(18) & draw.getrandbits(18) for _ in range(9)]
    wanted = (1 << 18) - 1
    reachable = 0
    for column in columns:
        reachable |= column

    def covers(chosen: tuple[int, ...]) -> bool:
        return all(any(columns[n] >> bit & 1 for n in chosen) for bit in range(18) if reachable >> bit & 1)

    found = find_covers(wanted, columns, exact_columns=9)
    size = next(k for k in range(10) if any(covers(c) for c in combinations(range(9), k)))
    assert set(found.smallest) == {c for c in combinations(range(9), size) if covers(c)}


def test_the_view_shows_the_easiest_of_equally_short_diagnoses_for_each_set_of_others() -> None:
    made = guide(
        (SPOT, BAND),
        account("One", shows(SPOT, "spotted"), shows(BAND, "banded"), family="A", similar=(like("two"),)),
        account("Two", shows(SPOT, "plain"), shows(BAND, "banded"), family="A"),
        account("Three", shows(SPOT, "spotted"), shows(BAND, "plain"), family="B"),
        account("Four", shows(SPOT, "spotted"), shows(BAND, "banded"), family="B"),
    )
    whole, family = diagnosis_views(make_published(made), "one")
    assert whole.against == "all others in this guide"
    assert whole.sets == ((("connexivum", "banded"), ("scutellum", "a dark spot")),)
    assert [link.text for link in whole.untold] == ["Four"]
    assert (family.against, family.sets) == ("its family, A", ((("scutellum", "a dark spot"),),))


def test_a_diagnosis_is_told_with_the_stage_it_was_found_in() -> None:
    """Outside it the same character may tell nothing."""
    legs = states("legs", red="red", black="black")
    made = guide(
        (legs,),
        account("One", shows(legs, "red", stage="adult"), shows(legs, "black", stage="nymph")),
        account("Two", shows(legs, "black", stage="adult nymph")),
    )
    (view,) = diagnosis_views(make_published(made), "one")
    assert (view.where, view.sets) == ("adult", ((("legs", "red"),),))
    paper = io.StringIO()
    print_diagnoses(Console(file=paper, width=80), "One", (view,))
    assert paper.getvalue().splitlines() == ["What tells One from all others in this guide (adult)", "  legs: red"]


def told(made: Guide, taxon: str) -> list[tuple[str, tuple[str, ...]]]:
    """Where each diagnosis against the whole guide holds, and the characters of its first set."""
    views = [view for view in diagnosis_views(make_published(made), taxon) if view.against == "all others in this guide"]
    return [(view.where, tuple(f"{label}: {words}" for label, words in view.sets[0]) if view.sets else ()) for view in views]


def test_a_diagnosis_is_looked_for_in_every_stage() -> None:
    """The nymph is told by what the best scored stage does not show; what tells in both stages is said once."""
    legs, wing = states("legs", red="red", black="black"), states("wing", clear="clear", dark="dark")
    made = guide(
        (legs, wing),
        account("One", shows(legs, "red", stage="nymph"), shows(legs, "black", stage="adult"), shows(wing, "clear", stage="adult")),
        account("Two", shows(legs, "black", stage="nymph adult"), shows(wing, "clear", stage="adult")),
        account("Three", shows(legs, "red", stage="nymph adult"), shows(wing, "dark", stage="adult")),
    )
    assert told(made, "one") == [("nymph", ("legs: red",)), ("adult", ("legs: black",))]
    assert told(made, "three") == [("nymph", ("legs: red",)), ("adult", ("legs: red",))]
    both = guide((legs,), account("One", shows(legs, "red", stage="nymph adult")), account("Two", shows(legs, "black")))
    assert told(both, "one") == [("nymph and adult", ("legs: red",))]


def test_what_tells_one_sex_only_is_told_of_that_sex() -> None:
    horn, spot = states("horn", yes="a horn", no="no horn"), states("spot", yes="a spot", no="no spot")
    made = guide(
        (horn, spot),
        account("One", shows(horn, "yes", sex="male"), shows(spot, "yes")),
        account("Two", shows(horn, "no"), shows(spot, "yes")),
    )
    assert told(made, "one") == [("male nymph and male adult", ("horn: a horn",))]
    plain = guide((horn, spot), *made.accounts.values(), account("Three", shows(spot, "no"), shows(horn, "no")))
    assert told(plain, "one") == [("nymph and adult", ("spot: a spot",)), ("male nymph and male adult", ("horn: a horn",))]


def test_nothing_that_tells_is_said_once_and_not_for_each_stage() -> None:
    legs = states("legs", red="red", black="black")
    made = guide((legs,), account("One", shows(legs, "red")), account("Two", shows(legs, "red")))
    (view,) = diagnosis_views(make_published(made), "one")
    assert (view.sets, [link.text for link in view.untold]) == ((), ["Two"])


def test_what_is_not_told_apart_in_a_stage_is_said_of_that_stage() -> None:
    legs = states("legs", red="red", black="black")
    made = guide(
        (legs,),
        account("One", shows(legs, "red", stage="nymph"), shows(legs, "red", stage="adult")),
        account("Two", shows(legs, "black", stage="nymph"), shows(legs, "red", stage="adult")),
        account("Three", shows(legs, "red", stage="nymph"), shows(legs, "black", stage="adult")),
    )
    paper = io.StringIO()
    print_diagnoses(Console(file=paper, width=80), "One", diagnosis_views(make_published(made), "one"))
    assert paper.getvalue().splitlines() == [
        "What tells One from all others in this guide (nymph)",
        "  legs: red",
        "  Nothing in the guide tells it from Three (nymph).",
        "What tells One from all others in this guide (adult)",
        "  legs: red",
        "  Nothing in the guide tells it from Two (adult).",
    ]
