"""Where pages go on sheets: pure geometry in millimetres, the origin at the lower left of the sheet.

Nothing here knows PDF.  A page is a number counted from 0; a place that stays empty is simply absent.
Turns are degrees anticlockwise; a turned page keeps the lower left corner of the place it fills.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import floor

from guidebuild.press.paper.formats import Area

EDGE = 5.0
"""Millimetres along the paper's edge that an office printer leaves white (common practice, no source)."""
MARK_LENGTH = 4.0
MARK_GAP = 3.0
"""A crop mark's length and its distance from the trimmed edge, millimetres (common practice, no source)."""
_TINY = 1e-6


class Flip(StrEnum):
    """Along which edge of the paper a duplex printer turns it over."""

    LONG = "long edge"
    SHORT = "short edge"


@dataclass(frozen=True, slots=True)
class Placed:
    """A page in its place; `size` is the place as it lies on the sheet (after turning)."""

    page: int
    x: float
    y: float
    size: Area
    turn: int = 0

    def behind(self, paper: Area, flip: Flip, page: int) -> Placed:
        """The place that lies behind this one when the sheet has been turned over.

        The back reads upright when the cut card is turned about its own upright axis, whichever edge the paper flips on.
        """
        if flips_sideways(paper, flip):
            return Placed(page, paper.width - self.x - self.size.width, self.y, self.size, -self.turn % 360)
        return Placed(page, self.x, paper.height - self.y - self.size.height, self.size, (180 - self.turn) % 360)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight hairline."""

    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Grid:
    """How cards stand on one sheet: `cell` is a card's trimmed size as it lies, `gap` what is between two."""

    paper: Area
    cell: Area
    columns: int
    rows: int
    gap: float
    turned: bool

    @property
    def count(self) -> int:
        """Cards on one side."""
        return self.columns * self.rows

    @property
    def left(self) -> float:
        """From the paper's left edge to the first trimmed edge."""
        return (self.paper.width - self.columns * self.cell.width - (self.columns - 1) * self.gap) / 2

    @property
    def bottom(self) -> float:
        """From the paper's lower edge to the lowest trimmed edge."""
        return (self.paper.height - self.rows * self.cell.height - (self.rows - 1) * self.gap) / 2

    def places(self, pages: Sequence[int]) -> tuple[Placed, ...]:
        """Pages in reading order, row by row from the top left."""
        turn = 90 if self.turned else 0
        return tuple(Placed(page, *self._corner(number), self.cell, turn) for number, page in enumerate(pages))

    def _corner(self, number: int) -> tuple[float, float]:
        row, column = divmod(number, self.columns)
        x = self.left + column * (self.cell.width + self.gap)
        return x, self.bottom + (self.rows - 1 - row) * (self.cell.height + self.gap)

    def upright_cuts(self) -> tuple[float, ...]:
        """Where upright cuts run, millimetres from the left, each once."""
        return _cuts(self.left, self.cell.width, self.columns, self.gap)

    def level_cuts(self) -> tuple[float, ...]:
        """Where level cuts run, millimetres from the bottom, each once."""
        return _cuts(self.bottom, self.cell.height, self.rows, self.gap)

    def crop_marks(self, bleed: float) -> tuple[Line, ...]:
        """Marks at the ends of every cut, clear of the bleed; on the cut itself where the paper leaves no room.

        A mark drawn inside lies on the line that the knife takes away.
        """
        top, right = self.paper.height - self.bottom, self.paper.width - self.left
        off = max(MARK_GAP, bleed)
        marks: list[Line] = []
        for x in self.upright_cuts():
            marks += [Line(x, a, x, b) for a, b in _ends(self.bottom, top, self.paper.height, off)]
        for y in self.level_cuts():
            marks += [Line(a, y, b, y) for a, b in _ends(self.left, right, self.paper.width, off)]
        return tuple(marks)


def flips_sideways(paper: Area, flip: Flip) -> bool:
    """Whether turning the sheet over mirrors left and right (else top and bottom)."""
    return (flip is Flip.LONG) == (paper.height >= paper.width)


def best_grid(paper: Area, card: Area, *, bleed: float = 0.0, edge: float = EDGE) -> Grid | None:
    """The grid that takes most cards; the upright one where two take the same number; None where none fits.

    `edge` is what must stay free along the paper's edge.  With a bleed, cards stand two bleeds apart.
    """
    found = [_grid(paper, card, bleed, edge, turned=turned) for turned in (False, True)]
    best = max(found, key=lambda grid: grid.count)
    return best if best.count else None


def n_up(count: int, grid: Grid, flip: Flip) -> tuple[tuple[Placed, ...], ...]:
    """Sides of all sheets for `count` two-sided cards, fronts and backs in turn.

    Card n has its front on page 2n and its back on page 2n + 1.
    """
    sides: list[tuple[Placed, ...]] = []
    for first in range(0, count, grid.count):
        fronts = grid.places([2 * card for card in range(first, min(first + grid.count, count))])
        sides += [fronts, tuple(front.behind(grid.paper, flip, front.page + 1) for front in fronts)]
    return tuple(sides)


def one_sided(count: int, grid: Grid) -> tuple[tuple[Placed, ...], ...]:
    """Sheets for `count` pages printed on one side."""
    firsts = range(0, count, grid.count)
    return tuple(grid.places(range(first, min(first + grid.count, count))) for first in firsts)


