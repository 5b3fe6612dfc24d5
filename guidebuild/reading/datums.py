"""Positions in the datums that people and downloads name → WGS 84."""

from __future__ import annotations

import math
import re

from guidebuild.guide.problem import Unreadable
from guidebuild.later import imported_when_used

with imported_when_used():  # nearly all positions are on WGS 84, and pyproj takes long to import
    from guidebuild.reading import datum_shifts

# Names after the EPSG register; what public downloads spell in other ways. Frames that differ from WGS 84 by less than a receiver
# shows (two metres) are taken as it.
_SAME = frozenset(
    [
        "wgs84",
        "epsg4326",
        "wgs1984",
        "worldgeodeticsystem1984",
        "epsg4979",
        "etrs89",
        "epsg4258",
        "nad83",
        "epsg4269",
        "gda94",
        "epsg4283",
        "gda2020",
        "epsg7844",
        "nzgd2000",
        "epsg4167",
        "sirgas2000",
        "epsg4674",
        "itrf",
        "cgcs2000",
        "epsg4490",
        "jgd2000",
        "epsg4612",
        "jgd2011",
        "epsg6668",
        "rgf93",
        "gcswgs1984",
        "wgs84epsg4326",
        "northamericandatum1983",
        "notrecorded",
        "unknown",
        "notspecified",
        "none",
        "na",
        "googlemaps",
        "gps",
    ]
)


def convert_position(latitude: float, longitude: float, datum: str) -> tuple[float, float] | Unreadable:
    """Degrees on WGS 84; an Unreadable where the datum is not known, or nothing leads from it at that spot."""
    plain = re.sub(r"[^a-z0-9+]", "", datum.casefold())
    if not plain or plain in _SAME or plain.removeprefix("epsg") in ("4326", "4258", "4269"):
        return latitude, longitude
    transformer = datum_shifts.find_transformer(datum.strip())
    unknown = Unreadable(f"The datum “{datum}” is not known, and the position is taken to be on WGS 84", "", "sighting-datum")
    if transformer is None:
        return unknown
    east, north = transformer.transform(longitude, latitude)
    return (north, east) if math.isfinite(north) and math.isfinite(east) else unknown
