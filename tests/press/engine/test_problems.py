"""Troubles of one cause are told once, others one by one."""

from __future__ import annotations

from guidebuild.press.engine.problems import Problem, Problems, gather_failures


def failed(where: str, message: str = "the page could not be made (theme/site/a.html:1: no)") -> Problem:
    return Problem("failed", where, message)


def test_what_fails_for_one_reason_is_gather_failures_where_the_first_stood() -> None:
    pages = [failed(f"page {number}") for number in range(5)]
    other = failed("card red-bug", "the card could not be made (theme/cards/card.html:4: no)")
    assert gather_failures([pages[0], other, *pages[1:]]) == (failed("page 0 and 4 more"), other)


def test_a_problem_is_kept_once_in_its_order_until_all_are_forgotten() -> None:
    held = Problems()
    held.tell(failed("b"), failed("a"))
    held.tell(failed("b"))
    assert held.all == (failed("b"), failed("a"))
    held.forget()
    assert held.all == ()


def test_few_are_named_one_by_one() -> None:
    assert gather_failures([failed("page a"), failed("page b")]) == (failed("page a, page b"),)


def test_what_each_author_must_mend_by_itself_is_told_by_itself() -> None:
    listed = [Problem("crop", f"{name}.jpg", "the crop leaves out half") for name in "abcd"]
    assert gather_failures(listed) == tuple(listed)
