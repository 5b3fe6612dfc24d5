"""Grid references against the geodesy library pyproj (EPSG:27700 British, EPSG:29902 Irish, EPSG:326xx UTM)."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from pyproj import Geod, Transformer

from guidebuild.fieldwork.grid_letters import squares_in
from guidebuild.fieldwork.grids import BRITISH, IRISH, project_to_utm

GEOD = Geod(ellps="WGS84")
TO_DEGREES = {
    code: Transformer.from_crs(code, "EPSG:4326", always_xy=True) for code in ("EPSG:27700", "EPSG:29902", "EPSG:32630", "EPSG:32733")
}


def apart(ours: tuple[float, float], theirs: tuple[float, float]) -> float:
    return float(GEOD.inv(ours[1], ours[0], *theirs)[2])


@given(st.floats(150_000, 640_000), st.floats(30_000, 950_000))
@settings(max_examples=60, deadline=None)
def test_british_grid(east: float, north: float) -> None:
    assert apart(BRITISH.degrees(east, north), TO_DEGREES["EPSG:27700"].transform(east, north)) < 0.02


@given(st.floats(50_000, 350_000), st.floats(40_000, 440_000))
@settings(max_examples=40, deadline=None)
def test_irish_grid(east: float, north: float) -> None:
    assert apart(IRISH.degrees(east, north), TO_DEGREES["EPSG:29902"].transform(east, north)) < 0.1


@given(st.floats(200_000, 800_000), st.floats(100_000, 8_900_000))
@settings(max_examples=60, deadline=None)
def test_universal_transverse_mercator(east: float, north: float) -> None:
    assert apart(project_to_utm(30).degrees(east, north), TO_DEGREES["EPSG:32630"].transform(east, north)) < 2
    mirrored = 10_000_000 - north
    assert apart(project_to_utm(33, south=True).degrees(east, mirrored), TO_DEGREES["EPSG:32733"].transform(east, mirrored)) < 2


@given(st.sampled_from([200_000, 800_000]), st.floats(100_000, 6_700_000))
@settings(max_examples=60, deadline=None)
def test_up_to_sixty_degrees_a_grid_is_right_to_millimetres_as_far_as_its_zone_reaches(east: float, north: float) -> None:
    assert apart(project_to_utm(30).degrees(east, north), TO_DEGREES["EPSG:32630"].transform(east, north)) < 0.002


@given(st.floats(400_000, 600_000), st.floats(100_000, 7_500_000))
@settings(max_examples=60, deadline=None)
def test_near_its_meridian_a_grid_is_right_to_a_fifth_of_a_millimetre(east: float, north: float) -> None:
    assert apart(project_to_utm(30).degrees(east, north), TO_DEGREES["EPSG:32630"].transform(east, north)) < 0.0002


def test_a_square_says_how_large_it_is_and_where_it_stands() -> None:
    text = "at SU 501 367 and 30U 620064 5665461, 30UXB 20 65"
    told = {(text[s.start : s.end], s.side) for s in squares_in(text)}
    assert {("SU 501 367", 100), ("30U 620064 5665461", 1), ("30UXB 20 65", 1000)} <= told


# Squares of 100 km as lettered: British SU is 400 km east and 100 km north, HP 400 and 1200, TV 500 and 0, NN 200 and 700
# (Ordnance Survey's index, from memory); Irish J is 300 and 300. MGRS 4QFJ 12345 67890 is zone 4, 612345 E, 2367890 N (from memory).
CORNERS = [
    ("SU 12345 67890", "EPSG:27700", 412_345, 167_890),
    ("HP6234512890", "EPSG:27700", 462_345, 1_212_890),
    ("TV 12345 67890", "EPSG:27700", 512_345, 67_890),
    ("NN 12345 67890", "EPSG:27700", 212_345, 767_890),
    ("J 12345 67890", "EPSG:29902", 312_345, 367_890),
    ("4QFJ 12345 67890", "EPSG:32604", 612_345, 2_367_890),
    ("30U 618123 5662345", "EPSG:32630", 618_123, 5_662_345),
]


@pytest.mark.parametrize(("text", "code", "east", "north"), CORNERS)
def test_letters_name_their_square(text: str, code: str, east: int, north: int) -> None:
    spot = Transformer.from_crs(code, "EPSG:4326", always_xy=True).transform(east + 0.5, north + 0.5)
    assert min(apart((s.latitude, s.longitude), spot) for s in squares_in(f"seen at {text}, twice")) < 0.1


@given(st.floats(-79, 83.9), st.floats(-179.9, 179.9))
@example(-56.0, 0.0)  # at the southern edge of its band, in a square that begins below it
@example(-72.0, 3.0)
@settings(max_examples=150, deadline=None)
def test_military_references_lead_back(latitude: float, longitude: float) -> None:
    """The letters are made here from the published scheme, forwards, and read backwards by the code."""
    zone = int((longitude + 180) // 6) + 1
    code = f"EPSG:{32600 if latitude >= 0 else 32700}".replace("00", "") + f"{zone:02}"
    east, north = Transformer.from_crs("EPSG:4326", code, always_xy=True).transform(longitude, latitude)
    band = "CDEFGHJKLMNPQRSTUVWX"[min(int((latitude + 80) // 8), 19)]
    column = ("STUVWXYZ", "ABCDEFGH", "JKLMNPQR")[zone % 3][int(east // 100_000) - 1]
    row = "ABCDEFGHJKLMNPQRSTUV"[(int(north // 100_000) + (5 if zone % 2 == 0 else 0)) % 20]
    text = f"{zone}{band}{column}{row} {int(east % 100_000):05} {int(north % 100_000):05}"
    assert min(apart((s.latitude, s.longitude), (longitude, latitude)) for s in squares_in(text)) < 1
