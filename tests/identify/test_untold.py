"""Pairs that nothing scored tells apart, and what would most likely tell them. All tables are invented."""

from __future__ import annotations

from dataclasses import replace

from guidebuild.guide.characters import Ease
from guidebuild.guide.guide import Guide
from guidebuild.identify.columns import matrix_of
from guidebuild.identify.untold import NAMED, find_untold
from tests.identify.invented import table


def told_of(made: Guide, most: int = 1000) -> list[tuple[str, str, list[str]]]:
    """Each pair with the characters that would tell it."""
    return [(pair.first, pair.second, [c.id for c in pair.would_tell]) for pair in find_untold(matrix_of(made), most=most).pairs]


def test_what_tells_most_of_the_pairs_scored_for_it_is_named_first() -> None:
    # c1 is scored once and tells nothing yet, c2 tells the one pair scored for it, c3 five pairs of six.
    rows = {"One": "a???", "Two": "a???", "Red": "aaaa", "Sea": "a?bb", "Tan": "a??c", "Umber": "a??c"}
    assert told_of(table(rows))[0] == ("one", "two", ["c2", "c3", "c1"])


def test_every_pair_is_counted_once_and_no_more_are_looked_into_than_asked() -> None:
    rows = {"One": "a???", "Two": "a???", "Red": "aaaa", "Sea": "a?bb", "Tan": "a??c", "Umber": "a??c"}
    pairs = [(first, second) for first, second, _ in told_of(table(rows))]
    with_all = [(one, other) for one in ("one", "two") for other in ("two", "red", "sea", "tan", "umber") if one != other]
    assert pairs == [*with_all, ("tan", "umber")]
    few = find_untold(matrix_of(table(rows)), most=2)
    assert (len(few.pairs), few.count) == (2, len(pairs))


def test_of_equally_likely_characters_the_easier_to_see_comes_first() -> None:
    made = table({"One": "a??", "Two": "a??", "Red": "aaa", "Sea": "abb"})
    nearer = replace(made.characters["c1"], ease=Ease.UNDER_A_LENS)
    eased = replace(made, characters={**made.characters, "c1": nearer})
    assert told_of(made)[0] == ("one", "two", ["c1", "c2"])
    assert told_of(eased)[0] == ("one", "two", ["c2", "c1"])


def test_what_one_of_them_cannot_show_or_both_are_scored_for_would_tell_nothing() -> None:
    assert told_of(table({"One": "a-?", "Two": "a??", "Red": "bab"}))[0] == ("one", "two", ["c2"])
    assert told_of(table({"One": "aa", "Two": "aa"})) == [("one", "two", [])]


def test_only_the_likeliest_few_are_named() -> None:
    rows = {"One": "a" + "?" * (NAMED + 2), "Two": "a" + "?" * (NAMED + 2), "Red": "b" + "a" * (NAMED + 2)}
    assert [len(named) for *_, named in told_of(table(rows))] == [NAMED]
