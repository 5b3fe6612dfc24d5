"""The records of a published guide: what readers may be told, and no field for what they may not."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.records import PhotoFacts, PlaceFacts, WalkFacts
from guidebuild.guide.region import Line, Square
from guidebuild.guide.sighting_records import SightingRecord
from guidebuild.guide.sightings import SeenDays
from guidebuild.guide.text.inline import NO_TEXT, Inline


@dataclass(frozen=True, slots=True)
class Locality:
    """Where something was found, as it may be told. `latitude` and `longitude` are texts with the digits that may be shown, or "".

    `uncertainty` is in metres (None: not known, or no coordinates). `generalised` and `withheld` are the words for Darwin
    Core's dataGeneralizations and informationWithheld, "" where nothing was done. `place` is the place of that name in the
    published guide, "" where it is told only by the name of the wider area; that too is "" in a guide that gives none.
    """

    name: str
    latitude: str = ""
    longitude: str = ""
    uncertainty: int | None = None
    precision: str = ""
    generalised: str = ""
    withheld: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True)
class KeptBack:
    """That the places of a species are not told, with the author's reason (empty: none given).

    `decimals` of a degree are as many as its positions may have; 0 where they may have none at all.
    """

    reason: str = ""
    decimals: int = 0


@dataclass(frozen=True, slots=True)
class PublicAccount(AccountFacts):
    """An account for readers. `places`, `absent_from` and the places of `seasons` are only those that may be named with it.

    `localities` are all places where it is found, those that may not be named by their wider areas.
    """

    localities: tuple[Locality, ...] = ()
    kept_back: KeptBack | None = None


@dataclass(frozen=True, slots=True)
class PublicPlace(PlaceFacts):
    """A place that may be named."""


@dataclass(frozen=True, slots=True)
class PublicPhoto(PhotoFacts):
    """A picture that may be shown: it has a credit and a licence. `file` is empty where no such file stands in the guide."""


@dataclass(frozen=True, slots=True)
class PublicStop:
    """A stop of a walk. `name` is what it is called; `place` is its id, empty where the place may not be named."""

    name: str
    place: str
    minutes: int
    metres: int
    note: Inline = NO_TEXT


@dataclass(frozen=True, slots=True)
class PublicWalk(WalkFacts):
    """A guided walk for its guests. `track` is its way, empty where it would tell a secret place."""

    stops: tuple[PublicStop, ...] = ()
    track: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class PublicTally(SeenDays):
    """What was seen, tied to a place only where the two may be told together; `locality` says where in any case.

    Where the locality is generalised, `days` and `counts` are empty: `periods` are the months, years or "" (no date) that are
    told instead, each once, and `loose` is their number.
    """

    locality: Locality = Locality("")
    periods: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PublicRow:
    """One row of sightings as it may be told. `event_date` is as typed, or of a generalised row a month, a year or "".

    `locality` has the position that is told, `licence` is "" under the guide's own. `record` holds the cells as typed, without those
    that are not told; it is None where the row is generalised and stands for many. `own_id` is the occurrenceID that it keeps, and
    `exact` says that the position is its own and no place's. `data_set` is the source that its file comes from, "" where it is none.
    """

    account: str
    stage: str
    event_date: str
    locality: Locality
    licence: str = ""
    record: SightingRecord | None = None
    own_id: str = ""
    exact: bool = False
    data_set: str = ""


@dataclass(frozen=True, slots=True, order=True)
class Cell:
    """A rounded position with its step in degrees: all that lies within half a step is the cell."""

    latitude: float
    longitude: float
    step: float


@dataclass(frozen=True, slots=True)
class PublicSquares:
    """Where a map shows that a species was seen: squares of the region's grid with the latest day (0: not known to the day).

    `sought` are squares where it was looked for and not found. `cells` stand for all that is told by its rounded position alone,
    however much that is and whenever it was.
    """

    seen: tuple[tuple[Square, int], ...] = ()
    sought: tuple[Square, ...] = ()
    cells: tuple[Cell, ...] = ()


@dataclass(frozen=True, slots=True)
class LeftOutRows:
    """How many rows of a file are not published, and why."""

    file: str
    why: str
    rows: int
