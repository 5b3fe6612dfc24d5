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
from pikepdf import Array, Name, Object, Pdf

from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.paper.drawing import Inks, draw_words
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.font_sharing import share_fonts
from guidebuild.press.paper.layout import lay_out, write_pdf
from guidebuild.press.paper.measuring import measure_drawn

_HEAD, _FOLIO, _WORDS = 2.65, 3.2, 2.5
"""Type of head, folio and tab, millimetres: 7.5, 9 and 7 points."""
_TALLEST, _AIR, _IN = 30.0, 5.0, 1.9


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
    wanted = [list(_draw(marks, left=number % 2 == 1, leaf=leaf, inks=inks)) for number, marks in enumerate(pages)]
    drawings = list(dict.fromkeys(drawing for page in wanted for drawing in page))
    written = io.BytesIO()
    with Pdf.open(io.BytesIO(pdf)) as whole:
        forms = dict(zip(drawings, _make_forms(whole, drawings, leaf), strict=True)) if drawings else {}
        for page, drawn in zip(whole.pages, wanted, strict=True):
            _lay_over(page, [forms[drawing] for drawing in drawn])
        share_fonts(whole)
        whole.save(written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return written.getvalue()


def _draw(marks: PageMarks, *, left: bool, leaf: Leaf, inks: Inks) -> Iterator[str]:
    """The drawings of a page: the words of its own, and the tab, which is that of other pages too."""
    if words := "".join(_write_words(marks, left=left, leaf=leaf, inks=inks)):
        yield words
    if marks.tab is not None:
        yield _draw_tab(marks.tab, left=left, leaf=leaf, inks=inks)


def _make_forms(whole: Pdf, drawings: Sequence[str], leaf: Leaf) -> Iterator[Object]:
    """Each drawing as a form of this PDF. All are set on one page, over one another, and cut apart: a page for each takes twice as long."""
    size, sheet, bleed = leaf.size, leaf.size.grown(leaf.bleed), leaf.bleed
    view = f'width="{sheet.width}mm" height="{sheet.height}mm" viewBox="{-bleed} {-bleed} {sheet.width} {sheet.height}"'
    drawn = "".join(f'<svg xmlns="http://www.w3.org/2000/svg" {view}>{drawing}</svg>' for drawing in drawings)
    css = (
        f"@page{{size:{size.width}mm {size.height}mm;margin:0;bleed:{bleed}mm}}body{{margin:0}}"
        f"svg{{position:absolute;left:-{bleed}mm;top:-{bleed}mm}}"
    )
    over, _ = write_pdf(lay_out(f'<html lang="en"><title>marks</title><body>{drawn}', css, GuideFetcher()), "booklet")
    with Pdf.open(io.BytesIO(over)) as set_together:
        page = set_together.pages[0]
        resources = whole.copy_foreign(set_together.make_indirect(page.obj.Resources))
        for steps in _cut_apart(page):
            yield whole.make_stream(steps, Type=Name.XObject, Subtype=Name.Form, BBox=Array(list(page.mediabox)), Resources=resources)


def _cut_apart(page: pikepdf.Page) -> Iterator[bytes]:
    """What draws each thing that is tagged on a page, with the transformations under which it stands.

    (ISO 32000-1, 8.4.2: `q` and `Q` keep and bring back what `cm` changes; 14.6: a tagged thing stands between `BDC` and `EMC`.)
    """
    under: list[list[Any]] = [[]]
    found: list[Any] | None = None
    for step in pikepdf.parse_content_stream(page):
        match str(step.operator):
            case "BDC":
                found = [moved for level in under for moved in level]
            case "EMC":
                yield pikepdf.unparse_content_stream(found or [])
                found = None
            case _ if found is not None:
                found.append(step)
            case "q":
                under.append([])
            case "Q":
                under.pop()
            case "cm":
                under[-1].append(step)


def _write_words(marks: PageMarks, *, left: bool, leaf: Leaf, inks: Inks) -> Iterator[str]:
    """Head and folio, both at the outer edge."""
    x, share = (leaf.outer, 0.0) if left else (leaf.size.width - leaf.outer, 1.0)
    if marks.head:
        yield draw_words(marks.head, x, leaf.top - 3.6, _HEAD, inks.text, share=share)
    if marks.number:
        yield draw_words(str(marks.number), x, leaf.size.height - leaf.outer + 2.6, _FOLIO, inks.text, weight=700, share=share)


def _draw_tab(tab: Tab, *, left: bool, leaf: Leaf, inks: Inks) -> str:
    step = leaf.inner.height / tab.places
    tall = min(step - 1.0, max(_TALLEST, measure_drawn(tab.words, _WORDS, 600) + _AIR))
    top = leaf.top + tab.place * step
    x = -leaf.bleed if left else leaf.size.width - leaf.tab
    ground = f'<rect x="{x:.3f}" y="{top:.3f}" width="{leaf.tab + leaf.bleed:.3f}" height="{tall:.3f}" fill="{inks.leaf}"/>'
    middle, turn = (leaf.tab - _IN, -90) if left else (leaf.size.width - leaf.tab + _IN, 90)
    words = draw_words(tab.words, 0, _WORDS * 0.34, _WORDS, "#ffffff", weight=600)
    return f'{ground}<g transform="translate({middle:.3f} {top + tall / 2:.3f}) rotate({turn})">{words}</g>'


def _lay_over(page: pikepdf.Page, forms: Sequence[Object]) -> None:
    """Draw forms over a page, as an artifact."""
    if not forms:
        return
    names = " ".join(f"{page.add_resource(form, Name.XObject)} Do" for form in forms)
    page.contents_add(b"q", prepend=True)
    page.contents_add(f"Q /Artifact <</Type /Pagination>> BDC q {names} Q EMC".encode())
