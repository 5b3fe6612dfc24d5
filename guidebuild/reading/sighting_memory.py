"""Sightings that stay read while neither their files nor what rows are read with change: an edit of a text reads no million rows anew."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import TypeAlias

from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import NOWHERE
from guidebuild.guide.guide import Guide, Settings
from guidebuild.reading.sightings import SightingsReading, read_sightings

_Digests: TypeAlias = tuple[tuple[str, str], ...]


def keep_for_sightings(guide: Guide) -> Guide:
    """The guide with no more than rows of sightings are read with. What is not in it cannot make a reading another."""
    said = guide.settings
    accounts = {
        account.id: Account(
            account.id,
            account.name,
            account.vernacular,
            NOWHERE,
            other_vernaculars=account.other_vernaculars,
            synonyms=account.synonyms,
            formerly=account.formerly,
            group=account.group,
            sensitivity=account.sensitivity,
        )
        for account in guide.accounts.values()
    }
    return Guide(
        Settings("", group=said.group, region_box=said.region_box, date_order=said.date_order, zone=said.zone),
        accounts=accounts,
        places=guide.places,
        stage_sets=guide.stage_sets,
        sighting_words=guide.sighting_words,
        region=replace(guide.region, outline=(), lines=(), recent=0, on_cards=False, file="", at=NOWHERE) if guide.region else None,
        as_of=guide.as_of,
    )


@dataclass(frozen=True, slots=True)
class _Kept:
    """A reading, the digests of its files, and the guide it was read with."""

    digests: _Digests
    guide: Guide
    reading: SightingsReading


class SightingMemory:
    """Keeps what was read of all files together: whether a row is a copy of another is asked across them."""

    def __init__(self) -> None:
        self._kept: _Kept | None = None

    def recall(self, folder: Path, files: tuple[str, ...], guide: Guide) -> SightingsReading:
        """What `read_sightings` gives; it is asked again where a file, or anything that rows are read with, is another."""
        needed, digests = keep_for_sightings(guide), _digest_files(folder, files)
        kept = self._kept
        if kept is not None and digests is not None and kept.digests == digests and _are_alike(kept.guide, needed):
            return kept.reading
        reading = read_sightings(folder, files, needed)
        # A file that was written meanwhile may have been read by halves: it is read again the next time.
        self._kept = _Kept(digests, needed, reading) if digests is not None and digests == _digest_files(folder, files) else None
        return reading


def _digest_files(folder: Path, files: tuple[str, ...]) -> _Digests | None:
    """Each file with the digest of its bytes; None where one cannot be read."""
    digests = []
    try:
        for file in files:
            with (folder / file).open("rb") as raw:
                digests.append((file, hashlib.file_digest(raw, "sha256").hexdigest()))
    except OSError:
        return None
    return tuple(digests)


def _are_alike(one: Guide, other: Guide) -> bool:
    return all(getattr(one, field.name) == getattr(other, field.name) for field in fields(Guide))
