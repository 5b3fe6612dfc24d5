"""A booklet put together: what stands before its spreads, the spreads, what stands behind them, and the marks over all pages."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Mapping, Sequence
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

_USUAL_FRONT = 5
"""Pages before the first spread of a booklet of some twenty species: a guess, put right where it is wrong."""
_MOST_TRIES = 5


@dataclass(frozen=True, slots=True)
class PrintedEnds:
    """What stands before the spreads and behind them, with the numbers that the spreads will have."""

    before: bytes = b""
    behind: bytes = b""
    heads: tuple[tuple[str, ...], tuple[str, ...]] = ((), ())
    """The head of each of their pages; a cover has none."""
    problems: tuple[Problem, ...] = ()

    @property
    def front(self) -> int:
        """How many pages stand before the first spread: an odd number, so that every plate stands at the left."""
        return len(self.heads[0])


def print_ends(
    view: BookletView, pictures: Pictures, leaf: Leaf, theme_folders: tuple[Path, ...], *, contrast: bool = False
) -> PrintedEnds:
    """Both ends, with pages for notes so that the pages of the whole booklet are a number of whole sheets."""
    setup = make_setup(pictures, leaf.format, theme_folders, contrast=contrast)

    def numbered(front: int) -> Ends:
        return Ends(view, setup, leaf, number_spreads(view, front), theme_folders)

    before = _lay_out_before(numbered)
    front = len(before.document.pages)
    behind = _lay_out_behind(numbered(front), front + 1 + 2 * len(view.spreads))
    (before_pdf, told), (behind_pdf, told_behind) = write_pdf(before, "booklet"), write_pdf(behind, "booklet")
    return PrintedEnds(before_pdf, behind_pdf, (tuple(_list_heads(before)), tuple(_list_heads(behind))), (*told, *told_behind))


def _lay_out_before(numbered: Callable[[int], Ends]) -> Laid:
    """The pages before the spreads name numbers that hang on how many they are: laid out anew until those are true.

    The number is never taken back, since other figures may take other room: then a page more is for notes. Where a theme has no pages
    for notes, the numbers are true all the same, and plates may stand at the right.
    """
    front, notes, least, count = _USUAL_FRONT, 0, 1, 0
    for _ in range(_MOST_TRIES):
        laid = lay_out_front(numbered(front), notes)
        count = len(laid.document.pages)
        if count == front:
            return laid
        bare = count - notes
        front = least = max(bare | 1, least)
        notes = front - bare
    return lay_out_front(numbered(count))


def _lay_out_behind(ends: Ends, first: int) -> Laid:
    laid = lay_out_back(ends, first)
    notes = notes_wanted(first - 1 + len(laid.document.pages))
    return lay_out_back(ends, first, notes) if notes else laid


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
    ends: PrintedEnds,
    contrast: bool = False,
) -> CardResult:
    """The pages in their order, with a bleed.

    Where a spread could not be printed there is no booklet, because every number after it would be wrong.
    """
    problems = (*ends.problems, *(problem for result in spreads.values() for problem in result.problems))
    if missing := [_name(spread) for spread in view.spreads if not (spread.id in spreads and spreads[spread.id].pdf)]:
        return CardResult(view.id, b"", (*problems, Problem("no-booklet", "booklet", f"not printed, because of {', '.join(missing)}")))
    setup, say = make_setup(pictures, leaf.format, theme_folders, contrast=contrast), words(view.language)
    printed = ((_name(spread), spreads[spread.id].pdf) for spread in view.spreads)
    whole = join_pdfs([(view.title, ends.before), *printed, (say("Index"), ends.behind)], view.title, pictures.values())
    first, behind = ends.front + 1, ends.front + 1 + 2 * len(view.spreads)
    marks = [*_mark_end(ends.heads[0], 1), *_mark_spreads(view, leaf, first), *_mark_end(ends.heads[1], behind)]
    return CardResult(view.id, mark_pages(whole, marks, leaf, setup.inks), problems)


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


def _mark_end(heads: Sequence[str], first: int) -> list[PageMarks]:
    """Covers have neither head nor folio."""
    return [PageMarks(number if head else 0, head) for number, head in enumerate(heads, first)]


def _list_heads(laid: Laid) -> Iterator[str]:
    """The head that a template names for each page; it stands until another is named."""
    head = ""
    for page in laid.document.pages:
        found = next((box.element.get("data-head") for box in page._page_box.descendants() if _is_headed(box)), None)
        head = head if found is None else str(found)
        yield head


def _is_headed(box: object) -> bool:
    element = getattr(box, "element", None)
    return element is not None and element.get("data-head") is not None
