"""The typefaces of pages: which cuts the theme sets, the signs they must have, and the style that names them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from itertools import chain

from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.theme import fonts
from guidebuild.press.theme.font_cutting import FontWork
from guidebuild.press.theme.sign_font import FAMILY, SIGNS

FONT = Craft("font", "fonts", cost=800.0)

WEB_FACES = (
    ("serif-400", fonts.SERIF, 400, False),
    ("serif-400-italic", fonts.SERIF, 400, True),
    ("serif-600", fonts.SERIF, 600, False),
    ("sans-400", fonts.SANS, 400, False),
    ("sans-600", fonts.SANS, 600, False),
)
"""File name, family, weight, italic: five cuts are all that the theme sets."""

ALWAYS = "".join(map(chr, range(0x20, 0x7F))) + "".join(map(chr, range(0xA0, 0x100))) + "–—‘’“”„…×·•°′″−≤≥→←↑↓½¼¾"
"""Signs that every guide may need, whatever its text."""


def signs_of(guide: Published) -> str:
    """All signs that the guide's text may put on a page."""
    signs = set(ALWAYS)
    for name in (field.name for field in fields(guide)):
        value = getattr(guide, name)
        # One record at a time: all of a large guide as one text would take more memory than everything else.
        for piece in chain(value, value.values()) if isinstance(value, Mapping) else (value,):
            signs.update(repr(piece))
    return "".join(sorted(signs))


def font_work(signs: str) -> tuple[FontWork, ...]:
    """The typefaces to make, each published as `assets/<name>.woff2`."""
    return tuple(FontWork(*face, signs) for face in WEB_FACES)


def font_css(display: str) -> str:
    """`@font-face` rules (`display` as in CSS Fonts Level 4, section 4.9).

    `optional`, on the web: a face that is late waits for the next page, so that no line ever jumps. Stand-ins of like width
    would let a late one be swapped in nearly without a jump, but not quite: some line always breaks elsewhere.
    """
    signs = ",".join(f"U+{ord(sign):X}" for sign in SIGNS)
    return (
        f'@font-face{{font-family:"{FAMILY}";font-weight:400 700;unicode-range:{signs};src:url("signs.woff2")format("woff2")}}\n'
        + "".join(
            f'@font-face{{font-family:"{family}";font-weight:{weight};font-style:{"italic" if italic else "normal"};'
            f'font-display:{display};src:url("{name}.woff2")format("woff2")}}\n'
            for name, family, weight, italic in WEB_FACES
        )
    )
