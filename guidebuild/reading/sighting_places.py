"""Where a row of sightings was: places of the guide by name and by position, and positions that can be trusted."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from enum import Enum
from operator import itemgetter

from guidebuild.guide.coordinate_text import parse_coordinate
from guidebuild.guide.distances import METRES, measure_metres
from guidebuild.guide.guide import Guide
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.records import Position
from guidebuild.guide.resolve import fold_name
from guidebuild.guide.sighting_words import SightingWords
from guidebuild.later import imported_when_used
from guidebuild.reading.sighting_columns import Columns
from guidebuild.reading.sighting_notes import SightingNotes

with imported_when_used():  # most tables name no other datum, and the definitions of all take long to import
    from guidebuild.reading import datums

_USUAL = ("decimalLatitude", "decimalLongitude", "geodeticDatum", "coordinateUncertaintyInMeters")
_TYPED = ("verbatimLatitude", "verbatimLongitude")
_CACHED = 50_000
WORLD = (-90.0, -180.0, 90.0, 180.0)
_RECEIVER = 100.0  # metres: a row that is known no better than this or than the place itself is matched to no place
Box = tuple[float, float, float, float]
Spot = tuple[float, float]
Halves = tuple[list[float], list[float]]
"""Degrees north, and degrees east, of several spots."""


class PlaceNames:
    """Finds a place by id, by name, or by what the guide's own table calls it."""

    def __init__(self, guide: Guide, words: SightingWords) -> None:
        """Gather the names."""
        self._names = {fold_name(text): place.id for place in guide.places.values() for text in (place.id, place.name)}
        self._names |= {word: place for word, place in words.places.items() if place in guide.places}

    def find(self, texts: tuple[str, ...]) -> str:
        """The place that the first known of several texts names, or ""."""
        return next((place for text in texts if (place := self._names.get(fold_name(text)))), "")


class PlacesByPosition:
    """Finds the place whose stated uncertainty holds a spot, by a grid of hundredths of a degree."""

    def __init__(self, guide: Guide) -> None:
        """Lay the grid."""
        self._cells: dict[tuple[int, int], list[tuple[str, Position]]] = {}
        for place in guide.places.values():
            if place.position and place.position.uncertainty:
                for cell in _cells_round(place.position):
                    self._cells.setdefault(cell, []).append((place.id, place.position))

    def find(self, spot: Spot, uncertainty: str = "") -> str:
        """The nearest place that holds the spot, or "" where none does or the spot itself is known less well than a place is large."""
        near = self._cells.get((math.floor(spot[0] * 100), math.floor(spot[1] * 100)))
        if near is None:
            return ""
        vague = _metres(uncertainty)
        distances = [(measure_metres(spot, (at.latitude, at.longitude)), place, at.uncertainty or 0.0) for place, at in near]
        held = [(metres, place) for metres, place, reach in distances if metres <= reach and vague <= max(reach, _RECEIVER)]
        return min(held)[1] if held else ""


def _metres(text: str) -> float:
    try:
        return float(text.replace(",", ".")) if text else 0.0
    except ValueError:
        return 0.0


def _cells_round(position: Position) -> list[tuple[int, int]]:
    reach_north = (position.uncertainty or 0) / METRES
    reach_east = reach_north / max(math.cos(math.radians(position.latitude)), 0.01)
    rows = range(math.floor((position.latitude - reach_north) * 100), math.floor((position.latitude + reach_north) * 100) + 1)
    columns = range(math.floor((position.longitude - reach_east) * 100), math.floor((position.longitude + reach_east) * 100) + 1)
    return [(row, column) for row in rows for column in columns]


class NoSpot(Enum):
    """Why a row's figures give no spot to trust."""

    NO_FIGURES = "no figures, or none that can be read"
    OUTSIDE = "outside the region"
    NOWHERE = "0, 0"


NO_FIGURES, OUTSIDE, NOWHERE = NoSpot.NO_FIGURES, NoSpot.OUTSIDE, NoSpot.NOWHERE


