"""Chance words with what they stand for, and the reasons for them, in a reader's language."""

from __future__ import annotations

from collections.abc import Collection

from guidebuild.fieldwork.out import IN_SEASON, Chance, Out, Reason
from guidebuild.words import Words

PROMISE = "Nothing is promised: these are chances, from what the accounts say and what was seen before."


def say_reason(say: Words, reason: Reason) -> str:
    """A reason as a sentence; the stage that it may name is said in the reader's language too."""
    values = {name: say(value) if name == "stage" else value for name, value in reason.values}
    return say(reason.message, **values)


def say_why(say: Words, out: Out) -> str:
    """All reasons in one line but the plain one that a stage is in season."""
    return "; ".join(say_reason(say, reason) for reason in out.reasons if reason.message != IN_SEASON)


def list_meanings(say: Words, used: Collection[Chance], *, at_place: bool) -> tuple[tuple[str, str], ...]:
    """The chance words that are used, the best first, each with what it stands for."""
    return tuple((say(chance.words), say(chance.meaning(at_place=at_place))) for chance in Chance if chance in used)
