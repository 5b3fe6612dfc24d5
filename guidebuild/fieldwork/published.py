"""The published guide: what of a guide may be said. Everything that is published is made of it, and of nothing else."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, TypeVar

from guidebuild.fieldwork.decisions import Decisions, copied, decide_secrets
from guidebuild.fieldwork.public_accounts import account_for_readers, sightings_for_readers
from guidebuild.fieldwork.public_films import film_for_readers
from guidebuild.fieldwork.public_records import (
    LeftOutRows,
    PublicAccount,
    PublicPhoto,
    PublicPlace,
    PublicRow,
    PublicSquares,
    PublicStop,
    PublicTally,
    PublicWalk,
)
from guidebuild.fieldwork.public_rows import rows_for_readers
from guidebuild.fieldwork.public_sounds import sound_for_readers
from guidebuild.fieldwork.unsaid import Unsaid
from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.asking import kept_by_guide
from guidebuild.guide.characters import Character
from guidebuild.guide.films import Film
from guidebuild.guide.guide import Caution, Guide, Licence, Settings
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.posted import PostNotes, StandingClaim, find_standing_claims
from guidebuild.guide.records import Episode, OwnSlides, Photo, Place, Plant, Source, Stop, Term, Walk
from guidebuild.guide.region import Region, Square
from guidebuild.guide.resolve import find_account
from guidebuild.guide.sounds import Sound
from guidebuild.guide.text.inline import Inline
from guidebuild.guide.texts import name_text_fields
from guidebuild.later import imported_when_used

with imported_when_used():  # geometry and projections, which guides without maps do not ask for
    from guidebuild.fieldwork import map_squares, square_names, walk_ways

T = TypeVar("T")
R = TypeVar("R", Settings, PublicPhoto, PublicPlace, PublicWalk)


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Published:
    """A guide for its readers. Mappings are keyed by id and keep the order of the files.

    Secret places are not in it, sensitive species are tied to no place, no text names what may not be named, and every
    picture has a credit and a licence. It holds no way back to the `Guide` that it was made of.
    """

    settings: Settings
    accounts: Mapping[str, PublicAccount]
    plants: Mapping[str, Plant]
    places: Mapping[str, PublicPlace]
    characters: Mapping[str, Character]
    terms: Mapping[str, Term]
    sources: Mapping[str, Source]
    photos: Mapping[str, PublicPhoto]
    films: Mapping[str, Film]
    sounds: Mapping[str, Sound]
    walks: Mapping[str, PublicWalk]
    episodes: Mapping[str, Episode]
    own_slides: Mapping[str, OwnSlides]
    posted: Mapping[str, tuple[StandingClaim, ...]]
    stage_sets: Mapping[str, StageSet]
    cautions: Mapping[str, Caution]
    licences: Mapping[str, Licence]
    sightings: tuple[PublicTally, ...]
    rows: tuple[PublicRow, ...]
    rows_left_out: tuple[LeftOutRows, ...]
    region: Region | None
    squares: Mapping[str, PublicSquares]
    looked: tuple[Square, ...]
    as_of: dt.date | None

    def stage_set(self, account: AccountFacts) -> StageSet:
        """The life-stage set of an account (its own group, else the guide's, else an empty one)."""
        wanted = account.group or self.settings.group
        return self.stage_sets.get(wanted) or StageSet(wanted, wanted, ())

    def photos_of(self, account: AccountFacts) -> tuple[PublicPhoto, ...]:
        """Photos the account lists, in its order, leaving out unknown ids."""
        return tuple(self.photos[p] for p in account.photos if p in self.photos)

    def host_of(self, plant: str) -> tuple[PublicAccount, ...]:
        """Accounts that use a plant."""
        return _list_users(self).get(plant, ())

    def told_positions(self) -> frozenset[str]:
        """The positions of rows that are told with their own, as a table has them; meeting points, and the squares of maps."""
        rows = (f"{row.locality.latitude},{row.locality.longitude}" for row in self.rows if row.exact)
        return frozenset((*rows, *self.told_figures()))

    def told_figures(self) -> Iterator[str]:
        """How meeting points and the squares of maps are written."""
        for walk in self.walks.values():
            if walk.meet_at:
                yield f"{walk.meet_at.latitude:.5f},{walk.meet_at.longitude:.5f}"
                yield f"{round(walk.meet_at.latitude, 5)},{round(walk.meet_at.longitude, 5)}"
                yield square_names.write_figure(self.region.grid, walk.meet_at) if self.region else ""
        if self.region:
            for square in self.looked:
                name = square_names.name_square(self.region.grid, square)
                yield from {name, name.partition(" (")[0]}

    def accounts_at(self, place: str) -> Iterable[PublicAccount]:
        """Accounts that may be tied to a place, by its id: those whose places are told, at a place that may be named."""
        return (account for account in self.accounts.values() if account.kept_back is None) if place in self.places else ()


@kept_by_guide(4)
def _list_users(guide: Published) -> dict[str, tuple[PublicAccount, ...]]:
    """By plant: the accounts that use it. Every plant's page asks, and so does the list of all plants."""
    users: dict[str, dict[str, PublicAccount]] = {}
    for account in guide.accounts.values():
        for host in account.host_plants:
            users.setdefault(host.plant, {})[account.id] = account
    return {plant: tuple(found.values()) for plant, found in users.items()}


def make_published(guide: Guide) -> Published:
    """Decide what of a guide may be said."""
    made = decide_secrets(guide)
    photos = {photo.id: found for photo in guide.photos.values() if (found := _photo(made, photo))}
    made = replace(made, photos=frozenset(photos))
    sightings, looked = sightings_for_readers(made)
    rows, left_out = rows_for_readers(made, looked)
    squares = map_squares.squares_for_readers(made, sightings) if guide.region else {}
    return Published(
        settings=_settings(made),
        accounts=_frozen({i: account_for_readers(made, account) for i, account in guide.accounts.items()}),
        plants=_frozen({i: _plant(made, plant) for i, plant in _told(made, guide.plants)}),
        places=_frozen({i: _place(made, place) for i, place in guide.places.items() if not place.sensitivity}),
        characters=_frozen(guide.characters),
        terms=_frozen({i: _cleaned_anywhere(made, term) for i, term in _told(made, guide.terms)}),
        sources=_frozen({i: _cleaned_anywhere(made, source) for i, source in _told(made, guide.sources)}),
        photos=_frozen(photos),
        films=_frozen({i: film for i, typed in guide.films.items() if (film := film_for_readers(made, typed))}),
        sounds=_frozen({i: sound for i, typed in guide.sounds.items() if (sound := sound_for_readers(made, typed))}),
        walks=_frozen({i: walk for i, typed in guide.walks.items() if (walk := _walk(made, typed))}),
        own_slides=_frozen({i: _own_slides(made, slides) for i, slides in _told(made, guide.own_slides)}),
        posted=_frozen({i: _claims(made, notes) for i, notes in guide.posted.items() if i in guide.accounts}),
        episodes=_frozen({i: _episode(made, episode) for i, episode in _told(made, guide.episodes)}),
        stage_sets=_frozen(guide.stage_sets),
        cautions=_frozen(guide.cautions),
        licences=_frozen(guide.licences),
        sightings=sightings,
        rows=rows,
        rows_left_out=left_out,
        region=_region(made),
        squares=_frozen(squares),
        looked=map_squares.list_looked(squares) if squares else (),
        as_of=guide.as_of,
    )


def _frozen(records: Mapping[str, T]) -> Mapping[str, T]:
    return MappingProxyType(dict(records))


_NAMES: Mapping[type, frozenset[str]] = {
    Settings: frozenset(("title", "region", "address", "publisher", "contact", "licence", "post_limits", "slots")),
    PublicPhoto: frozenset(("id", "credit", "licence")),
    PublicPlace: frozenset(("id", "name", "area")),
    PublicWalk: frozenset(("id", "title", "leader", "contact", "stops")),
}
"""What is said anyway, or decided by itself; every other text of these records is looked at, also those of fields to come."""


def _cleaned(unsaid: Unsaid, record: R) -> R:
    """A record without what may not be told in its texts."""
    if not unsaid.secrets:
        return record
    kind: Any = type(record)
    cleaned: R = unsaid.cleaned_fields(record, [name for name in name_text_fields(kind) if name not in _NAMES[kind]])
    return cleaned


def _told(made: Decisions, records: Mapping[str, T]) -> Iterator[tuple[str, T]]:
    """Records by id, without those whose very id, which stands in addresses, gives a place away."""
    return ((i, record) for i, record in records.items() if not (made.must_clean(record, made.anywhere) and made.anywhere.tells(i)))


def _cleaned_anywhere(made: Decisions, record: T) -> T:
    return made.anywhere.cleaned(record) if made.must_clean(record, made.anywhere) else record


def _settings(made: Decisions) -> Settings:
    """What guide.yaml says."""
    return _cleaned(made.anywhere, made.guide.settings)


def _photo(made: Decisions, photo: Photo) -> PublicPhoto | None:
    """A picture, if it may be shown: someone is credited, a licence allows it, and not even its id gives a place away."""
    unsaid = made.unsaid_of_photo(photo)
    must_clean = made.must_clean(photo, unsaid)
    if not (photo.credit.strip() and photo.licence.strip()) or made.is_of_secret_place(photo) or (must_clean and unsaid.tells(photo.id)):
        return None
    shown = copied(PublicPhoto, photo, file=photo.file if photo.file in made.guide.photo_files else "")
    cleaned = _cleaned(unsaid, shown) if must_clean else shown
    if photo.alt and not cleaned.alt:
        return replace(cleaned, alt=Inline(made.name_of(photo.account)))
    return cleaned


def _plant(made: Decisions, plant: Plant) -> Plant:
    return replace(_cleaned_anywhere(made, plant), photo=made.photo_if_shown(plant.photo))


def _place(made: Decisions, place: Place) -> PublicPlace:
    """A place that may be named; its picture and its texts tie no sensitive species to it."""
    shown = copied(PublicPlace, place, photo="" if made.is_of_sensitive(place.photo) else made.photo_if_shown(place.photo))
    return _cleaned(made.at_places, shown)


def _walk(made: Decisions, walk: Walk) -> PublicWalk | None:
    """A walk for its guests; None where its very title or address gives a place away."""
    unsaid = made.at_places
    if unsaid.tells(walk.id) or unsaid.tells(walk.title):
        return None
    stops = tuple(_stop(made, stop, metres) for stop, metres in zip(walk.stops, walk_ways.measure_legs(made, walk), strict=True))
    meet_at, track = walk_ways.tell_meeting_point(made, walk), walk_ways.tell_track(made, walk)
    return _cleaned(unsaid, copied(PublicWalk, walk, stops=stops, meet_at=meet_at, track=track))


def _region(made: Decisions) -> Region | None:
    """The region; without its lines where one leads to a secret place or runs round it, since one that is missing would lead there too."""
    region, secrets = made.guide.region, made.anywhere.secrets
    if region is None or not secrets.placed:
        return region
    return replace(region, lines=()) if any(map_squares.leads_to(line, secrets) for line in region.lines) else region


def _stop(made: Decisions, stop: Stop, metres: int) -> PublicStop:
    """A stop; where its place may not be named, it is called by the wider area."""
    place = made.guide.places.get(stop.place)
    note = made.at_places.cleaned(stop.note)
    if place is None:
        return PublicStop(stop.place, "", stop.minutes, metres, note)
    if place.sensitivity:
        return PublicStop(made.area_of(place), "", stop.minutes, metres, note)
    return PublicStop(place.name, place.id, stop.minutes, metres, note)


def _own_slides(made: Decisions, slides: OwnSlides) -> OwnSlides:
    accounts = [account for part in slides.id.split("--") if (account := find_account(made.guide, part))]
    kept = slides
    for unsaid in [made.unsaid_with(account) for account in accounts] or [made.anywhere]:
        if made.must_clean(slides, unsaid):
            kept = replace(kept, sections=unsaid.cleaned(kept.sections))
    return kept


def _claims(made: Decisions, notes: PostNotes) -> tuple[StandingClaim, ...]:
    """What was posted of an account and stands still, without what may not be told any more: it is put right nowhere, but taken down."""
    account = made.guide.accounts[notes.account]
    unsaid, claims = made.unsaid_with(account), find_standing_claims(notes)
    return tuple(claim for claim in claims if not unsaid.tells(claim.words)) if unsaid.secrets else claims


def _episode(made: Decisions, episode: Episode) -> Episode:
    account = find_account(made.guide, episode.account)
    unsaid = made.unsaid_with(account) if account else made.anywhere
    if not made.must_clean(episode, unsaid):
        return episode
    return replace(episode, title=unsaid.without(episode.title), sections=unsaid.cleaned(episode.sections))
