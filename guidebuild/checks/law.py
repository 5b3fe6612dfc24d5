"""Notes on the law say when they were so, and not too long ago."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.life import months_between
from guidebuild.checks.rule import Rule
from guidebuild.counting import count_of
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import LawNote


def _law_old(guide: Guide) -> Iterator[Finding]:
    if guide.as_of is None:
        return
    limit = guide.settings.review_after_months
    for note, account in _notes(guide):
        day = note.as_of.isoformat()
        if note.as_of > guide.as_of:
            yield LAW_OLD.finding(
                f"The note on the law is dated {day}, which is still to come.", note.at, mend="Correct the date.", account=account
            )
        elif months_between(note.as_of, guide.as_of) >= limit:
            yield LAW_OLD.finding(f"The note on the law is of {day}, more than {count_of(limit, 'month')} ago.", note.at, account=account)


def _notes(guide: Guide) -> Iterator[tuple[LawNote, str]]:
    yield from ((note, "") for note in guide.settings.law)
    yield from ((note, "") for place in guide.places.values() for note in place.law)
    yield from ((note, account.id) for account in guide.accounts.values() for note in account.law)


LAW_OLD = Rule(
    "law-old",
    "Notes on the law are not old",
    Level.NOTE,
    "Laws change, and a reader who follows an old one may be punished or do harm.",
    "Look the law up again, and write the new day under `as of:`.",
    _law_old,
)

RULES = (LAW_OLD,)
