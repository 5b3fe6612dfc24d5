"""A booklet put together: what stands before its spreads, the spreads, what stands behind them, and the marks over all pages."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from pikepdf import Pdf

from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.booklet.ends import Ends, lay_out_back, lay_out_front, notes_wanted
from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.outputs.cards.booklet.marks import PageMarks, mark_pages, number_tabs
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.layout import Laid, write_pdf
from guidebuild.press.paper.setup import CardResult, make_setup
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.booklet.book import BookletView
from guidebuild.views.booklet.spreads import AlikeSpread, Spread
from guidebuild.words import words


@dataclass(frozen=True, slots=True)
class Counted:
    """How many pages a booklet has before its first spread, in all, and of those for notes before and behind the spreads."""

    front: int = 0
    whole: int = 0
    notes: tuple[int, int] = (0, 0)


NOTHING_COUNTED = Counted()


def count_all(view: BookletView, pictures: Pictures, leaf: Leaf, theme_folders: tuple[Path, ...]) -> Counted:
    """The pages before the first spread are an odd number, so that every plate stands at the left; all are a number of whole sheets."""
    setup = make_setup(pictures, leaf.format, theme_folders)
    ends = Ends(view, setup, leaf, dict.fromkeys(_ids(view.spreads), 100), theme_folders)
    bare = len(lay_out_front(ends).document.pages)
    front = bare | 1
    before_back = front + 2 * len(view.spreads)
    whole = before_back + len(lay_out_back(ends, before_back + 1).document.pages)
    notes = notes_wanted(whole)
    return Counted(front, whole + notes, (front - bare, notes))


def number_spreads(view: BookletView, front: int) -> dict[str, int]:
    """The number of each spread's plate, by the id of its account or of its look-alikes."""
    return {ident: front + 1 + 2 * number for number, ident in enumerate(_ids(view.spreads))}


def bind_booklet(  # noqa: PLR0913 - what a booklet is made of
    view: BookletView,
    spreads: Mapping[str, CardResult],
    pictures: Pictures,
    leaf: Leaf,
    theme_folders: tuple[Path, ...],
    *,
    counted: Counted,
    contrast: bool = False,
) -> CardResult:
    """The pages in their order, with a bleed.

    Where a spread could not be printed there is no booklet, because every number after it would be wrong.
    """
    problems = tuple(problem for result in spreads.values() for problem in result.problems)
    if missing := [_name(spread) for spread in view.spreads if not (spread.id in spreads and spreads[spread.id].pdf)]:
        return CardResult(view.id, b"", (*problems, Problem("no-booklet", "booklet", f"not printed, because of {', '.join(missing)}")))
    setup = make_setup(pictures, leaf.format, theme_folders, contrast=contrast)
    front = counted.front
    ends = Ends(view, setup, leaf, number_spreads(view, front), theme_folders)
    first = front + 1 + 2 * len(view.spreads)
    before, behind = _lay_out_ends(ends, counted, first)
    (before_pdf, told), (behind_pdf, told_behind) = write_pdf(before, "booklet"), write_pdf(behind, "booklet")
    say = words(view.language)
    parts = [(view.title, before_pdf), *((_name(spread), spreads[spread.id].pdf) for spread in view.spreads), (say("Index"), behind_pdf)]
    whole = join_pdfs(parts, view.title, pictures.values())
    marks = [*_mark_end(before, 1), *_mark_spreads(view, leaf, front + 1), *_mark_end(behind, first)]
    return CardResult(view.id, mark_pages(whole, marks, leaf, setup.inks), (*problems, *told, *told_behind))


def _lay_out_ends(ends: Ends, counted: Counted, first: int) -> tuple[Laid, Laid]:
    """Both ends with their pages for notes; again only where true page numbers made another number of pages than those of the count."""
    before_notes, behind_notes = counted.notes
    before = lay_out_front(ends, before_notes)
    if short := counted.front - len(before.document.pages):
        before = lay_out_front(ends, max(0, before_notes + short))
    behind = lay_out_back(ends, first, behind_notes)
    if over := notes_wanted(first - 1 + len(behind.document.pages)):
        behind = lay_out_back(ends, first, (behind_notes + over) % 4)
    return before, behind


def trim_pages(pdf: bytes) -> bytes:
    """The same without its bleed, to be read and to be printed on an office printer."""
    written = io.BytesIO()
    with Pdf.open(io.BytesIO(pdf)) as whole:
        for page in whole.pages:
            page.mediabox = page.trimbox
            for key in ("/BleedBox", "/CropBox"):
                if key in page.obj:
                    del page.obj[key]
        whole.save(written, deterministic_id=True)
    return written.getvalue()


def _ids(spreads: Sequence[Spread]) -> list[str]:
    return [spread.id for spread in spreads]


def _name(spread: Spread) -> str:
    return spread.title if isinstance(spread, AlikeSpread) else spread.card.name.short


def _mark_spreads(view: BookletView, leaf: Leaf, first: int) -> list[PageMarks]:
    """Family at the left and name at the right, and the tab of the family on both."""
    tabs = number_tabs(list(dict.fromkeys(spread.family for spread in view.spreads if spread.family)), leaf)
    made = []
    for number, spread in enumerate(view.spreads):
        page, tab = first + 2 * number, tabs.get(spread.family)
        made += [PageMarks(page, spread.family, tab), PageMarks(page + 1, "" if isinstance(spread, AlikeSpread) else _name(spread), tab)]
    return made


def _mark_end(laid: Laid, first: int) -> list[PageMarks]:
    """The heads that a template names; covers have neither head nor folio."""
    made, head = [], ""
    for number, page in enumerate(laid.document.pages, first):
        found = next((box.element.get("data-head") for box in page._page_box.descendants() if _is_headed(box)), None)
        head = head if found is None else str(found)
        made.append(PageMarks(number if head else 0, head))
    return made


def _is_headed(box: object) -> bool:
    element = getattr(box, "element", None)
    return element is not None and element.get("data-head") is not None
