"""The key: sound for every specimen, complete, short, numbered and the same every time. All tables are invented."""

from __future__ import annotations

import inspect
import math
import os
import random
import subprocess
import sys
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.guide.characters import CharacterKind, Ease
from guidebuild.guide.measures import Span
from guidebuild.guide.text.inline import Inline
from guidebuild.identify import key as key_module
from guidebuild.identify.columns import Matrix, matrix_of, unseparated_sets
from guidebuild.identify.key import Key, make_key
from guidebuild.identify.key_layout import lay_out_bracketed, lay_out_indented
from guidebuild.identify.planner import LONGEST, LONGEST_AT_LEAST
from guidebuild.identify.readings import Scope
from guidebuild.identify.splits import find_roundest
from tests.identify.invented import account, guide, length, measure, shows, states, table

SPOT = states("scutellum", spotted="a dark spot", plain="no spot")
BAND = states("connexivum", ease=Ease.AT_A_DISTANCE, banded="banded", plain="plain")
LENGTH = length()

TABLES = st.integers(2, 4).flatmap(
    lambda width: st.lists(st.text("abc?", min_size=width, max_size=width), min_size=2, max_size=7).filter(
        lambda rows: all(set(row) != {"?"} for row in rows)
    )
)


def of_rows(rows):
    return table({f"T{n}": row for n, row in enumerate(rows)})


def ends(key: Key) -> list[tuple[str, ...]]:
    return [lead.taxa for couplet in key.couplets for lead in couplet.leads if lead.to is None]


def reached(key: Key, row: str, made) -> list[tuple[str, ...]]:
    """Where a specimen with these states comes out: it takes every lead whose words hold its state."""
    by_number = {c.number: c for c in key.couplets}
    waiting, out = [1] if key.couplets else [], []
    while waiting:
        couplet = by_number[waiting.pop()]
        letter = row[list(made.characters).index(couplet.character)]
        for lead in couplet.leads:
            if letter in lead.words.replace(",", "").split():
                out += [lead.taxa] if lead.to is None else []
                waiting += [lead.to] if lead.to else []
    return out


@pytest.mark.parametrize("dichotomous", [True, False])
@settings(max_examples=60, deadline=None)
@given(rows=TABLES)
def test_every_specimen_comes_out_at_its_taxon(dichotomous: bool, rows: list[str]) -> None:
    made = of_rows(rows)
    key = make_key(made, dichotomous=dichotomous)
    if not key.couplets:
        return
    for taxon, row in zip(made.accounts, rows, strict=True):
        if "?" not in row:
            assert any(taxon in taxa for taxa in reached(key, row, made)), "a specimen is lost"


@pytest.mark.parametrize("dichotomous", [True, False])
@settings(max_examples=60, deadline=None)
@given(rows=TABLES)
def test_taxa_that_can_be_separated_never_end_together(dichotomous: bool, rows: list[str]) -> None:
    made = of_rows(rows)
    matrix = matrix_of(made)
    alike = unseparated_sets(matrix)
    for taxa in ends(make_key(made, dichotomous=dichotomous)):
        for a, b in combinations((matrix.taxa.index(t) for t in taxa), 2):
            assert alike[a] >> b & 1


def test_a_taxon_that_varies_comes_out_in_more_than_one_place() -> None:
    legs = states("legs", pale="pale", dark="dark")
    made = guide(
        (BAND, SPOT, legs),
        account("One", shows(BAND, "banded plain"), shows(SPOT, "spotted"), shows(legs, "pale")),
        account("Two", shows(BAND, "banded"), shows(SPOT, "plain")),
        account("Three", shows(BAND, "plain"), shows(legs, "dark")),
    )
    key = make_key(made)
    assert key.couplets[0].character == "connexivum"
    assert sorted(ends(key)) == [("one",), ("one",), ("three",), ("two",)]


