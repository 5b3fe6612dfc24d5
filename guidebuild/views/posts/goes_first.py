"""What goes before all else in the plan of weeks: a species of a walk that is near, then a rarity that rested; and why, in words."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guidebuild.fieldwork.out import Chance
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.fieldwork.walks import walk_pack
from guidebuild.words import Words

AHEAD = dt.timedelta(days=7)
"""So long before a walk one of its species is posted (common practice, no source)."""
_WORD = re.compile(r"\w+")
_PHRASE_END = re.compile(r"[,;:.(–]")


@dataclass(frozen=True, slots=True)
class ComingWalk:
    """A walk, and the accounts that may be met on it."""

    date: dt.date
    met: frozenset[str]


def list_coming_walks(guide: Published, today: dt.date) -> Iterator[ComingWalk]:
    """The walks from today on, the earliest first, each with what may be met on it: nothing that is kept secret is tied to a place."""
    for walk in sorted(guide.walks.values(), key=lambda walk: (walk.date, walk.start, walk.id)):
        if walk.date >= today:
            yield ComingWalk(walk.date, frozenset(one.account for one in walk_pack(guide, walk).met if one.chance is not Chance.OUTSIDE))


def find_walk_species(ranked: Sequence[PublicAccount], walks: list[ComingWalk], day: dt.date, say: Words) -> tuple[str, str] | None:
    """The best of the ranked accounts to post for the next walk, and why; each walk has one post. `walks` are those that had none yet."""
    for walk in (walk for walk in walks if day <= walk.date <= day + AHEAD):
        best = next((account.id for account in ranked if account.id in walk.met), None)
        if best:
            walks.remove(walk)
            return best, say("first because: walk on {day}", day=say.weekday(walk.date))
    return None


def find_rarity(rested: Iterable[PublicAccount], say: Words) -> tuple[str, str] | None:
    """The first of the accounts that is a rarity, and why; none that is kept secret, for a post would send people to look for it."""
    for account in rested:
        if account.kept_back is None and _is_rare(account.status.words, say):
            return account.id, say("first because: a rarity ({status})", status=account.status.words)
    return None


def _is_rare(status: str, say: Words) -> bool:
    """Whether a status begins by saying that it is rare: “scarce, on chalk”, but not “common, rare inland” or “no longer rare”."""
    first = {word.casefold() for word in _WORD.findall(_PHRASE_END.split(status)[0])}
    rare = set(say("rare, scarce, threatened, endangered, vulnerable").split(", "))
    denied = set(say("not, no, never, once, less").split(", "))
    return bool(first & rare) and not first & denied
