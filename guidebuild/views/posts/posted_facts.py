"""What a post says of its species: found in its texts on its day, and held against the account ever after."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import regex

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.findings import At, Finding
from guidebuild.guide.posted import PostedFact
from guidebuild.views.pieces.said_facts import MARK, find_change, tell_plainly
from guidebuild.views.posts.codes import POST_OUT_OF_DATE
from guidebuild.views.posts.repeats import says_fact
from guidebuild.words import WRITTEN_IN, words

_NEVER_CLAIMED = frozenset(("authority", "say", "similar species"))
"""Slots of facts that stand in a post by the way, if at all."""
_NAMES = frozenset(("name", "scientific name"))
_DIFFERENCE = "difference from "


@dataclass(frozen=True, slots=True)
class ChangedFact:
    """A fact that was posted on some days and that the account says otherwise now; `now` is empty where it says nothing of it."""

    slot: str
    then: str
    now: str
    days: tuple[dt.date, ...]
    at: At


def find_facts_said(guide: Published, account: PublicAccount, texts: Iterable[str]) -> tuple[PostedFact, ...]:
    """The facts of an account, as it gives them today, that one of its posted texts says."""
    posted = [regex.sub(r"\s+", " ", text) for text in texts]
    # “Common Frog” does not say that it is common, nor “Gorse Shieldbug” what it lives on.
    names = sorted((name for a in guide.accounts.values() for name in (a.vernacular, a.name.plain) if name), key=len, reverse=True)
    naming = regex.compile(r"(?<!\w)\L<names>(?!\w)", regex.IGNORECASE, names=names)
    nameless = [naming.sub("…", text) for text in posted]
    return tuple(
        PostedFact(slot, fact)
        for slot, fact in tell_plainly(guide, account).items()
        if slot not in _NEVER_CLAIMED
        and any(_is_said(slot, fact, text) for text in (posted if slot in _NAMES or slot.startswith(_DIFFERENCE) else nameless))
    )


def _is_said(slot: str, fact: str, text: str) -> bool:
    """Whether a text says a fact; differences by one character stand in one sentence, the look-alikes in a row."""
    parts = fact.rstrip(".").split("; ") if slot.startswith(_DIFFERENCE) else [fact.rstrip(".")]
    return all(says_fact(text, part) for part in parts)


def find_changed_facts(guide: Published, account: PublicAccount) -> tuple[ChangedFact, ...]:
    """What was posted of an account and is no longer so, in the order in which it was posted."""
    claims = guide.posted.get(account.id, ())
    told, language = tell_plainly(guide, account) if claims else {}, guide.settings.language
    marks = [claim.words for claim in claims if claim.slot.startswith(MARK)]
    changed = ((claim, find_change(told, claim.slot, claim.words, language, marks)) for claim in claims)
    return tuple(
        ChangedFact(claim.slot, claim.words, now, claim.days, claim.at)
        for claim, now in changed
        # Of a species that is kept secret now, what is no longer told may hold as before.
        if now is not None and (now or account.kept_back is None)
    )


def find_outdated_posts(guide: Published) -> Iterator[Finding]:
    """Facts that were posted and have changed since, each with what puts it right."""
    for account in (guide.accounts[ident] for ident in guide.posted if ident in guide.accounts):
        for changed in find_changed_facts(guide, account):
            yield _tell_outdated(account.id, account.vernacular or account.name.plain, changed)


def _tell_outdated(account: str, name: str, changed: ChangedFact) -> Finding:
    say = words(WRITTEN_IN)
    days = say.listed([say.date(day) for day in changed.days])
    posts = f"The post of the {name} of {days} says" if len(changed.days) == 1 else f"The posts of the {name} of {days} say"
    now = f"its account says “{changed.now}” now" if changed.now else "its account says nothing of it now"
    mend = f"The page of posts has its correction. Once you have posted that: guidebuild posted {account} --correction"
    return POST_OUT_OF_DATE.finding(f"{posts}, {changed.slot}: “{changed.then}”; {now}.", changed.at, mend=mend, account=account)


def list_corrected(changes: Iterable[ChangedFact]) -> tuple[PostedFact, ...]:
    """What a correction says: each fact as it is now, and of those that are gone, that they are."""
    said = {changed.slot: PostedFact(changed.slot, changed.now) for changed in changes}
    return tuple(said.values())
