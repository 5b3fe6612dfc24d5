"""Nothing of an animal is cut off where its photo says how far it reaches: every pixel of its colour is counted in what is shown.

The animals are drawn: a body along the measured line, and wings that go further than any line says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, hypot, pi, sin
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from PIL import Image, ImageDraw

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.booklet.plates import draw_pictures
from guidebuild.press.outputs.cards.side import draw_side
from guidebuild.press.outputs.cards.small_pictures import draw_strip, draw_thumbs
from guidebuild.press.outputs.cards.walk_sheets import _draw as draw_sought
from guidebuild.press.outputs.site.cuts import STEPS, state_picture_html
from guidebuild.press.outputs.site.plate import small_picture_html
from guidebuild.press.outputs.site.side_plates import draw_side_by_side
from guidebuild.press.paper.drawing import PLAIN
from guidebuild.press.paper.formats import Area
from guidebuild.press.photos.print_copy import Picture
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.reading.whole import read_guide
from guidebuild.views.cards.card import card_views
from guidebuild.views.pieces.common import LinkView, MarkView, PhotoView
from guidebuild.views.pieces.state_pictures import StatePicture
from guidebuild.views.telling.side_by_side import SideBySide, SidePlate
from guidebuild.words import words
from tests.guides.whole_guides import HERE

SKY, ANIMAL = (222, 226, 214), (176, 32, 96)
Spot = tuple[float, float]


class Drawn(NamedTuple):
    """An animal: corners in lengths of its body, along and across from the middle of the line, and what its entry says of its reach."""

    corners: tuple[Spot, ...]
    reach: tuple[float, float]


ANIMALS = {
    "moth with wings swept forward": Drawn(((0.5, 0), (0.75, 1.6), (-0.2, 1.2), (-0.5, 0), (-0.2, -1.2), (0.75, -1.6)), (28, 163)),
    "bird in flight": Drawn(
        ((0.5, 0), (0.15, 0.3), (0.3, 2.4), (-0.1, 0.3), (-0.6, 0), (-0.1, -0.3), (0.3, -2.4), (0.15, -0.3)), (14, 243)
    ),
    "dragonfly": Drawn(((0.5, 0), (0.4, 0.75), (0.2, 0.05), (-0.5, 0.03), (-0.5, -0.03), (0.2, -0.05), (0.4, -0.75)), (3, 78)),
    "crane fly": Drawn(((0.5, 0), (1.4, 1.7), (0, 0.06), (-1.5, 1.3), (-0.5, 0), (-1.5, -1.3), (0, -0.06), (1.4, -1.7)), (103, 173)),
    "newt with a long tail": Drawn(((0.5, 0.1), (-0.5, 0.12), (-1.3, 0), (-0.5, -0.12), (0.5, -0.1)), (83, 15)),
}
PICTURES = ((480, 360), (360, 480), (480, 200), (200, 480), (400, 400))
TURNS = (0, 30, 45, 90, 200)


@dataclass(frozen=True)
class Shot:
    """A picture of an animal, and what its entry says."""

    picture: Image.Image
    photo: PhotoView

    @property
    def shape(self) -> float:
        """Height over width."""
        return self.picture.height / self.picture.width

    def pixels(self) -> int:
        """How many show the animal."""
        return _count(self.picture)

    def seen(self, left: float, top: float, right: float, foot: float) -> int:
        """How many of them a part shows; its sides in shares of the picture's width and height."""
        wide, high = self.picture.size
        return _count(self.picture.crop((round(left * wide), round(top * high), round(right * wide), round(foot * high))))


def _count(picture: Image.Image) -> int:
    return sum(count for count, colour in picture.getcolors(maxcolors=1 << 24) or () if colour == ANIMAL)


def shoot(name: str, size: tuple[int, int], turn: float, at: Spot = (0.5, 0.5)) -> Shot:
    """An animal as large as the picture holds it, turned by degrees; where it is not in the middle, half as large."""
    corners, reach = ANIMALS[name]
    wide, high = size
    along, across = (cos(turn * pi / 180), sin(turn * pi / 180)), (-sin(turn * pi / 180), cos(turn * pi / 180))
    turned = [(u * along[0] + v * across[0], u * along[1] + v * across[1]) for u, v in corners]
    most = 0.96 if at == (0.5, 0.5) else 0.46
    length = min(most * wide / 2 / max(abs(x) for x, _ in turned), most * high / 2 / max(abs(y) for _, y in turned))
    middle = at[0] * wide, at[1] * high
    picture = Image.new("RGB", size, SKY)
    ImageDraw.Draw(picture).polygon([(middle[0] + x * length, middle[1] + y * length) for x, y in turned], fill=ANIMAL)
    ends = [(middle[0] + side * along[0] * length, middle[1] + side * along[1] * length) for side in (-0.5, 0.5)]
    (x1, y1), (x2, y2) = ((100 * x / wide, 100 * y / high) for x, y in ends)
    photo = PhotoView(f"{name}-{turn}-{wide}".replace(" ", "-"), name, length=30.0, measured=(x1, y1, x2, y2), reach=reach)
    return Shot(picture, photo)