class Positions:
    """Reads the positions of one file's rows."""

    def __init__(self, box: Box | None, columns: Columns, notes: SightingNotes) -> None:
        """Positions are looked for in `box`, where the guide says one."""
        picks = [itemgetter(columns.position(term)) for term in _USUAL]
        self._pick_north, self._pick_east, self._pick_datum, self._pick_uncertainty = picks
        self._pick = itemgetter(*map(columns.position, _USUAL))
        self._pick_typed = itemgetter(*map(columns.position, _TYPED))
        self._box = box
        self._south, self._west, self._north, self._east = box or WORLD
        self._notes = notes
        self.halves: Halves | None = None
        self._same = {""}  # datums met that are WGS 84
        self._stated = {""}  # uncertainties met of which nothing is to be told

    def find_all(self, rows: Sequence[Sequence[str]], numbers: Sequence[int]) -> Iterable[Spot | NoSpot]:
        """Where each of some rows was by its figures: all at once where none of them asks for a closer look, and so by `halves` too."""
        self.halves = None
        try:
            norths, easts = [*map(float, map(self._pick_north, rows))], [*map(float, map(self._pick_east, rows))]
        except ValueError:
            return map(self.find, rows, numbers)
        usual = self._same.issuperset(map(self._pick_datum, rows)) and self._stated.issuperset(map(self._pick_uncertainty, rows))
        if usual and self._hold_all(norths, easts):
            self.halves = norths, easts
            return zip(norths, easts, strict=True)
        return map(self.find, rows, numbers)

    def _hold_all(self, norths: Sequence[float], easts: Sequence[float]) -> bool:
        """Whether all are positions inside the region, none of them 0, 0."""
        numbers = math.isfinite(sum(norths) + sum(easts))  # the least of some is no sure sign while one is no number
        inside = numbers and norths and self._south <= min(norths) and max(norths) <= self._north
        return bool(inside and self._west <= min(easts) and max(easts) <= self._east and not (0.0 in norths and 0.0 in easts))

    def find(self, row: Sequence[str], number: int) -> Spot | NoSpot:
        """Where a row was by its figures: most rows at once; nothing is mended silently."""
        latitude, longitude, datum, uncertainty = self._pick(row)
        if uncertainty not in self._stated:
            self._tell_uncertainty(uncertainty, number)
        if not (latitude and longitude):
            north_as_typed, east_as_typed = self._pick_typed(row)
            latitude, longitude = latitude or north_as_typed, longitude or east_as_typed
            if not (latitude or longitude):
                return NO_FIGURES
        if datum in self._same:
            try:
                north, east = float(latitude), float(longitude)
                if self._south <= north <= self._north and self._west <= east <= self._east and (north or east):
                    return north, east
            except ValueError:
                pass  # commas, degree signs and letters are read below
        return self._read_slowly(latitude, longitude, datum, number)

    def _tell_uncertainty(self, uncertainty: str, number: int) -> None:
        if uncertainty[:1] == "0" and not uncertainty.strip("0., "):
            self._notes.add("sighting-uncertainty", f"The uncertainty is {uncertainty} m", number)
        elif len(self._stated) < _CACHED:
            self._stated.add(uncertainty)

    def _read_slowly(self, latitude: str, longitude: str, datum: str, number: int) -> Spot | NoSpot:
        if not latitude.strip() or not longitude.strip():
            if latitude.strip() or longitude.strip():
                self._notes.add("sighting-half-position", f"The position “{latitude}”, “{longitude}” lacks a half", number)
            return NO_FIGURES
        read = (parse_coordinate(latitude, "latitude"), parse_coordinate(longitude, "longitude"))
        for half in read:
            if isinstance(half, Unreadable):
                self._notes.add("sighting-coordinate", half.message, number, mend=half.mend)
        north, east = read
        if isinstance(north, Unreadable) or isinstance(east, Unreadable):
            return NO_FIGURES
        if north == 0 and east == 0:
            self._notes.add("sighting-zero-position", f"The position {latitude}, {longitude} is 0, 0", number)
            return NOWHERE
        return self._in_region(north, east, datum, f"The position {latitude}, {longitude}", number)

    def _in_region(self, north: float, east: float, datum: str, called: str, number: int) -> Spot | NoSpot:
        converted = datums.convert_position(north, east, datum)
        if isinstance(converted, Unreadable):
            self._notes.word("sighting-datum", datum, converted.message).add(number)
        elif converted == (north, east):
            self._same.add(datum)
        else:
            north, east = converted
        doubt = _doubt(north, east, self._box)
        if doubt:
            self._notes.add(doubt[0], f"{called} {doubt[1]}", number)
            return OUTSIDE
        return north, east


def _doubt(north: float, east: float, box: Box | None) -> tuple[str, str] | None:
    """Why a position is none of the region's: code and words."""
    if box is None or _inside(box, north, east):
        return None
    if _inside(box, east, north):
        return "sighting-swapped", "looks swapped"
    if any(_inside(box, y, x) for y, x in ((-north, east), (north, -east), (-north, -east))):
        return "sighting-sign", "looks as if it had the wrong sign"
    return "sighting-outside-region", "lies outside the region"


def _inside(box: Box, north: float, east: float) -> bool:
    south, west, top, right = box
    return south <= north <= top and west <= east <= right
