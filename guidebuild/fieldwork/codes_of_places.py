"""Short codes that web maps make of a position: geohashes and Open Location Codes, as patterns to look for."""

from __future__ import annotations

import re

from guidebuild.guide.records import Position

_GEOHASH = "0123456789bcdefghjkmnpqrstuvwxyz"
_OPEN = "23456789CFGHJMPQRVWX"


def geohash(position: Position, length: int) -> str:
    """The geohash of a position (public domain scheme of G. Niemeyer, 2008): longitude and latitude halved in turn."""
    ranges = [[-180.0, 180.0], [-90.0, 90.0]]
    values = (position.longitude, position.latitude)
    code = bits = 0
    text = ""
    for number in range(length * 5):
        low, high = ranges[number % 2]
        middle = (low + high) / 2
        upper = values[number % 2] >= middle
        ranges[number % 2][0 if upper else 1] = middle
        code, bits = code * 2 + upper, bits + 1
        if bits == 5:
            text += _GEOHASH[code]
            code = bits = 0
    return text


def open_location_code(position: Position) -> str:
    """The ten digits of the Open Location Code (Apache licensed standard, 2014), with its plus sign."""
    north = int((min(max(position.latitude, -90), 89.99999) + 90) * 8000 + 1e-6)
    east = int(((position.longitude + 180) % 360) * 8000 + 1e-6)
    digits = ""
    for _ in range(5):
        digits = _OPEN[north % 20] + _OPEN[east % 20] + digits
        north, east = north // 20, east // 20
    return f"{digits[:8]}+{digits[8:]}"


def code_hints(position: Position, step: float) -> tuple[str, ...]:
    """Signs of which one stands in every text that holds one of the codes of `code_patterns`."""
    return geohash(position, _hash_length(step)), "+"


def _hash_length(step: float) -> int:
    return 6 if step > 0.005 else 8


def code_patterns(position: Position, step: float) -> tuple[re.Pattern[str], ...]:
    """Patterns of codes that point at the position more exactly than `step` degrees."""
    code = open_location_code(position)
    whole = code[:6] + r"[\w]{2}" if step > 0.05 else code[:8]
    if step < 0.005:
        whole, tail = code[:8], re.escape(code[8:])
    else:
        tail = r"\+"
    return (
        re.compile(rf"(?<![A-Za-z0-9]){geohash(position, _hash_length(step))}[0-9a-z]{{0,6}}(?![A-Za-z0-9])"),
        re.compile(rf"(?<![A-Z0-9]){whole}{tail}"),
        re.compile(rf"(?<![A-Z0-9]){code[4:8]}\+{code[9]}"),
    )
