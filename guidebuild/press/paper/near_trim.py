"""Type too near the edge that is cut, read out of a finished page: a knife that is off by a hair would go through it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from itertools import groupby

import pypdfium2
from pypdfium2 import raw

from guidebuild.press.paper.formats import LEAST_TO_TRIM, POINTS_PER_MM

_HANGS = 0.55
"""Millimetres by which a single letter, such as a large J or an italic f, may hang out of its line; that much is left to it."""
_LONGEST = 40
"""Signs of what is said of a page's words."""

Edges = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class NearTrim:
    """The words of a page, counted from 1, that stand nearest to its edge: so many millimetres from it, less than 0 where over it."""

    page: int
    words: str
    distance: float

    @property
    def said(self) -> str:
        """How they stand."""
        if self.distance < 0:
            return f"“{self.words}” stands {-self.distance:.1f} mm over the edge that is cut"
        return f"“{self.words}” stands {self.distance:.1f} mm from the edge that is cut"


def find_near_trim(pdf: bytes, *, folded: bool = False) -> tuple[NearTrim, ...]:
    """Pages with type nearer to their trim box than print shops want; `folded` ones, odd at the right, are not cut at the fold."""
    with closing(pypdfium2.PdfDocument(pdf)) as document:
        pages = (_nearest(page, number, _cut_sides(number, folded=folded)) for number, page in enumerate(document, 1))
        return tuple(near for near in pages if near)


def _cut_sides(number: int, *, folded: bool) -> tuple[bool, bool]:
    """Whether a page is cut at its left and at its right."""
    return (True, True) if not folded else (number % 2 == 0, number % 2 == 1)


def _nearest(page: pypdfium2.PdfPage, number: int, sides: tuple[bool, bool]) -> NearTrim | None:
    trim = page.get_trimbox()
    words = [(word, min(_distance(edges, trim, sides) for edges in letters)) for word, letters in _words(page)]
    runs = [list(run) for near, run in groupby(words, key=lambda word: word[1] < LEAST_TO_TRIM - _HANGS) if near]
    if not runs:
        return None
    run = min(runs, key=lambda run: min(distance for _, distance in run))
    said = " ".join(word for word, _ in run)
    return NearTrim(number, said if len(said) <= _LONGEST else f"{said[:_LONGEST].rstrip()}…", min(distance for _, distance in run))


def _words(page: pypdfium2.PdfPage) -> Iterator[tuple[str, list[Edges]]]:
    """Each word with the edges of its letters: left, bottom, right, top, in points."""
    text = page.get_textpage()
    signs: list[str] = []
    letters: list[Edges] = []
    for index in range(text.count_chars()):
        sign = chr(raw.FPDFText_GetUnicode(text.raw, index))
        if raw.FPDFText_IsGenerated(text.raw, index) == 1 or sign.isspace():
            if letters:
                yield "".join(signs), letters
            signs, letters = [], []
        else:
            left, bottom, right, top = text.get_charbox(index)
            if left < right and bottom < top:  # else nothing of it is printed
                signs.append(sign)
                letters.append((left, bottom, right, top))
    if letters:
        yield "".join(signs), letters


def _distance(edges: Edges, trim: Edges, sides: tuple[bool, bool]) -> float:
    """From a letter to the nearest edge that is cut, millimetres."""
    left, bottom, right, top = edges
    across = [gap for gap, cut in zip((left - trim[0], trim[2] - right), sides, strict=True) if cut]
    return min(*across, bottom - trim[1], trim[3] - top) / POINTS_PER_MM
