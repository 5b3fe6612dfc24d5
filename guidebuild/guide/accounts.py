"""Species accounts: the facts block and the sections of prose."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from guidebuild.guide.characters import Score
from guidebuild.guide.findings import NO_KEYS, NOWHERE, At
from guidebuild.guide.measures import Measure
from guidebuild.guide.names import ScientificName
from guidebuild.guide.records import OPEN, LawNote, Section, Sensitivity
from guidebuild.guide.seasons import Season
from guidebuild.guide.text.inline import NO_TEXT, Inline, Unshown

T = TypeVar("T")
_ROOTS = re.compile(r"\broots?\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class FieldMark:
    """A mark that decides, the most useful first. `point` is per cent across and down its photo, `wide` how much of its width it takes.

    It is true of its own stages and sexes; where none are named, of all.
    """

    mark: Inline
    stages: tuple[Unshown, ...] = ()
    sexes: tuple[Unshown, ...] = ()
    view: str = ""
    photo: Unshown = ""
    point: tuple[float, float] | None = None
    wide: float | None = None
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class SimilarSpecies:
    """Another account that this one is taken for. `tell_by` are character ids (empty: the tool works them out)."""

    account: Unshown
    tell_by: tuple[Unshown, ...] = ()
    note: Inline = NO_TEXT
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class HostUse:
    """How a plant is used: `part` of the plant, `use` in a few words."""

    plant: Unshown
    part: Inline = NO_TEXT
    use: Inline = NO_TEXT
    at: At = NOWHERE

    @property
    def is_underground(self) -> bool:
        """Whether it is the plant's roots, which nobody can look at."""
        return _ROOTS.search(self.part.text) is not None


@dataclass(frozen=True, slots=True)
class Stated(Generic[T]):
    """A list that may be given, said to be none, said not to apply (with a reason), or not said at all.

    Missing is not the same as none: `said` is False only where the key is absent.
    """

    values: tuple[T, ...] = ()
    said: bool = False
    reason: Inline = NO_TEXT
    at: At = NOWHERE

    def __iter__(self) -> Iterator[T]:
        """Iterate over the values."""
        return iter(self.values)

    def __len__(self) -> int:
        """How many values."""
        return len(self.values)


@dataclass(frozen=True, slots=True)
class StageSeason:
    """When a stage is found; `place` narrows it to one place (empty: the whole region)."""

    stage: Unshown
    season: Season
    place: Unshown = ""
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class StageText:
    """What a stage is like, in a sentence or two of Markdown."""

    stage: Unshown
    text: Inline
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class Silenced:
    """A rule switched off for one account, and why."""

    code: Unshown
    reason: Unshown
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class Review:
    """Who last checked the facts, and when."""

    by: str
    on: dt.date
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class Translation:
    """An account's words in another language (`name.es.md`); facts stay those of the account."""

    language: Unshown
    vernacular: str = ""
    marks: tuple[Inline, ...] = ()  # in the order of the account's; empty where one is not translated
    marks_of: tuple[Unshown, ...] = ()  # the words that each translates, until they are laid beside the account
    stages: tuple[StageText, ...] = ()
    similar_notes: tuple[tuple[Unshown, Inline], ...] = ()
    facts: tuple[tuple[Unshown, Inline], ...] = ()  # texts of the facts block by key
    law: tuple[Inline, ...] = ()  # notes on the law, in the order of the account's
    compared_with: Unshown = ""  # a digest of what those translate that count by their order
    sections: tuple[Section, ...] = ()
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class AccountFacts:
    """What a species account says, to its author and its readers alike. Ids of photos, plants, places… point into the guide."""

    id: str
    name: ScientificName
    vernacular: str
    at: At
    other_vernaculars: tuple[str, ...] = ()
    synonyms: tuple[ScientificName, ...] = ()
    formerly: tuple[Unshown, ...] = ()  # addresses (ids) this account had before
    say: str = ""  # how the scientific name is said aloud
    family: str = ""
    group: Unshown = ""  # which life-stage set: an id in content/life_stages.yaml or the guide's own
    size: Measure | None = None
    status: Inline = NO_TEXT
    recent: Inline = NO_TEXT  # arrival note: "first seen in the region in 2019"
    diagnostics: tuple[FieldMark, ...] = ()
    scores: tuple[Score, ...] = ()
    similar: Stated[SimilarSpecies] = field(default_factory=Stated)
    host_plants: Stated[HostUse] = field(default_factory=Stated)
    prey: Inline = NO_TEXT
    voice: Inline = NO_TEXT
    habitat: tuple[Inline, ...] = ()
    places: tuple[Unshown, ...] = ()
    absent_from: tuple[Unshown, ...] = ()
    seasons: tuple[StageSeason, ...] = ()
    stages: tuple[StageText, ...] = ()
    photos: tuple[Unshown, ...] = ()
    hazards: Stated[str] = field(default_factory=Stated)
    caution: Inline = NO_TEXT
    law: tuple[LawNote, ...] = ()
    sources: tuple[Unshown, ...] = ()
    reviewed: Review | None = None
    posted: dt.date | None = None
    to_post: dt.date | None = None  # a day of the week in which its author wants to post it
    sections: tuple[Section, ...] = ()
    translations: tuple[Translation, ...] = ()

    def score(self, character: str) -> Score | None:
        """The score of that character, or None where it was not scored."""
        return next((s for s in self.scores if s.character == character), None)

    def section(self, heading: str) -> Section | None:
        """The section of that heading, or None."""
        wanted = heading.casefold()
        return next((s for s in self.sections if s.heading.casefold() == wanted), None)

    def season_of(self, stage: str) -> Season | None:
        """The region-wide season of a stage, or None."""
        return next((s.season for s in self.seasons if s.stage == stage and not s.place), None)


@dataclass(frozen=True, slots=True)
class Account(AccountFacts):
    """One species account as its author wrote it, with what is for the author alone."""

    sensitivity: Sensitivity = OPEN
    silenced: tuple[Silenced, ...] = ()
    positions: Mapping[Unshown, At] = NO_KEYS  # where each top-level key stands

    def where(self, key: str) -> At:
        """Where a key of the facts block stands, else where the account starts."""
        return self.positions.get(key, self.at)
