"""Sounds of a guide's species: a call, a song, a drumming, with who recorded it, where and when."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

from guidebuild.guide.findings import NO_KEYS, NOWHERE, At
from guidebuild.guide.text.inline import NO_TEXT, Inline, Unshown

KINDS = ("song", "call", "alarm call", "flight call", "chorus", "drumming", "wing sound", "stridulation", "vibration", "echolocation")
"""What a sound can be."""


@dataclass(frozen=True, slots=True)
class Sound:
    """A sound. It stands in the guide as a `file`, or at an `address`, or both; `recordist` is who is credited.

    `place` and `day` say where and when it was recorded; for readers they are empty where that is kept secret.
    """

    id: str
    title: str
    file: Unshown = ""
    address: str = ""
    kind: Unshown = ""
    accounts: tuple[Unshown, ...] = ()
    stage: Unshown = ""
    sex: Unshown = ""
    recordist: str = ""
    licence: str = ""
    day: dt.date | None = None
    place: Unshown = ""
    note: Inline = NO_TEXT
    card: bool = False
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)

    def where(self, key: str) -> At:
        """Where a key of it stands."""
        return self.positions.get(key, self.at)
