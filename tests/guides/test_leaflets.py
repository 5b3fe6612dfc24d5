"""A walk's leaflet shows what is out on its day: the picture and the marks of those stages, and of no other."""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image

from guidebuild.fieldwork.claims import is_mark_of
from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.paper.formats import format_named
from guidebuild.press.photos.print_copy import Picture
from guidebuild.session import open_session
from guidebuild.views.cards.printed import leaflet_views, out_on_walk
from tests.guides.whole_guides import NAMES, copy_guide
from tests.press.small_guide import THEME


@pytest.mark.parametrize("name", NAMES)
def test_a_panel_shows_a_stage_that_is_out_with_its_marks(name: str, tmp_path: Path) -> None:
    guide = make_published(open_session(copy_guide(name, tmp_path)).guide)
    (walk,), (leaflet,) = guide.walks.values(), leaflet_views(guide)
    out = {one.account: one.stages for one in out_on_walk(guide, walk)}
    for card in leaflet.cards:
        account, stages = guide.accounts[card.id], out[card.id]
        assert card.plate
        pictured = {photo.stage for photo in guide.photos_of(account)}
        assert guide.photos[card.plate.id].stage in ("", *stages) or not pictured & set(stages), card.id
        true = [mark for mark in account.diagnostics if any(is_mark_of(mark, (stage,)) for stage in stages)]
        assert [mark.words for mark in card.marks] == [mark.mark.words for mark in true or account.diagnostics], card.id
        assert [mark.number for mark in card.marks] == list(range(1, len(card.marks) + 1))
        for shown, mark in zip(card.marks, true, strict=False):
            assert bool(shown.stage) is bool(mark.stages)
            assert shown.sex in shown.whose
    assert leaflet.cover == leaflet.cards[0].plate


def test_no_bird_of_january_wears_its_breeding_plumage(tmp_path: Path) -> None:
    guide = make_published(open_session(copy_guide("estuary-waders", tmp_path)).guide)
    (leaflet,) = leaflet_views(guide)
    said = {
        card.name.vernacular: [f"{mark.words} ({mark.whose})" if mark.whose else mark.words for mark in card.marks]
        for card in leaflet.cards
    }
    assert said["Dunlin"] == ["bill that droops a little at the tip (winter plumage)"]
    assert said["Curlew"][:2] == ["very long bill, curved down (female)", "shorter bill, curved down (male)"]
    assert "breeding" not in str([[mark.whose for mark in card.marks] for card in leaflet.cards])
    assert {guide.photos[card.plate.id].stage for card in leaflet.cards if card.plate} == {
        "winter",
        "",
    }  # a Redshank in flight is no stage's


def test_a_leaflet_without_a_walk_shows_the_usual_pictures(tmp_path: Path) -> None:
    folder = copy_guide("estuary-waders", tmp_path)
    for walk in (folder / "walks").iterdir():
        walk.unlink()
    guide = make_published(open_session(folder).guide)
    (leaflet,) = leaflet_views(guide)
    plates = {card.id: card.plate.id for card in leaflet.cards if card.plate}
    assert plates["dunlin"] == "dunlin-breeding"


def test_a_year_that_has_no_room_loses_the_stages_that_no_one_looks_for_first(tmp_path: Path) -> None:
    """Three panels of flowers said nothing of when, above a quarter of white: the rows of six stages were a line too high."""
    folder = copy_guide("spring-flowers", tmp_path)
    guide = make_published(open_session(folder).guide)
    pictures = {}
    for photo in guide.photos.values():
        with Image.open(folder / photo.file) as picture:
            pictures[photo.id] = Picture(folder / photo.file, *picture.size)
    (view,) = leaflet_views(guide)
    result = render_leaflet(view, pictures, format_named("leaflet-a4"), THEME)
    left_out = {
        name: problem.message for problem in result.problems for name in ("Lords-and-Ladies", "Wood Anemone") if name in problem.message
    }
    assert all(message.endswith("the season “seed”") for message in left_out.values()) and len(left_out) == 2
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        words = [word["text"] for word in opened.pages[0].extract_words()]
    assert (
        len([word for word in words if word in ("When", "nehW")]) == len(view.cards) - 1
    )  # of Ramsons so much is said that no row has room
