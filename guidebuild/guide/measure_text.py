"""Typed text → Measure: ranges as people write them, with any dash, in metric units or inches and feet.

The text as typed is what is shown; the numbers serve tables, keys and drawings only.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from guidebuild.guide.measures import LENGTHS, MASSES, Measure, Span
from guidebuild.guide.problem import Unreadable

_KINDS: Mapping[str, tuple[str, Mapping[str, float]]] = {
    "length": ("mm", LENGTHS),
    "mass": ("g", MASSES),
    "count": ("count", {}),
}
_SPELLINGS: dict[str, str] = {
    "μm": "µm", "um": "µm", "micron": "µm", "microns": "µm", "micrometre": "µm", "micrometres": "µm",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "mm.": "mm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm", "cm.": "cm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "kilometre": "km", "kilometres": "km",
    "kilometer": "km", "kilometers": "km", "inch": "in", "inches": "in", "in.": "in", '"': "in", "″": "in", "”": "in",
    "foot": "ft", "feet": "ft", "ft.": "ft", "'": "ft", "′": "ft", "’": "ft",
    "gram": "g", "grams": "g", "gramme": "g", "grammes": "g", "milligram": "mg", "milligrams": "mg",
    "kilogram": "kg", "kilograms": "kg", "tonne": "t", "tonnes": "t", "ounce": "oz", "ounces": "oz", "oz.": "oz",
    "pound": "lb", "pounds": "lb", "lb.": "lb", "lbs": "lb",
}  # fmt: skip
_UNITS = {unit: unit for unit in (*LENGTHS, *MASSES)} | _SPELLINGS

FRACTION_MARK = "\N{FRACTION SLASH}"
"""Stands behind a number that was written as a fraction: ½ in is no more exact than 0.5 in, nor is ⅛ in than 0.1 in."""
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_SLASHED = re.compile(r"(?<![\d./])(?:(\d+) )?(\d+)/(\d+)(?![\d/])")
_PLAIN_SIGNS = dict.fromkeys((*range(0x2010, 0x2016), 0x2212, 0x207B), "-") | dict.fromkeys((0xA0, 0x2007, 0x2009, 0x202F), " ")
"""Dashes and minus signs; spaces that do not break."""
_DIVISIONS = frozenset({2, 3, 4, 8, 16, 32, 64})
"""Into how many parts people divide an inch, a foot or a metre; `6/9 cm` is no fraction."""
_METRIC_FRACTIONS = frozenset({(1, 2), (1, 4), (1, 8)})
"""Fractions that are written of metric units; `3/4 cm` may as well be three or four of them."""
_NUMBER = rf"\d{{1,9}}(?:\.\d{{1,9}})?{FRACTION_MARK}?"
_FEET_AND_INCHES = re.compile(rf"({_NUMBER})\s*(?:'|′|’|ft\.?|feet)\s*({_NUMBER})\s*(?:\"|″|”|''|in\.?\b|inches)")
_UNIT = "|".join(sorted((re.escape(u) for u in _UNITS), key=len, reverse=True))
_QUANTITY = rf"({_NUMBER})(?:\s*((?:{_UNIT})(?![a-zµ])))?"
_UNIT_THERE = re.compile(rf"(?:{_UNIT})(?![a-zµ])", re.IGNORECASE)
RANGE = re.compile(
    rf"(?P<rare_low>\({_NUMBER}\s*-\)\s*)?"
    rf"(?:{_QUANTITY})(?:\s*(?P<plus>\+(?!/)))?(?:(?P<join>\s*(?:-|\bto\b|±|\+/-)\s*){_QUANTITY})?"
    rf"(?P<rare_high>\s*\(-\s*{_NUMBER}\))?(?:\s*(?P<late_unit>(?:{_UNIT})(?![a-zµ])))?",
    re.IGNORECASE,
)
_APPROXIMATE = re.compile(r"\b(?:c\.|ca\.?|circa|about|approx\.?|approximately|around|roughly|nearly)(?=\s|\d|$)|[~≈]", re.I)
_AT_MOST = re.compile(r"<=?|≤|\b(?:less than|under|up to|at most|maximum|max\.?|to)\s*$", re.I)
_AT_LEAST = re.compile(r">=?|≥|\b(?:more than|over|at least|minimum|min\.?|from)\s*$", re.I)
_LABELS = (
    ("female", re.compile(r"\bfemales?\b|♀", re.I)),
    ("male", re.compile(r"\bmales?\b|♂", re.I)),
    *((caste, re.compile(rf"\b{caste}s?\b", re.I)) for caste in ("worker", "queen", "drone")),
)
# A sign right before a number. A dash after a word parts the two (`wing – 6 mm`, `♀–6 mm`).
_MINUS = re.compile(r"[^\w)♀♂]-$")
_ONLY_JOINS = re.compile(r"[\s,;:/()]|\b(?:and|or|in|of|the|is|are)\b", re.I)
_BY = frozenset({"×", "x", "by"})
_CONVERTED_WITHIN = 0.1
_LONGEST = 200
_MEND = "Write a range with its unit, such as 6–9 mm, or male 10–12, female 13–18 mm."


@dataclass(frozen=True, slots=True)
class _Piece:
    """One range as found, numbers not yet turned into the canonical unit."""

    before: str
    low: float | None
    high: float | None
    low_unit: str
    high_unit: str
    usual: tuple[float, float] | None = None


def parse_measure(text: str, *, unit_kind: str = "length") -> Measure | Unreadable:
    """Read a measurement; `unit_kind` is `length` (numbers in mm), `mass` (g) or `count` (no unit needed).

    Answers an Unreadable for a missing unit, a reversed range, or text with no number.
    """
    typed = text.strip()
    if len(typed) > _LONGEST:
        return Unreadable(f"'{typed[:40]}…' is too long for a measurement.", _MEND, "unreadable-measure")
    plain = plain_measure(typed)
    if unclear := _unclear_fraction(plain):
        mend = f"Write {unclear.replace('/', '–')} for a range; write a fraction of a metric unit as a decimal, such as 0.75 cm."
        return Unreadable(f"'{unclear}' in '{typed}' may be a fraction or a range.", mend, "unreadable-measure")
    if unit_kind == "length":
        plain = feet_and_inches(plain)
    pieces, after = _pieces(plain)
    if not pieces:
        return Unreadable(f"There is no measurement in '{typed}'.", _MEND, "unreadable-measure")
    if pieces[0].before.strip() == "-" or any(_MINUS.search(piece.before) for piece in pieces):
        return Unreadable(f"'{typed}' has a minus, and nothing measures less than 0.", _MEND, "unreadable-measure")
    return _measured(typed, pieces, after, unit_kind)


def _measured(typed: str, found: list[_Piece], after: str, unit_kind: str) -> Measure | Unreadable:
    """The measure that these ranges make: of one thing, of each sex, or the sides of one thing."""
    canonical, scale = _KINDS[unit_kind]
    spans: list[Span] = []
    found = _without_conversion(found, scale)
    pieces, sides = _sides_apart(found)
    labels = _labels(pieces)
    if len(pieces) > 1 and (not all(labels) or len(set(labels)) < len(labels)):
        return Unreadable(
            f"'{typed}' holds {len(pieces)} measurements and does not say whose each is.",
            "Give one range, or name the sex of each: male 10–12, female 13–18 mm.",
            "unreadable-measure",
        )
    for number, piece in enumerate(pieces):
        span = _span(piece, labels[number], scale, _unit_after(found, found.index(piece)), typed)
        if isinstance(span, Unreadable):
            return span
        spans.append(span)
    others = [_span(side, "", scale, _unit_after(found, found.index(side)), typed) for side in sides]
    if wrong := next((side for side in others if isinstance(side, Unreadable)), None):
        return wrong
    return Measure(
        typed=typed,
        low=_least([s.low for s in spans]),
        high=_most([s.high for s in spans]),
        unit=canonical,
        what=_what([piece.before for piece in pieces], after),
        approximate=any(_APPROXIMATE.search(text) for text in (*(piece.before for piece in found), after)),
        sides=tuple(side for side in others if isinstance(side, Span)),
        spans=tuple(spans) if len(spans) > 1 or labels[0] else _usual(pieces[0], scale, spans[0]),
    )


def plain_measure(typed: str) -> str:
    """One kind of dash, decimal points, written-out fractions, ordinary spaces."""
    text = typed.translate(_PLAIN_SIGNS)
    if "," in text:
        text = re.sub(r"(\d),(\d{3})(?!\d)", r"\1\2", text)
        text = re.sub(r"(\d),(\d{1,2})(?![\d,])", r"\1.\2", text)
    if not text.isascii():
        text = re.sub(r"(?<=\d)\s*(?=[½¼¾⅓⅔⅛⅜⅝⅞])", " ", text.replace(FRACTION_MARK, "/"))
        text = re.sub(r"[½¼¾⅓⅔⅛⅜⅝⅞]", lambda m: _FRACTIONS[m[0]], text)
    return _SLASHED.sub(_decimal, text) if "/" in text else text


def _decimal(match: re.Match[str]) -> str:
    """A fraction as a decimal with the mark of one, or as it stands where it is none."""
    whole, top, bottom = int(match[1] or 0), int(match[2]), int(match[3])
    if bottom not in _DIVISIONS or not 0 < top < bottom:
        return match[0]
    unit = _UNIT_THERE.search(match.string, match.end())
    metric = unit is not None and canonical_unit(unit[0]) not in {"in", "ft", "oz", "lb"}
    if metric and (top, bottom) not in _METRIC_FRACTIONS:
        return match[0]
    return f"{whole + top / bottom:.6f}".rstrip("0") + FRACTION_MARK


def _unclear_fraction(plain: str) -> str:
    """What looks like a fraction and was not taken for one."""
    found = _SLASHED.search(plain) if "/" in plain else None
    return found[0] if found else ""


def number_of(digits: str) -> float:
    """What a number of `RANGE` is worth."""
    return float(digits.rstrip(FRACTION_MARK))


def feet_and_inches(plain: str) -> str:
    """`3'6"` as inches, since a pair of marks is one length."""
    return _FEET_AND_INCHES.sub(
        lambda m: f"{number_of(m[1]) * 12 + number_of(m[2]):g}{FRACTION_MARK * (FRACTION_MARK in m[0])} in",
        plain,
    )


def _pieces(plain: str) -> tuple[list[_Piece], str]:
    """The ranges in reading order, and the words after the last."""
    pieces, end = [], 0
    for found in RANGE.finditer(plain):
        pieces.append(_piece(plain[end : found.start()], found))
        end = found.end()
    return pieces, plain[end:]


def _piece(before: str, match: re.Match[str]) -> _Piece:
    _, first, first_unit, plus, join, second, second_unit, _, late = match.groups()
    first_unit, second_unit = canonical_unit(first_unit), canonical_unit(second_unit or late)
    low = high = number_of(first)
    if join and join.strip() in {"±", "+/-"}:
        low, high = low - number_of(second), low + number_of(second)
    elif join:
        high = number_of(second)
    high_unit = second_unit or first_unit
    low_unit = first_unit or high_unit
    usual = (low, high) if match["rare_low"] or match["rare_high"] else None
    if match["rare_low"]:
        low = number_of(re.findall(_NUMBER, match["rare_low"])[0])
    if match["rare_high"]:
        high = number_of(re.findall(_NUMBER, match["rare_high"])[0])
    upper_only = not join and _AT_MOST.search(before.strip())
    lower_only = not join and (plus or _AT_LEAST.search(before.strip()))
    return _Piece(before, None if upper_only else low, None if lower_only else high, low_unit, high_unit, usual)


def canonical_unit(spelled: str | None) -> str:
    """The short form of a unit however spelt (`inches` is `in`), or nothing."""
    return _UNITS.get((spelled or "").lower(), "")


def _without_conversion(pieces: list[_Piece], scale: Mapping[str, float]) -> list[_Piece]:
    """The ranges without one in brackets that says the one before it again: `4 in (10 cm)`."""
    return [p for n, p in enumerate(pieces) if not (n and p.before.strip() == "(" and _same_length(pieces[n - 1], p, scale))]


def _same_length(one: _Piece, other: _Piece, scale: Mapping[str, float]) -> bool:
    if one.high_unit == other.high_unit or not {one.high_unit, other.high_unit} <= scale.keys():
        return False
    pairs = ((one.low, other.low), (one.high, other.high))
    return all(
        a is not None and b is not None and abs(a * scale[one.high_unit] / (b * scale[other.high_unit] or 1) - 1) <= _CONVERTED_WITHIN
        for a, b in pairs
    )


def _sides_apart(pieces: list[_Piece]) -> tuple[list[_Piece], list[_Piece]]:
    """The ranges, and the further sides of the first: `5–8 × 3–4 mm` is one thing, told by its longest side."""
    sides = [piece for piece in pieces[1:] if piece.before.strip().casefold() in _BY]
    return ([pieces[0]], sides) if sides and len(sides) == len(pieces) - 1 else (pieces, [])


def _unit_after(pieces: list[_Piece], number: int) -> str:
    """The next unit to the right: `male 10–12, female 13–18 mm` gives mm to both."""
    return next((p.high_unit for p in pieces[number:] if p.high_unit), "")


def _labels(pieces: list[_Piece]) -> list[str]:
    return [next((name for name, sign in _LABELS if sign.search(piece.before)), "") for piece in pieces]


def _span(piece: _Piece, label: str, scale: Mapping[str, float], unit_after: str, typed: str) -> Span | Unreadable:
    low_unit, high_unit = piece.low_unit or unit_after, piece.high_unit or unit_after
    if not scale:
        low_unit = high_unit = ""
    elif not high_unit:
        return Unreadable(f"'{typed}' has no unit.", "Write the unit after the number, such as 10–12 mm.", "missing-unit")
    elif low_unit not in scale or high_unit not in scale:
        wanted = ", ".join(scale)
        return Unreadable(f"'{high_unit}' in '{typed}' is not a unit for this.", f"Use one of {wanted}.", "unreadable-measure")
    low = None if piece.low is None else _scaled(piece.low, scale.get(low_unit, 1.0))
    high = None if piece.high is None else _scaled(piece.high, scale.get(high_unit, 1.0))
    if low is not None and low < 0:
        return Unreadable(f"'{typed}' begins below 0, and nothing measures less.", _MEND, "unreadable-measure")
    if low is not None and high is not None and low > high:
        return Unreadable(f"The range in '{typed}' runs backwards.", "Write the smaller number first.", "reversed-range")
    return Span(low, high, label)


def _scaled(number: float, factor: float) -> float:
    # Nine digits are more than anyone measures; rounding keeps 1.2 cm at 12.0 mm.
    return float(f"{number * factor:.9g}")


def _usual(piece: _Piece, scale: Mapping[str, float], whole: Span) -> tuple[Span, ...]:
    """The usual range inside extremes in parentheses, `(5–)6–9(–10) mm`."""
    if piece.usual is None:
        return ()
    factor = scale.get(piece.high_unit, 1.0)
    return (Span(_scaled(piece.usual[0], factor), _scaled(piece.usual[1], factor), "usual"),)


def _least(numbers: list[float | None]) -> float | None:
    known = [n for n in numbers if n is not None]
    return min(known) if len(known) == len(numbers) else None


def _most(numbers: list[float | None]) -> float | None:
    known = [n for n in numbers if n is not None]
    return max(known) if len(known) == len(numbers) else None


def _what(befores: list[str], after: str) -> str:
    """The words that say what was measured: `body length`, `wingspan`."""
    return " ".join(" ".join(_words([*befores, after])).split())


def _words(texts: list[str]) -> Iterator[str]:
    for text in texts:
        left = text.strip()
        for pattern in (_APPROXIMATE, _AT_MOST, _AT_LEAST, *(sign for _, sign in _LABELS), _ONLY_JOINS) if left else ():
            left = pattern.sub(" ", left)
        yield left.strip(" .")
