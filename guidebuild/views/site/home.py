"""The first page: what is most likely met today, what else is about, the next walk, then every way into the guide."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from guidebuild.fieldwork.public_records import PublicPlace
from guidebuild.guide.seasons import DEKADS, dekad_of
from guidebuild.views.pieces.common import LinkView, PhotoView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import MOST_LINES
from guidebuild.views.pieces.season_words import dekad_words
from guidebuild.views.site.films import FilmView, film_view, list_films
from guidebuild.views.site.likeliest import ANYWHERE, Likeliest, likeliest_anywhere, place_piece_path
from guidebuild.views.site.lists import HeadedList, by_family, list_dekads, make_entry
from guidebuild.views.site.walk import WalkAhead, list_walks

WHOLE_YEAR_ON_HOME = 150
"""Up to so many accounts the home page holds the whole year, and the browser picks today's; above, only the day it was made."""


@dataclass(frozen=True, slots=True)
class PlaceChoice:
    """A place that a reader may choose: where its piece stands, and its position to some hundred metres (empty: none is known)."""

    id: str
    name: str
    piece: str
    at: str


@dataclass(frozen=True, slots=True)
class HomePage:
    """What is out now, then every way into the guide. `year` is the piece of the whole year, where the page holds its own day alone."""

    now: Likeliest
    year: str
    dekad: int
    dekad_name: str
    dekads: tuple[tuple[str, str], ...]  # name and path of all 36
    places: tuple[PlaceChoice, ...]
    families: tuple[HeadedList, ...]
    counts: tuple[int, int, int]  # accounts, plants, places
    ways: tuple[LinkView, ...]
    walks: tuple[WalkAhead, ...] = ()  # by their days, past ones too: the reader's own day decides
    next_walk: int = -1  # the number of the first that was still to come when the page was made
    film: FilmView | None = None  # the newest
    lead: PhotoView | None = None
    lead_link: LinkView | None = None


def home_page(make: PieceMaker, today: dt.date, ways: tuple[LinkView, ...]) -> HomePage:
    """The first page."""
    dekad, guide = dekad_of(today), make.guide
    whole_year = holds_whole_year(make)
    now = likeliest_anywhere(make, range(DEKADS) if whole_year else (dekad,), dekad)
    lead = next((entry for _, entry in now.entries if entry.out and entry.photo), None)
    if not lead:
        by_name = sorted(guide.accounts.values(), key=lambda account: account.name.sort_key)
        lead = next((entry for entry in (make_entry(make, account) for account in by_name) if entry.photo), None)
    walks = list_walks(make)
    return HomePage(
        now=now,
        year="" if whole_year else make.map.page(ANYWHERE),
        dekad=dekad,
        dekad_name=dekad_words(dekad, make.words),
        dekads=list_dekads(make),
        places=tuple(_offer_place(make, place) for place in sorted(guide.places.values(), key=lambda place: place.name.casefold())),
        families=_list_families(make),
        counts=(len(guide.accounts), len(guide.plants), len(guide.places)),
        ways=ways,
        walks=walks,
        next_walk=next((number for number, walk in enumerate(walks) if walk.day >= today), -1),
        film=next((film_view(make, film) for film in list_films(make.guide)), None),
        lead=lead.photo if lead else None,
        lead_link=lead.link if lead else None,
    )


def holds_whole_year(make: PieceMaker) -> bool:
    """Whether the first page itself holds what is likeliest all through the year."""
    return len(make.guide.accounts) <= WHOLE_YEAR_ON_HOME


def _offer_place(make: PieceMaker, place: PublicPlace) -> PlaceChoice:
    at = f"{place.position.latitude:.3f} {place.position.longitude:.3f}" if place.position else ""
    return PlaceChoice(place.id, place.name, make.map.page(place_piece_path(place.id)), at)


def _list_families(make: PieceMaker) -> tuple[HeadedList, ...]:
    """All accounts under their families; of many, the families alone, each of which has a page."""
    accounts = list(make.guide.accounts.values())
    if len(accounts) <= MOST_LINES:
        return by_family(make, accounts)
    links = (make.map.family(family) for family in sorted({account.family for account in accounts if account.family}))
    return tuple(HeadedList(link.text, (), link) for link in links)
