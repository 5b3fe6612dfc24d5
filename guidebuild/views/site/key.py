"""The key's page: couplet after couplet, with pictures beside the leads."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from guidebuild.identify.columns import best_scope
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import WHOLE, Run, divide_in_runs, name_run
from guidebuild.views.pieces.state_pictures import Pictures, StatePicture, find_state_pictures
from guidebuild.views.telling.key import KeyRow, KeyView

KEY, COUPLETS = "key.html", "key/couplets.js"
"""The key's page, and all couplets as a piece, where they are too many for one page."""
MOST_COUPLETS = 100
"""Couplets on one page."""
MOST_PICTURES = 2
"""A lead that joins more states shows pictures of the first of them: more would be too small to see."""


@dataclass(frozen=True, slots=True)
class PicturedLead:
    """A lead with pictures of its states."""

    row: KeyRow
    pictures: tuple[StatePicture, ...]


@dataclass(frozen=True, slots=True)
class PicturedCouplet:
    """A couplet of the page; `first` is its first lead, which says what all of them share."""

    first: KeyRow
    leads: tuple[PicturedLead, ...]


@dataclass(frozen=True, slots=True)
class KeyPage:
    """The key, or a run of it, or what lacks for one.

    `pages` are those of a divided key, so many couplets on each, and `all` the piece that holds all of them; both empty of one
    that stands whole.
    """

    key: KeyView
    couplets: tuple[PicturedCouplet, ...]
    pages: tuple[str, ...] = ()
    most: int = MOST_COUPLETS
    all: str = ""


def count_couplets(key: KeyView) -> int:
    """How many couplets there are; they are numbered from 1."""
    return len({row.number for row in key.bracketed})


def key_page(make: PieceMaker, key: KeyView, run: Run = WHOLE) -> KeyPage:
    """The page of a guide's key, or of a run of its couplets."""
    scope = best_scope(make.guide, list(make.guide.accounts.values()))
    pictures = find_state_pictures(make, scope)
    groups = (tuple(_picture(row, pictures) for row in rows) for _, rows in groupby(key.bracketed, key=lambda row: row.number))
    couplets = tuple(PicturedCouplet(leads[0].row, leads) for leads in groups)[run.held]
    if run == WHOLE:
        return KeyPage(key, couplets)
    runs = divide_in_runs(count_couplets(key), MOST_COUPLETS)
    pages = tuple(make.map.page(name_run(KEY, one.number)) for one in runs)
    return KeyPage(key, couplets, pages, all=make.map.page(COUPLETS))


def _picture(row: KeyRow, pictures: Pictures) -> PicturedLead:
    found = [picture for state in row.states if (picture := pictures.get(state))]
    return PicturedLead(row, tuple(found[:MOST_PICTURES]))
