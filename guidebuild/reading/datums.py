"""Positions in the datums that people and downloads name → WGS 84, by pyproj's own definitions; nothing is fetched."""

from __future__ import annotations

import math
import re
from functools import lru_cache

import pyproj

from guidebuild.guide.problem import Unreadable

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
_CODES = {
    "osgb36": 4277, "osgb1936": 4277, "ordnancesurveyofgreatbritain1936": 4277, "airy1830": 4277, "nad27": 4267,
    "northamericandatum1927": 4267, "ed50": 4230, "europeandatum1950": 4230, "europeandatum50": 4230, "agd66": 4202, "agd84": 4203,
    "australiangeodeticdatum1966": 4202, "australiangeodeticdatum1984": 4203, "nzgd49": 4272, "nzgd1949": 4272, "tokyo": 4301,
    "tokyodatum": 4301, "dhdn": 4314, "potsdam": 4314, "mgi": 4312, "ch1903": 4149, "ch1903+": 4150, "amersfoort": 4289, "rd": 4289,
    "bd72": 4313, "belge1972": 4313, "tm65": 4299, "ireland1965": 4299, "tm75": 4300, "ireland1975": 4300, "sad69": 4618,
    "southamericandatum1969": 4618, "psad56": 4248, "cape": 4222, "arc1950": 4209, "arc1960": 4210, "pulkovo1942": 4284, "sk42": 4284,
    "rt90": 4124, "sjtsk": 4156, "hd72": 4237, "wgs72": 4322, "kkj": 4123, "datum73": 4274, "ntf": 4275, "indian1975": 4240,
    "chosmalal1914": 4160, "campoinchauspe": 4221, "hartebeesthoek94": 4148, "oldhawaiian": 4135, "puertorico": 4139, "kertau": 4245,
    "luzon1911": 4253, "hongkong1980": 4611,
}  # fmt: skip
_EPSG = re.compile(r"(?:urn:ogc:def:crs:)?epsg:{1,2}(\d{4,6})", re.IGNORECASE)


def convert_position(latitude: float, longitude: float, datum: str) -> tuple[float, float] | Unreadable:
    """Degrees on WGS 84; an Unreadable where the datum is not known, or nothing leads from it at that spot."""
    plain = re.sub(r"[^a-z0-9+]", "", datum.casefold())
    if not plain or plain in _SAME or plain.removeprefix("epsg") in ("4326", "4258", "4269"):
        return latitude, longitude
    transformer = _transformer(datum.strip())
    unknown = Unreadable(f"The datum “{datum}” is not known, and the position is taken to be on WGS 84", "", "sighting-datum")
    if transformer is None:
        return unknown
    east, north = transformer.transform(longitude, latitude)
    return (north, east) if math.isfinite(north) and math.isfinite(east) else unknown


@lru_cache(maxsize=64)
def _transformer(datum: str) -> pyproj.Transformer | None:
    """What leads from a datum to WGS 84; a grid's code stands for the datum beneath it, since degrees were typed."""
    code = _EPSG.fullmatch(datum)
    try:
        known = pyproj.CRS.from_epsg(int(code[1]) if code else _CODES[re.sub(r"[^a-z0-9+]", "", datum.casefold())])
        geodetic = known.geodetic_crs
        return pyproj.Transformer.from_crs(geodetic, 4326, always_xy=True, allow_ballpark=False) if geodetic else None
    except (KeyError, pyproj.exceptions.ProjError):
        return None
