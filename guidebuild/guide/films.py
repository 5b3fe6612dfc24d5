"""Films of a guide's species: where one stands, what is said in it and when, and its captions as they were read."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

from guidebuild.guide.findings import NO_KEYS, NOWHERE, At
from guidebuild.guide.text.inline import NO_TEXT, Inline, Unshown


@dataclass(frozen=True, slots=True)
class FilmChapter:
    """A stretch of a film that its author names: from which second on, and what it is called."""

    start: float
    title: str
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class FilmCue:
    """One caption of a film: from which second to which, and its words, row by row.

    `names` are those of its words that stand in italics: scientific names.
    """

    start: float
    end: float
    text: str
    names: tuple[Unshown, ...] = ()
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class FilmFact:
    """A fact that a film says of a species, by the name of its slot, in the words of the account on the day it was noted; and when."""

    account: Unshown
    slot: Unshown
    words: Unshown
    second: float
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class Film:
    """A film. `length` is in seconds, 0 where it is not given; `script` is the id of the script that is spoken in it.

    It stands at an `address`, or in the guide as a `file`, or both. `cues` are what its `captions` file holds, `said` what the file
    of its facts does, which were `noted` on a day.
    """

    id: str
    title: str
    address: str = ""
    file: Unshown = ""
    day: dt.date | None = None
    length: float = 0.0
    kind: str = ""
    language: Unshown = ""
    accounts: tuple[Unshown, ...] = ()
    script: Unshown = ""
    captions: Unshown = ""
    chapters: tuple[FilmChapter, ...] = ()
    still: Unshown = ""
    credit: str = ""
    licence: str = ""
    note: Inline = NO_TEXT
    card: bool = False
    cues: tuple[FilmCue, ...] = ()
    said: tuple[FilmFact, ...] = ()
    noted: dt.date | None = None
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)

    def where(self, key: str) -> At:
        """Where a key of it stands."""
        return self.positions.get(key, self.at)
