"""Look-alikes on one printed sheet: pictures side by side with their marks, what separates them first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.identify.look_alikes import own_pairs, similar_sets
from guidebuild.views.pieces.common import PhotoView, SizeView
from guidebuild.views.pieces.facts import size_words
from guidebuild.views.pieces.parts import PieceMaker, make_pieces, sizes_of
from guidebuild.views.pieces.sizes import NO_SIZES, SizesView
from guidebuild.views.telling.compare import CompareView, compare_path, compare_view

WIDEST = 6
"""So many pictures stand side by side on one sheet; a larger set is printed pair by pair."""


@dataclass(frozen=True, slots=True)
class CompareSheet:
    """A sheet of a comparison: each stage with its pictures at one scale, as on its page."""

    id: str
    language: str
    guide: str
    address: str  # of the page of the same comparison, empty where the guide has none
    compared: CompareView
    credits: tuple[str, ...]  # of the pictures: one line where all have the same
    each: tuple[SizeView | None, ...] = ()  # the size of each, in their order
    sizes: SizesView = NO_SIZES
    with_figures: bool = True  # whether sizes are said: not where a row of the table says them already

    @property
    def photos(self) -> tuple[str, ...]:
        """The ids of its pictures, each once."""
        return tuple(dict.fromkeys(photo.id for _, photo in _list_pictures(self.compared)))


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
        credits=_credits(compared),
        each=each,
        sizes=sizes_of(make, accounts),
        with_figures=not _says_sizes(compared, accounts),
    )


def _says_sizes(compared: CompareView, accounts: Iterable[PublicAccount]) -> bool:
    """Whether a row of the table tells the size of each, because it is scored as a character too."""
    figures = [size_words(account.size) if account.size else "" for account in accounts]
    rows = (*compared.separating, *compared.shared)
    return any(all(size in ("", value) for size, value in zip(figures, row.values, strict=True)) for row in rows) and any(figures)


def _list_pictures(compared: CompareView) -> Iterator[tuple[str, PhotoView]]:
    """Every picture that is shown, with the name of its species."""
    plates = (plate for stage in compared.stages for plate in stage.pictures.plates)
    return ((plate.link.text, plate.photo) for plate in plates if plate.photo)


def _credits(compared: CompareView) -> tuple[str, ...]:
    shown = list(_list_pictures(compared))
    lines = {photo.credit_line for _, photo in shown if photo.credit_line}
    if len(lines) == 1 and all(photo.credit_line for _, photo in shown):
        return tuple(lines)
    return tuple(dict.fromkeys(f"{name}: {photo.credit_line}" for name, photo in shown if photo.credit_line))
