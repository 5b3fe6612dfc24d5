"""Letters and digits of grid references → eastings and northings: British, Irish, UTM and MGRS."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.fieldwork.grids import BRITISH, IRISH, Projection, project_to_utm

_LETTERS = "ABCDEFGHJKLMNOPQRSTUVWXYZ"  # without I
_ROWS = "ABCDEFGHJKLMNPQRSTUV"  # of MGRS: without I and O
_COLUMNS = ("STUVWXYZ", "ABCDEFGH", "JKLMNPQR")  # by zone modulo 3
_BANDS = "CDEFGHJKLMNPQRSTUVWX"
_HUNDRED_KM = 100_000

_JOINT = r"[ \u00a0:/_-]{0,2}"
_DIGITS = r"(?:(?P<e>\d{1,5})[ \u00a0/,-](?P<n>\d{1,5})|(?P<run>(?:\d\d){1,5}))(?![A-Za-z0-9]|\.\d)"
_BRITISH = re.compile(rf"(?<![A-Za-z0-9])(?P<square>[HNSTO][A-HJ-Z]){_JOINT}{_DIGITS}", re.IGNORECASE)
_IRISH = re.compile(rf"(?<![A-Za-z0-9])(?P<square>[A-HJ-Z]){_JOINT}{_DIGITS}", re.IGNORECASE)
_MGRS = re.compile(rf"(?<![A-Za-z0-9])(?P<zone>[1-9]|[1-5]\d|60)[ \u00a0]?(?P<band>[C-HJ-NP-X])[ \u00a0]?"
                   rf"(?P<square>[A-HJ-NP-Z][A-HJ-NP-V]){_JOINT}{_DIGITS}", re.IGNORECASE)  # fmt: skip
_UTM = re.compile(
    r"(?<![A-Za-z0-9])(?P<zone>[1-9]|[1-5]\d|60)[ \u00a0]?(?P<band>[C-HJ-NP-X])?[ \u00a0,;:]+(?:E[ :]?)?"
    r"(?P<east>0?\d{6})(?:\.\d+)?[ \u00a0]?(?:m?E)?[ \u00a0,;/]+(?:N[ :]?)?(?P<north>\d{6,8})(?:\.\d+)?[ \u00a0]?(?:m?N)?(?!\d)",
    re.IGNORECASE,
)  # fmt: skip
_FEWEST = 3  # figures for each half of a reference in small letters: “so 1962” is a year


@dataclass(frozen=True, slots=True)
class Square:
    """A grid square found in a text: its middle in degrees and its side in metres."""

    start: int
    end: int
    text: str
    latitude: float
    longitude: float
    side: float


def squares_in(text: str) -> Iterator[Square]:
    """Every run of letters and digits that could be a grid reference; whether it means one, its position must tell."""
    for match in _BRITISH.finditer(text):
        yield from _square(match, BRITISH, _british(match["square"].upper()))
    for match in _IRISH.finditer(text):
        yield from _square(match, IRISH, _irish(match["square"].upper()))
    for match in _MGRS.finditer(text):
        zone, band = int(match["zone"]), match["band"].upper()
        yield from _square(match, project_to_utm(zone, south=band < "N"), _mgrs(zone, band, match["square"].upper()))
    for match in _UTM.finditer(text):
        grid = project_to_utm(int(match["zone"]), south=bool(match["band"]) and match["band"].upper() < "N")
        latitude, longitude = grid.degrees(float(match["east"]) + 0.5, float(match["north"]) + 0.5)
        yield Square(match.start(), match.end(), match[0], latitude, longitude, 1.0)


def _square(match: re.Match[str], grid: Projection, corner: tuple[int, int] | None) -> Iterator[Square]:
    east, north = match["e"], match["n"]
    if match["run"]:
        half = len(match["run"]) // 2
        east, north = match["run"][:half], match["run"][half:]
    if corner is None or len(east) != len(north) or (len(east) < _FEWEST and not match["square"].isupper()):
        return
    side = 10.0 ** (5 - len(east))
    latitude, longitude = grid.degrees(corner[0] + (int(east) + 0.5) * side, corner[1] + (int(north) + 0.5) * side)
    yield Square(match.start(), match.end(), match[0], latitude, longitude, side)


def _british(letters: str) -> tuple[int, int]:
    """South-west corner of a square of 100 km; the 500 km squares count from S, whose origin is the grid's."""
    big, small = (_LETTERS.index(letter) for letter in letters)
    east = ((big % 5) * 5 + small % 5 - 10) * _HUNDRED_KM
    north = (19 - (big // 5) * 5 - small // 5) * _HUNDRED_KM
    return east, north


def _irish(letter: str) -> tuple[int, int]:
    number = _LETTERS.index(letter)
    return (number % 5) * _HUNDRED_KM, (4 - number // 5) * _HUNDRED_KM


def _mgrs(zone: int, band: str, letters: str) -> tuple[int, int] | None:
    """South-west corner of a square of 100 km; rows repeat every 2,000 km, so the band says which."""
    columns = _COLUMNS[zone % 3]
    if letters[0] not in columns:
        return None
    east = (columns.index(letters[0]) + 1) * _HUNDRED_KM
    row = (_ROWS.index(letters[1]) - (5 if zone % 2 == 0 else 0)) % 20
    lowest = (_BANDS.index(band) - 10) * 8 * 110_574 * 0.9996 + (10_000_000 if band < "N" else 0)
    north = row * _HUNDRED_KM
    # A degree is longer towards the poles than it is reckoned here, and a square begins up to its own length below its band.
    while north < lowest - 2 * _HUNDRED_KM:
        north += 20 * _HUNDRED_KM
    return east, north
