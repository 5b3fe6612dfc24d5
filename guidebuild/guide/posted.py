"""What posts of a species said and when, as their author had it noted; and which of it was put right since."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace

from guidebuild.guide.findings import NOWHERE, At
from guidebuild.guide.text.inline import Unshown


@dataclass(frozen=True, slots=True)
class PostedFact:
    """A fact that a post said, by the name of its slot, in the words of the account on that day; without words, that it no longer holds."""

    slot: Unshown
    words: str
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class NotedPost:
    """A post: its day, whether it was a correction of what had been posted before, and what it said."""

    day: dt.date
    correction: bool = False
    says: tuple[PostedFact, ...] = ()
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class PostNotes:
    """All that is noted of the posts of an account."""

    account: Unshown
    posts: tuple[NotedPost, ...] = ()
    at: At = NOWHERE

    def is_noted(self, day: dt.date) -> bool:
        """Whether it is noted what was posted on a day, or after it."""
        return any(post.day >= day and not post.correction for post in self.posts)


@dataclass(frozen=True, slots=True)
class StandingClaim:
    """What was posted of a fact, in the same words on one day or on several, and was not put right since."""

    slot: Unshown
    words: str
    days: tuple[dt.date, ...]
    at: At = NOWHERE


def find_standing_claims(notes: PostNotes) -> tuple[StandingClaim, ...]:
    """What readers may still take for right: all that was posted, but for what a correction of the same fact came after.

    A correction counts as posted too: what it says may have changed again.
    """
    claims: dict[tuple[str, str], StandingClaim] = {}
    for post in sorted(notes.posts, key=lambda post: (post.day, post.correction)):
        for fact in post.says:
            if post.correction:
                claims = {key: claim for key, claim in claims.items() if claim.slot != fact.slot}
            if fact.words:
                former = claims.get((fact.slot, fact.words))
                days = (*(former.days if former else ()), post.day)
                claims[fact.slot, fact.words] = StandingClaim(fact.slot, fact.words, tuple(dict.fromkeys(days)), fact.at)
    return tuple(claims.values())


def join_notes(account: str, several: Iterable[PostNotes]) -> PostNotes:
    """What is noted of one account in several files, such as one of a name that it had before."""
    first, *others = several
    return replace(first, account=account, posts=(*first.posts, *(post for notes in others for post in notes.posts)))
