"""Cutting one typeface down in any process: what a worker needs for it, and no more, so that little makes it anew."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.press.engine.made import Made
from guidebuild.press.theme import fonts


@dataclass(frozen=True, slots=True)
class FontWork:
    """One typeface of the site and the signs it must have."""

    name: str
    family: str
    weight: int
    italic: bool
    signs: str


def make_font(work: FontWork) -> Made:
    """One typeface cut down to its signs."""
    return Made((fonts.subset_font(fonts.find_face(work.family, weight=work.weight, italic=work.italic), work.signs),))
