"""The key's page: couplet after couplet, with pictures beside the leads."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from guidebuild.identify.columns import best_scope
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.state_pictures import Pictures, StatePicture, find_state_pictures
from guidebuild.views.telling.key import KeyRow, KeyView

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
    """The key, or what lacks for one."""

    key: KeyView
    couplets: tuple[PicturedCouplet, ...]


def key_page(make: PieceMaker, key: KeyView) -> KeyPage:
    """The page of a guide's key."""
    scope = best_scope(make.guide, list(make.guide.accounts.values()))
    pictures = find_state_pictures(make, scope)
    groups = (tuple(_picture(row, pictures) for row in rows) for _, rows in groupby(key.bracketed, key=lambda row: row.number))
    return KeyPage(key, tuple(PicturedCouplet(leads[0].row, leads) for leads in groups))


def _picture(row: KeyRow, pictures: Pictures) -> PicturedLead:
    found = [picture for state in row.states if (picture := pictures.get(state))]
    return PicturedLead(row, tuple(found[:MOST_PICTURES]))
