"""Places, and the habitats that accounts name."""

from __future__ import annotations

from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicAccount, PublicPlace
from guidebuild.guide.ids import make_id
from guidebuild.guide.seasons import DEKADS
from guidebuild.views.pieces.cautions import show_cautions
from guidebuild.views.pieces.common import CautionView, LinkView, PhotoView, ProseView, Wording
from guidebuild.views.pieces.facts import head_plant_list, name_habitats
from guidebuild.views.pieces.laws import show_laws
from guidebuild.views.pieces.maps import MapView, map_of_place
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import WHOLE, Run
from guidebuild.views.pieces.season_words import list_initials
from guidebuild.views.site.likeliest import place_piece_path
from guidebuild.views.site.lists import HeadedList, ListEntry, ListPage, PlaceEntry, make_entry, year_of

PLACES = "places/index.html"


@dataclass(frozen=True, slots=True)
class PlacePage:
    """A place that may be named: habitat, access, what was found there and when it is in season; `now` is its piece."""

    name: str
    area: str
    habitat: tuple[Wording, ...]
    photo: PhotoView | None
    note: ProseView | None
    access: Wording
    cautions: tuple[CautionView, ...]
    entries: tuple[ListEntry, ...]
    plants: tuple[LinkView, ...]
    plants_heading: str
    months: tuple[str, ...]
    now: str
    map: MapView | None = None


def accounts_at(make: PieceMaker, place: str) -> list[PublicAccount]:
    """The accounts that name a place."""
    return [account for account in make.guide.accounts.values() if place in account.places]


def place_page(make: PieceMaker, place: PublicPlace, run: Run = WHOLE) -> PlacePage:
    """A place's page, with a run of what was found there."""
    return PlacePage(
        name=place.name,
        area=place.area,
        habitat=tuple(map(make.word, place.habitat)),
        photo=make.photo_of(place.photo),
        note=make.prose(place.note.text, prefix=place.id, language=make.main) if place.note else None,
        access=make.word(place.access),
        cautions=(*show_cautions(make, place.hazards, place.caution), *show_laws(make, place.law)),
        entries=tuple(replace(make_entry(make, a), year=year_of(make, a, place.id)) for a in accounts_at(make, place.id)[run.held]),
        plants=tuple(make.map.plant(p) for p in place.plants if p in make.guide.plants),
        plants_heading=make.words(head_plant_list(make.guide)),
        months=list_initials(make.words, make.guide.settings),
        now=make.map.page(place_piece_path(place.id)),
        map=map_of_place(make, place),
    )


def count_habitats(make: PieceMaker) -> dict[str, int]:
    """How many accounts name each habitat, in alphabetical order."""
    numbers: dict[str, int] = {}
    for account in make.guide.accounts.values():
        for habitat in name_habitats(make.guide, account):
            numbers[habitat.words] = numbers.get(habitat.words, 0) + 1
    return dict(sorted(numbers.items()))


def habitat_path(habitat: str) -> str:
    """The page of a habitat, where a guide has too many accounts for all of them on one."""
    return f"places/habitats/{make_id(habitat)}.html"


def habitat_page(make: PieceMaker, habitat: str, run: Run) -> ListPage:
    """The accounts of one habitat, or a run of them, with the way back to all habitats."""
    whole = LinkView(make.map.page(PLACES), make.words("Places and habitats"))
    said, accounts = _gather_habitats(make)[habitat]
    return ListPage((HeadedList("", tuple(make_entry(make, a) for a in accounts[run.held]), said=said),), (whole,))


def places_page(make: PieceMaker, divided: bool) -> ListPage:
    """All places, and accounts under the habitats they name; where that is divided, the habitats alone, each of which has a page."""
    places = tuple(_list_place(make, place) for place in make.guide.places.values())
    if not divided:
        return ListPage(_head_habitats(make), places=places)
    held = ((habitat, make.words.count("{n} species", "{n} species", number)) for habitat, number in count_habitats(make).items())
    links = (LinkView(make.map.page(habitat_path(habitat)), habitat, note=note) for habitat, note in held)
    return ListPage((), tuple(links), places=places)


def _list_place(make: PieceMaker, place: PublicPlace) -> PlaceEntry:
    years = [year_of(make, account, place.id) for account in accounts_at(make, place.id)]
    out = [sum(1 for year in years if year[dekad]) for dekad in range(DEKADS)]
    most = [sum(1 for year in years if year[dekad] == 2) for dekad in range(DEKADS)]
    full = max(most) * 3 / 4
    return PlaceEntry(
        link=make.map.place(place.id),
        area=place.area,
        habitat=tuple(map(make.word, place.habitat)),
        photo=make.small_photo(make.guide.photos[place.photo]) if place.photo in make.guide.photos else None,
        year=tuple(2 if best and best >= full else int(number > 0) for number, best in zip(out, most, strict=True)),
        species=len(years),
    )


def _head_habitats(make: PieceMaker) -> tuple[HeadedList, ...]:
    return tuple(
        HeadedList(heading, tuple(make_entry(make, a) for a in accounts), LinkView(f"#{make_id(heading)}", heading), said)
        for heading, (said, accounts) in _gather_habitats(make).items()
    )


def _gather_habitats(make: PieceMaker) -> dict[str, tuple[Wording, list[PublicAccount]]]:
    under: dict[str, tuple[Wording, list[PublicAccount]]] = {}
    for account in make.guide.accounts.values():
        for habitat in name_habitats(make.guide, account):
            under.setdefault(habitat.words, (make.word(habitat), []))[1].append(account)
    return dict(sorted(under.items()))
