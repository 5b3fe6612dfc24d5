"""A last page that is nearly empty: what spilled on to it is pulled back, or the rest is set wider until it is a third full.

Which of the two asks for the smaller change is tried first, and what that shows decides what is tried next. No document is laid out
more than twice again. Where nothing helps, it stays as it was and its author is told.
"""

from __future__ import annotations

from collections.abc import Callable
from math import log
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
_POWER, _LEAST_POWER, _MOST_POWER = 1.9, 0.7, 3.0
"""To which the height of a text follows its size, at first guess: lines are higher, there are more of them, and gaps follow faster still.

The first try shows what it is.
"""
_TRIES = 2

Laid = TypeVar("Laid")


def fill_of(document: Document) -> float:
    """How much of its page's height the last page of a document takes, from 0 to 1."""
    box = document.pages[-1]._page_box
    return float(used_of(box, lines=True) / box.height)


def is_short(document: Document) -> bool:
    """Whether the last of several pages is under a third full."""
    return len(document.pages) > 1 and fill_of(document) < LEAST_FILL


def pull_back(lay: Callable[[float], Laid], document_of: Callable[[Laid], Document]) -> Laid:
    """The document laid out at its own size, or where its last page is short at the first other size that leaves none.

    `lay` gives it with type and gaps so many times as large.
    """
    first = lay(1.0)
    if not is_short(document_of(first)):
        return first
    before, power, tried = document_of(first), _POWER, {1.0}
    for _ in range(_TRIES):
        scale = next((scale for scale in _scales(before, power) if CLOSEST <= scale <= WIDEST and scale not in tried), None)
        if scale is None:
            break
        again = lay(scale)
        document = document_of(again)
        if not is_short(document) and len(document.pages) <= len(before.pages):
            return again
        tried.add(scale)
        power = _power(_height(document) / _height(before), scale)
    return first


def tell_short(document: Document, where: str) -> tuple[Problem, ...]:
    """What to say of a document whose last page is short all the same."""
    if not is_short(document):
        return ()
    pages, percent = len(document.pages), round(fill_of(document) * 100)
    what = f"page {pages}, the last, is {percent} % full, and neither closer nor wider type makes it fuller"
    return (Problem("short-page", where, f"{what}. Say a little less, so that it is not needed, or more."),)


def _height(document: Document) -> float:
    """In pages."""
    return len(document.pages) - 1 + fill_of(document)


def _power(grown: float, scale: float) -> float:
    """To which the height of this text followed its size, within what makes sense."""
    return min(max(log(grown) / log(scale), _LEAST_POWER), _MOST_POWER)


def _scales(document: Document, power: float) -> list[float]:
    """What may help, the smaller change first: to need one page less, and to fill a third of the last."""
    before, height = len(document.pages) - 1, _height(document)
    wanted = (before - _SURE / 2, before + LEAST_FILL + _SURE)
    return sorted(((pages / height) ** (1 / power) for pages in wanted), key=lambda scale: max(scale, 1 / scale))
