"""Chance words with what they stand for, and the reasons for them, in a reader's language."""

from __future__ import annotations

from collections.abc import Collection

from guidebuild.fieldwork.out import HABITAT_HERE, IN_SEASON, Chance, Out, Reason, lives_on_plants
from guidebuild.guide.facts import AnyGuide
from guidebuild.words import Words

PROMISE = (
    "Nothing is promised: these are chances, from what the accounts say and what was seen before. "
    "“In 3 of 5 years”: of the years in which anything was noted around the date."
)


def say_reason(say: Words, reason: Reason) -> str:
    """A reason as a sentence; the stages that it may name are said in the reader's language too."""
    if reason.one:
        return say.count(reason.one, reason.message, int(dict(reason.values)["n"]))
    values = {name: say.listed([say(one) for one in value.split("\n")]) if name == "stages" else value for name, value in reason.values}
    return say(reason.message, **values)


def list_whys(out: Out) -> tuple[Reason, ...]:
    """The reasons that are worth telling: never none.

    That a stage is in season is understood of all that is out; where nothing else speaks for a species, just that is told.
    """
    more = tuple(reason for reason in out.reasons if reason.message not in IN_SEASON)
    stages = "\n".join(dict(reason.values)["stages"] for reason in out.reasons if reason.message in IN_SEASON)
    return more or (Reason("its season alone speaks for it ({stages})", (("stages", stages),)),)


def say_why(say: Words, out: Out, main: str) -> str:
    """The reasons that are worth telling in one line. `main` is the guide's language.

    Kinds of habitat are its author's words: they are not named in a sentence of another language.
    """
    reasons = list_whys(out)
    if say.language != main:
        reasons = tuple(Reason("its habitat is here") if reason.message == HABITAT_HERE else reason for reason in reasons)
    return "; ".join(say_reason(say, reason) for reason in reasons)


def list_meanings(guide: AnyGuide, say: Words, used: Collection[Chance], *, at_place: bool) -> tuple[tuple[str, str], ...]:
    """The chance words that are used, the best first, each with what it stands for."""
    by_plants = any(lives_on_plants(guide, account) for account in guide.accounts.values())
    return tuple((say(chance.words), say(chance.meaning(at_place=at_place, by_plants=by_plants))) for chance in Chance if chance in used)
