"""Head, folio and thumb tab of each page, drawn over the bound pages: they belong to the book and not to what is read aloud.

So a spread need not be set anew where only its number has changed, and in the PDF they are artifacts of pagination
(ISO 32000-1, section 14.8.2.2.2).
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import pikepdf
from pikepdf import Name, Pdf

from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.paper.drawing import Inks, draw_words
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.font_sharing import share_fonts
from guidebuild.press.paper.layout import lay_out, write_pdf
from guidebuild.press.paper.measuring import measure_drawn

_HEAD, _FOLIO, _WORDS = 2.65, 3.2, 2.5
"""Type of head, folio and tab, millimetres: 7.5, 9 and 7 points."""
_TALLEST, _AIR, _IN = 30.0, 5.0, 1.9
_LEFT_OUT = {"BDC", "BMC", "EMC"}


@dataclass(frozen=True, slots=True)
class Tab:
    """A thumb tab: its words, and which of how many it is, from the top."""

    words: str
    place: int
    places: int


@dataclass(frozen=True, slots=True)
class PageMarks:
    """What stands over one page; without a `number` it has no folio."""

    number: int = 0
    head: str = ""
    tab: Tab | None = None


def number_tabs(families: Sequence[str], leaf: Leaf) -> dict[str, Tab]:
    """A tab for each family from the top of the edge to its foot; more than there is room for begin again at the top."""
    longest = max((measure_drawn(family, _WORDS, 600) for family in families), default=0.0)
    tall = leaf.inner.height
    places = max(1, min(len(families), int(tall // min(longest + _AIR, tall))))
    return {family: Tab(family, number % places, places) for number, family in enumerate(families)}


def mark_pages(pdf: bytes, pages: Sequence[PageMarks], leaf: Leaf, inks: Inks) -> bytes:
    """The same PDF with these marks on its pages, in their order."""
    drawn = "".join(f"<section>{_draw(marks, left=number % 2 == 1, leaf=leaf, inks=inks)}</section>" for number, marks in enumerate(pages))
    size = leaf.size
    css = (
        f"@page{{size:{size.width}mm {size.height}mm;margin:0;bleed:{leaf.bleed}mm}}body{{margin:0}}section{{break-after:page}}"
        f"section:last-child{{break-after:auto}}svg{{display:block;margin:-{leaf.bleed}mm}}"
    )
    laid = lay_out(f'<html lang="en"><title>marks</title><body>{drawn}', css, GuideFetcher())
    over, _ = write_pdf(laid, "booklet")
    written = io.BytesIO()
    with Pdf.open(io.BytesIO(pdf)) as whole, Pdf.open(io.BytesIO(over)) as marks:
        for page, mark in zip(whole.pages, marks.pages, strict=True):
            _lay_over(whole, page, mark)
        share_fonts(whole)
        whole.save(written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return written.getvalue()


def _draw(marks: PageMarks, *, left: bool, leaf: Leaf, inks: Inks) -> str:
    sheet, bleed = leaf.size.grown(leaf.bleed), leaf.bleed
    parts = "".join((*_write_words(marks, left=left, leaf=leaf, inks=inks), *_draw_tab(marks.tab, left=left, leaf=leaf, inks=inks)))
    view = f"{-bleed} {-bleed} {sheet.width} {sheet.height}"
    return f'<svg xmlns="http://www.w3.org/2000/svg" width="{sheet.width}mm" height="{sheet.height}mm" viewBox="{view}">{parts}</svg>'


def _write_words(marks: PageMarks, *, left: bool, leaf: Leaf, inks: Inks) -> Iterator[str]:
    """Head and folio, both at the outer edge."""
    x, share = (leaf.outer, 0.0) if left else (leaf.size.width - leaf.outer, 1.0)
    if marks.head:
        yield draw_words(marks.head, x, leaf.top - 3.6, _HEAD, inks.text, share=share)
    if marks.number:
        yield draw_words(str(marks.number), x, leaf.size.height - leaf.outer + 2.6, _FOLIO, inks.text, weight=700, share=share)


def _draw_tab(tab: Tab | None, *, left: bool, leaf: Leaf, inks: Inks) -> Iterator[str]:
    if tab is None:
        return
    step = leaf.inner.height / tab.places
    tall = min(step - 1.0, max(_TALLEST, measure_drawn(tab.words, _WORDS, 600) + _AIR))
    top = leaf.top + tab.place * step
    x = -leaf.bleed if left else leaf.size.width - leaf.tab
    yield f'<rect x="{x:.3f}" y="{top:.3f}" width="{leaf.tab + leaf.bleed:.3f}" height="{tall:.3f}" fill="{inks.leaf}"/>'
    middle, turn = (leaf.tab - _IN, -90) if left else (leaf.size.width - leaf.tab + _IN, 90)
    words = draw_words(tab.words, 0, _WORDS * 0.34, _WORDS, "#ffffff", weight=600)
    yield f'<g transform="translate({middle:.3f} {top + tall / 2:.3f}) rotate({turn})">{words}</g>'


def _lay_over(whole: Pdf, page: pikepdf.Page, mark: pikepdf.Page) -> None:
    """Draw one page over another, as an artifact."""
    kept: Any = [step for step in pikepdf.parse_content_stream(mark) if str(step.operator) not in _LEFT_OUT]
    mark.contents_coalesce()
    mark.obj.Contents.write(pikepdf.unparse_content_stream(kept))
    mark.trimbox = mark.mediabox
    form = whole.copy_foreign(mark.as_form_xobject())
    name = page.add_resource(form, Name.XObject)
    page.contents_add(b"q", prepend=True)
    page.contents_add(f"Q /Artifact <</Type /Pagination>> BDC q {name} Do Q EMC".encode())
