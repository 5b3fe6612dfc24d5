"""The Guide: everything one guide says, ready to be checked and shown."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from guidebuild.guide.accounts import Account, AccountFacts
from guidebuild.guide.characters import Character
from guidebuild.guide.films import Film
from guidebuild.guide.findings import NO_KEYS, NOWHERE, At, Level
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.post_counting import SIGNS
from guidebuild.guide.posted import PostNotes
from guidebuild.guide.records import Episode, LawNote, OwnSlides, Photo, Place, Plant, Position, Source, Term, Walk
from guidebuild.guide.region import Region
from guidebuild.guide.season_tokens import MONTHS
from guidebuild.guide.sighting_records import SightingRecord
from guidebuild.guide.sighting_words import SightingWords
from guidebuild.guide.sightings import FileCount, Tally
from guidebuild.guide.sounds import Sound
from guidebuild.guide.text.inline import Unshown

SLIDE_SHAPES = ("portrait", "square", "tall", "wide")
"""The shapes that slides come in, by the words of guide.yaml."""


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard and the words that warn of it."""

    id: Unshown
    title: str
    text: str
    local: str = ""  # the line that defers to local law or licensed practice
    short: str = ""  # what to do, in one sentence, for the smallest cards
    harm: Unshown = ""  # how the species itself hurts, so that its look-alikes warn of it
    asked_as: tuple[Unshown, ...] = ()  # words by which the hazard is known
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)


@dataclass(frozen=True, slots=True)
class Licence:
    """A licence a picture may carry. `id` is an SPDX id or one of the tool's own words (`all-rights-reserved`)."""

    id: str
    title: str
    address: str = ""
    attribution: bool = True
    derivatives: bool = True
    commercial: bool = True


@dataclass(frozen=True, slots=True)
class PostLimit:
    """How long a text may be where it is posted: its characters, by the rule by which they are counted, a link's cost, hashtags."""

    name: str
    characters: int
    link_cost: int = 23
    hashtags: int = 5
    counted: Unshown = SIGNS
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class EpisodeSlot:
    """An episode's length in seconds, shortest and longest.

    `captions` says what its captions may be: as for `streaming`, as for `broadcast`, or for a `vertical` picture.
    """

    name: str
    shortest: float
    longest: float
    captions: Unshown = "streaming"
    at: At = NOWHERE


DEFAULT_SLOTS = (EpisodeSlot("short", 60, 90), EpisodeSlot("full", 240, 330))
"""The kinds of episode of a guide that names none."""


