"""Posts: what went out is noted, so that a change can be told."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide


def _not_noted(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        day, notes = account.posted, guide.posted.get(account.id)
        if day is None or guide.as_of is None or day > guide.as_of:
            continue
        if notes is None or not notes.is_noted(day):
            name = account.vernacular or account.name.plain
            message = f"What the post of the {name} of {day.isoformat()} said is not noted."
            mend = f"Note it with: guidebuild posted {account.id} --on {day.isoformat()}"
            yield NOT_NOTED.finding(message, account.where("posted"), mend=mend, account=account.id)


NOT_NOTED = Rule(
    "post-not-noted",
    "What each post said is noted",
    Level.NOTE,
    "Only then can be told when a fact that it said has changed.",
    "Note it with the command `posted`, best on the day it goes out.",
    _not_noted,
)

RULES = (NOT_NOTED,)
