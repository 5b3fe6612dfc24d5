"""A small picture of a state keeps within its photo and round its mark. All sizes and points are invented."""

from __future__ import annotations

import random
import re

import pytest

from guidebuild.press.outputs.site.cuts import STEPS, ZOOMS, state_picture_html
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.shipped import on_disk, themes
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.state_pictures import StatePicture

STYLE = (on_disk(themes()) / "plate" / "static" / "telling.css").read_text(encoding="utf-8")


def window(shown: StatePicture, width: int, height: int) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of what is seen, in parts of the photo."""
    copies = {"p": PictureSet(width, height, (Variant("webp", width, f"photos/p-{width}.webp", height),))}
    html = state_picture_html(shown, copies, root="").text
    zoom, x, y = (int(number) for number in re.search(r'class="cut z(\d+) x(\d+) y(\d+)"', html).groups())  # type: ignore[union-attr]
    across, down = 10 / zoom, 10 / zoom * width / height
    return x / STEPS - across / 2, y / STEPS - down / 2, x / STEPS + across / 2, y / STEPS + down / 2


@pytest.mark.parametrize("seed", range(60))
def test_a_window_keeps_within_the_photo_and_shows_its_mark(seed: int) -> None:
    draw = random.Random(seed)
    width, height = draw.choice([(360, 270), (360, 480), (360, 360), (360, 120)])
    point = draw.uniform(0, 100), draw.uniform(0, 100)
    measured = tuple(draw.uniform(10, 90) for _ in range(4)) if draw.random() < 0.6 else None
    left, top, right, bottom = window(StatePicture(PhotoView("p", "", measured=measured), point), width, height)  # type: ignore[arg-type]
    step = 1 / STEPS
    assert -step / 2 <= left < right <= 1 + step / 2
    assert -step / 2 <= top < bottom <= 1 + step / 2
    assert left - step <= point[0] / 100 <= right + step
    assert top - step <= point[1] / 100 <= bottom + step


def test_a_window_round_the_whole_shows_all_of_the_measured_body() -> None:
    shown = StatePicture(PhotoView("p", "", measured=(40.0, 20.0, 60.0, 80.0)))
    left, top, right, bottom = window(shown, 360, 270)
    assert left < 0.4
    assert right > 0.6
    assert top < 0.2
    assert bottom > 0.8


def test_a_small_mark_is_shown_larger_than_the_whole() -> None:
    photo = PhotoView("p", "", measured=(50.0, 20.0, 50.0, 80.0))
    whole, mark = window(StatePicture(photo), 360, 270), window(StatePicture(photo, (50.0, 50.0)), 360, 270)
    assert mark[2] - mark[0] < (whole[2] - whole[0]) / 2


def test_signs_are_drawn_and_what_is_missing_leaves_nothing() -> None:
    sign = state_picture_html(StatePicture(sign="green"), {}, root="").text
    assert "<svg" in sign
    assert "xmlns" not in sign
    assert 'aria-hidden="true"' in sign
    assert state_picture_html(None, {}, root="").text == ""
    assert state_picture_html(StatePicture(PhotoView("gone", "")), {}, root="").text == ""
    assert state_picture_html(StatePicture(sign="../../secret"), {}, root="").text == ""


def test_the_style_knows_every_step() -> None:
    for kind, numbers in (("z", ZOOMS), ("x", range(STEPS + 1)), ("y", range(STEPS + 1))):
        assert all(f".{kind}{number} {{ --{kind}: {number}; }}" in STYLE for number in numbers)