@dataclass(frozen=True, slots=True)
class PaceSetting:
    """How fast the speaker talks; None: the tool's default. Rates in syllables a second, pauses in seconds."""

    syllables: float | None = None
    comma: float | None = None
    sentence: float | None = None
    paragraph: float | None = None
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class Settings:
    """What guide.yaml says."""

    title: str
    region: str = ""
    country: Unshown = ""  # ISO 3166-1 alpha-2
    description: str = ""
    languages: tuple[Unshown, ...] = ("en",)
    address: str = ""
    publisher: str = ""
    contact: str = ""
    licence: str = ""
    photo_credit: Unshown = ""  # what `bring` writes of the author's own pictures
    photo_licence: Unshown = ""
    group: Unshown = ""
    level: Unshown = "publishable"  # sketch, fieldable or publishable: how complete accounts must be
    hemisphere: Unshown = ""
    year_starts: Unshown = "january"
    zone: Unshown = "UTC"
    card: Unshown = "a6"
    paper: Unshown = "a4"
    flip: Unshown = "long edge"
    bleed: float = 0.0  # mm
    crop_marks: bool = True  # on files for a print shop
    ink_limit: int = 0  # per cent of one full ink, all inks of a spot together; 0: none is given
    paper_thickness: float = 0.0  # mm of one sheet; 0: as usual for the paper
    size_beside: Unshown = ""  # the familiar thing beside which sizes are drawn: hand, card, person, none; empty: by the sizes
    prints: tuple[Unshown, ...] = ()  # further prints: format ids, or "print shop"
    sold: tuple[Unshown, ...] = ()  # those of `prints`, and of what is always printed, that are sold
    print_profile: Unshown = ""  # a print shop's ICC profile, a file of the guide
    sign_off: str = ""
    greeting: str = ""
    hashtags: tuple[str, ...] = ()
    post_limits: tuple[PostLimit, ...] = ()
    slides: tuple[Unshown, ...] = ("due",)  # which sets are made: due, all, accounts, pairs or walks
    slide_shapes: tuple[Unshown, ...] = ("portrait",)
    slots: tuple[EpisodeSlot, ...] = ()
    pace: PaceSetting = PaceSetting()
    law: tuple[LawNote, ...] = ()
    region_box: tuple[float, float, float, float] | None = None  # south, west, north, east in degrees
    public_positions: tuple[Position, ...] = ()  # what all may know, though no open place is there
    date_order: Unshown = ""  # "day first" or "month first" for slashed dates in sightings
    review_after_months: int = 36
    rules: tuple[tuple[Unshown, Level | None], ...] = ()  # rule code -> its level here; None: off
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)

    @property
    def language(self) -> str:
        """The guide's first language."""
        return self.languages[0]

    @property
    def episode_slots(self) -> tuple[EpisodeSlot, ...]:
        """The kinds of episode: those that the guide names, else the usual ones."""
        return self.slots or DEFAULT_SLOTS

    @property
    def first_month(self) -> int:
        """The month, 0–11, with which the year begins wherever it is drawn."""
        return MONTHS.index(self.year_starts)

    @property
    def first_dekad(self) -> int:
        """The same as a third of a month, 0–35."""
        return self.first_month * 3


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Guide:
    """Everything one guide says. Mappings are keyed by id and keep the order of the files.

    `as_of` is the day the guide is looked at (given by whoever reads it, never taken from the clock in here).
    """

    settings: Settings
    accounts: Mapping[str, Account] = field(default_factory=dict)
    plants: Mapping[str, Plant] = field(default_factory=dict)
    places: Mapping[str, Place] = field(default_factory=dict)
    characters: Mapping[str, Character] = field(default_factory=dict)
    terms: Mapping[str, Term] = field(default_factory=dict)
    sources: Mapping[str, Source] = field(default_factory=dict)
    photos: Mapping[str, Photo] = field(default_factory=dict)
    films: Mapping[str, Film] = field(default_factory=dict)
    sounds: Mapping[str, Sound] = field(default_factory=dict)
    walks: Mapping[str, Walk] = field(default_factory=dict)
    episodes: Mapping[str, Episode] = field(default_factory=dict)
    own_slides: Mapping[str, OwnSlides] = field(default_factory=dict)
    posted: Mapping[str, PostNotes] = field(default_factory=dict)
    stage_sets: Mapping[str, StageSet] = field(default_factory=dict)
    cautions: Mapping[str, Caution] = field(default_factory=dict)
    licences: Mapping[str, Licence] = field(default_factory=dict)
    photo_files: frozenset[Unshown] = frozenset()  # files that stand in photos/, relative to the guide
    film_files: frozenset[Unshown] = frozenset()  # the same of films/
    sound_files: frozenset[Unshown] = frozenset()  # and of sounds/
    sighting_files: tuple[Unshown, ...] = ()
    sighting_words: SightingWords | None = None  # None: the words that the tool ships
    sightings: tuple[Tally, ...] = ()
    sighting_counts: tuple[FileCount, ...] = ()  # what became of the rows of each file
    records: tuple[SightingRecord, ...] = ()  # single rows, read only where they are handed on
    region: Region | None = None  # what its maps draw
    as_of: dt.date | None = None
    unread: frozenset[Unshown] = frozenset()  # accounts whose files cannot be read: links to them are not dangling
    unpublished: tuple[Account, ...] = ()  # accounts left out for an error: what is secret of them still is

    @property
    def keeps_secrets(self) -> bool:
        """Whether any place or species is kept secret; without one, nothing need be looked for or held back."""
        species = (*self.accounts.values(), *self.unpublished)
        return any(place.sensitivity for place in self.places.values()) or any(account.sensitivity for account in species)

    def stage_set(self, account: AccountFacts) -> StageSet:
        """The life-stage set of an account (its own group, else the guide's, else an empty one)."""
        wanted = account.group or self.settings.group
        return self.stage_sets.get(wanted) or StageSet(wanted, wanted, ())

    def photos_of(self, account: AccountFacts) -> tuple[Photo, ...]:
        """Photos the account lists, in its order, leaving out unknown ids."""
        return tuple(self.photos[p] for p in account.photos if p in self.photos)

    def host_of(self, plant: str) -> tuple[Account, ...]:
        """Accounts that use a plant."""
        return tuple(a for a in self.accounts.values() if any(h.plant == plant for h in a.host_plants))

    def accounts_at(self, place: str) -> Iterable[Account]:
        """Accounts that may be met at a place, by its id: to the author, all."""
        return self.accounts.values()
