"""A track alone is drawn too, where a guide has no outline: on blank paper, as wide as the way. All invented."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.distances import measure_metres
from guidebuild.guide.projection import unproject_line
from guidebuild.guide.region import MapGrid
from guidebuild.reading.whole import read_guide
from guidebuild.views.pieces.maps import MapView, map_of_account, map_of_walk
from guidebuild.views.pieces.parts import make_pieces
from tests.guide_files import write_files

GUIDE = "title: Bugs\nregion: The Vale\ngroup: true-bug\n"
ACCOUNT = "---\nname: Apertus communis\nplaces: [hill]\n---\n## In brief\nCommon.\n"
PLACES = """
hill: {name: Long Hill, position: "51.5034, -1.1987"}
lane: {name: Green Lane, position: "51.4990, -1.2050"}
pond: {name: Withy Pond, area: The Vale, position: "%s", sensitive: low}
"""
WALK = "title: Out\ndate: 2026-09-06\nstart: 10:30\nmeet: The gate\nstops: [{place: hill}, {place: lane}]\n"
TRACK = """<gpx><trk><trkseg><trkpt lat="51.5034" lon="-1.1987"/><trkpt lat="51.5010" lon="-1.2000"/>
<trkpt lat="51.4990" lon="-1.2050"/></trkseg></trk></gpx>"""
FAR, NEAR = "51.6000, -1.4000", "51.5010, -1.2010"


def publish(folder: Path, *, pond: str = FAR, walk: str = WALK + "track: walks/out.gpx\n", track: str = TRACK) -> Published:
    files = {
        "guide.yaml": GUIDE,
        "accounts/open-bug.md": ACCOUNT,
        "places.yaml": PLACES % pond,
        "walks/out.yaml": walk,
        "walks/out.gpx": track,
    }
    guide = read_guide(write_files(folder, files), as_of=dt.date(2026, 11, 28)).guide
    assert guide is not None
    return make_published(guide)


def draw(guide: Published) -> MapView | None:
    return map_of_walk(make_pieces(guide), guide.walks["out"])


def find_ground(drawn: MapView, spot: tuple[float, float]) -> tuple[float, float]:
    """Degrees north and east of a spot of the drawing, as a map tells of itself."""
    size, epsg, west, east, north, left, top, unit = map(float, drawn.frame.split())
    ((longitude, latitude),) = unproject_line(
        MapGrid(size, int(epsg), west, (east, north)), [(left + spot[0] * unit, top - spot[1] * unit)]
    )
    return latitude, longitude


def test_a_track_is_drawn_without_an_outline(tmp_path: Path) -> None:
    drawn = draw(publish(tmp_path))
    assert drawn is not None
    assert [dot.number for dot in drawn.dots] == [1, 2]
    assert drawn.way.count("L") == 2
    assert measure_metres(find_ground(drawn, (drawn.dots[0].x, drawn.dots[0].y)), (51.5034, -1.1987)) < 2
    assert all(20 < dot.x < drawn.width - 20 and 20 < dot.y < drawn.height - 20 for dot in drawn.dots)
    assert drawn.scale_words in {"100 m", "200 m"}
    assert drawn.lines == ""


def test_without_an_outline_nothing_else_is_drawn(tmp_path: Path) -> None:
    guide = publish(tmp_path)
    assert map_of_account(make_pieces(guide), guide.accounts["open-bug"]) is None
    assert draw(publish(tmp_path / "no-track", walk=WALK)) is None


def test_a_track_past_a_secret_place_is_not_drawn_here_either(tmp_path: Path) -> None:
    assert draw(publish(tmp_path, pond=NEAR)) is None


@pytest.mark.parametrize("east", [-179.999, 179.999])
def test_a_track_over_the_180th_meridian_is_drawn_as_wide_as_it_is(tmp_path: Path, east: float) -> None:
    track = '<gpx><trk><trkseg><trkpt lat="-16.500" lon="179.998"/><trkpt lat="-16.504" lon="-179.996"/></trkseg></trk></gpx>'
    places = PLACES.replace("51.5034, -1.1987", f"-16.501, {east}").replace("51.4990, -1.2050", "-16.503, -179.997")
    files = {"guide.yaml": GUIDE, "places.yaml": places % FAR, "walks/out.yaml": WALK + "track: walks/out.gpx\n", "walks/out.gpx": track}
    guide = read_guide(write_files(tmp_path, files), as_of=dt.date(2026, 11, 28)).guide
    assert guide is not None
    drawn = draw(make_published(guide))
    assert drawn is not None
    assert drawn.scale_words.endswith(" m")
    assert all(0 < dot.x < drawn.width and 0 < dot.y < drawn.height for dot in drawn.dots)
