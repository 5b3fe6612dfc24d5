"""Files of positions as maps and receivers write them → rings and lines: GeoJSON (RFC 7946), GPX 1.1 and KML 2.2."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element, ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from guidebuild.guide.region import Area, Line, LonLat
from guidebuild.reading.map_values import MapFile

ENDINGS = (".geojson", ".json", ".gpx", ".kml")
LARGEST = 64_000_000
"""Bytes: some two million positions."""
_LEAST_RING = 4
_HELD = {"Feature": "geometry", "FeatureCollection": "features", "GeometryCollection": "geometries"}


class MapFileError(Exception):
    """A file of positions that cannot be read: what is wrong with it, and what to do."""

    def __init__(self, message: str, mend: str) -> None:
        super().__init__(message)
        self.message, self.mend = message, mend


def read_map_file(path: Path, file: str) -> MapFile:
    """The areas and lines of a file; its kind is told by its name's ending."""
    ending = path.suffix.lower()
    if ending not in ENDINGS:
        raise MapFileError(f"{file} is no map file.", "Give a GeoJSON (.geojson), GPX (.gpx) or KML (.kml) file.")
    try:
        if path.stat().st_size > LARGEST:
            raise MapFileError(f"{file} is larger than {LARGEST // 1_000_000} MB.", "Simplify it in the program that drew it.")
        raw = path.read_bytes()
    except FileNotFoundError:
        raise MapFileError(f"There is no file {file}.", "Put it into the guide's folder, or write its name as it is there.") from None
    except OSError as trouble:
        raise MapFileError(f"{file} cannot be opened: {trouble.strerror or trouble}.", "Check the file's permissions.") from None
    made = _read_json(raw, file) if ending in {".geojson", ".json"} else _read_xml(raw, file, ending)
    if not made.positions:
        raise MapFileError(f"{file} holds no area and no line.", "Export the outline as a polygon, or the way as a track.")
    return made


def _read_json(raw: bytes, file: str) -> MapFile:
    try:
        data = json.loads(raw.decode("utf-8-sig"))
    except (ValueError, RecursionError) as trouble:
        line = getattr(trouble, "lineno", 0)
        where = f" (line {line})" if line else ""
        raise MapFileError(f"{file} is no GeoJSON{where}.", "Export it anew as GeoJSON.") from None
    areas: list[Area] = []
    lines: list[Line] = []
    for geometry in _list_geometries(data, file):
        shape, held = geometry.get("type"), geometry.get("coordinates")
        for one in held if str(shape).startswith("Multi") and isinstance(held, list) else [held]:
            if shape in {"Polygon", "MultiPolygon"}:
                areas.append(tuple(_read_line(ring, file) for ring in _as_list(one, file)))
            elif shape in {"LineString", "MultiLineString"}:
                lines.append(_read_line(one, file))
    return MapFile(tuple(areas), tuple(lines))


def _list_geometries(data: Any, file: str) -> Iterator[dict[str, Any]]:
    """Every geometry, however deep it stands, in the order of the file."""
    waiting = [data]
    while waiting:
        thing = waiting.pop(0)
        if not isinstance(thing, dict) or not isinstance(thing.get("type"), str):
            raise MapFileError(f"{file} is no GeoJSON: something in it has no “type”.", "Export it anew as GeoJSON.")
        held = thing.get(_HELD.get(thing["type"], ""))
        if isinstance(held, list):
            waiting = [*held, *waiting]
        elif isinstance(held, dict):
            waiting.insert(0, held)
        elif thing["type"] not in _HELD:
            yield thing


def _as_list(value: Any, file: str) -> list[Any]:
    if not isinstance(value, list):
        raise MapFileError(f"{file} is no GeoJSON: a list of positions is missing.", "Export it anew as GeoJSON.")
    return value


def _read_line(value: Any, file: str) -> Line:
    return tuple(_read_spot(spot[0], spot[1], file) if isinstance(spot, list) and len(spot) > 1 else _refuse(spot, file)
                 for spot in _as_list(value, file))  # fmt: skip


def _refuse(spot: Any, file: str) -> LonLat:
    raise MapFileError(f"{file}: {json.dumps(spot)[:40]} is no position.", "A position is [longitude, latitude] in degrees.")


def _read_spot(east: Any, north: Any, file: str) -> LonLat:
    """A position in degrees; an altitude behind it is left out."""
    try:
        spot = float(east), float(north)
    except (TypeError, ValueError):
        return _refuse([east, north], file)
    if not all(map(math.isfinite, spot)) or abs(spot[0]) > 180 or abs(spot[1]) > 90:
        raise MapFileError(
            f"{file}: {spot[0]:g}, {spot[1]:g} is no longitude and latitude.",
            "Export it in degrees on WGS 84, the longitude first; figures in metres are those of some other grid.",
        )
    return spot


def _read_xml(raw: bytes, file: str, ending: str) -> MapFile:
    kind = ending.lstrip(".").upper()
    try:
        root = fromstring(raw)
    except ParseError as trouble:
        raise MapFileError(f"{file} is no {kind} (line {trouble.position[0]}).", f"Export it anew as {kind}.") from None
    except (DefusedXmlException, ValueError, LookupError):
        raise MapFileError(f"{file} declares entities, which no {kind} needs, so it is not read.", f"Export it anew as {kind}.") from None
    lines = _gpx_lines(root, file) if ending == ".gpx" else _kml_lines(root, file)
    return MapFile(() if ending == ".gpx" else tuple(_kml_areas(root, file)), tuple(line for line in lines if line))


def _named(root: Element, *names: str) -> Iterator[Element]:
    """Elements of these names, whichever version's namespace they are in."""
    return (found for found in root.iter() if isinstance(found.tag, str) and found.tag.rpartition("}")[2] in names)


def _gpx_lines(root: Element, file: str) -> Iterator[Line]:
    """Tracks by their segments; routes where there is no track."""
    found = list(_named(root, "trkseg")) or list(_named(root, "rte"))
    for way in found:
        yield tuple(_read_spot(point.get("lon"), point.get("lat"), file) for point in _named(way, "trkpt", "rtept"))


def _kml_areas(root: Element, file: str) -> Iterator[Area]:
    for area in _named(root, "Polygon"):
        outer = [ring for border in _named(area, "outerBoundaryIs") for ring in _kml_coordinates(border, file)]
        inner = [ring for border in _named(area, "innerBoundaryIs") for ring in _kml_coordinates(border, file)]
        yield (*outer, *inner)


def _kml_lines(root: Element, file: str) -> Iterator[Line]:
    return (line for found in _named(root, "LineString") for line in _kml_coordinates(found, file))


def _kml_coordinates(root: Element, file: str) -> Iterator[Line]:
    for held in _named(root, "coordinates"):
        spots = (text.split(",") for text in (held.text or "").split())
        yield tuple(_read_spot(spot[0], spot[1] if len(spot) > 1 else None, file) for spot in spots)


def list_rings(drawn: MapFile) -> Iterator[Area]:
    """The areas of a file; of one that draws lines alone, each line as a ring."""
    yield from drawn.areas or ((line,) for line in drawn.lines)


def is_open(ring: Line) -> bool:
    """Whether a ring does not end where it begins, as RFC 7946 (3.1.6) wants it."""
    return ring[0] != ring[-1]


def has_too_few(rings: Iterable[Line]) -> bool:
    """Whether a ring has fewer positions than an area needs."""
    return any(len(ring) < _LEAST_RING - is_open(ring) for ring in rings)
