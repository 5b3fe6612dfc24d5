"""A process made ready to set type: typefaces found, styles read, a page laid out and written, before there is a page to make."""

from __future__ import annotations

from itertools import product

from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.layout import lay_out, write_pdf
from guidebuild.press.theme.fonts import SANS, SERIF

_FACES = product((SANS, SERIF), (400, 700), ("normal", "italic"))
_LINES = "".join(f'<p style="font:{style} {weight} 9pt {family}">Which of these two?</p>' for family, weight, style in _FACES)


def warm_up() -> None:
    """Set a line of each typeface, once; the font system keeps what it finds, and its threads let no copy of a process have it.

    Raises `NoTypesetterError` where type cannot be set on this machine.
    """
    laid = lay_out(f'<!doctype html><html lang="en"><title>.</title><body>{_LINES}</body></html>', "", GuideFetcher())
    write_pdf(laid, "warming up")