def eight_panels(paper: Area) -> tuple[Placed, ...]:
    """Places of panels 1–8 (pages 0–7) on a sheet lying on its side, to fold and slit once into a small book.

    Left to right the upper row, head down, is 5 4 3 2 and the lower row 6 7 8 1; the slit runs along the middle of the
    two inner columns.
    """
    panel = Area(paper.width / 4, paper.height / 2)
    upper = [Placed(page - 1, n * panel.width, panel.height, panel, 180) for n, page in enumerate((5, 4, 3, 2))]
    lower = [Placed(page - 1, n * panel.width, 0.0, panel) for n, page in enumerate((6, 7, 8, 1))]
    return tuple(sorted(upper + lower, key=lambda place: place.page))


def eight_panel_lines(paper: Area) -> tuple[tuple[Line, ...], Line]:
    """The folds of an eight-panel sheet, and the slit."""
    quarter, half = paper.width / 4, paper.height / 2
    folds = [Line(quarter * n, 0, quarter * n, paper.height) for n in (1, 2, 3)]
    folds += [Line(0, half, quarter, half), Line(3 * quarter, half, paper.width, half)]
    return tuple(folds), Line(quarter, half, 3 * quarter, half)


def impose_booklet(pages: int) -> tuple[tuple[int | None, int | None], ...]:
    """Left and right page of every side, outermost sheet first, front then back; None where a page stays empty.

    Pages are filled up to a multiple of four at the end.  Facing pages sum to N + 1 when counted from 1.
    """
    total = -(-pages // 4) * 4
    sides: list[tuple[int, int]] = []
    for sheet in range(total // 4):
        sides += [(total - 2 * sheet, 1 + 2 * sheet), (2 + 2 * sheet, total - 1 - 2 * sheet)]
    return tuple((_page(left, pages), _page(right, pages)) for left, right in sides)


def reckon_creep(sheet: int, thickness: float) -> float:
    """How far the pages of a sheet are set towards the fold, in millimetres; the outermost sheet is 0 and stays.

    Folded, each sheet lies inside the ones before it, and its leaves stand out beyond theirs by the thickness of those; the knife
    that cuts all leaves level would take as much from the outer margins (shingling: common practice, no source).
    """
    return sheet * thickness


def reckon_spine(pages: int, thickness: float) -> float:
    """How wide the spine of a block of so many pages is: leaves, which are half as many as pages, times the thickness of a sheet.

    (Common practice, no source.) The cover's own board goes round it, and shops that print on thick board say how much to add.
    """
    return pages / 2 * thickness


def booklet_crops(paper: Area, leaf: Area, bleed: float = 0.0) -> tuple[Line, ...]:
    """Crop marks at the corners of two pages side by side, clear of the bleed, and where to fold; none at an edge without room for them."""
    off = max(MARK_GAP, bleed)
    left, right = paper.width / 2 - leaf.width, paper.width / 2 + leaf.width
    bottom, top = (paper.height - leaf.height) / 2, (paper.height + leaf.height) / 2
    marks = []
    if (free := min(left - off, MARK_LENGTH)) > 1:
        for y in (bottom, top):
            marks += [Line(left - off - free, y, left - off, y), Line(right + off, y, right + off + free, y)]
    if (free := min(bottom - off, MARK_LENGTH)) > 1:
        for x in (left, paper.width / 2, right):
            marks += [Line(x, bottom - off - free, x, bottom - off), Line(x, top + off, x, top + off + free)]
    return tuple(marks)


def booklet_sides(pages: int, paper: Area, leaf: Area, thickness: float = 0.0) -> tuple[tuple[Placed, ...], ...]:
    """Booklet pages two by two on a sheet lying on its side, meeting at the fold in its middle; on inner sheets they creep over it.

    `thickness` is that of one sheet, in millimetres. What two pages share of the fold is white in both.
    """
    y = (paper.height - leaf.height) / 2
    sides = []
    for number, side in enumerate(impose_booklet(pages)):
        inward = reckon_creep(number // 2, thickness)
        spots = (paper.width / 2 - leaf.width + inward, paper.width / 2 - inward)
        sides.append(tuple(Placed(page, x, y, leaf) for page, x in zip(side, spots, strict=True) if page is not None))
    return tuple(sides)


def _page(number: int, pages: int) -> int | None:
    return number - 1 if number <= pages else None


def _grid(paper: Area, card: Area, bleed: float, edge: float, *, turned: bool) -> Grid:
    cell = card.turned if turned else card
    gap = 2 * bleed
    # The outer bleeds must be on the printable part of the paper too.
    outside = max(edge, edge + bleed if bleed else 0.0)
    fits = [
        max(0, floor((length - 2 * outside + gap + _TINY) / (side + gap)))
        for length, side in ((paper.width, cell.width), (paper.height, cell.height))
    ]
    return Grid(paper, cell, fits[0], fits[1], gap, turned)


def _cuts(start: float, side: float, count: int, gap: float) -> tuple[float, ...]:
    edges = [start + n * (side + gap) + end for n in range(count) for end in (0.0, side)]
    return tuple(edge for n, edge in enumerate(edges) if not n or edge - edges[n - 1] > _TINY)


def _ends(low: float, high: float, length: float, off: float) -> tuple[tuple[float, float], tuple[float, float]]:
    if low - off >= 1.0:
        reach = min(MARK_LENGTH, low - off)
        return (low - off - reach, low - off), (high + off, high + off + reach)
    return (0.0, MARK_LENGTH), (length - MARK_LENGTH, length)
