"""All that was offered → one plan. Lists of species come first, so that pictures and sightings of new species find their accounts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from guidebuild.bringing.offered import Offered, OfferedKind, find_offered
from guidebuild.bringing.photos import ENTRIES, bring_photos
from guidebuild.bringing.plan import BringingPlan, Brought, Coming, Unused
from guidebuild.bringing.species_list import Drafts, draft_species, write_drafts
from guidebuild.bringing.tables import OfferedTable, bring_sightings, look_at_table
from guidebuild.bringing.takes import bring_takes
from guidebuild.guide.guide import Guide
from guidebuild.guide.sightings import FileCount
from guidebuild.reading.account_edits import add_to_list
from guidebuild.reading.sighting_words import shipped_words
from guidebuild.reading.typed_file import NotChangeableError, TypedFile, open_typed

_NO_USE = "is neither a picture, a table nor captions, and is left where it is"


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan, and what became of the rows of each file of sightings."""

    plan: BringingPlan
    counts: tuple[FileCount, ...]


def plan_bringing(folder: Path, guide: Guide, given: Iterable[Path]) -> Planned:
    """What bringing these files and folders comes to. Nothing is written."""
    offered, unused = find_offered(given)
    tables: list[OfferedTable] = []
    words = guide.sighting_words or shipped_words()
    for file in offered:
        looked_at = look_at_table(file, words) if file.kind is OfferedKind.TABLE else None
        if isinstance(looked_at, Unused):
            unused = (*unused, looked_at)
        elif looked_at is not None:
            tables.append(looked_at)
    unused = (*unused, *(Unused(file.shown, _NO_USE) for file in offered if file.kind is OfferedKind.OTHER))
    lists: list[tuple[str, Drafts]] = []
    for table in (table for table in tables if table.species):
        drafts = draft_species(guide, table.offered.path.name, table.species)
        guide = replace(guide, accounts={**guide.accounts, **drafts.accounts})
        lists.append((table.offered.path.name, drafts))
    photos = bring_photos(folder, guide, _of_kind(offered, OfferedKind.PICTURE))
    brought = [write_drafts(guide, drafts, photos.of_account, shown) for shown, drafts in lists]
    sightings, counts = bring_sightings(folder, guide, [table.offered for table in tables if not table.species])
    brought += [photos.brought, sightings, bring_takes(folder, guide, _of_kind(offered, OfferedKind.CAPTIONS))]
    new = {account for _, drafts in lists for account in drafts.accounts}
    changed, advice = _list_photos(folder, {account: ids for account, ids in photos.of_account.items() if account not in new})
    return Planned(_join(brought, unused, changed, advice), counts)


def _of_kind(offered: Iterable[Offered], kind: OfferedKind) -> Iterator[Offered]:
    return (file for file in offered if file.kind is kind)


def _list_photos(folder: Path, of_account: Mapping[str, Sequence[str]]) -> tuple[Mapping[str, bytes], tuple[str, ...]]:
    """Accounts that stand, with the new photos behind those that they name; only that line of each changes."""
    changed: dict[str, bytes] = {}
    advice = []
    for account, photos in of_account.items():
        file = f"accounts/{account}.md"
        try:
            changed[file] = _with_photos(open_typed(folder, file), photos)
        except NotChangeableError as error:
            advice.append(f"{file} does not name its new photos ({', '.join(photos)}) under `photos:`. {error}")
    return changed, tuple(advice)


def _with_photos(typed: TypedFile, photos: Sequence[str]) -> bytes:
    return typed.changed(list(add_to_list(typed, "photos", photos)))


def _join(brought: Sequence[Brought], unused: tuple[Unused, ...], changed: Mapping[str, bytes], advice: tuple[str, ...]) -> BringingPlan:
    files: tuple[Coming, ...] = tuple(file for one in brought for file in one.files)
    added = "".join(one.added for one in brought)
    return BringingPlan(
        files,
        {ENTRIES: added} if added else {},
        changed,
        (*unused, *(line for one in brought for line in one.unused)),
        (*(line for one in brought for line in one.advice), *advice),
    )
