"""A last page that is nearly empty: what spilled on to it is pulled back, or the rest is set wider until it is a third full.

Which of the two asks for the smaller change is tried first, and no document is laid out more than twice again. Where neither helps,
it stays as it was and its author is told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

from guidebuild.press.engine.problems import Problem
from guidebuild.press.paper.flow import used_of
from guidebuild.press.paper.typesetter import Document

LEAST_FILL = 0.34
"""Of a page's height: a third, and the leading below the last line. A last page that takes less looks forgotten."""
CLOSEST, WIDEST = 0.88, 1.12
"""How many times as large type may become, for the sake of the last page."""
_SURE = 0.06
"""Of a page: how far beyond what is needed one aims, as words break otherwise at another size."""
_POWER = 1.9
"""To which the height of a text follows its size: lines are higher, there are more of them, and gaps follow faster still."""

Laid = TypeVar("Laid")


def fill_of(document: Document) -> float:
    """How much of its page's height the last page of a document takes, from 0 to 1."""
    box = document.pages[-1]._page_box
    return float(used_of(box, lines=True) / box.height)


def is_short(document: Document) -> bool:
    """Whether the last of several pages is under a third full."""
    return len(document.pages) > 1 and fill_of(document) < LEAST_FILL


def pull_back(lay: Callable[[float], Laid], document_of: Callable[[Laid], Document], *, closest: float = CLOSEST) -> Laid:
    """The document laid out at its own size, or where its last page is short at the first other size that leaves none.

    `lay` gives it with type and gaps so many times as large; `closest` is the least of them.
    """
    first = lay(1.0)
    if not is_short(document_of(first)):
        return first
    most = len(document_of(first).pages)
    for scale in _scales(document_of(first), closest):
        again = lay(scale)
        if not is_short(document_of(again)) and len(document_of(again).pages) <= most:
            return again
    return first


def tell_short(document: Document, where: str) -> tuple[Problem, ...]:
    """What to say of a document whose last page is short all the same."""
    if not is_short(document):
        return ()
    pages, percent = len(document.pages), round(fill_of(document) * 100)
    what = f"page {pages}, the last, is {percent} % full, and neither closer nor wider type makes it fuller"
    return (Problem("short-page", where, f"{what}. Say a little less, so that it is not needed, or more."),)


def _scales(document: Document, closest: float) -> Iterator[float]:
    """What may help, the smaller change first: to need one page less, and to fill a third of the last."""
    before, fill = len(document.pages) - 1, fill_of(document)
    closer = ((before - _SURE) / (before + fill)) ** (1 / _POWER)
    wider = ((before + LEAST_FILL + _SURE) / (before + fill)) ** (1 / _POWER)
    for scale in sorted((closer, wider), key=lambda scale: max(scale, 1 / scale)):
        if closest <= scale <= WIDEST:
            yield scale
