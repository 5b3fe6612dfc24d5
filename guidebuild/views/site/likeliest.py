"""What is likeliest met in each third of a month, anywhere or at one place, and why: on the first page and on those of places."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.out import Out, rank_year
from guidebuild.fieldwork.public_records import PublicAccount, PublicPlace
from guidebuild.guide.asking import remember
from guidebuild.guide.seasons import DEKADS
from guidebuild.views.pieces.chances import say_why
from guidebuild.views.pieces.common import NO_WORDS, LinkView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.site.lists import ListEntry, make_entry, out_in
from guidebuild.views.site.told import pictures_through_the_year, told_through_the_year

LIKELIEST = 5
"""Accounts that stand with a picture; what else is about is named below them."""
MOST_RANKED = 60
"""Accounts of one third of a month: the best, which is as many as anyone scrolls through."""
NO_DAY = -1
"""No third of a month is shown before a script knows the reader's."""
NOW_MARK = "now.html"
"""Template of the pieces."""
ANYWHERE = "now/anywhere.js"
"""The piece of the whole region, where that is too much for the first page."""


@dataclass(frozen=True, slots=True)
class Likeliest:
    """Accounts ranked for thirds of months, as a page shows them whose reader's own day decides.

    `named` are all accounts, each with whether it is named only in `dekad`; those of `entries`, told by their numbers, have a picture
    too: they are among the first `LIKELIEST` of some dekad. `ranked` are for each dekad the numbers of accounts, the best chance
    first, each with the number of its reason in `whys` (the chance in words, and why); nothing where that part of the year is not held.
    """

    entries: tuple[tuple[int, ListEntry], ...]
    named: tuple[tuple[LinkView, bool], ...]
    ranked: tuple[tuple[tuple[int, int], ...], ...]
    whys: tuple[tuple[str, str], ...]
    dekad: int = NO_DAY
    shown: int = LIKELIEST
    here: bool = False  # at one place

    @property
    def ranked_digits(self) -> str:
        """`ranked` as one word, as the page's script reads it."""
        return "|".join("_".join(f"{number}.{why}" for number, why in numbers) for numbers in self.ranked)


def place_piece_path(place: str) -> str:
    """The piece of one place."""
    return f"now/places/{place}.js"


def likeliest_anywhere(make: PieceMaker, dekads: Iterable[int], dekad: int = NO_DAY) -> Likeliest:
    """In the whole region: what is in season there, most seen first, as the page of each dekad ranks it."""
    ranked = {one: [out for out in out_in(make, one) if out.stages] for one in dekads}
    return _show(make, ranked, dekad)


def anywhere_piece(make: PieceMaker) -> Likeliest:
    """The whole region through the whole year."""
    return likeliest_anywhere(make, range(DEKADS))


def place_piece(make: PieceMaker, place: PublicPlace) -> Likeliest:
    """At a place through the year: what anything ties to it, by the chance there."""
    ranked = dict(enumerate(rank_year(make.guide, place, MOST_RANKED)))
    return replace(_show(make, ranked, NO_DAY), here=True)


def _show(make: PieceMaker, ranked: Mapping[int, Sequence[Out]], dekad: int) -> Likeliest:
    held = {one: found[:MOST_RANKED] for one, found in ranked.items()}
    # Those of the day that is shown come first, in their order, so that the page is right before any script.
    days = sorted(held, key=lambda one: one != dekad)
    numbers = {id: number for number, id in enumerate(dict.fromkeys(out.account for one in days for out in held[one]))}
    pictured = sorted({out.account for one in days for out in held[one][:LIKELIEST]}, key=numbers.__getitem__)
    whys: dict[tuple[str, str], int] = {}
    rows = {one: tuple((numbers[out.account], _number_why(make, whys, out)) for out in held[one]) for one in days}
    texts, now = tuple(whys), dict(rows.get(dekad, ()))
    entries = {numbers[id]: _entry_all_year(make, make.guide.accounts[id], dekad) for id in pictured}
    for number in list(now)[:LIKELIEST]:
        chance, why = texts[now[number]]
        entries[number] = replace(entries[number], out=True, chance=chance, why=why)
    only_named = set(list(now)[LIKELIEST:])
    return Likeliest(
        entries=tuple(entries.items()),
        named=tuple((make.map.account(make.guide.accounts[id]), number in only_named) for id, number in numbers.items()),
        ranked=tuple(rows.get(one, ()) for one in range(DEKADS)),
        whys=texts,
        dekad=dekad,
    )


def _number_why(make: PieceMaker, whys: dict[tuple[str, str], int], out: Out) -> int:
    return whys.setdefault((make.words(out.chance.words), say_why(make.words, out, make.main)), len(whys))


def _entry_all_year(make: PieceMaker, account: PublicAccount, dekad: int) -> ListEntry:
    """An entry that holds whatever day it is read: all that tells it in the course of the year, and the pictures that go with it."""
    plain = remember(make.kept, ("entry all year", account.id), lambda: _tell_year(make, account))
    usual = plain.photos[0].photo if plain.photos else plain.photo
    now = next((dated.photo for dated in plain.photos if dekad != NO_DAY and dated.dekads[dekad] == "1"), usual)
    return replace(plain, photo=now, photos=plain.photos if len(plain.photos) > 1 or now != make_entry(make, account).photo else ())


def _tell_year(make: PieceMaker, account: PublicAccount) -> ListEntry:
    usual = make_entry(make, account)
    photos = pictures_through_the_year(make, account, usual.photo, usual.year)
    return replace(usual, mark=NO_WORDS, told=told_through_the_year(make, account, usual.year), photos=photos)
