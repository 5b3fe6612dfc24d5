"""Thousands of look-alikes of one account: refused in one line. All names are invented."""

from __future__ import annotations

from guidebuild.checks import references
from guidebuild.checks.registry import check_guide
from guidebuild.guide.findings import Level
from tests.identify.invented import account, guide, like


def test_an_account_with_thousands_of_look_alikes_is_told_once_and_not_published() -> None:
    others = [account(f"Dun {n} Bug") for n in range(5_000)]
    held = guide((), account("Ash Bug", similar=tuple(like(other.id, note="Dun.") for other in others)), *others)
    found = list(references.TOO_MANY_SIMILAR.run(held))
    assert [(f.level, f.message) for f in found] == [(Level.ERROR, "Ash Bug names 5,000 look-alikes, and an account may name 100.")]
    report = check_guide(held, rules=(references.TOO_MANY_SIMILAR, references.NOT_MUTUAL))
    assert report.blocked() == {"ash-bug"}
    assert len(report.findings) == 1 + references.MOST_SIMILAR


def test_a_look_alike_that_is_named_again_and_again_is_told_once() -> None:
    held = guide((), account("Ash Bug", similar=(like("dun-bug"),) * 50), account("Dun Bug"))
    assert len(list(references.NOT_MUTUAL.run(held))) == 1


def test_a_hundred_look_alikes_are_not_too_many() -> None:
    others = [account(f"Dun {n} Bug") for n in range(100)]
    held = guide((), account("Ash Bug", similar=tuple(like(other.id) for other in others)), *others)
    assert list(references.TOO_MANY_SIMILAR.run(held)) == []
