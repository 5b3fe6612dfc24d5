"""The leaf of a booklet: margins that are wider at the fold, room for head and folio, and the CSS that says so."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.press.paper.formats import Area, Format

BLEED = 3.0
"""Millimetres that tabs and grounds of pages go over the trim at the least (common practice, no source)."""
_FOLD, _HEAD, _FOOT = 2.5, 3.0, 2.0
"""More than the format's margin: at the fold, at the top and at the foot."""
_SMALL, _BESIDE_TAB = 180.0, 1.6
PLATE, TEXT = "plate", "text"
"""The left and the right page of a spread."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """A format's page as a booklet uses it."""

    format: Format
    bleed: float = BLEED
    """Millimetres."""

    @property
    def size(self) -> Area:
        """Trimmed."""
        return self.format.size

    @property
    def top(self) -> float:
        """The margin above the words."""
        return self.format.margin + _HEAD

    @property
    def outer(self) -> float:
        """The margin at the edge."""
        return self.format.margin

    @property
    def fold(self) -> float:
        """The margin at the fold."""
        return self.format.margin + _FOLD

    @property
    def inner(self) -> Area:
        """What is inside the margins."""
        return Area(self.size.width - self.outer - self.fold, self.size.height - self.top - self.format.margin - _FOOT)

    @property
    def is_small(self) -> bool:
        """Whether headings run in with their text, because there is little room."""
        return self.size.height < _SMALL

    @property
    def tab(self) -> float:
        """How far a thumb tab reaches into the page: so far that what an office printer prints of it is seen."""
        return self.format.margin - _BESIDE_TAB

    def margins(self, *, left: bool) -> str:
        """The margins of a left or a right page, as CSS has them."""
        at_right, at_left = (self.fold, self.outer) if left else (self.outer, self.fold)
        return f"{self.top}mm {at_right:.3f}mm {self.format.margin + _FOOT}mm {at_left:.3f}mm"

    def page(self, *, left: bool) -> str:
        """All that CSS says of a left or a right page."""
        return f"size:{self.size.width}mm {self.size.height}mm;bleed:{self.bleed}mm;margin:{self.margins(left=left)}"

    def spread_css(self) -> str:
        """The two pages of a spread."""
        return (
            f"@page {PLATE}{{{self.page(left=True)}}}@page {TEXT}{{{self.page(left=False)}}}"
            f".page-plate{{page:{PLATE};position:relative}}.page-text{{page:{TEXT};break-before:page}}"
        )

    def run_css(self, first: int) -> str:
        """Pages that follow one another, the first of them with this number; odd numbers stand at the right."""
        odd_first = first % 2 == 1
        # Typesetters call the first page of a document a right one, whatever its number.
        return f"@page:right{{{self.page(left=not odd_first)}}}@page:left{{{self.page(left=odd_first)}}}"
