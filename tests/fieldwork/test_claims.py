"""A field mark is true of its own stages and sexes only. The birds' marks are invented for these checks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.claims import find_deciding_marks, find_marks, is_mark_of, is_of_grown, must_say_stage, order_stages
from guidebuild.guide.accounts import Account, FieldMark
from guidebuild.guide.text.inline import Inline
from tests.fieldwork.invented import PARENT


def _mark(words: str, stages: tuple[str, ...] = (), sexes: tuple[str, ...] = ()) -> FieldMark:
    return FieldMark(Inline(words), stages, sexes)


def _with(*marks: FieldMark) -> Account:
    return replace(PARENT, diagnostics=marks)


BELLY, DROOP, LEGS = _mark("black belly", ("breeding",)), _mark("drooping bill", ("winter", "juvenile")), _mark("black legs")
LONG, SHORT, PALE = _mark("long bill", (), ("female",)), _mark("short bill", (), ("male",)), _mark("pale rump")


@pytest.mark.parametrize(
    ("mark", "stages", "sexes", "true"),
    [
        (BELLY, ("breeding",), (), True),
        (BELLY, ("winter",), (), False),
        (BELLY, ("breeding", "winter"), (), False),
        (DROOP, ("winter", "juvenile"), (), True),
        (LEGS, ("breeding", "winter"), ("male",), True),
        (LONG, ("winter",), ("female",), True),
        (LONG, ("winter",), ("male",), False),
        (_mark("red", (), ("male", "female")), (), ("male",), True),
        (_mark("red", (), ("male", "female")), (), ("worker",), False),
    ],
)
def test_a_mark_is_true_of_its_own_stages_and_sexes(
    mark: FieldMark, stages: tuple[str, ...], sexes: tuple[str, ...], *, true: bool
) -> None:
    assert is_mark_of(mark, stages, sexes) is true


def test_marks_of_a_stage_are_found_in_the_authors_order() -> None:
    assert find_marks(_with(BELLY, DROOP, LEGS), "winter") == (1, 2)
    assert find_marks(_with(LONG, SHORT, PALE), "winter", "male") == (1, 2)


def test_one_sex_does_not_decide_for_the_other() -> None:
    assert find_deciding_marks(_with(LONG, PALE, SHORT), "winter") == (0, 1)
    assert find_deciding_marks(_with(PALE, LONG, SHORT), "winter") == (0,)
    assert find_deciding_marks(_with(BELLY), "winter") == ()


def test_without_a_stage_only_what_all_stages_show_decides() -> None:
    assert find_deciding_marks(_with(BELLY, DROOP), "") == ()
    assert find_deciding_marks(_with(BELLY, LEGS), "") == (1,)


ADULT = _mark("spot", ("adult",))


@pytest.mark.parametrize(
    ("marks", "shown", "must"),
    [
        ((ADULT, ADULT), "adult", False),
        ((ADULT, ADULT), "nymph", True),
        ((ADULT, _mark("red", ("nymph",))), "adult", True),
        ((ADULT, LEGS), "adult", True),
        ((BELLY, BELLY), "breeding", True),  # no form of the bird's year is its only one
        ((LEGS, PALE), "winter", False),
        ((), "adult", False),
    ],
)
def test_stages_are_said_unless_they_are_understood(marks: tuple[FieldMark, ...], shown: str, *, must: bool) -> None:
    assert must_say_stage(marks, shown) is must


def test_stages_go_on_in_order_of_life() -> None:
    assert order_stages(("leaf", "flower", "fruit"), "flower") == ("flower", "leaf", "fruit")
    assert order_stages(("nymph", "adult"), "egg") == ("nymph", "adult")


def test_a_mark_of_the_grown_form_alone_is_known() -> None:
    assert is_of_grown(_mark("two spots", ("adult",)))
    assert not is_of_grown(_mark("two spots", ("adult", "nymph")))
    assert not is_of_grown(_mark("two spots"))
