"""Measurements in inches, feet, ounces or pounds, said in metric units without claiming precision nobody measured."""

from __future__ import annotations

import re
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

from guidebuild.guide.measure_text import RANGE, canonical_unit, feet_and_inches, plain_measure

# Unit -> metric unit and how many of it (NIST SP 811, App. B.8).
_METRIC = {
    "in": ("cm", Decimal("2.54")),
    "ft": ("m", Decimal("0.3048")),
    "oz": ("g", Decimal("28.349523125")),
    "lb": ("kg", Decimal("0.45359237")),
}
_AT_MOST = re.compile(r"(?:<=?|≤|\b(?:less than|under|up to|at most|maximum|max\.?))\s*$", re.IGNORECASE)
_AT_LEAST = re.compile(r"(?:>=?|≥|\b(?:more than|over|at least|minimum|min\.?|from))\s*$", re.IGNORECASE)


def metric_words(typed: str) -> str:
    """The text with its inches, feet, ounces and pounds in metric units; nothing where it has none.

    A converted number has as many decimals as the typed one (36 in is 91 cm, 40.1 in is 101.9 cm: NIST LC 1137), but two
    significant digits at least; a limit is never rounded past itself.
    """
    plain = feet_and_inches(plain_measure(typed))
    found = [match for match in RANGE.finditer(plain) if _units(match)[1] in _METRIC]
    if not found:
        return ""
    said, end = "", 0
    for match in found:
        said += plain[end : match.start()] + _converted(match, plain[: match.start()])
        end = match.end()
    return said + plain[end:]


def _units(match: re.Match[str]) -> tuple[str, str]:
    """The unit of the first and of the last number."""
    _, _, first_unit, _, _, _, second_unit, _, late = match.groups()
    last = canonical_unit(second_unit or late) or canonical_unit(first_unit)
    return canonical_unit(first_unit) or last, last


def _converted(match: re.Match[str], before: str) -> str:
    _, first, _, plus, join, second, _, _, _ = match.groups()
    low_unit, high_unit = _units(match)
    if low_unit not in _METRIC:
        low_unit = high_unit
    unit, factor = _METRIC[high_unit]
    rounding = ROUND_FLOOR if _AT_MOST.search(before) else ROUND_CEILING if plus or _AT_LEAST.search(before) else ROUND_HALF_EVEN
    low = _rounded(first, _METRIC[low_unit][1] * _scale(low_unit, high_unit), rounding)
    if not join:
        return f"{low}{plus or ''} {unit}"
    sign = " ± " if join.strip() in {"±", "+/-"} else "–"
    return f"{low}{sign}{_rounded(second, factor, rounding)} {unit}"


def _scale(low_unit: str, high_unit: str) -> Decimal:
    """Feet that run to inches, or the reverse, are said in the unit of the last number."""
    return {("ft", "in"): Decimal(100), ("in", "ft"): Decimal("0.01")}.get((low_unit, high_unit), Decimal(1))


def _rounded(typed: str, factor: Decimal, rounding: str) -> str:
    worth = Decimal(typed) * factor
    typed_decimals = max(0, -int(Decimal(typed).as_tuple().exponent))
    needed = 1 - worth.adjusted() if worth else 0
    places = min(max(typed_decimals, needed, 0), 6)
    return f"{worth.quantize(Decimal(1).scaleb(-places), rounding=rounding):f}"
