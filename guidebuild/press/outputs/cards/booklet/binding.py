"""How a booklet is bound: stitched through the fold, or, where it is too thick for that, its leaves glued into a cover with a spine."""

from __future__ import annotations

import io
from collections.abc import Sequence

from markupsafe import Markup
from pypdf import PdfReader, PdfWriter
from pypdf.generic import NameObject, RectangleObject

from guidebuild.press.outputs.cards.booklet.leaf import BLEED, Leaf
from guidebuild.press.paper.drawing import PLAIN, draw_words, wrap_svg
from guidebuild.press.paper.formats import POINTS_PER_MM, Area
from guidebuild.press.paper.imposition import Placed, reckon_spine
from guidebuild.press.paper.measuring import measure_drawn
from guidebuild.press.paper.sheets import Press, SheetsNamed, take_forms, write_named

MOST_STITCHED = 64
"""Pages up to which a booklet is stitched: 16 sheets of office paper fold flat (common practice, no source)."""
_COVER = 4
"""Pages of the cover, outside and inside."""
_TITLED, _TALLEST, _FILL = 4.0, 4.2, 0.55
"""The narrowest spine that bears a title, the largest type on it, millimetres, and how much of its width type takes."""


def is_glued(pages: int) -> bool:
    """Whether so many pages are too many to be stitched."""
    return pages > MOST_STITCHED


def find_spine(pages: int, thickness: float) -> float:
    """How wide the spine of a booklet is; its cover is no part of the block."""
    return reckon_spine(pages - _COVER, thickness)


def make_inside(pdf: bytes, named: SheetsNamed) -> bytes:
    """The block of a glued booklet: all pages but those of its cover, with their bleed."""
    reader, writer = PdfReader(io.BytesIO(pdf)), PdfWriter()
    for page in reader.pages[2:-2]:
        writer.add_page(page)
    return write_named(writer, named)


def make_cover(pdf: bytes, leaf: Leaf, spine: float, named: SheetsNamed) -> bytes:
    """The cover flat, outside and inside: back, spine and front beside one another, with a bleed and the title on the spine."""
    size = leaf.size
    flat = Area(2 * size.width + spine, size.height)
    bleed = leaf.bleed
    sheet = flat.grown(bleed)
    press = Press(sheet)
    forms = take_forms(press, pdf, size, bleed)
    title = press.drawn(_draw_spine(named.title, sheet, leaf, spine), sheet) if spine >= _TITLED else None
    # Outside the front stands right of the spine; turned over, its inside stands left.
    for sides, over in (((len(forms) - 1, 0), title), ((1, len(forms) - 2), None)):
        places = [Placed(page, x, bleed, size) for page, x in zip(sides, (bleed, bleed + size.width + spine), strict=True)]
        press.side([(forms[place.page], place, size) for place in places], over)
    _set_boxes(press, flat, bleed)
    return press.finished(named, None)


def _set_boxes(press: Press, flat: Area, bleed: float) -> None:
    """Where the cover is trimmed (ISO 32000-1, section 14.11.2)."""
    low, wide, high = (length * POINTS_PER_MM for length in (bleed, flat.width + bleed, flat.height + bleed))
    for page in press.writer.pages:
        page[NameObject("/TrimBox")] = RectangleObject((low, low, wide, high))
        page[NameObject("/BleedBox")] = RectangleObject(page.mediabox)


def _draw_spine(title: str, sheet: Area, leaf: Leaf, spine: float) -> Markup:
    """The title along the spine, its letters upright for who lays the booklet down with its front up (ISO 6357, from memory)."""
    size = min(spine * _FILL, _TALLEST, _TALLEST * (leaf.size.height - 2 * BLEED) / max(measure_drawn(title, _TALLEST, 700), 1.0))
    words = draw_words(title, 0, size * 0.34, size, PLAIN.text, weight=700)
    turned = f'<g transform="translate({sheet.width / 2:.3f} {sheet.height / 2:.3f}) rotate(90)">{words}</g>'
    return wrap_svg(sheet, turned, title, "spine")


def name_files(ident: str, paper: str, *, glued: bool, shop: bool) -> Sequence[str]:
    """The files of a booklet: to read, then for a print shop, then to bind, for which the paper may have no room."""
    bound = [f"{ident}-cover.pdf", f"{ident}-inside.pdf"] if glued else [f"{ident}-{paper}.pdf"]
    at_shop = ([f"print-shop/{name}" for name in bound] if glued else [f"print-shop/{ident}.pdf"]) if shop else []
    return (f"{ident}.pdf", *at_shop, *bound)
