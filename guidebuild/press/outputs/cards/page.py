"""A card's page: where plate, words and foot stand in a format, and the CSS that says so."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.press.outputs.cards.words import imprint_words
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.theme import Theme
from guidebuild.press.photos.copies import print_width
from guidebuild.views.cards.card import CardView

PLATE_MOST, PLATE_LEAST = 0.64, 0.36
"""The plate's share of the height inside the margins, most and least."""
WIDE_PLATE, WIDE_FAIR, WIDE_LEAST = 0.48, 0.4, 0.3
"""The plate's share of the width on a card that lies on its side: most, what type gives way for, and least."""
COLUMN_GAP = 2.5
BESIDE = 1.6
"""Millimetres between the names and what stands below them on a card that lies on its side."""
ABOVE_FOOT = 1.5
_SMALL = 110.0
_RULE = 53.0
_RULE_HIGH = 5.2
_CODE_GAP = 2.0


@dataclass(frozen=True, slots=True)
class Foot:
    """The foot of a page: code at the left, imprint beside it, a rule of 50 mm below that. Millimetres from the page's margins."""

    top: float
    height: float
    left: float
    """Where the imprint starts."""
    room: float
    """Height that the imprint has."""


def card_css(look: Theme, card_format: Format, bleed: float) -> str:
    """The theme's stylesheet with this format's pages."""
    size, margin = card_format.size, card_format.margin
    page = f"size:{size.width}mm {size.height}mm;bleed:{bleed}mm;margin:{margin}mm"
    code = code_side(card_format)
    rules = [
        f"@page front{{{page}}}@page back{{{page}}}",
        f".beside{{margin-top:{BESIDE}mm}}",
        f".band{{min-height:{code}mm}}.band .code-box{{position:absolute;right:-1.2mm;top:0}}"
        f".band .season{{width:{season_width(card_format)}mm}}",
        _bleeding(margin + bleed) if bleed else "",
        look.css("card.css"),
    ]
    return "".join(rules)


def _bleeding(out: float) -> str:
    """The tone behind the plate carried `out` millimetres over the margins, into the bleed."""
    return f".tall .plate{{margin-left:-{out}mm;margin-right:-{out}mm;padding:0 {out}mm}}"


def code_side(card_format: Format) -> float:
    """Millimetres of the code with its white: a module of some 0.4 mm reads from a hand's breadth (common practice)."""
    return 13.5 if card_format.wide else min(17.0, card_format.inner.width - _RULE)


def season_width(card_format: Format) -> float:
    """Width of the season bars with their labels; on a card that lies on its side the code stands beside them."""
    inner = card_format.inner.width
    return inner - code_side(card_format) - _CODE_GAP if card_format.wide else inner


def least_line(card_format: Format) -> float:
    """Width of the line of the size on whichever card of this format has the narrowest."""
    inner = card_format.inner.width
    return inner * WIDE_LEAST if card_format.wide else inner


def is_small(card_format: Format) -> bool:
    """Whether headings run in with their text, because there is no room for lines of their own."""
    return card_format.size.height < _SMALL


def foot_height(card: CardView, inner: Area, code: float, *, rule: bool, small: frozenset[str] = frozenset()) -> float:
    """About how many millimetres the foot takes, to start with; without a `code` in it, 0. `small` are the small pictures it credits."""
    imprint = imprint_words(card, inner.width - (code + _CODE_GAP if code else 0.0), small)
    return max(code, imprint + (_RULE_HIGH if rule else 0.0))


def write_foot(inner: Area, height: float, code: float, *, rule: bool) -> Foot:
    """The foot's place at the bottom of what is inside the margins."""
    return Foot(inner.height - height, height, code + _CODE_GAP if code else 0.0, height - (_RULE_HIGH if rule else 0.0))


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