def all_shots() -> Iterator[Shot]:
    for name in ANIMALS:
        for size in PICTURES:
            for turn in TURNS:
                for at in ((0.5, 0.5), (0.3, 0.68)):
                    yield shoot(name, size, turn, at)


def published(shot: Shot) -> dict[str, PictureSet]:
    wide, high = shot.picture.size
    return {shot.photo.id: PictureSet(wide, high, (Variant("webp", wide, "photos/p.webp", high),))}


def printed(shot: Shot) -> dict[str, Picture]:
    return {shot.photo.id: Picture(Path(f"{shot.photo.id}.jpg"), *shot.picture.size)}


def plates(*photos: PhotoView) -> SideBySide:
    return SideBySide(tuple(SidePlate(LinkView(photo.alt, ""), photo) for photo in photos))


def parts_on_paper(svg: str, area: Area) -> Iterator[tuple[float, float, float, float]]:
    """What each image of a drawing shows, in shares of the picture: cut by its window and by the drawing's edge, or cut out beforehand."""
    for window, address, place in _IMAGE.findall(svg):
        x, y, wide, high = _sides(place)
        cut = _CUT_OUT.search(address)
        if cut:
            left, top, right, foot = (int(edge) / 10_000 for edge in cut.groups())
            yield left, top, right, foot
            continue
        left, top, right, foot = 0.0, 0.0, area.width, area.height
        if window:
            wx, wy, ww, wh = _sides(window)
            left, top, right, foot = max(left, wx), max(top, wy), min(right, wx + ww), min(foot, wy + wh)
        yield (left - x) / wide, (top - y) / high, (right - x) / wide, (foot - y) / high


_IMAGE = re.compile(r'(?:<clipPath id="[^"]*"><rect ([^>]*)/></clipPath><g[^>]*>)?<image href="([^"]+)" ([^>]*)/>')
_CUT_OUT = re.compile(r"/(\d+)\.(\d+)\.(\d+)\.(\d+)/")


def _sides(attributes: str) -> tuple[float, float, float, float]:
    said = dict(re.findall(r'(\w+)="(-?[\d.]+)"', attributes))
    return float(said["x"]), float(said["y"]), float(said["width"]), float(said["height"])


def test_lists_show_every_pixel() -> None:
    for shot in all_shots():
        html = small_picture_html(shot.photo, published(shot), root="").text
        x, y, wide, high = (float(side) for side in re.search(r'viewBox="([^"]+)"', html)[1].split())  # type: ignore[index]
        part = x / 100, y / 100 / shot.shape, (x + wide) / 100, (y + high) / 100 / shot.shape
        assert shot.seen(*part) == shot.pixels(), shot.photo


def test_small_pictures_of_answers_show_every_pixel() -> None:
    for shot in all_shots():
        html = state_picture_html(StatePicture(shot.photo), published(shot), root="").text
        zoom, x, y = (int(n) for n in re.search(r"z(\d+) x(\d+) y(\d+)", html).groups())  # type: ignore[union-attr]
        half = 5 / zoom, 5 / zoom / shot.shape
        part = x / STEPS - half[0], y / STEPS - half[1], x / STEPS + half[0], y / STEPS + half[1]
        assert shot.seen(*part) == shot.pixels(), shot.photo


@pytest.mark.parametrize("size", PICTURES)
def test_species_side_by_side_on_pages_show_every_pixel(size: tuple[int, int]) -> None:
    for turn in TURNS:
        shots = {shot.photo.id: shot for shot in (shoot(name, size, turn) for name in ANIMALS)}
        copies: dict[str, PictureSet] = {}
        for shot in shots.values():
            copies |= published(shot)
        drawn = draw_side_by_side(copies, "")(plates(*(shot.photo for shot in shots.values())))
        assert len(drawn.together) == len(shots)
        for one in drawn.together:
            assert one.frame
            shot = shots[one.frame.photo.id]
            for shown in filter(None, (one.frame.at_scale, one.frame.enlarged)):
                left, top = (shown.shown.x - shown.whole.x) / shown.whole.width, (shown.shown.y - shown.whole.y) / shown.whole.height
                part = left, top, left + shown.shown.width / shown.whole.width, top + shown.shown.height / shown.whole.height
                assert shot.seen(*part) == shot.pixels(), (turn, shot.photo)


