"""A table that is too empty for a key has none, and is told which scores would help most. All tables are invented."""

from __future__ import annotations

import random
from time import process_time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.checks.too_little import RULES
from guidebuild.guide.guide import Guide
from guidebuild.identify import planner
from guidebuild.identify.columns import Matrix, matrix_of, unseparated_sets
from guidebuild.identify.key import Key, make_key
from guidebuild.identify.planner import Branch, is_empty, plan_key
from guidebuild.identify.splits import splits_of
from guidebuild.identify.wanted import find_wanted
from tests.identify.invented import table


def invent_rows(seed: int, taxa: int, width: int, unknown: float) -> tuple[dict[str, str], dict[str, str]]:
    """Whole rows, and the same with cells missing."""
    draw = random.Random(seed)
    whole = {f"T{n}": "".join(draw.choices("abcd", k=width)) for n in range(taxa)}
    return whole, {name: "".join("?" if draw.random() < unknown else cell for cell in row) for name, row in whole.items()}


def count_alike(matrix: Matrix) -> int:
    """Pairs that nothing parts."""
    return sum(others.bit_count() for others in unseparated_sets(matrix)) // 2


def ends_of(key: Key) -> set[str]:
    return {t for couplet in key.couplets for lead in couplet.leads for t in lead.taxa} | {*key.alone}


TABLES = st.integers(1, 8).flatmap(lambda width: st.lists(st.text("abc?", min_size=width, max_size=width), min_size=1, max_size=14))


@settings(max_examples=150, deadline=None)
@given(TABLES, st.booleans(), st.sampled_from([0, 40, planner.BUDGET]))
def test_a_key_never_parts_what_is_unknown_and_reaches_every_species(rows: list[str], dichotomous: bool, budget: int) -> None:
    patch = pytest.MonkeyPatch()
    with patch.context() as set_to:
        set_to.setattr(planner, "BUDGET", budget)
        matrix = matrix_of(table({f"T{n}": row for n, row in enumerate(rows)}))
        branches = plan_key(matrix, dichotomous=dichotomous)
    for branch in branches:
        if branch.split is not None:
            open_here = branch.taxa & matrix.columns[branch.split.column].open
            assert all(branches[goes].taxa & open_here == open_here for _, goes in branch.leads)
    if branches:
        assert reach(branches) == matrix.everything
    else:
        assert not matrix.taxa or is_empty(matrix)


def reach(branches: list[Branch]) -> int:
    """The taxa that some end holds."""
    reached = 0
    for branch in branches:
        reached |= branch.taxa if branch.split is None else 0
    return reached


@pytest.mark.parametrize("dichotomous", [True, False])
def test_a_table_with_most_scores_missing_has_no_key_but_wishes(dichotomous: bool) -> None:
    _, rows = invent_rows(1, 99, 30, 0.8)
    started = process_time()
    key = make_key(table(rows), dichotomous=dichotomous)
    assert process_time() - started < 10  # a minute and more before
    assert (key.couplets, key.groups, key.alone) == ((), (), ())
    assert key.wanted is not None
    scored = [row for row in rows.values() if row.strip("?")]
    missing = sum(row.count("?") for row in scored)
    assert (key.wanted.missing, key.wanted.possible, key.wanted.count) == (missing, len(scored) * 30, 40)
    for character, ids in key.wanted.helpful:
        assert all(rows[ident.upper()][int(character.label[1:])] == "?" for ident in ids)


def test_a_small_table_that_can_be_keyed_has_its_key_however_empty() -> None:
    made = table({"one": "a????", "two": "b????", "three": "c????"})
    assert is_empty(matrix_of(made))
    key = make_key(made)
    assert key.wanted is None and ends_of(key) == {"one", "two", "three"}


def test_half_a_table_missing_is_not_too_much_by_itself() -> None:
    assert not is_empty(matrix_of(table({"one": "a?", "two": "?b"})))
    assert is_empty(matrix_of(table({"one": "a??", "two": "?b?"})))


def test_no_way_is_followed_once_the_work_allowed_is_done() -> None:
    _, rows = invent_rows(3, 60, 24, 0.45)
    matrix = matrix_of(table(rows))
    questions = splits_of(matrix, dichotomous=True)
    costs = []
    for done in (0, planner.BUDGET + 1):
        work = planner.Planner(matrix, dichotomous=True, thorough=True)
        work.branches()
        work._greedy.clear()
        work._work = done
        costs.append(work._onward(matrix.everything, questions))
    assert costs[0] > 0 == costs[1]


@pytest.mark.parametrize("seed", range(8))
def test_the_scores_wanted_part_more_pairs_than_as_many_taken_by_chance(seed: int) -> None:
    whole, rows = invent_rows(seed, 60, 12, 0.85)
    before = matrix_of(table(rows))
    wanted = [(ident.upper(), int(c.label[1:])) for c, ids in find_wanted(before).helpful for ident in ids]
    draw = random.Random(seed)
    gaps = [(name, n) for name, row in rows.items() for n, cell in enumerate(row) if cell == "?" and name.lower() in before.taxa]
    by_chance = [count_alike(matrix_of(fill(rows, whole, draw.sample(gaps, len(wanted))))) for _ in range(5)]
    assert count_alike(matrix_of(fill(rows, whole, wanted))) < min(by_chance) < count_alike(before)


def fill(rows: dict[str, str], whole: dict[str, str], cells: list[tuple[str, int]]) -> Guide:
    filled = {name: list(row) for name, row in rows.items()}
    for name, n in cells:
        filled[name][n] = whole[name][n]
    return table({name: "".join(row) for name, row in filled.items()})


def test_the_one_score_that_parts_anything_comes_first() -> None:
    # The first character is scored for all but "four", whose score would part it from all; the second says nothing of anyone.
    made = matrix_of(table({"one": "aa?", "two": "ba?", "three": "ca?", "four": "?a?"}))
    wanted = find_wanted(made, most=1)
    assert [(c.label, ids) for c, ids in wanted.helpful] == [("c0", ("four",))]
    assert (wanted.missing, wanted.possible, wanted.count) == (5, 12, 1)


def test_not_all_wishes_are_for_the_species_that_lacks_most() -> None:
    rows = {f"T{n}": f"{'abcdefgh'[n]}{'bcdefgha'[n]}{'cdefghab'[n]}a" for n in range(8)}
    wanted = find_wanted(matrix_of(table({**rows, "X": "???a", "Y": "a??a"})), most=3)
    assert {ident for _, ids in wanted.helpful for ident in ids} == {"x", "y"}


def test_the_check_says_which_scores_and_where() -> None:
    made = table({f"T{n}": "".join("abcd"[(n + c) % 4] if (n + c) % 7 == 0 else "?" for c in range(6)) for n in range(12)})
    (finding,) = [finding for rule in RULES for finding in rule.run(made)]
    wanted = make_key(made).wanted
    assert wanted is not None
    start = (
        f"Too little is scored for a key: of {wanted.possible} scores {wanted.missing} are missing. These {wanted.count} would help most:"
    )
    assert (finding.code, str(finding.at)) == ("too-little-scored", "characters.yaml")
    assert finding.message.startswith(f"{start} c0 of ")
    assert finding.message.endswith(".")
    assert not [finding for rule in RULES for finding in rule.run(table({"one": "a", "two": "b"}))]
