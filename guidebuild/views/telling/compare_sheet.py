"""Look-alikes on one printed sheet: pictures side by side with their marks, what separates them first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.identify.look_alikes import own_pairs, similar_sets
from guidebuild.views.pieces.common import MarkView, PhotoView, SizeView
from guidebuild.views.pieces.facts import size_words
from guidebuild.views.pieces.parts import PieceMaker, make_pieces, sizes_of
from guidebuild.views.pieces.sizes import NO_SIZES, SizesView
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
    each: tuple[SizeView | None, ...] = ()  # the size of each, in their order
    sizes: SizesView = NO_SIZES
    with_figures: bool = True  # whether sizes are said: not where a row of the table says them already


def compare_sheets(guide: Published) -> tuple[CompareSheet, ...]:
    """A sheet for each set of look-alikes, in the guide's own language; each pair that has a page of its own is on one sheet at least."""
    make = make_pieces(guide, guide.settings.language)
    return tuple(_sheet(make, ids) for ids in _sets(guide))


def _sets(guide: Published) -> Iterator[tuple[str, ...]]:
    whole = [ids for ids in similar_sets(guide) if len(ids) <= WIDEST]
    yield from whole
    together = [set(ids) for ids in whole]
    yield from (pair for pair in own_pairs(guide) if not any(set(pair) <= ids for ids in together))


def _sheet(make: PieceMaker, ids: tuple[str, ...]) -> CompareSheet:
    settings, path = make.guide.settings, compare_path(ids)
    compared = compare_view(make.guide, ids)
    accounts = [make.guide.accounts[taxon.id] for taxon in compared.taxa]
    each = tuple(make.size(account) for account in accounts)
    return CompareSheet(
        id=PurePosixPath(path).stem,
        language=settings.language,
        guide=settings.title,
        address=f"{settings.address.rstrip('/')}/{path}" if settings.address else "",
        compared=compared,
        marks=tuple(_marks(make, i, taxon.plate) for i, taxon in zip(ids, compared.taxa, strict=True)),
        credits=_credits(compared),
        each=each,
        sizes=sizes_of(make, accounts),
        with_figures=not _says_sizes(compared, accounts),
    )


def _marks(make: PieceMaker, account: str, plate: PhotoView | None) -> tuple[MarkView, ...]:
    return make.marks(make.guide.accounts[account], beside=plate.id if plate else "", chosen=range(MARKS))


def _says_sizes(compared: CompareView, accounts: Iterable[PublicAccount]) -> bool:
    """Whether a row of the table tells the size of each, because it is scored as a character too."""
    figures = [size_words(account.size) if account.size else "" for account in accounts]
    rows = (*compared.separating, *compared.shared)
    return any(all(size in ("", value) for size, value in zip(figures, row.values, strict=True)) for row in rows) and any(figures)


def _credits(compared: CompareView) -> tuple[str, ...]:
    told = {taxon.link.text: taxon.plate.credit_line for taxon in compared.taxa if taxon.plate and taxon.plate.credit_line}
    alike = len(told) == len(compared.taxa) and len(set(told.values())) == 1
    return tuple(dict.fromkeys(told.values())) if alike else tuple(f"{name}: {credit}" for name, credit in told.items())
