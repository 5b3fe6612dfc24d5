"""Codes that maps make of a position: geohashes, Open Location Codes, tiles of web maps, locators, as patterns to look for."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import lru_cache

from openlocationcode import openlocationcode

from guidebuild.guide.records import Position

_DEEPEST = 21  # zoom of the finest tiles that maps draw
LONGEST = 8
"""Signs of an Open Location Code before its plus sign; behind it are fewer."""
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


def decode_geohash(code: str) -> tuple[tuple[float, float], float]:
    """The middle of a geohash in degrees, and how high its cell is."""
    ranges = [[-180.0, 180.0], [-90.0, 90.0]]
    for number in range(len(code) * 5):
        bit = _GEOHASH.index(code[number // 5]) >> (4 - number % 5) & 1
        ranges[number % 2][1 - bit] = sum(ranges[number % 2]) / 2
    (west, east), (south, north) = ranges
    return ((south + north) / 2, (west + east) / 2), north - south


def code_hints(position: Position, step: float) -> tuple[str, ...]:
    """Patterns in small letters, of which one is found in every text in small letters that holds one of the codes."""
    middle, tail = plus_hints(position)
    return (*map(re.escape, literal_hints(position, step)), rf"{tail}\+", rf"{middle}\w\w\+")


def literal_hints(position: Position, step: float) -> tuple[str, ...]:
    """Pieces of codes in small letters, of which one stands in every code that is no Open Location Code."""
    tiles = (f"{x}/{y}" for _, x, y in _tiles(position, step))
    return encode_geohash(position, _hash_length(step)), *tiles, encode_quadkey(position, step), encode_locator(position)[:4].lower()


def plus_hints(position: Position) -> tuple[str, str]:
    """The fifth and sixth sign of an Open Location Code, and the two right before its plus sign."""
    plus = openlocationcode.encode(position.latitude, position.longitude).lower()
    return plus[4:6], plus[6:8]


def encode_quadkey(position: Position, step: float) -> str:
    """The shortest row of quarters that says more than a step: columns and rows of a web map's tiles, halved in turn."""
    zoom, x, y = next(_tiles(position, step))
    return "".join(str((x >> n & 1) + 2 * (y >> n & 1)) for n in reversed(range(zoom)))


def encode_locator(position: Position) -> str:
    """The Maidenhead locator of radio amateurs, ten signs: fields of 20° by 10°, then parts of 10, 24, 10 and 24 (from memory)."""
    east, north, text = (position.longitude + 180) / 20, (position.latitude + 90) / 10, ""
    for many, first in ((10, "A"), (24, "0"), (10, "A"), (24, "0"), (1, "A")):
        text += chr(ord(first) + int(east)) + chr(ord(first) + int(north))
        east, north = east % 1 * many, north % 1 * many
    return text


def decode_locator(code: str) -> tuple[tuple[float, float], float]:
    """The middle of a Maidenhead locator in degrees, and how high its cell is."""
    east, north, high = -180.0, -90.0, 10.0
    for number, many in zip(range(0, len(code), 2), (1, 10, 24, 10, 24), strict=False):
        high /= many
        first = ord("A") if many != 10 else ord("0")
        east += (ord(code[number].upper()) - first) * high * 2
        north += (ord(code[number + 1].upper()) - first) * high
    return (north + high / 2, east + high), high


def decode_tile(zoom: int, x: int, y: int) -> tuple[tuple[float, float], float]:
    """The middle of a web map's tile in degrees, and how high it is there."""
    many = 2**zoom
    north, south = (math.degrees(math.atan(math.sinh(math.pi * (1 - 2 * edge / many)))) for edge in (y, y + 1))
    return ((north + south) / 2, (x + 0.5) / many * 360 - 180), north - south


def _tiles(position: Position, step: float) -> Iterator[tuple[int, int, int]]:
    """Zoom, column and row of the web map's tiles that are smaller than a step."""
    phi = math.radians(max(-85.0, min(85.0, position.latitude)))
    first = math.floor(math.log2(360 / min(step, 0.1))) + 1
    for zoom in range(first, _DEEPEST + 1):
        x, y = (position.longitude + 180) / 360, (1 - math.asinh(math.tan(phi)) / math.pi) / 2
        yield zoom, int(x * 2**zoom), int(y * 2**zoom)


def _hash_length(step: float) -> int:
    return 6 if step > 0.005 else 8


@lru_cache(maxsize=4096)
def plus_patterns(position: Position, step: float) -> tuple[re.Pattern[str], ...]:
    """Those of Open Location Codes: each match has one plus sign, no more than `LONGEST` signs from its ends.

    Such a code is also found shortened: beside the name of a town its first two, four or six signs are left out.
    """
    code = openlocationcode.encode(position.latitude, position.longitude)
    # Eight digits name 0.0025 of a degree, ten 0.000125; the first six name a twentieth.
    first, second, third = code[:2], code[2:4], code[4:6]
    fourth = r"[\w]{2}" if step > 0.05 else code[6:8]
    tail = re.escape(code[8:]) if step < 0.005 else r"\+"
    return (
        re.compile(rf"(?<![A-Za-z0-9]){first}{second}{third}{fourth}{tail}", re.IGNORECASE),
        re.compile(rf"(?<![A-Za-z0-9])(?:{second})?{code[4:8]}\+{code[9]}", re.IGNORECASE),
        re.compile(rf"(?<![A-Za-z0-9]){code[6:8]}{re.escape(code[8:])}", re.IGNORECASE),
    )


@lru_cache(maxsize=4096)
def other_patterns(position: Position, step: float) -> tuple[re.Pattern[str], ...]:
    """Those of geohashes, tiles of web maps, quadkeys and locators."""
    return (
        re.compile(rf"(?<![A-Za-z0-9]){encode_geohash(position, _hash_length(step))}[0-9a-z]{{0,6}}(?![A-Za-z0-9])", re.IGNORECASE),
        re.compile("|".join(rf"(?<!\d){zoom}/{x}/{y}(?!\d)" for zoom, x, y in _tiles(position, step))),
        re.compile(rf"(?<!\d){encode_quadkey(position, step)}[0-3]*(?!\w)"),
        re.compile(rf"(?<![A-Za-z0-9]){_locator_pattern(position, step)}(?![A-Za-z0-9])", re.IGNORECASE),
    )


def _locator_pattern(position: Position, step: float) -> str:
    """Six signs name a twelfth of a degree, eight a hundred-and-twentieth, ten less than the finest step but one."""
    locator = encode_locator(position)
    fewest = 6 if step > 0.05 else 8 if step > 0.005 else 10
    return locator[:fewest] + "[0-9a-x]*"
