"""Laying out and measuring: what of a page fits, and by how much the rest is over.

Every printed side is a CSS page of its own name (`@page front`).  What does not fit on its page flows on to another of
the same name; so nothing is ever clipped, and the excess can be measured before anything is written.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import chain
from math import ceil
from types import MappingProxyType
from typing import Any

from guidebuild.press.engine.problems import Problem
from guidebuild.press.paper.fetching import BASE, GuideFetcher
from guidebuild.press.paper.flow import foot_of, used_of, walk
from guidebuild.press.paper.formats import MM_PER_INCH
from guidebuild.press.paper.page_source import PageSource
from guidebuild.press.paper.pdf import ONE_AT_A_TIME, font_configuration, log_lines, mend_tags, problems_of, source_date, write_date
from guidebuild.press.paper.typesetter import CSS, Document, boxes

MM_PER_PIXEL = MM_PER_INCH / 96
"""CSS pixels are 1/96 in (CSS Values and Units Level 4, section 6.2)."""
_TOLERANCE = 0.05
NOTHING: Mapping[str, float] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Side:
    """How one named side came out, in millimetres."""

    name: str
    over: float
    """How much is more than fits: 0 where all fits."""
    lines_over: int
    used: float
    """From the top of the page area to the foot of what stands in the flow."""
    pieces: Mapping[str, float]
    """Heights of the pieces marked with `data-piece`."""
    wide: tuple[str, ...] = ()
    """Words that reach out of the page sideways."""
    room: float = 0.0
    """All that the flow may take."""

    @property
    def free(self) -> float:
        """How much is left over where all fits."""
        return max(0.0, self.room - self.used)


@dataclass(frozen=True, slots=True)
class Laid:
    """A document laid out but not yet written."""

    document: Document
    sides: tuple[Side, ...]
    log: tuple[str, ...]

    def side(self, name: str) -> Side:
        """The side of that name."""
        return next(side for side in self.sides if side.name == name)

    def over(self, name: str) -> float:
        """By how much the side of that name is over; 0 where a theme of the guide's own has no such side."""
        return next((side.over for side in self.sides if side.name == name), 0.0)


def document_of(laid: Laid) -> Document:
    """The document of a layout."""
    return laid.document


@cache
def _stylesheet(text: str) -> CSS:
    return CSS(string=text, base_url=BASE, font_config=font_configuration())


def lay_out(html: str, css: str, fetcher: GuideFetcher, reserved: Mapping[str, float] = NOTHING) -> Laid:
    """Lay out a document with a stylesheet; the stylesheet is read once a process.

    `reserved` says how many millimetres at the foot of a side the flow must leave free, because something stands there.
    (A page margin would not do: what is placed in it is cut without a word.)
    """
    with ONE_AT_A_TIME, log_lines() as log:
        document = PageSource(html, fetcher, (css,)).render(
            font_config=font_configuration(), stylesheets=[_stylesheet(css)], pdf_variant="pdf/ua-1", pdf_tags=True
        )
    return Laid(document, tuple(_sides(document, reserved)), tuple(log))


def write_pdf(laid: Laid, where: str) -> tuple[bytes, tuple[Problem, ...]]:
    """The PDF/UA-1 file of a layout, and what WeasyPrint had to say of it."""
    with ONE_AT_A_TIME, log_lines() as log:
        write_date(laid.document.metadata, source_date())
        data: bytes = laid.document.write_pdf(pdf_variant="pdf/ua-1", pdf_identifier=True, pdf_tags=True, finisher=mend_tags)
    return data, problems_of([*laid.log, *log], where, BASE)


def _sides(document: Document, reserved: Mapping[str, float]) -> Iterator[Side]:
    by_name: dict[str, list[Any]] = {}
    for page in document.pages:
        by_name.setdefault(page._page_box.page_type.name or "page", []).append(page._page_box)
    for name, pages in by_name.items():
        yield _side(name, pages, reserved.get(name, 0.0))
    for page in document.pages:
        yield from (_panel(box) for box in walk(page._page_box, flow=False) if _is_panel(box))


def _is_panel(box: Any) -> bool:
    return box.element is not None and isinstance(box, boxes.BlockLevelBox) and bool(box.element.get("data-panel"))


def _panel(box: Any) -> Side:
    """A part of a page with room of its own (`data-room`, millimetres), such as a panel of a leaflet."""
    top = box.content_box_y()
    used = (max((foot_of(inner) for inner in walk(box, flow=True)), default=top) - top) * MM_PER_PIXEL
    room = float(box.element.get("data-room"))
    over = used - room
    over = over if over > _TOLERANCE else 0.0
    line = min((inner.height for inner in walk(box, flow=True) if isinstance(inner, boxes.LineBox) and inner.height), default=1.0)
    return Side(box.element.get("data-panel"), over, ceil(over / (line * MM_PER_PIXEL)), used, _heights(walk(box, flow=False)), room=room)


def _side(name: str, pages: Sequence[Any], reserved: float) -> Side:
    first, more = pages[0], pages[1:]
    within = [list(walk(page, flow=False)) for page in pages]
    used = sum(used_of(page, lines=page is not pages[-1]) for page in pages) * MM_PER_PIXEL
    room = first.height * MM_PER_PIXEL - reserved
    over = used - room
    line = min((box.height for box in within[0] if isinstance(box, boxes.LineBox) and box.height), default=1.0)
    # A break may leave so much empty that all seems to fit; what flows on to another page is at least a line over.
    over = max(over, line * MM_PER_PIXEL) if more else over if over > _TOLERANCE else 0.0
    return Side(
        name=name,
        over=over,
        lines_over=ceil(over / (line * MM_PER_PIXEL)),
        used=used,
        pieces=_heights(chain.from_iterable(within)),
        wide=tuple(_too_wide(first, within[0])),
        room=room,
    )


def _heights(within: Iterable[Any]) -> Mapping[str, float]:
    """Heights of pieces; those of one name, such as cautions, together."""
    heights: dict[str, float] = {}
    for piece, height in _pieces(within):
        heights[piece] = heights.get(piece, 0.0) + height
    return heights


def _pieces(within: Iterable[Any]) -> Iterator[tuple[str, float]]:
    for box in within:
        if box.element is not None and isinstance(box, boxes.BlockLevelBox) and (piece := box.element.get("data-piece")):
            yield piece, box.margin_height() * MM_PER_PIXEL


def _too_wide(page: Any, within: Iterable[Any]) -> Iterator[str]:
    right = page.content_box_x() + page.width + _TOLERANCE / MM_PER_PIXEL
    for box in within:
        if isinstance(box, boxes.TextBox) and box.position_x + box.width > right + 1:
            yield box.text