def test_a_rare_state_is_followed_too_but_counts_little_in_the_steps() -> None:
    legs, wing = states("legs", pale="pale", dark="dark"), states("wing", clear="clear", brown="brown")
    others = (
        account("Two", shows(BAND, "plain"), shows(legs, "dark")),
        account("Three", shows(BAND, "banded"), shows(SPOT, "plain")),
        account("Four", shows(BAND, "plain"), shows(wing, "brown")),
    )
    rare, often = (
        make_key(
            guide(
                (BAND, SPOT, legs, wing),
                account("One", shows(BAND, shown), shows(SPOT, "spotted"), shows(legs, "pale"), shows(wing, "clear")),
                *others,
            )
        )
        for shown in ("banded (plain)", "banded plain")
    )
    assert ends(rare).count(("one",)) == ends(often).count(("one",)) == 2
    assert rare.statistics.mean < often.statistics.mean


def test_taxa_that_nothing_separates_end_as_a_group() -> None:
    key = make_key(table({"One": "ab", "Two": "ab", "Three": "bb"}))
    assert sorted(ends(key)) == [("one", "two"), ("three",)]
    assert [g.taxa for g in key.groups] == [("one", "two")]


def test_no_character_that_divides_leaves_all_together() -> None:
    key = make_key(table({"One": "a", "Two": "a"}))
    assert (key.couplets, key.alone, [g.taxa for g in key.groups]) == ((), ("one", "two"), [("one", "two")])


def test_a_key_with_couplets_leaves_none_before_the_first() -> None:
    assert make_key(table({"One": "a", "Two": "b"})).alone == ()


