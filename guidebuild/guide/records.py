"""The smaller records of a guide: plants, places, terms, sources, photos, walks, episodes, sightings files."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from urllib.parse import quote

from guidebuild.guide.findings import NO_KEYS, NOWHERE, At
from guidebuild.guide.measures import Measure
from guidebuild.guide.names import ScientificName
from guidebuild.guide.region import Line
from guidebuild.guide.text.inline import NO_TEXT, Inline, Markdown, Unshown


@dataclass(frozen=True, slots=True)
class Section:
    """A headed piece of Markdown; `at` is the line of its first text line."""

    heading: str
    text: Markdown
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class Plant:
    """A host plant. `hazards` as in an account; `caution` in the author's words."""

    id: str
    vernacular: str
    name: ScientificName | None = None
    note: Inline = NO_TEXT
    photo: Unshown = ""
    hazards: tuple[str, ...] = ()
    caution: Inline = NO_TEXT
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class Position:
    """WGS84 degrees north and east, with the radius in metres that surely holds the true spot (None: not known).

    `precision` is how finely the figures were typed, in degrees as Darwin Core's coordinatePrecision has it; "" where nobody typed them.
    """

    latitude: float
    longitude: float
    uncertainty: float | None = None
    precision: Unshown = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """Why and how a place or species is kept secret.

    `category` 1–4 after Chapman (2020): 1 gives no coordinates, 2 rounds to 0.1°, 3 to 0.01°, 4 to 0.001°; 0 is not
    sensitive. `reason` and `review` (date to look again) are published, the place never.
    """

    category: int = 0
    reason: str = ""
    review: dt.date | None = None

    def __bool__(self) -> bool:
        """True where something must be kept secret."""
        return self.category > 0


OPEN = Sensitivity()
UNREADABLE = Sensitivity(1, "what is written of it cannot be read")
"""Where a slip leaves open whether something is secret, it is."""


@dataclass(frozen=True, slots=True)
class LawNote:
    """What the law says, in the author's words, on the day when that was so; `address` is where it can be read."""

    text: Inline
    as_of: dt.date
    address: Unshown = ""
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class PlaceFacts:
    """What is said of a place or a kind of place. `area` is the wider name that is said instead where the place is kept secret."""

    id: str
    name: str
    area: str = ""
    habitat: tuple[Inline, ...] = ()
    position: Position | None = None
    access: Inline = NO_TEXT
    hazards: tuple[str, ...] = ()
    caution: Inline = NO_TEXT
    law: tuple[LawNote, ...] = ()
    plants: tuple[Unshown, ...] = ()
    note: Inline = NO_TEXT
    photo: Unshown = ""
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class Place(PlaceFacts):
    """A place as its author wrote it. The name of a secret place may be known to all (`public_name`) while its position is not."""

    sensitivity: Sensitivity = OPEN
    public_name: bool = False


@dataclass(frozen=True, slots=True)
class Term:
    """A glossary entry; `meaning` is Markdown."""

    id: str
    word: str
    meaning: Inline
    also: tuple[str, ...] = ()
    photo: Unshown = ""
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class Source:
    """Where a fact, or a file of sightings, comes from, as cited. `address` is a web address; `kind` is "data set" or "" for a text.

    `doi` is bare (`10.5555/12345`). `licence` and `rights_holder` hold for rows of a data set that name none.
    """

    id: str
    cite: str
    kind: Unshown = ""
    author: str = ""
    year: str = ""
    title: str = ""
    version: str = ""
    publisher: str = ""
    doi: Unshown = ""
    licence: Unshown = ""
    rights_holder: str = ""
    address: str = ""
    accessed: dt.date | None = None
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)

    @property
    def link(self) -> str:
        """Where it can be found for good: by its DOI, else at its address."""
        return f"https://doi.org/{quote(self.doi, safe='/;()')}" if self.doi else self.address

    @property
    def holder(self) -> str:
        """Whose the rows of a data set are, as far as it is known."""
        return self.rights_holder or self.author or self.publisher


@dataclass(frozen=True, slots=True)
class PartPointer:
    """A part of the body on a photo that is a diagram: its word and where it is, in per cent across and down."""

    part: str
    point: tuple[float, float]
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class PhotoFacts:
    """What is told of a picture: what it shows, who made it, how it may be used.

    `focus` is where the subject is, in per cent across and down; `length` is how long the line `measured` (x1, y1 – x2, y2 in per cent)
    is in truth, so that life size can be worked out; `reach` how far the subject goes beyond that line, in per cent of it. `parts` are
    parts of the body with their points.
    """

    id: str
    file: Unshown
    shows: str = ""
    account: Unshown = ""
    stage: Unshown = ""
    sex: Unshown = ""
    view: str = ""
    part: str = ""
    credit: str = ""
    licence: str = ""
    title: Inline = NO_TEXT
    source: str = ""
    changes: str = ""
    permission: Unshown = ""
    alt: Inline = NO_TEXT
    decorative: bool = False
    caption: Inline = NO_TEXT
    focus: tuple[float, float] | None = None
    length: Measure | None = None
    measured: tuple[float, float, float, float] | None = None
    reach: tuple[float, float] | None = None
    parts: tuple[PartPointer, ...] = ()
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class Photo(PhotoFacts):
    """One picture as its author wrote it, with where and when it was taken, which is for the author alone."""

    place: Unshown = ""
    taken: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Stop:
    """A stop of a walk: a place, how long one stays (minutes), how far it is from the one before (metres)."""

    place: Unshown
    minutes: int = 10
    metres: int = 0
    note: Inline = NO_TEXT
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class WalkFacts:
    """What is told of a guided walk but for its stops; `start` is local time at `zone`."""

    id: str
    title: str
    date: dt.date
    start: dt.time
    zone: Unshown
    meet: str
    meet_at: Position | None = None
    leader: str = ""
    contact: str = ""
    audience: str = ""
    minutes: int = 0
    bring: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    note: Inline = NO_TEXT
    card_format: Unshown = ""
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class Walk(WalkFacts):
    """A guided walk as its author wrote it. `track` are the lines of its way, as its file has them."""

    stops: tuple[Stop, ...] = ()
    track_file: Unshown = ""
    track: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class OwnSlides:
    """An author's own order and words for a set of slides; `id` is that of the set. Each section is a slide."""

    id: Unshown
    shapes: tuple[Unshown, ...] = ()
    sections: tuple[Section, ...] = ()
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class Episode:
    """An author's own script. `length` is the slot in seconds (low, high)."""

    id: str
    title: str
    account: Unshown
    kind: Unshown
    length: tuple[float, float] | None
    sections: tuple[Section, ...]
    posted: dt.date | None = None
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)
