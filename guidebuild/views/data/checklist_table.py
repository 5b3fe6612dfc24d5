"""The guide's species as a table: one row an account, for a spreadsheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.views.pieces.facts import head_plants, name_habitats, tell_facts
from guidebuild.views.pieces.season_words import season_words
from guidebuild.words import words


def checklist_table(guide: Published) -> tuple[tuple[str, ...], ...]:
    """Headings and rows; what the guide's groups have nothing of, such as the host plants of birds, has no column."""
    rows = tuple(checklist_rows(guide))
    used = [n for n, heading in enumerate(COLUMNS) if heading not in _LIVES_FROM or any(row[n] for row in rows)]
    plants = head_plants(guide, guide.accounts.values()).lower()
    headings = tuple(plants if heading == "host plants" else heading for heading in COLUMNS)
    return tuple(tuple(row[n] for n in used) for row in (headings, *rows))


def checklist_rows(guide: Published) -> Iterator[tuple[str, ...]]:
    """Rows under COLUMNS, families and names in alphabetical order."""
    for account in sorted(guide.accounts.values(), key=lambda a: (a.family, a.name.sort_key)):
        told = tell_facts(guide, account)
        yield tuple(OWN_WAY[key](guide, account) if key in OWN_WAY else told.get(key, "") for key in COLUMNS.values())


def _tell_habitats(guide: Published, account: PublicAccount) -> str:
    return words(guide.settings.language).listed([habitat.words for habitat in name_habitats(guide, account)])


def _tell_seasons(guide: Published, account: PublicAccount) -> str:
    settings = guide.settings
    speak = words(settings.language)
    stages = guide.stage_set(account)
    return " | ".join(f"{stages.word(s.stage)}: {season_words(s.season, speak, settings)}" for s in account.seasons if not s.place)


COLUMNS: Mapping[str, str] = MappingProxyType(
    {
        "family": "family",
        "scientific name": "name",
        "authority": "authority",
        "vernacular name": "vernacular",
        "status": "status",
        "size": "size",
        "host plants": "host plants",
        "prey": "prey",
        "habitat": "habitat",
        "season": "seasons",
        "reviewed": "reviewed",
    }
)
"""The heading of each column, and the field that fills it."""

_LIVES_FROM = ("host plants", "prey")

OWN_WAY: Mapping[str, Callable[[Published, PublicAccount], str]] = MappingProxyType(
    {
        "name": lambda guide, account: account.name.plain,
        "vernacular": lambda guide, account: account.vernacular,
        "size": lambda guide, account: account.size.typed if account.size else "",
        "status": lambda guide, account: account.status.words,
        "prey": lambda guide, account: account.prey.words,
        "habitat": _tell_habitats,
        "seasons": _tell_seasons,
        "reviewed": lambda guide, account: account.reviewed.on.isoformat() if account.reviewed else "",
    }
)
"""By field, how a cell is filled that a sentence would tell in another way, or with stars round names."""
