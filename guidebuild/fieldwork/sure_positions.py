"""What in a text is a position for sure, whatever place it is of: by its signs, letters and figures, and by the part of the world.

Other numbers are left alone: a measure, a time or a price is no position, and eastings and northings without letters may be any numbers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice
from typing import Protocol

from openlocationcode import openlocationcode

from guidebuild.fieldwork.codes_of_places import decode_geohash, decode_locator, decode_tile
from guidebuild.fieldwork.degree_figures import Number
from guidebuild.fieldwork.spots import Figures, Spot
from guidebuild.guide.distances import METRES


class IsNear(Protocol):
    """Says whether a latitude and a longitude, with or without their signs, lie where the guide is about."""

    def __call__(self, latitude: float, longitude: float, *, signed: bool = False) -> bool:
        """Ask it."""


MAY_HOLD = re.compile(r"\d")
_NEXT = 4  # numbers further on that may be the other half
_FINE, _MINUTE = 0.0011, 0.017  # degrees
_SQUARE = 150.0  # metres: six figures and more
_NORTH_WORDS = "north|south|nord|norte|noord|süd|sud|sur|zuid"
_EAST_WORDS = "east|west|ost|est|ouest|este|oeste|oost"
_NAME = r"[^\d<>]{0,30}l(?:ong?(?:itude)?|at(?:itude)?)\W{0,12}"
_WORDS = rf"(?:degrees?|minus|{_NORTH_WORDS}|{_EAST_WORDS})\b"
_GAP = re.compile(rf"(?:<[^<>]{{0,80}}>|{_WORDS}|[\s,;/|()\[\]°º˚\"'′″+−-]|(?-i:[NSEWO])(?![a-z])|!4d|{_NAME}){{0,8}}", re.IGNORECASE)
_UNIT = re.compile(r"\s?(?:[%°²³]|(?:mm|cm|d?m|km|ft|in|k?g|mg|m?l|s|h|Hz|kHz|px|pt|em|rem|years?|days?|hours?|times)\b)")
_DECIMAL = re.compile(r"\d+(?:[.,·٫]|\s?point\s)(\d+)", re.IGNORECASE)
_NAMED = re.compile(r"\blat|lon|geo:|point|coord|gps|[?&](?:q|ll|mlat|center|centre|at)=|map=|/@|wgs|\bposition", re.IGNORECASE)
_DEGREE = re.compile(r"[°º˚]|\bdeg", re.IGNORECASE)
_SIGN = r"\d(?:\s?s(?:ec)?\b)?[°º˚'′’´\"″”\s]{0,3}"
_NORTH = re.compile(rf"(?<![A-Za-z])(?-i:[NS])\s?\d|{_SIGN}(?-i:[NS])(?![A-Za-z])|\b(?:{_NORTH_WORDS})\b", re.IGNORECASE)
_EAST = re.compile(rf"(?<![A-Za-z])(?-i:[EWO])\s?\d|{_SIGN}(?-i:[EWO])(?![A-Za-z])|\b(?:{_EAST_WORDS})\b", re.IGNORECASE)
_SIGNED_RUN = re.compile(r"[+−-]\d{4,}(?:\.\d+)?[+−-]\d{4,}(?:\.\d+)?/")
_BEFORE, _AFTER = 18, 12  # characters in which a name or a letter stands that marks a position
_OLC = "23456789CFGHJMPQRVWX"
_SHORT = f"(?=[2-9]*[{_OLC[8:]}])(?=[{_OLC[8:]}]*[2-9])[{_OLC}]{{4}}"
_PLUS = re.compile(rf"(?<![A-Za-z0-9+])(?:[{_OLC}]{{8}}|{_SHORT})\+[{_OLC}]{{2,3}}(?![A-Za-z0-9+])", re.IGNORECASE)
_GEOHASH = re.compile(r"(?<![\w+-])(?=[a-z]*\d)(?=\w*[g-z])[0-9b-hjkmnp-z]{7,12}(?![\w+-])")
_LOCATOR = re.compile(r"(?<![A-Za-z0-9])[A-R]{2}\d\d[A-Xa-x]{2}\d\d(?:[A-Xa-x]{2})?(?![A-Za-z0-9])")
_TILE = re.compile(r"(?<![\d.])(?<!\d/)(1[4-9]|2[01])/(\d{1,7})/(\d{1,7})(?![\d/])")


def find_sure_positions(figures: Figures, is_near: IsNear, middle: tuple[float, float] | None) -> Iterator[Spot]:
    """Every position of a readable text; short codes are read beside the `middle` of where the guide is about."""
    yield from _pairs(figures, is_near)
    for square in figures.squares:
        if square.side < _SQUARE and square.text.isupper() and is_near(square.latitude, square.longitude, signed=True):
            yield _spot(figures.text, square.start, square.end, (square.latitude, square.longitude), square.side / METRES)
    for start, end, found, step in _codes(figures.text, middle):
        if is_near(*found, signed=True):
            yield _spot(figures.text, start, end, found, step)


def _spot(text: str, start: int, end: int, where: tuple[float, float], step: float) -> Spot:
    return Spot(text[start:end], start, *where, step, (start, start), signed=True)


def _pairs(figures: Figures, is_near: IsNear) -> Iterator[Spot]:
    text, numbers, last = figures.text, figures.numbers, 0
    for place, first in enumerate(numbers):
        if first.start < last or _step_of(text, first) > _MINUTE:
            continue
        for second in islice(numbers, place + 1, place + 1 + _NEXT):
            if (
                _step_of(text, second) <= _MINUTE
                and second.start >= first.end
                and _GAP.fullmatch(text, first.end, min(second.start, first.end + 200))
            ):
                if spot := _read_pair(text, first, second, is_near):
                    last = second.end
                    yield spot
                break


def _step_of(text: str, number: Number) -> float:
    """How exactly a number is told; noughts at its end count, for nobody types them without a reason."""
    decimals = _DECIMAL.fullmatch(text, number.start, number.end)
    return 10.0 ** -len(decimals[1]) if decimals else number.step


def _read_pair(text: str, first: Number, second: Number, is_near: IsNear) -> Spot | None:
    """Two numbers that stand side by side, if letters, signs or the part of the world say that they are a position."""
    here = text[max(0, first.start - _BEFORE) : second.end + _AFTER]
    north, east = (second, first) if _comes_east_first(here, first.value) else (first, second)
    if north.value > 90:
        return None
    is_marked = bool(_NORTH.search(here) and _EAST.search(here)) or bool(_NAMED.search(here)) or bool(_SIGNED_RUN.search(here))
    is_marked = is_marked or len(_DEGREE.findall(here)) > 1
    if not is_marked:
        is_plain = all(_DECIMAL.fullmatch(text, n.start, n.end) and _step_of(text, n) <= _FINE for n in (first, second))
        if not is_plain or _UNIT.match(text, second.end):
            return None
        if not is_near(north.value, east.value):
            if north.value > 90 or not is_near(east.value, north.value):
                return None
            north, east = east, north
    halves = (min(north.start, east.start), max(north.start, east.start))
    return Spot(text[first.start : second.end], first.start, north.value, east.value, min(_step_of(text, n) for n in (north, east)), halves)


def _comes_east_first(here: str, first: float) -> bool:
    """Whether the first of two numbers is the longitude: by its size, by names, by the letters, as in `POINT (…)`."""
    if first > 90 or re.search(r"point\s?\(|<coordinates>", here, re.IGNORECASE):
        return True
    if name := re.search(r"\b(?:lat|(lon))", here, re.IGNORECASE):
        return bool(name[1])
    north, east = _NORTH.search(here), _EAST.search(here)
    return bool(north and east and east.start() < north.start())


def _codes(text: str, middle: tuple[float, float] | None) -> Iterator[tuple[int, int, tuple[float, float], float]]:
    """Codes of maps, each with its middle in degrees and how wide it is."""
    for found in _PLUS.finditer(text) if "+" in text else ():
        is_whole = found[0][8:9] == "+"
        code = found[0] if is_whole else middle and found[0].isupper() and openlocationcode.recoverNearest(found[0], *middle)
        if code and openlocationcode.isFull(code):
            area = openlocationcode.decode(code)
            yield *found.span(), (area.latitudeCenter, area.longitudeCenter), area.latitudeHi - area.latitudeLo
    for found in _GEOHASH.finditer(text):
        yield *found.span(), *decode_geohash(found[0])
    for found in _LOCATOR.finditer(text):
        yield *found.span(), *decode_locator(found[0])
    for found in _TILE.finditer(text):
        zoom, x, y = map(int, found.groups())
        if max(x, y) < 2**zoom:
            yield *found.span(), *decode_tile(zoom, x, y)
