"""Pages that tell look-alikes apart or find a name: the hub and the index of names.

Comparisons, the finder, the key and practice have modules of their own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.views.pieces.common import LinkView, PhotoView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import MOST_ENTRIES, WHOLE, Run


@dataclass(frozen=True, slots=True)
class TellPage:
    """The ways to tell species apart: helps first, then every comparison."""

    helps: tuple[LinkView, ...]
    sets: tuple[LinkView, ...]
    pairs: tuple[LinkView, ...]


def tell_page(helps: tuple[LinkView, ...], sets: tuple[LinkView, ...], pairs: tuple[LinkView, ...], run: Run = WHOLE) -> TellPage:
    """The page, or a run of the pairs on it; what helps and the sets stand on the first."""
    return TellPage(helps, sets, pairs[run.held]) if run.number == 0 else TellPage((), (), pairs[run.held])


@dataclass(frozen=True, slots=True)
class FindItem:
    """One page that can be found, by its title and by `words` that stand for it."""

    link: LinkView
    kind: str
    words: str
    note: str = ""
    photo: PhotoView | None = None


@dataclass(frozen=True, slots=True)
class FindPage:
    """Everything that has a name, in alphabetical order; or a run of it, and the piece that holds all."""

    items: tuple[FindItem, ...]
    asks: str  # what may be written to find something
    all: str = ""


NAMES = "find/names.js"
"""Everything that has a name, as a piece, where it is too much for one page."""


def count_names(make: PieceMaker) -> int:
    """How much there is to find."""
    guide = make.guide
    families = {account.family for account in guide.accounts.values() if account.family}
    return len(guide.accounts) + len(guide.plants) + len(guide.places) + len(guide.terms) + len(families)


def find_page(make: PieceMaker, run: Run = WHOLE) -> FindPage:
    """The index of names: accounts by every name, plant and mark; plants, places, words and families by their own."""
    items = [*(_account_item(make, a) for a in make.guide.accounts.values()), *_other_items(make)]
    asks = (
        make.words("A name, plant, place or mark; one slip of the finger does not matter")
        if make.guide.plants
        else make.words("A name, place or mark; one slip of the finger does not matter")
    )
    if len(items) > MOST_ENTRIES:
        items = [replace(item, photo=None) for item in items]  # so many pictures are too much for one page
    listed = sorted(items, key=lambda item: item.link.text.casefold())
    return FindPage(tuple(listed)[run.held], asks, "" if run == WHOLE else make.map.page(NAMES))


def _account_item(make: PieceMaker, account: PublicAccount) -> FindItem:
    hosts = [make.map.plant(h.plant) for h in account.host_plants]
    names = [account.vernacular, *account.other_vernaculars, account.name.plain, *(s.plain for s in account.synonyms)]
    names += [t.vernacular for t in account.translations]
    about = [account.family, *(write_plain(m.words) for m in make.marks(account))]
    about += [f"{h.text} {h.name.plain if h.name else ''}" for h in hosts]
    synonyms = ", ".join(s.plain for s in account.synonyms)
    note = make.words("also named {names}", names=synonyms) if synonyms else ""
    return FindItem(
        make.map.account(account), make.words("species"), " | ".join(filter(None, [*names, *about])), note, make.small_plate(account)
    )


def _other_items(make: PieceMaker) -> Iterator[FindItem]:
    guide, w = make.guide, make.words
    for plant in guide.plants.values():
        link = make.map.plant(plant.id)
        yield FindItem(link, w("plant"), f"{link.text} | {link.name.plain if link.name else ''}", photo=_small(make, plant.photo))
    for place in guide.places.values():
        words = " | ".join((place.name, place.area, *(h.words for h in place.habitat)))
        yield FindItem(make.map.place(place.id), w("place"), words, photo=_small(make, place.photo))
    for term in guide.terms.values():
        yield FindItem(make.map.term(term), w("word"), " | ".join((term.word, *term.also)))
    for family in sorted({a.family for a in guide.accounts.values() if a.family}):
        yield FindItem(make.map.family(family), w("family"), family)


def _small(make: PieceMaker, photo: str) -> PhotoView | None:
    return make.small_photo(make.guide.photos[photo]) if photo in make.guide.photos else None
