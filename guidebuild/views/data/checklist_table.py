"""The guide's species as a table: one row an account, for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.views.pieces.facts import facts
from guidebuild.views.pieces.season_words import season_words
from guidebuild.words import words

COLUMNS = (
    *("family", "scientific name", "authority", "vernacular name", "status", "size"),
    *("host plants", "prey", "habitat", "season", "reviewed"),
)


def checklist_rows(guide: Guide) -> Iterator[tuple[str, ...]]:
    """Rows under COLUMNS, families and names in alphabetical order."""
    for account in sorted(guide.accounts.values(), key=lambda a: (a.family, a.name.sort_key)):
        told = facts(guide, account)
        yield (
            account.family,
            account.name.plain,
            account.name.authority,
            account.vernacular,
            account.status.words,
            account.size.typed if account.size else "",
            told.get("host plants", ""),
            account.prey.words,
            told.get("habitat", "").replace("*", ""),
            _seasons(guide, account),
            account.reviewed.on.isoformat() if account.reviewed else "",
        )


def _seasons(guide: Guide, account: Account) -> str:
    speak = words(guide.settings.language)
    stages = guide.stage_set(account)
    return " | ".join(f"{stages.word(s.stage)}: {season_words(s.season, speak)}" for s in account.seasons if not s.place)
