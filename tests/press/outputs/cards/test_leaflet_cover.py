"""The cover of a leaflet: day, time, meeting point, stops and map of its walk; what has no room is told, and nothing secret is on it."""

from __future__ import annotations

import datetime as dt
import io
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pikepdf
import pytest

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import OPEN
from guidebuild.press.leak_scan import file_leaks
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.setup import CardResult
from guidebuild.reading.whole import read_guide
from guidebuild.views.cards.printed import LeafletView, leaflet_views
from tests.guide_files import write_files
from tests.outside.structure_rules import judge_structure
from tests.press.outputs.test_type_sizes import LEAST, find_sizes
from tests.press.small_guide import THEME
from tests.press.test_map_secrets import FILES, HEAD, ROWS


@pytest.fixture
def guide(tmp_path: Path) -> Guide:
    """All invented: a walk with a secret pond among its stops."""
    found = read_guide(write_files(tmp_path, {**FILES, "sightings/all.csv": HEAD + ROWS}), as_of=dt.date(2026, 11, 28))
    assert found.guide is not None
    return found.guide


def open_guide(guide: Guide) -> Published:
    """The same where nothing is kept secret: then all of the way is drawn."""
    unkept = {ident: replace(place, sensitivity=OPEN) for ident, place in guide.places.items()}
    return make_published(replace(guide, places=unkept, accounts={"open-bug": guide.accounts["open-bug"]}))


def view_of(published: Published) -> LeafletView:
    (view,) = leaflet_views(published)
    return view


def print_leaflet(view: LeafletView) -> CardResult:
    return render_leaflet(view, {}, format_named("leaflet-a4"), THEME)


def words_on(pdf: bytes) -> str:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return " ".join(" ".join((page.extract_text() or "").split()) for page in opened.pages)


def find_figures(pdf: bytes) -> list[str]:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return [str(thing.Alt) for thing in opened.objects if isinstance(thing, pikepdf.Dictionary) and "/Alt" in thing]


def test_the_cover_says_when_and_where_one_meets_and_shows_the_way(guide: Guide, tmp_path: Path) -> None:
    view = view_of(open_guide(guide))
    assert (view.under, view.meet, view.stops) == ("6 September 2026, 10:30", "The gate", ("Long Hill", "Withy Pond", "Green Lane"))
    assert view.map is not None
    assert [(dot.number, dot.label) for dot in view.map.dots] == [(1, None), (2, None), (3, None)]
    result = print_leaflet(view)
    assert not any("panel 1" in problem.message for problem in result.problems)
    figures = find_figures(result.pdf)
    assert "Map: the way of the walk" in figures
    assert "flag" in figures
    words = words_on(result.pdf)
    for said in ("6 September 2026, 10:30", "Meet The gate", "1. Long Hill", "2. Withy Pond", "3. Green Lane"):
        assert said in words
    (tmp_path / "leaflet.pdf").write_bytes(result.pdf)
    assert min(find_sizes(tmp_path / "leaflet.pdf")) >= LEAST
    assert judge_structure(tmp_path / "leaflet.pdf") == []


def test_a_full_cover_says_where_the_map_is(guide: Guide) -> None:
    long = "The gate behind the village hall, past the second bench, where the lane bends round the old elm and the stream is near"
    result = print_leaflet(replace(view_of(open_guide(guide)), title="A very long walk " * 7, meet=f"{long}; {long}"))
    assert result.pdf
    assert "Map: the way of the walk" not in find_figures(result.pdf)
    assert "The map is in the leader’s pack." in words_on(result.pdf)
    assert any("panel 1 leaves out: map" in problem.message for problem in result.problems)


def test_nothing_of_a_map_is_said_where_there_is_none(guide: Guide) -> None:
    mapless = make_published(replace(guide, region=None))
    view = view_of(mapless)
    assert view.map is None
    assert view.stops
    assert "leader’s pack" not in words_on(print_leaflet(view).pdf)


def test_a_secret_stop_is_on_no_cover(guide: Guide) -> None:
    published = make_published(guide)
    view = view_of(published)
    assert not any("Pond" in stop for stop in view.stops)
    assert view.map is not None
    assert [dot.number for dot in view.map.dots] == [1, 3]
    secrets = replace(secrets_of(guide), told=published.told_positions())
    assert list(file_leaks("leaflet.pdf", print_leaflet(view).pdf, secrets)) == []
    leaking = replace(view, stops=(*view.stops, "Withy Pond"))
    assert any("Withy Pond" in problem.message for problem in file_leaks("leaflet.pdf", print_leaflet(leaking).pdf, secrets))
