"""Outlines as RFC 7946 (The GeoJSON Format, August 2016) has them: winding (3.1.6), holes (appendix A.3), the 180th meridian (3.1.9).

The polygon with a hole and the one that is cut in two are the RFC's own examples, written down from memory.
"""

from __future__ import annotations

import json
from pathlib import Path

from shapely import LinearRing, Polygon

from guidebuild.guide.region import box_of
from guidebuild.reading.map_files import list_rings, read_map_file
from guidebuild.reading.outlines import Outline, make_outline

SQUARE = [[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]]
HOLE = [[100.8, 0.8], [100.8, 0.2], [100.2, 0.2], [100.2, 0.8], [100.8, 0.8]]
EAST = [[180.0, 40.0], [180.0, 50.0], [170.0, 50.0], [170.0, 40.0], [180.0, 40.0]]
WEST = [[-170.0, 40.0], [-170.0, 50.0], [-180.0, 50.0], [-180.0, 40.0], [-170.0, 40.0]]


def outline_of(tmp_path: Path, geometry: object) -> Outline:
    (tmp_path / "r.geojson").write_text(json.dumps(geometry), encoding="utf-8")
    return make_outline(list_rings(read_map_file(tmp_path / "r.geojson", "r.geojson")), "r.geojson")


def codes(outline: Outline) -> list[str]:
    return [trouble.code for trouble in outline.troubles]


def test_a_polygon_with_a_hole_is_an_area_with_a_hole(tmp_path: Path) -> None:
    made = outline_of(tmp_path, {"type": "Polygon", "coordinates": [SQUARE, HOLE]})
    assert codes(made) == []
    (area,) = made.areas
    assert len(area) == 2
    assert round(Polygon(area[0], area[1:]).area, 6) == 1 - 0.36


def test_outer_rings_run_against_the_clock_and_holes_with_it(tmp_path: Path) -> None:
    turned = outline_of(tmp_path, {"type": "Polygon", "coordinates": [SQUARE[::-1], HOLE[::-1]]})
    straight = outline_of(tmp_path, {"type": "Polygon", "coordinates": [SQUARE, HOLE]})
    assert codes(turned) == ["map-inside-out"]
    assert turned.areas == straight.areas  # parsers should not reject it: it is drawn as meant
    outer, hole = straight.areas[0]
    assert LinearRing(outer).is_ccw
    assert not LinearRing(hole).is_ccw


def test_a_region_cut_at_the_180th_meridian_is_drawn_as_one(tmp_path: Path) -> None:
    made = outline_of(tmp_path, {"type": "MultiPolygon", "coordinates": [[EAST], [WEST]]})
    assert codes(made) == []
    (area,) = made.areas
    assert box_of(iter(area[0])) == (170.0, 40.0, 190.0, 50.0)
    assert Polygon(area[0]).area == 200


def test_a_region_that_jumps_over_the_180th_meridian_is_drawn_as_one(tmp_path: Path) -> None:
    jumping = [[170.0, 40.0], [-170.0, 40.0], [-170.0, 50.0], [170.0, 50.0], [170.0, 40.0]]
    made = outline_of(tmp_path, {"type": "Polygon", "coordinates": [jumping]})
    assert codes(made) == []
    assert box_of(iter(made.areas[0][0])) == (170.0, 40.0, 190.0, 50.0)


def test_features_and_collections_are_looked_into_and_altitudes_left_out(tmp_path: Path) -> None:
    high = [[*spot, 30.0] for spot in SQUARE]
    feature = {"type": "Feature", "properties": None, "geometry": {"type": "Polygon", "coordinates": [high]}}
    nothing = {"type": "Feature", "properties": {}, "geometry": None}
    inside = {"type": "GeometryCollection", "geometries": [{"type": "Point", "coordinates": [1, 2]}, feature["geometry"]]}
    whole = {"type": "FeatureCollection", "features": [nothing, feature, {"type": "Feature", "properties": {}, "geometry": inside}]}
    assert len(outline_of(tmp_path, whole).areas) == 1
