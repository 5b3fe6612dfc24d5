"""A card's page: where plate, words and foot stand in a format, and the CSS that says so."""

from __future__ import annotations

from guidebuild.press.card_theme import Theme
from guidebuild.press.formats import Area, Format
from guidebuild.press.pictures import print_width

PLATE_MOST, PLATE_LEAST = 0.64, 0.36
"""The plate's share of the height inside the margins, most and least."""
WIDE_PLATE, WIDE_LEAST = 0.46, 0.3
"""The plate's share of the width on a card that lies on its side, most and least."""
COLUMN_GAP = 2.5
_ABOVE_FOOT = 1.5
_SMALL = 110.0
_RULE = 53.0


def card_css(look: Theme, card_format: Format, bleed: float) -> str:
    """The theme's stylesheet with this format's pages."""
    size, margin, inner, code = card_format.size, card_format.margin, card_format.inner, code_side(card_format)
    page = f"size:{size.width}mm {size.height}mm;bleed:{bleed}mm;margin:{margin}mm"
    rules = [
        f"@page front{{{page}}}@page back{{{page}}}",
        f".foot{{top:{inner.height - code}mm;height:{code}mm}}.foot .imprint{{left:{code + 2}mm}}",
        ".wide .front{position:relative}.wide .plate{position:absolute;margin:0;top:0}",
        _bleeding(margin + bleed) if bleed else "",
        look.css("card.css"),
    ]
    return "".join(rules)


def _bleeding(out: float) -> str:
    """The tone behind the plate carried `out` millimetres over the margins, into the bleed."""
    return (
        f".tall .plate{{margin-left:-{out}mm;margin-right:-{out}mm;padding:0 {out}mm}}"
        f".wide .plate{{margin:-{out}mm 0 0 -{out}mm;padding:{out}mm 0 {out}mm {out}mm}}"
    )


def code_side(card_format: Format) -> float:
    """Millimetres of the code with its white: a module of some 0.4 mm reads from a hand's breadth (common practice)."""
    return 12.5 if card_format.wide else min(17.0, card_format.inner.width - _RULE)


def is_small(card_format: Format) -> bool:
    """Whether headings run in with their text, because there is no room for lines of their own."""
    return card_format.size.height < _SMALL


def foot(card_format: Format) -> float:
    """Millimetres at the foot of the back that the words leave to code and imprint."""
    return code_side(card_format) + _ABOVE_FOOT


def picture_pixels(card_format: Format) -> tuple[int, int]:
    """The largest width and height, in pixels, that a plate can use at 300 pixels an inch."""
    box = plate_most(card_format)
    return print_width(box.width), print_width(box.height)


def plate_most(card_format: Format) -> Area:
    """The largest plate on a card of this format."""
    inner = card_format.inner
    return Area(inner.width * WIDE_PLATE, inner.height) if card_format.wide else Area(inner.width, inner.height * PLATE_MOST)


def front_text(card_format: Format, share: float = WIDE_PLATE) -> float:
    """Width of a line of words on the front; `share` is the plate's on a card that lies on its side."""
    inner = card_format.inner.width
    return inner * (1 - share) - COLUMN_GAP if card_format.wide else inner
