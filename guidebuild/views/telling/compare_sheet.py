"""Look-alikes on one printed sheet: pictures side by side with their marks, what separates them first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from guidebuild.fieldwork.published import Published
from guidebuild.identify.comparison import similar_pairs, similar_sets
from guidebuild.views.pieces.common import MarkView, PhotoView
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.telling.compare import CompareView, compare_path, compare_view

WIDEST = 6
"""So many pictures stand side by side on one sheet; a larger set is printed pair by pair."""
MARKS = 3


@dataclass(frozen=True, slots=True)
class CompareSheet:
    """A sheet; `marks` are the deciding marks of each of the compared, in their order, numbered as on the picture."""

    id: str
    language: str
    guide: str
    address: str  # of the page of the same comparison, empty where the guide has none
    compared: CompareView
    marks: tuple[tuple[MarkView, ...], ...]
    credits: tuple[str, ...]  # of the pictures: one line where all have the same


def compare_sheets(guide: Published) -> tuple[CompareSheet, ...]:
    """A sheet for each set of look-alikes, in the guide's own language; each pair is on one sheet at least."""
    make = make_pieces(guide, guide.settings.language)
    return tuple(_sheet(make, ids) for ids in _sets(guide))


def _sets(guide: Published) -> Iterator[tuple[str, ...]]:
    whole = [ids for ids in similar_sets(guide) if len(ids) <= WIDEST]
    yield from whole
    together = [set(ids) for ids in whole]
    yield from (pair for pair in similar_pairs(guide) if not any(set(pair) <= ids for ids in together))


def _sheet(make: PieceMaker, ids: tuple[str, ...]) -> CompareSheet:
    settings, path = make.guide.settings, compare_path(ids)
    compared = compare_view(make.guide, ids)
    return CompareSheet(
        id=PurePosixPath(path).stem,
        language=settings.language,
        guide=settings.title,
        address=f"{settings.address.rstrip('/')}/{path}" if settings.address else "",
        compared=compared,
        marks=tuple(_marks(make, i, taxon.plate) for i, taxon in zip(ids, compared.taxa, strict=True)),
        credits=_credits(compared),
    )


def _marks(make: PieceMaker, account: str, plate: PhotoView | None) -> tuple[MarkView, ...]:
    return make.marks(make.guide.accounts[account], beside=plate.id if plate else "", chosen=range(MARKS))


def _credits(compared: CompareView) -> tuple[str, ...]:
    told = {taxon.link.text: taxon.plate.credit_line for taxon in compared.taxa if taxon.plate and taxon.plate.credit_line}
    alike = len(told) == len(compared.taxa) and len(set(told.values())) == 1
    return tuple(dict.fromkeys(told.values())) if alike else tuple(f"{name}: {credit}" for name, credit in told.items())
