"""The first page: what is most likely met today, what else is about, the next walk, then every way into the guide."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.seasons import DEKADS, dekad_of
from guidebuild.views.pieces.common import NO_WORDS, LinkView, PhotoView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import MOST_LINES
from guidebuild.views.pieces.season_words import dekad_words
from guidebuild.views.site.films import FilmView, film_view, list_films
from guidebuild.views.site.lists import HeadedList, ListEntry, by_family, list_dekads, make_entry, out_in
from guidebuild.views.site.told import pictures_through_the_year, told_through_the_year
from guidebuild.views.site.walk import walk_link

WHOLE_YEAR_ON_HOME = 150
"""Up to so many accounts the home page holds all of them, and the browser picks today's; above, only those of the day it was made."""
MOST_ON_HOME = 60
"""Accounts on the home page of such a large guide: the best of the day, which is as many as anyone scrolls through."""
LIKELIEST = 5
"""Accounts that stand with a picture; what else is about is named below them."""


@dataclass(frozen=True, slots=True)
class WalkAhead:
    """A walk, for whoever looks what comes next: its page and day, when and where one meets. `day` is for the reader's browser."""

    link: LinkView
    day: dt.date
    start: str
    meet: str


@dataclass(frozen=True, slots=True)
class HomePage:
    """What is out now, then every way into the guide.

    `out` are the accounts, those that are out on the day that the page was made first, by their chance. `likeliest` are for each
    dekad the numbers of the `LIKELIEST` among them; empty where the page does not hold that part of the year.
    """

    out: tuple[ListEntry, ...]
    likeliest: tuple[tuple[int, ...], ...]
    shown: int
    dekad: int
    dekad_name: str
    dekads: tuple[tuple[str, str], ...]  # name and path of all 36
    families: tuple[HeadedList, ...]
    counts: tuple[int, int, int]  # accounts, plants, places
    ways: tuple[LinkView, ...]
    walks: tuple[WalkAhead, ...] = ()  # by their days, past ones too: the reader's own day decides
    next_walk: int = -1  # the number of the first that was still to come when the page was made
    film: FilmView | None = None  # the newest
    lead: PhotoView | None = None
    lead_link: LinkView | None = None

    @property
    def likeliest_digits(self) -> str:
        """Numbers for each dekad as one word, as the page's script reads them."""
        return "|".join(".".join(map(str, numbers)) for numbers in self.likeliest)


def home_page(make: PieceMaker, today: dt.date, ways: tuple[LinkView, ...]) -> HomePage:
    """The first page."""
    dekad, guide = dekad_of(today), make.guide
    plain = {account.id: make_entry(make, account) for account in guide.accounts.values()}
    whole_year = len(plain) <= WHOLE_YEAR_ON_HOME
    ranked = _rank(make, plain, dekad)
    # What tells each one all through the year is much: only what is shown is asked for it.
    others = sorted(plain.keys() - set(ranked), key=lambda id: plain[id].link.text)
    shown = [*ranked, *others] if whole_year else ranked[:MOST_ON_HOME]
    lead_id = next((id for id in (*ranked, *sorted(plain, key=lambda id: guide.accounts[id].name.sort_key)) if plain[id].photo), None)
    lead = _entry_all_year(make, guide.accounts[lead_id], dekad) if lead_id else None
    walks = sorted(guide.walks.values(), key=lambda walk: (walk.date, walk.start))
    return HomePage(
        out=tuple(_entry_all_year(make, guide.accounts[id], dekad) for id in shown),
        likeliest=_find_likeliest(make, plain, shown, range(DEKADS) if whole_year else (dekad,)),
        shown=LIKELIEST,
        dekad=dekad,
        dekad_name=dekad_words(dekad, make.words),
        dekads=list_dekads(make),
        families=_list_families(make),
        counts=(len(guide.accounts), len(guide.plants), len(guide.places)),
        ways=ways,
        walks=tuple(WalkAhead(walk_link(make, walk), walk.date, f"{walk.start:%H:%M}" if walk.start else "", walk.meet) for walk in walks),
        next_walk=next((number for number, walk in enumerate(walks) if walk.date >= today), -1),
        film=next((film_view(make, film) for film in list_films(make.guide)), None),
        lead=lead.photo if lead else None,
        lead_link=lead.link if lead else None,
    )


def _rank(make: PieceMaker, plain: dict[str, ListEntry], dekad: int) -> list[str]:
    """The accounts in season anywhere in the region in a dekad, as its own page ranks them: most seen first, then by their chance."""
    return [out.account for out in out_in(make, dekad) if plain[out.account].year[dekad]]


def _find_likeliest(
    make: PieceMaker, plain: dict[str, ListEntry], shown: Sequence[str], dekads: Sequence[int]
) -> tuple[tuple[int, ...], ...]:
    numbers = {id: number for number, id in enumerate(shown)}
    ranked = {dekad: [numbers[id] for id in _rank(make, plain, dekad) if id in numbers][:LIKELIEST] for dekad in dekads}
    return tuple(tuple(ranked.get(dekad, ())) for dekad in range(DEKADS))


def _list_families(make: PieceMaker) -> tuple[HeadedList, ...]:
    """All accounts under their families; of many, the families alone, each of which has a page."""
    accounts = list(make.guide.accounts.values())
    if len(accounts) <= MOST_LINES:
        return by_family(make, accounts)
    links = (make.map.family(family) for family in sorted({account.family for account in accounts if account.family}))
    return tuple(HeadedList(link.text, (), link) for link in links)


def _entry_all_year(make: PieceMaker, account: PublicAccount, dekad: int) -> ListEntry:
    """An entry that holds whatever day it is read: all that tells it in the course of the year, and the pictures that go with it."""
    usual = make_entry(make, account)
    photos = pictures_through_the_year(make, account, usual.photo, usual.year)
    now = next((dated.photo for dated in photos if dated.dekads[dekad] == "1"), usual.photo)
    told = told_through_the_year(make, account, usual.year)
    return replace(
        usual,
        mark=NO_WORDS,
        out=usual.year[dekad] > 0,
        told=told,
        photo=now,
        photos=photos if len(photos) > 1 or now != usual.photo else (),
    )
