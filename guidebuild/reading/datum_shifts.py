"""What leads from one datum to another, by pyproj's own definitions; nothing is fetched."""

from __future__ import annotations

import re
from functools import lru_cache

import pyproj

# By the names that people and downloads give: codes of the EPSG register.
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


@lru_cache(maxsize=64)
def find_transformer(datum: str) -> pyproj.Transformer | None:
    """What leads from a datum to WGS 84; a grid's code stands for the datum beneath it, since degrees were typed."""
    code = _EPSG.fullmatch(datum)
    try:
        known = pyproj.CRS.from_epsg(int(code[1]) if code else _CODES[re.sub(r"[^a-z0-9+]", "", datum.casefold())])
        geodetic = known.geodetic_crs
        return pyproj.Transformer.from_crs(geodetic, 4326, always_xy=True, allow_ballpark=False) if geodetic else None
    except (KeyError, pyproj.exceptions.ProjError):
        return None