@pytest.mark.parametrize("size", PICTURES)
def test_sheets_and_spreads_show_every_pixel(size: tuple[int, int]) -> None:
    room = Area(60, 60)
    for turn, (first, second) in zip(TURNS, pairwise([*ANIMALS, "dragonfly"]), strict=True):
        shots = [shoot(first, size, turn), shoot(second, size, turn, (0.3, 0.68))]
        pictures = printed(shots[0]) | printed(shots[1])
        side = draw_side(plates(*(shot.photo for shot in shots)), pictures, room, PLAIN, "adult")
        spread = draw_pictures([shot.photo for shot in shots], pictures, room, PLAIN, words("en"), caption=4.0)
        for shot, face, plate in zip(shots, side.faces, spread.faces, strict=True):
            assert plate
            for svg, area in ((face.picture, _size(face.picture)), (plate.drawing, Area(plate.box.width, plate.box.height))):
                parts = list(parts_on_paper(svg, area))
                assert parts
                for part in parts:
                    assert shot.seen(*part) == shot.pixels(), (turn, shot.photo, part)


@pytest.mark.parametrize("size", PICTURES)
def test_small_pictures_on_cards_show_every_pixel(size: tuple[int, int]) -> None:
    read = read_guide(HERE / "estuary-waders").guide
    assert read
    card = next(card for card in card_views(make_published(read)) if len(card.look_alikes) > 1)
    for turn in TURNS:
        shots = [shoot(name, size, turn) for name in ANIMALS][:3]
        own, *others = (shot.photo for shot in shots)
        alike = tuple(replace(other, photo=photo) for other, photo in zip(card.look_alikes, others, strict=False))
        with_them = replace(card, look_alikes=alike, forms=(own, *others))
        pictures = {name: one for shot in shots for name, one in printed(shot).items()}
        thumbs = draw_thumbs(with_them, pictures, 9, frozenset(), PLAIN)
        strip = draw_strip(with_them, pictures, Area(90, 15), 8, frozenset())
        assert thumbs and strip and len(strip.pictures) == len(shots) and thumbs.by_name
        small = (shots, [one.picture for one in strip.pictures]), (shots[1:], [one.picture for one in thumbs.by_name.values()])
        for shot, svg in [pair for row in small for pair in zip(*row, strict=False)]:
            for part in parts_on_paper(svg, _size(svg)):
                assert shot.seen(*part) == shot.pixels(), (turn, shot.photo, part)


def _size(svg: str) -> Area:
    wide, high = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg).groups()  # type: ignore[union-attr]
    return Area(float(wide), float(high))


def test_pictures_to_look_for_on_a_walk_show_every_pixel() -> None:
    area = Area(40, 30)
    for shot in all_shots():
        (part,) = parts_on_paper(draw_sought(shot.photo, printed(shot)[shot.photo.id], area), area)
        assert shot.seen(*part) == shot.pixels(), shot.photo


def test_marks_at_the_tips_stay_where_nothing_says_how_far_an_animal_reaches() -> None:
    """Without a line it is the pointers that say where the animal is."""
    for line in (None, (50.0, 40.0, 50.0, 60.0)):
        tips = ((4.0, 30.0), (96.0, 30.0))
        marks = tuple(MarkView(number, "pale tip", tip) for number, tip in enumerate(tips, 1))
        facts: dict[str, Any] = {"length": 20.0, "measured": line} if line else {"focus": (50.0, 50.0)}
        copies = {"p": PictureSet(400, 300, (Variant("webp", 400, "photos/p.webp", 300),))}
        for photo in (PhotoView("p", "", marks=marks, **facts), PhotoView("p", "", unshown=tips, **facts)):
            html = small_picture_html(photo, copies, root="").text
            x, _, wide, _ = (float(side) for side in re.search(r'viewBox="([^"]+)"', html)[1].split())  # type: ignore[index]
            assert x <= 4 and x + wide >= 96, (line, html)


def test_what_is_drawn_here_is_wider_than_its_body() -> None:
    for name in ("bird in flight", "dragonfly", "moth with wings swept forward"):
        shot = shoot(name, (480, 360), 0)
        assert shot.photo.measured
        x1, y1, x2, y2 = shot.photo.measured
        length = hypot((x2 - x1) * 4.8, (y2 - y1) * 3.6)
        middle = (y1 + y2) * 1.8 / 360
        half = length / 2 / 360
        assert shot.seen(0, middle - half, 1, middle + half) < shot.pixels(), name
