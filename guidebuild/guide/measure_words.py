"""Measurements in inches, feet, ounces or pounds, said in metric units without claiming precision nobody measured."""

from __future__ import annotations

import re
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

from guidebuild.guide.measure_text import FRACTION_MARK, RANGE, canonical_unit, feet_and_inches, plain_measure

# Unit -> metric unit and how many of it (NIST SP 811, App. B.8).
_METRIC = {
    "in": ("cm", Decimal("2.54")),
    "ft": ("m", Decimal("0.3048")),
    "oz": ("g", Decimal("28.349523125")),
    "lb": ("kg", Decimal("0.45359237")),
}
_AT_MOST = re.compile(r"(?:<=?|≤|\b(?:less than|under|up to|at most|maximum|max\.?))\s*$", re.IGNORECASE)
_AT_LEAST = re.compile(r"(?:>=?|≥|\b(?:more than|over|at least|minimum|min\.?|from))\s*$", re.IGNORECASE)
_DIGITS = re.compile(r"[\d.]+" + FRACTION_MARK + "?")


def metric_words(typed: str) -> str:
    """The text with its inches, feet, ounces and pounds in metric units; nothing where it has none.

    A converted number has as many decimals as the typed one (36 in is 91 cm, 40.1 in is 101.9 cm: NIST LC 1137), but two
    significant digits at least; a limit is never rounded past itself.
    """
    plain = feet_and_inches(plain_measure(typed))
    matches = list(RANGE.finditer(plain))
    units = _units_of(matches)
    if not units or any(last not in _METRIC for _, last in units):
        return ""  # where metric figures stand beside them, the author has converted them already
    said, end = "", 0
    for match, (first, last) in zip(matches, units, strict=True):
        said += plain[end : match.start()] + _converted(match, plain[: match.start()], first, last)
        end = match.end()
    return (said + plain[end:]).replace(FRACTION_MARK, "")


def _units_of(matches: list[re.Match[str]]) -> list[tuple[str, str]]:
    """The unit of the first and of the last number of each range; one without takes the next, as in `male 1–2, female 2–3 in`."""
    units: list[tuple[str, str]] = []
    after = ""
    for match in reversed(matches):
        _, _, first_unit, _, _, _, second_unit, _, late = match.groups()
        last = canonical_unit(second_unit or late) or canonical_unit(first_unit) or after
        units.append((canonical_unit(first_unit) or last, last))
        after = last
    return units[::-1]


def _converted(match: re.Match[str], before: str, low_unit: str, high_unit: str) -> str:
    rare_low, first, _, plus, join, second, _, rare_high, _ = match.groups()
    if low_unit not in _METRIC:
        low_unit = high_unit
    unit, factor = _METRIC[high_unit]
    rounding = ROUND_FLOOR if _AT_MOST.search(before) else ROUND_CEILING if plus or _AT_LEAST.search(before) else ROUND_HALF_EVEN
    low = _rounded(first, _METRIC[low_unit][1] * _scale(low_unit, high_unit), rounding)
    said = f"{low}{plus or ''}"
    if join:
        sign = " ± " if join.strip() in {"±", "+/-"} else "–"
        said = f"{low}{sign}{_rounded(second, factor, rounding)}"
    if rare_low:
        said = f"({_rounded(_DIGITS.findall(rare_low)[0], factor, rounding)}–){said}"
    if rare_high:
        said = f"{said}(–{_rounded(_DIGITS.findall(rare_high)[0], factor, rounding)})"
    return f"{said} {unit}"


def _scale(low_unit: str, high_unit: str) -> Decimal:
    """Feet that run to inches, or the reverse, are said in the unit of the last number."""
    return {("ft", "in"): Decimal(100), ("in", "ft"): Decimal("0.01")}.get((low_unit, high_unit), Decimal(1))


def _rounded(typed: str, factor: Decimal, rounding: str) -> str:
    number = Decimal(typed.rstrip(FRACTION_MARK))
    worth = number * factor
    # A fraction is as exact as one decimal: ½ in is 1.3 cm.
    typed_decimals = 1 if typed.endswith(FRACTION_MARK) else max(0, -int(number.as_tuple().exponent))
    needed = 1 - worth.adjusted() if worth else 0
    places = min(max(typed_decimals, needed, 0), 6)
    return f"{worth.quantize(Decimal(1).scaleb(-places), rounding=rounding):f}"