def test_large_groups_and_many_groups_are_named_without_what_tells_some_of_them_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three taxa in each of two groups, whose lengths meet; two of the first differ by sex only."""
    band, sizes = states("band", a="a", b="b"), length()
    spans = [(6, 9), (7, 10), (8, 11)]
    rows = [account(f"{x} {n}", shows(band, x), shows(sizes, measure(*span))) for x in "ab" for n, span in enumerate(spans)]
    eyes = states("eyes", red="red", brown="brown")
    rows[0] = replace(rows[0], scores=(*rows[0].scores, shows(eyes, "red", sex="male")))
    rows[1] = replace(rows[1], scores=(*rows[1].scores, shows(eyes, "brown", sex="male")))
    made = guide((band, sizes, eyes), *rows)

    def told() -> list[tuple[int, int]]:
        return [(len(g.overlaps), len(g.told_apart)) for g in make_key(made).groups]

    assert math.comb(10, 2) == key_module.PAIRS
    assert told() == [(3, 1), (3, 0)]
    for name, at_most in (("PAIRS", 3), ("GROUPS", 2)):
        monkeypatch.setattr(key_module, name, at_most)
        assert told() == [(3, 1), (3, 0)]
        monkeypatch.setattr(key_module, name, at_most - 1)
        assert told() == ([(2, 0)] * 2 if name == "PAIRS" else [(3, 0)] * 2)
        monkeypatch.undo()


def test_taxa_scored_for_nothing_are_left_out_and_named() -> None:
    key = make_key(table({"One": "a", "Two": "b", "Three": "?"}))
    assert key.left_out == ("three",)
    assert sorted(ends(key)) == [("one",), ("two",)]


def test_an_easy_character_is_asked_before_one_under_a_lens() -> None:
    lens = states("claw", ease=Ease.UNDER_A_LENS, split="split", whole="whole")
    made = guide(
        (lens, BAND),
        account("One", shows(lens, "split"), shows(BAND, "banded")),
        account("Two", shows(lens, "whole"), shows(BAND, "plain")),
    )
    (couplet,) = make_key(made).couplets
    assert (couplet.character, couplet.leads[0].also) == ("connexivum", (("claw", "split"),))


def test_common_taxa_are_reached_in_fewer_steps() -> None:
    rows = [("Rare One", "rare", "aa"), ("Rare Two", "rare", "ab"), ("Common One", "common", "ba"), ("Rare Three", "rare", "ac")]
    characters = [states(f"c{n}", a="a", b="b", c="c") for n in range(2)]
    made = guide(
        tuple(characters),
        *(account(n, *(shows(c, v) for c, v in zip(characters, row, strict=True)), status=Inline(s)) for n, s, row in rows),
    )
    found = make_key(made).statistics
    assert found.expected < found.mean


# Overlapping measurements: a 12.5 mm animal must not be sent to one of two that both reach it (common practice, no source).
def test_overlapping_lengths_are_never_split_and_the_overlap_is_reported() -> None:
    made = guide((LENGTH,), account("P", shows(LENGTH, measure(10, 13))), account("Q", shows(LENGTH, measure(12, 15))))
    key = make_key(made)
    assert key.couplets == ()
    (overlap,) = key.groups[0].overlaps
    assert (overlap.first, overlap.second, overlap.low, overlap.high) == ("p", "q", 12, 13)


def test_another_character_is_taken_where_lengths_overlap() -> None:
    made = guide(
        (LENGTH, SPOT),
        account("P", shows(LENGTH, measure(10, 13)), shows(SPOT, "spotted")),
        account("Q", shows(LENGTH, measure(12, 15)), shows(SPOT, "plain")),
    )
    assert [c.character for c in make_key(made).couplets] == ["scutellum"]


def test_lengths_that_differ_by_sex_split_only_within_a_sex() -> None:
    by_sex = measure(10, 18, Span(10, 12, "male"), Span(13, 18, "female"))
    made = guide((LENGTH,), account("R", shows(LENGTH, by_sex)), account("S", shows(LENGTH, measure(14, 20))))
    either = make_key(made)
    assert either.couplets == ()
    ((one, other, separation),) = either.groups[0].told_apart
    assert (one, other, separation.scope) == ("r", "s", Scope(sex="male"))
    (couplet,) = make_key(made, scope=Scope("adult", "male")).couplets
    assert [lead.words for lead in couplet.leads] == ["under 13\N{NO-BREAK SPACE}mm", "13\N{NO-BREAK SPACE}mm or more"]
    assert make_key(made, scope=Scope("adult", "female")).couplets == ()


@pytest.mark.parametrize("size", [6.0, 8.9, 9.0, 9.6, 10.0, 12.5, 13.0, 14.9, 15.0, 18.0])
def test_every_length_finds_all_taxa_that_reach_it(size: float) -> None:
    spans = {"A": (6, 9), "B": (10, 13), "C": (12, 15), "D": (15, 18), "E": (6, 18)}
    made = guide((LENGTH,), *(account(n, shows(LENGTH, measure(*s))) for n, s in spans.items()))
    key = make_key(made)
    by_number = {c.number: c for c in key.couplets}
    step: int | None = 1
    taxa: tuple[str, ...] = ()
    while step is not None:
        under, over = by_number[step].leads
        lead = under if size < float(under.words.split()[1].split("\N{NO-BREAK SPACE}")[0]) else over
        step, taxa = lead.to, lead.taxa
    assert {n.lower() for n, (low, high) in spans.items() if low <= size <= high} <= set(taxa)
    assert key.couplets


@pytest.mark.parametrize(
    ("low", "high", "wanted"), [(9, 10, 10), (9.25, 9.75, 9.5), (9, 9.4, 9.2), (90, 130, 100), (0.02, 0.03, 0.03), (9, 14, 10)]
)
def test_a_limit_is_easily_read_off(low: float, high: float, wanted: float) -> None:
    assert find_roundest(low, high) == wanted


def test_leads_name_only_states_that_the_taxa_there_may_show() -> None:
    colour = states("colour", a="red", b="green", c="blue or grey", d="white")
    made = guide((colour,), *(account(n, shows(colour, v)) for n, v in (("One", "a"), ("Two", "b"), ("Three", "c"))))
    words = {lead.words for couplet in make_key(made).couplets for lead in couplet.leads}
    assert words <= {"red", "green", "blue or grey", "red or green", "green; or blue or grey", "red; or blue or grey"}
    polytomous = make_key(made, dichotomous=False)
    assert [lead.words for lead in polytomous.couplets[0].leads] == ["red", "green", "blue or grey"]


def test_couplets_are_numbered_as_read_and_lead_back() -> None:
    rows = {f"T{n}": f"{n:03b}".replace("0", "a").replace("1", "b") for n in range(8)}
    key = make_key(table(rows))
    assert [c.number for c in key.couplets] == list(range(1, 8))
    for couplet in key.couplets:
        for place, lead in enumerate(couplet.leads):
            if lead.to:
                assert lead.to > couplet.number
                assert key.couplets[lead.to - 1].came_from == (couplet.number, place)
    assert key.couplets[0].came_from is None


def test_both_layouts_hold_the_same_leads() -> None:
    rows = {f"T{n}": f"{n:03b}".replace("0", "a").replace("1", "b") for n in range(8)}
    key = make_key(table(rows))
    inward, side_by_side = lay_out_indented(key), lay_out_bracketed(key)
    assert {(r.couplet.number, r.place) for r in inward} == {(r.couplet.number, r.place) for r in side_by_side}
    assert [(r.couplet.number, r.place) for r in side_by_side] == [(n, p) for n in range(1, 8) for p in (0, 1)]
    for row, below in pairwise(inward):
        if row.lead.to:
            assert (below.couplet.number, below.place, below.depth) == (row.lead.to, 0, row.depth + 1)


def test_a_first_couplet_of_three_leads_has_three_lines_in_either_layout() -> None:
    key = make_key(of_rows(["aa", "ab", "ba", "ca"]), dichotomous=False)
    assert [len(couplet.leads) for couplet in key.couplets] == [3, 2]
    assert [(r.couplet.number, r.place, r.depth) for r in lay_out_indented(key)] == [(1, 0, 0), (2, 0, 1), (2, 1, 1), (1, 1, 0), (1, 2, 0)]
    assert [(r.couplet.number, r.place) for r in lay_out_bracketed(key)] == [(1, 0), (1, 1), (1, 2), (2, 0), (2, 1)]


def test_a_comb_of_many_taxa_needs_no_deep_recursion() -> None:
    size = 260
    only = [states(f"c{n}", a="a", b="b") for n in range(size)]
    columns = matrix_of(table({"One": "a", "Two": "b"})).columns
    made = Matrix(
        tuple(f"t{n}" for n in range(size)),
        tuple(type(columns[0])(c, (everyone := ((1 << size) - 1) & ~(1 << n), 1 << n), (everyone, 1 << n)) for n, c in enumerate(only)),
        (1,) * size,
    )
    usual = sys.getrecursionlimit()
    sys.setrecursionlimit(len(inspect.stack()) + 60)
    try:
        rows = lay_out_indented(key := make_key(made))
    finally:
        sys.setrecursionlimit(usual)
    assert key.statistics.greatest == size - 1
    assert len(rows) == 2 * (size - 1)


def test_ordered_states_are_cut_between_neighbours() -> None:
    width = states("width", ordered=True, a="narrow", b="middling", c="broad", d="very broad")
    assert width.kind is CharacterKind.ORDERED
    made = guide((width,), *(account(f"T{v}", shows(width, v)) for v in "abcd"))
    first = make_key(made).couplets[0]
    assert [lead.words for lead in first.leads] == ["narrow or middling", "broad or very broad"]


PROGRAM = """
import random, sys
sys.path.insert(0, sys.argv[1])
from invented import table
from guidebuild.identify.diagnosis import diagnose
from guidebuild.identify.finder import finder_table, rank_taxa
from guidebuild.identify.key import make_key
draw = random.Random(7)
made = table({f"T{n}": "".join(draw.choice("abcd?") for _ in range(9)) for n in range(30)})
print(make_key(made), make_key(made, dichotomous=False), diagnose(made, "t3"), rank_taxa(finder_table(made), {0: 1}))
"""


def test_the_same_guide_gives_the_same_key_whatever_the_hash_seed() -> None:
    outcomes = {
        subprocess.run(
            [sys.executable, "-c", PROGRAM, str(Path(__file__).parent)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "77")
    }
    assert len(outcomes) == 1


def test_a_half_scored_guide_has_a_key_of_bounded_length_that_loses_nobody() -> None:
    draw = random.Random(3)
    rows = {f"T{n}": "".join(draw.choice("abcd???") for _ in range(14)) for n in range(40)}
    key = make_key(table(rows), dichotomous=False)
    assert 0 < key.statistics.couplets <= LONGEST * 40 + LONGEST_AT_LEAST
    assert {t for taxa in ends(key) for t in taxa} == {name.lower() for name in rows}
