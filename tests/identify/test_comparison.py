"""Comparisons of several taxa: what separates first, then what is shared. All tables are invented."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.characters import Ease
from guidebuild.guide.measures import Span
from guidebuild.identify.comparison import compare_accounts
from guidebuild.identify.look_alikes import similar_pairs, similar_sets
from guidebuild.identify.readings import Scope
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.telling.compare import Comparer, compare_path, compare_view, list_compared
from guidebuild.views.telling.key import key_view
from tests.identify.invented import account, guide, length, like, measure, shows, states

BAND = states("connexivum", ease=Ease.AT_A_DISTANCE, banded="banded", plain="plain")
SPOT = states("scutellum", spotted="a dark spot", plain="no spot")
LEGS = states("legs", pale="pale", dark="dark")
LONG = length()

MADE = guide(
    (LONG, LEGS, SPOT, BAND),
    account("One", shows(BAND, "banded"), shows(SPOT, "spotted"), shows(LEGS, "pale"), similar=(like("two", note="Two is bigger."),)),
    account("Two", shows(BAND, "banded"), shows(SPOT, "plain"), shows(LEGS, "pale"), similar=(like("three"),)),
    account("Three", shows(BAND, "plain"), shows(SPOT, "-"), shows(LEGS, "pale")),
    account("Four", shows(LEGS, "dark")),
)


def test_easiest_first_then_what_tells_most_pairs_then_what_is_shared() -> None:
    found = compare_accounts(MADE, ["one", "two", "three"])
    assert [(r.character.id, r.values, r.separates) for r in found.separating] == [
        ("connexivum", ("banded", "banded", "plain"), ((0, 2), (1, 2))),
        ("scutellum", ("a dark spot", "no spot", "does not apply"), ((0, 1),)),
    ]
    assert [(r.character.id, r.values) for r in found.shared] == [("legs", ("pale", "pale", "pale"))]
    assert found.untold == ()


def test_pairs_that_nothing_separates_are_named() -> None:
    made = guide((LEGS,), account("One", shows(LEGS, "pale")), account("Two", shows(LEGS, "pale")), account("Three"))
    assert compare_accounts(made, ["one", "two", "three"]).untold == (("one", "two"), ("one", "three"), ("two", "three"))


def test_a_row_for_the_sex_that_differs() -> None:
    by_sex = measure(10, 18, Span(10, 12, "male"), Span(13, 18, "female"))
    made = guide((LONG,), account("R", shows(LONG, by_sex)), account("S", shows(LONG, measure(14, 20))))
    rows = compare_accounts(made, ["r", "s"]).separating
    assert [(r.scope, r.values) for r in rows] == [(Scope(sex="male"), ("10–12\N{NO-BREAK SPACE}mm", "14–20 mm"))]


def test_pairs_and_sets_come_from_what_accounts_list() -> None:
    assert similar_pairs(MADE) == (("one", "two"), ("three", "two"))
    assert similar_sets(MADE) == (("one", "three", "two"),)


def test_the_view_names_look_alikes_in_plain_words() -> None:
    view = compare_view(make_published(MADE), ["one", "two"])
    assert (view.path, view.title) == ("compare/one--two.html", "One and Two")
    assert view.sentences == ("Look at the scutellum: the One has a dark spot; the Two has no spot.",)
    assert [(r.label, r.ease, r.values) for r in view.separating] == [("scutellum", "close up", ("a dark spot", "no spot"))]
    assert [(note.words.words, note.beside.text) for note in view.taxa[1].notes] == [("Two is bigger.", "One")]
    guide = make_published(MADE)
    comparer = Comparer(make_pieces(guide))
    assert [comparer.show(ids).path for ids in list_compared(guide)] == [
        "compare/one--two.html",
        "compare/three--two.html",
        "compare/one--three--two.html",
    ]
    links = [comparer.link_to(ids) for ids in list_compared(guide)]
    assert [(link.path, link.text) for link in links] == [(v.path, v.title) for v in map(comparer.show, list_compared(guide))]


def test_the_name_of_a_large_set_stays_short() -> None:
    path = compare_path([f"a-rather-long-name-{n}" for n in range(20)])
    assert len(path) < 120
    assert path.startswith("compare/a-rather-long-name-0--19-more-")


def test_the_key_view_leads_back_and_points_at_comparisons() -> None:
    view = key_view(make_published(MADE))
    assert view.scope == "adults"
    assert {row.ends[0].path for row in view.bracketed if row.ends} == {f"accounts/{i}.html" for i in MADE.accounts}
    assert all(row.came_from for row in view.bracketed if row.number > 1)
    alike = guide((LONG,), account("P", shows(LONG, measure(10, 13))), account("Q", shows(LONG, measure(12, 15))))
    (group,) = key_view(make_published(alike)).groups
    assert group.reasons == ("The P and the Q overlap at 12–13\N{NO-BREAK SPACE}mm (body length).",)
    assert group.compare.path == "compare/p--q.html"


def test_a_character_that_only_one_is_scored_for_says_nothing_of_the_two() -> None:
    found = compare_accounts(MADE, ["one", "four"])
    assert [row.character.id for row in (*found.separating, *found.shared)] == ["legs"]
    assert found.taxa == ("one", "four")
    assert compare_accounts(MADE, ["one", "four", "one"]) == found


def test_similar_accounts_that_are_unknown_or_the_same_make_no_pair() -> None:
    made = guide(
        (LEGS,),
        account("One", similar=(like("one"), like("gone"), like("two"))),
        account("Two", similar=(like("one"),)),
        account("Four", similar=(like("two"),)),
        account("Five", similar=(like("six"),)),
        account("Six"),
    )
    assert similar_pairs(made) == (("five", "six"), ("four", "two"), ("one", "two"))
    assert similar_sets(made) == (("four", "one", "two"),)


def test_what_one_sex_shows_stands_in_the_row_of_both_with_its_sex() -> None:
    """Not in a second row that says the same of all others."""
    made = guide(
        (BAND,),
        account("Bar", shows(BAND, "banded", stage="adult", sex="male")),
        account("Black", shows(BAND, "plain", stage="adult")),
        account("Grey", shows(BAND, "banded", stage="adult")),
    )
    (row,) = compare_accounts(made, ["bar", "black", "grey"]).separating
    assert (row.scope, row.values, row.separates) == (Scope("adult"), ("male: banded", "plain", "banded"), ((0, 1), (1, 2)))


def test_both_sexes_of_one_species_stand_in_one_row() -> None:
    made = guide(
        (BAND, LEGS),
        account("Bar", shows(BAND, "banded", sex="male"), shows(BAND, "plain", sex="female"), shows(LEGS, "dark")),
        account("Black", shows(BAND, "plain"), shows(LEGS, "dark")),
        account("Grey", shows(BAND, "banded"), shows(LEGS, "dark")),
    )
    rows = compare_accounts(made, ["bar", "black", "grey"]).separating
    assert [(row.scope, row.values, row.separates) for row in rows] == [
        (Scope(), ("male: banded; female: plain", "plain", "banded"), ((0, 1), (0, 2), (1, 2)))
    ]


def test_where_the_sexes_together_tell_them_apart_no_sex_is_named() -> None:
    eyes = states("eyes", red="red", brown="brown", white="white")
    made = guide(
        (eyes,),
        account("Pair", shows(eyes, "red", sex="male"), shows(eyes, "brown", sex="female")),
        account("Pale", shows(eyes, "white")),
    )
    (row,) = compare_accounts(made, ["pair", "pale"]).separating
    assert (row.scope, row.values, row.separates) == (Scope(), ("red or brown", "white"), ((0, 1),))


def test_what_tells_them_apart_in_one_stage_is_said_to_be_alike_in_another() -> None:
    made = guide(
        (BAND,),
        account("Bar", shows(BAND, "banded", stage="adult"), shows(BAND, "plain", stage="nymph")),
        account("Black", shows(BAND, "plain", stage="adult nymph")),
    )
    found = compare_accounts(made, ["bar", "black"])
    assert [(row.stages, row.values) for row in found.separating] == [(("adult",), ("banded", "plain"))]
    assert [(row.stages, row.values) for row in found.shared] == [(("nymph",), ("plain", "plain"))]


KINDS = st.sampled_from(["banded", "plain", "banded plain", "?"])
SCOPED = st.tuples(KINDS, st.sampled_from(["", "adult", "nymph", "adult nymph"]), st.sampled_from(["", "male", "female"]))


@given(st.lists(st.lists(SCOPED, max_size=4, unique_by=lambda one: one[1:]), min_size=2, max_size=4))
def test_no_two_rows_of_a_comparison_say_the_same(scored: list[list[tuple[str, str, str]]]) -> None:
    names = ("One", "Two", "Three", "Four")
    accounts = [
        account(name, *(shows(BAND, kind, stage=stage, sex=sex) for kind, stage, sex in own))
        for name, own in zip(names, scored, strict=False)
    ]
    found = compare_accounts(guide((BAND,), *accounts), [one.id for one in accounts])
    rows = [(row.stages, row.scope.sex, row.values) for row in (*found.separating, *found.shared)]
    assert len({(stages, sex) for stages, sex, _ in rows}) == len(rows)
    said = [(sex, values) for stages, sex, values in rows if stages]
    assert len(set(said)) == len(said)
    assert len({row.stages for row in found.separating}) == len(found.separating)
    for row in found.separating:
        assert row.separates
        assert all(row.values[one] and row.values[other] and row.values[one] != row.values[other] for one, other in row.separates)


def test_no_row_is_of_other_stages_where_there_are_none() -> None:
    """What two show in every stage tells them apart in each of the stages that the third names, and in no further one."""
    staged = [shows(LEGS, "dark", stage=stage) for stage in ("egg", "nymph", "adult")]
    plain = (account("One", shows(LEGS, "pale")), account("Two", shows(LEGS, "dark")))
    whole = compare_accounts(guide((LEGS,), *plain, account("Three", *staged)), ["one", "two", "three"])
    assert [(row.stages, row.values) for row in whole.separating] == [(("adult", "egg", "nymph"), ("pale", "dark", "dark"))]
    most = compare_accounts(guide((LEGS,), *plain, account("Three", *staged[:2])), ["one", "two", "three"])
    assert [row.values for row in most.separating if not row.stages] == [("pale", "dark", "")]
