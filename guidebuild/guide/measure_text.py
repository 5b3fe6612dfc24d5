"""Typed text → Measure: ranges as people write them, with any dash, in metric units or inches and feet.

The text as typed is what is shown; the numbers serve tables, keys and drawings only.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from guidebuild.guide.measures import Measure, Span
from guidebuild.guide.problem import Unreadable

# An inch is 25.4 mm exactly (NIST SP 811, App. B.8), a pound 453.59237 g exactly.
_LENGTHS = {"µm": 0.001, "mm": 1.0, "cm": 10.0, "dm": 100.0, "m": 1000.0, "km": 1_000_000.0, "in": 25.4, "ft": 304.8}
_MASSES = {"mg": 0.001, "g": 1.0, "kg": 1000.0, "t": 1_000_000.0, "oz": 28.349523125, "lb": 453.59237}
_KINDS: Mapping[str, tuple[str, Mapping[str, float]]] = {
    "length": ("mm", _LENGTHS),
    "mass": ("g", _MASSES),
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
_UNITS = {unit: unit for unit in (*_LENGTHS, *_MASSES)} | _SPELLINGS

_FRACTIONS = {"½": ".5", "¼": ".25", "¾": ".75", "⅓": ".333", "⅔": ".667", "⅛": ".125", "⅜": ".375", "⅝": ".625", "⅞": ".875"}
_NUMBER = r"\d{1,9}(?:\.\d{1,9})?"
_UNIT = "|".join(sorted((re.escape(u) for u in _UNITS), key=len, reverse=True))
_QUANTITY = rf"({_NUMBER})\s*((?:{_UNIT})(?![a-zµ]))?"
RANGE = re.compile(
    rf"(?P<rare_low>\({_NUMBER}\s*-\)\s*)?"
    rf"(?:{_QUANTITY})\s*(?P<plus>\+(?!/))?(?:(?P<join>\s*(?:-|\bto\b|±|\+/-)\s*){_QUANTITY})?"
    rf"(?P<rare_high>\s*\(-\s*{_NUMBER}\))?\s*(?P<late_unit>(?:{_UNIT})(?![a-zµ]))?",
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
    feet = feet_and_inches(plain) if unit_kind == "length" else None
    plain = feet or plain
    pieces, after = _pieces(plain)
    if not pieces:
        return Unreadable(f"There is no measurement in '{typed}'.", _MEND, "unreadable-measure")
    if pieces[0].before.strip() == "-" or any(_MINUS.search(piece.before) for piece in pieces):
        return Unreadable(f"'{typed}' has a minus, and nothing measures less than 0.", _MEND, "unreadable-measure")
    canonical, scale = _KINDS[unit_kind]
    spans: list[Span] = []
    labels = _labels(pieces)
    if len(pieces) > 1 and (not all(labels) or len(set(labels)) < len(labels)):
        return Unreadable(
            f"'{typed}' holds {len(pieces)} measurements and does not say whose each is.",
            "Give one range, or name the sex of each: male 10–12, female 13–18 mm.",
            "unreadable-measure",
        )
    for number, piece in enumerate(pieces):
        span = _span(piece, labels[number], scale, _unit_after(pieces, number), typed)
        if isinstance(span, Unreadable):
            return span
        spans.append(span)
    return Measure(
        typed=typed,
        low=_least([s.low for s in spans]),
        high=_most([s.high for s in spans]),
        unit=canonical,
        what=_what([piece.before for piece in pieces], after),
        approximate=bool(_APPROXIMATE.search(plain)),
        spans=tuple(spans) if len(spans) > 1 or labels[0] else _usual(pieces[0], scale, spans[0]),
    )


def plain_measure(typed: str) -> str:
    """One kind of dash, decimal points, written-out fractions, ordinary spaces."""
    text = re.sub(r"[\u2010-\u2015\u2212\u207b]", "-", typed)
    text = re.sub(r"[\u00a0\u2007\u2009\u202f]", " ", text)
    text = re.sub(r"(\d),(\d{3})(?!\d)", r"\1\2", text)
    text = re.sub(r"(\d),(\d{1,2})(?![\d,])", r"\1.\2", text)
    text = re.sub(r"(\d+)\s*([½¼¾⅓⅔⅛⅜⅝⅞])", lambda m: m[1] + _FRACTIONS[m[2]], text)
    text = re.sub(r"[½¼¾⅓⅔⅛⅜⅝⅞]", lambda m: "0" + _FRACTIONS[m[0]], text)
    return re.sub(r"(?<![\d.])(?:(\d+) )?(\d+)/(\d+)(?![\d/])", _fraction, text)


def _fraction(found: re.Match[str]) -> str:
    whole, top, bottom = int(found[1] or 0), int(found[2]), int(found[3])
    return f"{whole + top / bottom:.4f}" if bottom else found[0]


def feet_and_inches(plain: str) -> str:
    """`3'6"` as inches, since a pair of marks is one length."""
    return re.sub(
        rf"({_NUMBER})\s*(?:'|′|’|ft\.?|feet)\s*({_NUMBER})\s*(?:\"|″|”|''|in\.?\b|inches)",
        lambda m: f"{float(m[1]) * 12 + float(m[2]):g} in",
        plain,
    )


def _pieces(plain: str) -> tuple[list[_Piece], str]:
    """The ranges in reading order, and the words after the last."""
    pieces, end = [], 0
    for found in RANGE.finditer(plain):
        pieces.append(_piece(plain[end : found.start()], found))
        end = found.end()
    return pieces, plain[end:]


def _piece(before: str, found: re.Match[str]) -> _Piece:
    _, first, first_unit, plus, join, second, second_unit, _, late = found.groups()
    first_unit, second_unit = canonical_unit(first_unit), canonical_unit(second_unit or late)
    low = high = float(first)
    if join and join.strip() in {"±", "+/-"}:
        low, high = float(first) - float(second), float(first) + float(second)
    elif join:
        high = float(second)
    high_unit = second_unit or first_unit
    low_unit = first_unit or high_unit
    usual = (low, high) if found["rare_low"] or found["rare_high"] else None
    if found["rare_low"]:
        low = float(re.findall(_NUMBER, found["rare_low"])[0])
    if found["rare_high"]:
        high = float(re.findall(_NUMBER, found["rare_high"])[0])
    upper_only = not join and _AT_MOST.search(before.strip())
    lower_only = not join and (plus or _AT_LEAST.search(before.strip()))
    return _Piece(before, None if upper_only else low, None if lower_only else high, low_unit, high_unit, usual)


def canonical_unit(spelled: str | None) -> str:
    """The short form of a unit however spelt (`inches` is `in`), or nothing."""
    return _UNITS.get((spelled or "").lower(), "")


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
        left = text
        for pattern in (_APPROXIMATE, _AT_MOST, _AT_LEAST, *(sign for _, sign in _LABELS), _ONLY_JOINS):
            left = pattern.sub(" ", left)
        yield left.strip(" .")
