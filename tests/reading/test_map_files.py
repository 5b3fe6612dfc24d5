"""Files of outlines, lines and tracks: what is read of them, and one clear line for each that cannot be."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from guidebuild.guide.region import MapGrid, Region
from guidebuild.reading.map_squares import choose_grid, parse_squares
from guidebuild.reading.memory import Memory
from guidebuild.reading.whole import GuideReading, read_guide
from tests.guide_files import write_files

MAP = "guide.yaml:2:6"
RING = [[-1.3, 51.4], [-1.1, 51.4], [-1.1, 51.6], [-1.3, 51.6], [-1.3, 51.4]]
GPX = '<?xml version="1.0"?>\n<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">{}</gpx>'
TRACK = GPX.format('<trk><trkseg><trkpt lat="51.5" lon="-1.2"><ele>9</ele></trkpt><trkpt lat="51.51" lon="-1.21"/></trkseg></trk>')
WALK = "title: Out\ndate: 2026-09-06\nstart: 10:30\nmeet: The gate\ntrack: walks/out.gpx\nstops: []\n"


def polygon(*rings: object) -> str:
    return json.dumps({"type": "Polygon", "coordinates": rings})


def read(tmp_path: Path, files: dict[str, str], settings: str = "map: r.geojson\n") -> GuideReading:
    return read_guide(write_files(tmp_path, {"guide.yaml": f"title: Toads\n{settings}", **files}))


def region(reading: GuideReading) -> Region | None:
    assert reading.guide is not None
    return reading.guide.region


def told(reading: GuideReading) -> list[str]:
    return [f"{f.code} {'AT' if str(f.at) == MAP else f.at}: {f.message}" for f in reading.findings]


def test_an_outline_is_read_with_its_lines_and_grid(tmp_path: Path) -> None:
    stream = json.dumps({"type": "LineString", "coordinates": [[-1.2, 51.5], [-1.21, 51.52]]})
    said = "country: GB\nmap:\n  outline: r.geojson\n  lines: s.geojson\n  squares: 2 km\n  recent: 5 years\n"
    found = read(tmp_path, {"r.geojson": polygon(RING), "s.geojson": stream}, said)
    assert told(found) == []
    made = region(found)
    assert made is not None
    assert made.grid.size == 2000
    assert made.grid.epsg == 27700
    assert (made.recent, len(made.lines), len(made.outline)) == (5, 1, 1)


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("r.gpx", GPX.format("<trk><trkseg>" + "".join(f'<trkpt lat="{y}" lon="{x}"/>' for x, y in RING) + "</trkseg></trk>")),
        ("r.kml", '<kml xmlns="http://www.opengis.net/kml/2.2"><Polygon><outerBoundaryIs><LinearRing><coordinates>'
                  + " ".join(f"{x},{y},0" for x, y in RING) + "</coordinates></LinearRing></outerBoundaryIs></Polygon></kml>"),
    ],
)  # fmt: skip
def test_other_kinds_of_file_draw_the_same_outline(tmp_path: Path, file: str, text: str) -> None:
    here = region(read(tmp_path / "a", {file: text}, f"map: {file}\n"))
    there = region(read(tmp_path / "b", {"r.geojson": polygon(RING)}))
    assert here is not None
    assert there is not None
    assert here.outline == there.outline


BROKEN = {
    "open": (polygon(RING[:-1]),
             "map-open AT: r.geojson: the outline is open: it begins at 51.4000, -1.3000 and ends at 51.6000, -1.3000.", True),
    "the wrong way round": (polygon(RING[::-1]), "map-inside-out AT: r.geojson: a ring of the outline runs the wrong way round.", True),
    "crossing itself": (polygon([RING[0], RING[2], RING[1], RING[3], RING[0]]),
                        "map-crosses-itself AT: r.geojson: the outline crosses itself at 51.5000, -1.2000.", False),
    "two corners": (polygon([RING[0], RING[1], RING[0]]), "map-not-readable AT: r.geojson: a ring has fewer than three corners.", False),
    "no JSON": ("{", "map-not-readable AT: r.geojson is no GeoJSON (line 1).", False),
    "no GeoJSON": ('{"a": 1}', "map-not-readable AT: r.geojson is no GeoJSON: something in it has no “type”.", False),
    "very deep": ("[" * 100_000, "map-not-readable AT: r.geojson is no GeoJSON.", False),
    "no positions": (polygon(["a"]), 'map-not-readable AT: r.geojson: "a" is no position.', False),
    "no numbers": (polygon([[None, 1]] * 4), "map-not-readable AT: r.geojson: [null, 1] is no position.", False),
    "metres": (polygon([[450000, 180000]] * 4),
               "map-not-readable AT: r.geojson: 450000, 180000 is no longitude and latitude.", False),
    "points alone": ('{"type": "Point", "coordinates": [1, 2]}', "map-not-readable AT: r.geojson holds no area and no line.", False),
}  # fmt: skip


@pytest.mark.parametrize("case", BROKEN)
def test_each_broken_outline_is_told_in_one_line(tmp_path: Path, case: str) -> None:
    text, words, drawn = BROKEN[case]
    found = read(tmp_path, {"r.geojson": text})
    assert told(found) == [words]
    assert bool(region(found)) == drawn


def test_a_map_file_that_is_not_there_or_not_in_the_guide_is_told(tmp_path: Path) -> None:
    assert told(read(tmp_path, {})) == ["map-not-readable AT: There is no file r.geojson."]
    assert told(read(tmp_path, {}, "map: ../r.geojson\n")) == ["outside-guide AT: The file '../r.geojson' is not in the guide's folder."]
    assert told(read(tmp_path, {"r.txt": ""}, "map: r.txt\n")) == ["map-not-readable AT: r.txt is no map file."]


def test_half_a_million_corners_are_simplified_and_told(tmp_path: Path) -> None:
    many = 500_000
    ring = [[round(math.cos(n / many * 2 * math.pi) * 0.5, 7), round(50 + math.sin(n / many * 2 * math.pi) * 0.3, 7)] for n in range(many)]
    found = read(tmp_path, {"r.geojson": polygon([*ring, ring[0]])})
    made = region(found)
    assert made is not None
    left = len(list(made.corners()))
    assert left < 4001
    assert told(found) == [f"map-simplified AT: r.geojson has 500,001 corners; maps are drawn with {left:,} of them."]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("<gpx", "walks/out.gpx is no GPX (line 1)."),
        ('<!DOCTYPE gpx [<!ENTITY a "aaaa">]><gpx>&a;</gpx>', "walks/out.gpx declares entities, which no GPX needs, so it is not read."),
        (GPX.format('<trk><trkseg><trkpt lat="north" lon="1"/></trkseg></trk>'), 'walks/out.gpx: ["1", "north"] is no position.'),
        (GPX.format('<wpt lat="51" lon="1"/>'), "walks/out.gpx holds no area and no line."),
    ],
)
def test_each_broken_track_is_told_in_one_line(tmp_path: Path, text: str, words: str) -> None:
    found = read(tmp_path, {"walks/out.yaml": WALK, "walks/out.gpx": text}, "")
    assert [str(f.at) for f in found.findings] == ["walks/out.yaml:5:1"]
    assert told(found) == [f"map-not-readable walks/out.yaml:5:1: {words}"]


def test_a_track_that_changes_is_read_again_though_its_walk_stays(tmp_path: Path) -> None:
    write_files(tmp_path, {"guide.yaml": "title: Toads\n", "walks/out.yaml": WALK, "walks/out.gpx": TRACK})
    memory = Memory()
    first = read_guide(tmp_path, memory=memory).guide
    write_files(tmp_path, {"walks/out.gpx": TRACK.replace("51.51", "51.52")})
    second = read_guide(tmp_path, memory=memory).guide
    assert first is not None
    assert second is not None
    assert first.walks["out"].track == (((-1.2, 51.5), (-1.21, 51.51)),)
    assert second.walks["out"].track == (((-1.2, 51.5), (-1.21, 51.52)),)


@pytest.mark.parametrize(
    ("typed", "size", "degrees"),
    [
        ("1 km", 1000, False),
        ("100 m", 100, False),
        ("10km", 10_000, False),
        ("quarter degree", 0.25, True),
        ("0.5°", 0.5, True),
        ("1 degree", 1, True),
    ],
)
def test_sizes_of_squares_are_read_as_people_write_them(typed: str, size: float, degrees: bool) -> None:
    assert parse_squares(typed) == (size, degrees)


@pytest.mark.parametrize("typed", ["large", "quarter km", "5 m", "0 km", "90°", "1 mile"])
def test_other_sizes_of_squares_are_told(typed: str, tmp_path: Path) -> None:
    found = read(tmp_path, {"r.geojson": polygon(RING)}, f"map: {{outline: r.geojson, squares: {typed}}}\n")
    assert [f.code for f in found.findings] == ["unreadable-value"]


def area(west: float, south: float, across: float) -> tuple[tuple[tuple[tuple[float, float], ...], ...], ...]:
    return (((((west, south), (west + across, south), (west + across, south + across), (west, south + across), (west, south))),),)


@pytest.mark.parametrize(
    ("west", "south", "across", "country", "size", "epsg"),
    [
        (-1.22, 51.49, 0.03, "GB", 200, 27700),  # a parish
        (-1.5, 51.3, 0.8, "GB", 5000, 27700),  # a county
        (-9.0, 51.6, 3.5, "IE", 20_000, 29903),
        (-1.5, 51.3, 0.8, "", 5000, 32630),  # no country: UTM
        (-1.5, 51.3, 0.8, "NZ", 5000, 32630),  # a country that it does not lie in
        (150.0, -34.0, 2.0, "AU", 10_000, 32756),
        (179.5, -20.0, 1.0, "FJ", 5000, 32701),
        (-10.0, 36.0, 40.0, "", 2.0, 0),  # half a continent: degrees
    ],
)  # fmt: skip
def test_the_size_of_the_region_chooses_its_squares(west: float, south: float, across: float, country: str, size: float, epsg: int) -> None:
    grid: MapGrid = choose_grid(area(west, south, across), country, None)
    assert (grid.size, grid.epsg) == (size, epsg)
