"""Grid references → degrees on WGS 84, to a few metres: good enough to say that a reference points at a place."""

from __future__ import annotations

import math
from dataclasses import dataclass

_SECOND = math.pi / 648_000


@dataclass(frozen=True, slots=True)
class Ellipsoid:
    """Half axes in metres."""

    a: float
    b: float

    @property
    def e2(self) -> float:
        """First eccentricity squared."""
        return 1 - (self.b / self.a) ** 2


WGS84 = Ellipsoid(6_378_137.0, 6_356_752.314245)
AIRY = Ellipsoid(6_377_563.396, 6_356_256.909)
AIRY_MODIFIED = Ellipsoid(6_377_340.189, 6_356_034.447)


@dataclass(frozen=True, slots=True)
class Shift:
    """Seven figures to WGS 84: metres, seconds of arc, parts in a million."""

    x: float
    y: float
    z: float
    rx: float
    ry: float
    rz: float
    scale: float


# Ordnance Survey, "A guide to coordinate systems in Great Britain" (from memory; checked in tests against pyproj).
OSGB36 = Shift(446.448, -125.157, 542.060, 0.1502, 0.2470, 0.8421, -20.4894)
IRELAND65 = Shift(482.53, -130.596, 564.557, -1.042, -0.214, -0.631, 8.15)


@dataclass(frozen=True, slots=True)
class Projection:
    """A transverse Mercator projection: origin in degrees, scale there, false easting and northing in metres."""

    shape: Ellipsoid
    latitude: float
    longitude: float
    scale: float
    east: float
    north: float
    shift: Shift | None = None

    def degrees(self, east: float, north: float) -> tuple[float, float]:
        """Latitude and longitude on WGS 84 of a spot."""
        spot = _unproject(self, east, north)
        return spot if self.shift is None else _shifted(spot, self.shape, self.shift)


BRITISH = Projection(AIRY, 49.0, -2.0, 0.9996012717, 400_000.0, -100_000.0, OSGB36)
IRISH = Projection(AIRY_MODIFIED, 53.5, -8.0, 1.000035, 200_000.0, 250_000.0, IRELAND65)


def project_to_utm(zone: int, *, south: bool = False) -> Projection:
    """A zone of the Universal Transverse Mercator system."""
    return Projection(WGS84, 0.0, zone * 6 - 183.0, 0.9996, 500_000.0, 10_000_000.0 if south else 0.0)


def _arc(phi: float, shape: Ellipsoid) -> float:
    """Metres along a meridian from the equator (Krüger's series in the third flattening n; from n⁴ on less than 0.1 mm is left out)."""
    n = (shape.a - shape.b) / (shape.a + shape.b)
    radius = shape.a / (1 + n) * (1 + n**2 / 4)
    terms = (-3 * n / 2 + 9 * n**3 / 16, 15 * n**2 / 16, -35 * n**3 / 48)
    return radius * (phi + math.fsum(term * math.sin(2 * k * phi) for k, term in enumerate(terms, 1)))


def _unproject(grid: Projection, east: float, north: float) -> tuple[float, float]:
    """Degrees on the grid's own ellipsoid; series of the inverse transverse Mercator projection."""
    shape = grid.shape
    wanted = (north - grid.north) / grid.scale + _arc(math.radians(grid.latitude), shape)
    phi = wanted / shape.a
    for _ in range(8):
        phi += (wanted - _arc(phi, shape)) / shape.a
    bend = 1 - shape.e2 * math.sin(phi) ** 2
    nu, rho = shape.a / math.sqrt(bend), shape.a * (1 - shape.e2) / bend**1.5
    t, eta, secant = math.tan(phi), nu / rho - 1, 1 / math.cos(phi)
    d = (east - grid.east) / (grid.scale * nu)
    latitude = phi - t * nu / rho * (
        d**2 / 2
        - d**4 / 24 * (5 + 3 * t**2 + eta - 9 * t**2 * eta)
        + d**6 / 720 * (61 + 90 * t**2 + 45 * t**4)
    )  # fmt: skip
    longitude = secant * (
        d
        - d**3 / 6 * (nu / rho + 2 * t**2)
        + d**5 / 120 * (5 + 28 * t**2 + 24 * t**4)
        - d**7 / 5040 * (61 + 662 * t**2 + 1320 * t**4 + 720 * t**6)
    )  # fmt: skip
    return math.degrees(latitude), grid.longitude + math.degrees(longitude)


def _shifted(spot: tuple[float, float], shape: Ellipsoid, shift: Shift) -> tuple[float, float]:
    """From one datum to WGS 84 through space (Helmert transformation)."""
    phi, lam = map(math.radians, spot)
    nu = shape.a / math.sqrt(1 - shape.e2 * math.sin(phi) ** 2)
    x, y, z = nu * math.cos(phi) * math.cos(lam), nu * math.cos(phi) * math.sin(lam), nu * (1 - shape.e2) * math.sin(phi)
    size = 1 + shift.scale / 1e6
    rx, ry, rz = (angle * _SECOND for angle in (shift.rx, shift.ry, shift.rz))
    moved = (
        shift.x + size * x - rz * y + ry * z,
        shift.y + rz * x + size * y - rx * z,
        shift.z - ry * x + rx * y + size * z,
    )
    return _from_space(*moved)


def _from_space(x: float, y: float, z: float) -> tuple[float, float]:
    flat = math.hypot(x, y)
    phi = math.atan2(z, flat)
    for _ in range(6):
        nu = WGS84.a / math.sqrt(1 - WGS84.e2 * math.sin(phi) ** 2)
        phi = math.atan2(z + WGS84.e2 * nu * math.sin(phi), flat)
    return math.degrees(phi), math.degrees(math.atan2(y, x))
