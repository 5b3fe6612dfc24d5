"""Short codes that web maps make of a position: geohashes and Open Location Codes, as patterns to look for."""

from __future__ import annotations

import re

from openlocationcode import openlocationcode

from guidebuild.guide.records import Position

_GEOHASH = "0123456789bcdefghjkmnpqrstuvwxyz"


def encode_geohash(position: Position, length: int) -> str:
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


def code_hints(position: Position, step: float) -> tuple[str, ...]:
    """Signs of which one stands in every text that holds one of the codes of `code_patterns`."""
    return encode_geohash(position, _hash_length(step)), "+"


def _hash_length(step: float) -> int:
    return 6 if step > 0.005 else 8


def code_patterns(position: Position, step: float) -> tuple[re.Pattern[str], ...]:
    """Patterns of codes that point at the position more exactly than `step` degrees, in capitals or small letters.

    An Open Location Code is also found shortened: beside the name of a town its first two, four or six signs are left out.
    """
    code = openlocationcode.encode(position.latitude, position.longitude)
    # Eight digits name 0.0025 of a degree, ten 0.000125; the first six name a twentieth.
    first, second, third = code[:2], code[2:4], code[4:6]
    fourth = r"[\w]{2}" if step > 0.05 else code[6:8]
    tail = re.escape(code[8:]) if step < 0.005 else r"\+"
    return (
        re.compile(rf"(?<![A-Za-z0-9]){encode_geohash(position, _hash_length(step))}[0-9a-z]{{0,6}}(?![A-Za-z0-9])"),
        re.compile(rf"(?<![A-Za-z0-9]){first}{second}{third}{fourth}{tail}", re.IGNORECASE),
        re.compile(rf"(?<![A-Za-z0-9])(?:{second})?{code[4:8]}\+{code[9]}", re.IGNORECASE),
        re.compile(rf"(?<![A-Za-z0-9]){code[6:8]}{re.escape(code[8:])}", re.IGNORECASE),
    )
