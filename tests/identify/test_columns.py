"""The table of bit sets says just what the scores say, one taxon and one pair at a time. All tables are invented."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.guide.accounts import FieldMark
from guidebuild.guide.characters import Character, CharacterKind, Known
from guidebuild.guide.guide import Guide
from guidebuild.guide.text.inline import Inline
from guidebuild.identify.columns import Matrix, matrix_of, places_in, scored_columns, separated_sets, unseparated_sets, weigh_commonness
from guidebuild.identify.diagnosis import diagnose
from guidebuild.identify.readings import EVERYWHERE, Scope, are_apart, reading_in, scores_by_character
from tests.identify.invented import STAGES, account, guide, length, measure, shows, states

COLOUR = states("colour", red="red", brown="brown", grey="grey")

ENDS = st.sampled_from([None, 5.0, 6.0, 6.5, 7.0, 9.0])
RANGES = st.tuples(ENDS, ENDS).filter(lambda ends: ends[0] is None or ends[1] is None or ends[0] <= ends[1])
LENGTHS = st.one_of(st.none(), st.tuples(RANGES, st.booleans()))
COLOURS = st.sampled_from(["red", "brown", "grey", "red brown", "red (grey)", "(brown)", "?", "-"])


def invented(rows: list[tuple[str, tuple[tuple[float | None, float | None], bool] | None]], margin: float) -> Guide:
    size = length(margin=margin)
    taxa = []
    for number, (colour, measured) in enumerate(rows):
        sized = "?" if measured is None else measure(*measured[0], approximate=measured[1])
        taxa.append(account(f"T{number}", shows(COLOUR, colour), shows(size, sized)))
    return guide((COLOUR, size), *taxa)


def told(made: Guide, character: Character, one: str, other: str) -> bool:
    """Whether the two readings lie apart, asked of the scores themselves."""
    readings = [reading_in(scores_by_character(made.accounts[i]).get(character.id, ()), EVERYWHERE) for i in (one, other)]
    return None not in readings and are_apart(character, readings[0], readings[1])  # type: ignore[arg-type]


@given(st.lists(st.tuples(COLOURS, LENGTHS), min_size=2, max_size=7), st.sampled_from([0.0, 0.5, 1.0, 2.0]))
@settings(max_examples=120, deadline=None)
def test_bit_sets_separate_what_readings_separate(rows: list, margin: float) -> None:
    made = invented(rows, margin)
    matrix = matrix_of(made, scope=EVERYWHERE)
    characters = list(made.characters.values())
    sets = [separated_sets(matrix, column) for column in matrix.columns]
    for a, b in combinations(range(len(matrix.taxa)), 2):
        one, other = matrix.taxa[a], matrix.taxa[b]
        apart_by = [told(made, c, one, other) for c in characters]
        assert [bool(found[a] >> b & 1) for found in sets] == apart_by
        assert [bool(found[b] >> a & 1) for found in sets] == apart_by
        assert bool(unseparated_sets(matrix)[a] >> b & 1) is not any(apart_by)
    for number, taxon in enumerate(matrix.taxa):
        assert not any(found[number] >> number & 1 for found in sets)
        sheet = scores_by_character(made.accounts[taxon])
        scored = [n for n, c in enumerate(characters) if reading_in(sheet.get(c.id, ()), EVERYWHERE) is not None]
        assert places_in(scored_columns(matrix)[number]) == scored
        assert set(diagnose(made, taxon, scope=EVERYWHERE).untold) == {
            o for o in made.accounts if o != taxon and not any(told(made, c, taxon, o) for c in characters)
        }
    assert set(matrix.left_out) == set(made.accounts) - set(matrix.taxa)


def test_a_column_tells_what_is_usual_what_is_rare_and_what_is_not_known() -> None:
    rows = {"One": "red (grey)", "Two": "?", "Three": "-", "Four": "brown", "Five": "(red)"}
    other = states("band", banded="banded", plain="plain")
    made = guide((COLOUR, other), *(account(name, shows(COLOUR, value), shows(other, "plain")) for name, value in rows.items()))
    matrix = matrix_of(made)
    colour = matrix.columns[0]
    assert [matrix.ids(taxa) for taxa in colour.possible] == [("one", "five"), ("four",), ("one",)]
    assert [matrix.ids(taxa) for taxa in colour.usual] == [("one",), ("four",), ()]
    assert (matrix.ids(colour.unknown), matrix.ids(colour.inapplicable), matrix.ids(colour.open)) == (
        ("two",),
        ("three",),
        ("two", "three"),
    )
    assert colour.bounds == ()
    assert not colour.is_range


def test_a_rough_measure_is_widened_by_the_margin_and_a_plain_one_is_not() -> None:
    size = length(margin=0.5)
    made = guide(
        (size,),
        account("One", shows(size, measure(6, 8))),
        account("Two", shows(size, measure(6, 8, approximate=True))),
        account("Three", shows(size, measure(6, 8)), shows(size, "?", stage="nymph")),
    )
    assert matrix_of(made, scope=EVERYWHERE).columns[0].bounds == ((6, 8), (5.5, 8.5), (6, 8))
    nymphs = matrix_of(made, scope=Scope("nymph"))
    assert (nymphs.taxa, nymphs.left_out) == (("one", "two"), ("three",))


def test_only_characters_of_the_stage_and_sex_are_asked() -> None:
    wing = states("wing", stages="adult", long="long", short="short")
    horn = Character("horn", "horn", CharacterKind.STATES, COLOUR.states, sexes=frozenset({"male"}))
    one = account("One", shows(wing, "long"), shows(horn, "red"), shows(COLOUR, "grey"))
    made = guide((wing, horn, COLOUR), one, account("Two", shows(COLOUR, "red")))

    def asked(scope: Scope) -> list[str]:
        return [column.character.id for column in matrix_of(made, scope=scope).columns]

    assert asked(Scope("adult")) == ["wing", "colour"]
    assert asked(Scope("nymph")) == ["colour"]
    assert asked(Scope("adult", "male")) == ["wing", "horn", "colour"]
    assert asked(Scope("nymph", "female")) == ["colour"]


def test_the_stage_that_is_best_scored_is_keyed_and_of_equal_ones_the_last_in_life() -> None:
    one = account("One", shows(COLOUR, "red", stage="nymph"), shows(COLOUR, "?", stage="adult"))
    two = account("Two", shows(COLOUR, "grey", stage="nymph"), shows(COLOUR, "red", stage="adult"))
    assert matrix_of(guide((COLOUR,), one, two)).scope == Scope("nymph")
    assert matrix_of(guide((COLOUR,), two)).scope == Scope("adult")
    # A score for no stage of its own counts for the stages of its character.
    wing = states("wing", stages="egg", long="long", short="short")
    eggs = account("Three", shows(wing, "long"), shows(wing, "short"))
    assert matrix_of(guide((COLOUR, wing), two, eggs)).scope == Scope("egg")
    assert matrix_of(guide((COLOUR,), account("Four", shows(COLOUR, "red")))).scope == Scope("adult")


def test_of_stages_that_are_scored_alike_the_one_with_most_marks_is_keyed() -> None:
    spot = FieldMark(Inline("spot"), stages=("nymph",))
    one, two = (account(name, shows(COLOUR, "red"), diagnostics=(spot,)) for name in ("One", "Two"))
    three = account("Three", shows(COLOUR, "grey"), diagnostics=(replace(spot, stages=("adult",)),))
    assert matrix_of(guide((COLOUR,), one, two, three)).scope == Scope("nymph")
    assert matrix_of(guide((COLOUR,), one, three)).scope == Scope("adult")
    # More scores count for more than any mark.
    four = account("Four", shows(COLOUR, "red", stage="adult"))
    assert matrix_of(guide((COLOUR,), one, two, four)).scope == Scope("adult")


def test_the_author_of_a_group_says_for_which_stage_the_key_is() -> None:
    young = account("One", shows(COLOUR, "red", stage="nymph"))
    made = guide((COLOUR,), young, account("Two", shows(COLOUR, "grey", stage="nymph")))
    assert matrix_of(made).scope == Scope("nymph")
    assert matrix_of(replace(made, stage_sets={"bug": replace(STAGES, keyed="adult")})).scope == Scope("adult")


def test_some_accounts_can_be_chosen() -> None:
    made = guide((COLOUR,), *(account(name, shows(COLOUR, "red")) for name in ("One", "Two", "Three")))
    assert matrix_of(made, accounts=["three", "one"]).taxa == ("three", "one")
    assert matrix_of(made).everything == 0b111
    assert Matrix((), ()).everything == 0


@pytest.mark.parametrize(
    ("more", "less"),
    [
        ("Very common", "common in parks"),
        ("abundant", "Widespread"),
        ("common", "not said"),
        ("frequent", ""),
        ("", "local"),
        ("", "very rare"),
        ("", "Uncommon"),
    ],
)
def test_what_is_met_oftener_weighs_more(more: str, less: str) -> None:
    assert weigh_commonness(more) > weigh_commonness(less) > 0


def test_a_status_weighs_by_its_first_words() -> None:
    assert weigh_commonness("Very common on birch, rare elsewhere") == weigh_commonness("abundant")
    assert (
        weigh_commonness("very rare")
        == weigh_commonness("rare")
        == weigh_commonness("scarce")
        == weigh_commonness("uncommon")
        == weigh_commonness("local")
    )
    assert weigh_commonness("common") == weigh_commonness("widespread") == weigh_commonness("frequent")


@given(st.integers(0, 1 << 70))
def test_places_are_the_bits_that_are_set(taxa: int) -> None:
    assert places_in(taxa) == [n for n in range(71) if taxa >> n & 1]


def test_a_cell_is_inapplicable_only_where_every_score_of_the_stage_says_so() -> None:
    mixed = account("One", shows(COLOUR, "-", sex="male"), shows(COLOUR, "?", sex="female"))
    never = account("Two", shows(COLOUR, "-", sex="male"), shows(COLOUR, "-", sex="female"))
    band = states("band", plain="plain", banded="banded")
    made = guide((COLOUR, band), *(account(a.vernacular, *a.scores, shows(band, "plain")) for a in (mixed, never)))
    column = matrix_of(made).columns[0]
    assert (column.unknown, column.inapplicable) == (0b01, 0b10)
    assert Known.NOT_APPLICABLE is made.accounts["two"].scores[0].known
