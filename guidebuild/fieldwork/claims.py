"""Of whom a field mark is true: of its own stages and sexes, and of no other. Every output asks here before it says one."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from guidebuild.guide.accounts import AccountFacts, FieldMark
from guidebuild.guide.life_stages import GROWN


def is_mark_of(mark: FieldMark, stages: Collection[str], sexes: Collection[str] = ()) -> bool:
    """Whether all of these stages and sexes show a mark; where no stage or no sex is given, that is not asked."""
    return (not mark.stages or set(stages) <= set(mark.stages)) and (not mark.sexes or set(sexes) <= set(mark.sexes))


def find_marks(account: AccountFacts, stage: str, sex: str = "") -> tuple[int, ...]:
    """Where in the account the marks stand that a stage and a sex show, in the author's order."""
    stages, sexes = ((stage,) if stage else ()), ((sex,) if sex else ())
    return tuple(number for number, mark in enumerate(account.diagnostics) if is_mark_of(mark, stages, sexes))


def find_deciding_marks(account: AccountFacts, stage: str) -> tuple[int, ...]:
    """The first mark that a stage shows; where only one sex has it, the first that the other shows too.

    Where no stage is given, it is one that all stages show.
    """
    numbers = [number for number in find_marks(account, stage) if stage or not account.diagnostics[number].stages]
    if not numbers:
        return ()
    first = account.diagnostics[numbers[0]]
    others = [number for number in numbers[1:] if first.sexes and not set(first.sexes) & set(account.diagnostics[number].sexes)]
    return (numbers[0], *others[:1])


def is_of_grown(mark: FieldMark) -> bool:
    """Whether a mark is of the one grown form of its group, which a sentence need not name."""
    return tuple(mark.stages) == (GROWN,)


def must_say_stage(marks: Iterable[FieldMark], shown: str = "") -> bool:
    """Whether marks that are said together are said with their stages; `shown` is the stage of the picture beside them.

    They are, unless all are of the grown form and its group has one only, or all are of every stage.
    """
    scopes = {frozenset(mark.stages) for mark in marks}
    if not any(scopes):
        return False
    return scopes != {frozenset({GROWN})} or shown not in ("", GROWN)


def order_stages(stages: Sequence[str], first: str) -> tuple[str, ...]:
    """Stages in order of life, but for the one that leads."""
    return (*(stage for stage in stages if stage == first), *(stage for stage in stages if stage != first))
