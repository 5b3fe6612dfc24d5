"""Posted and shared pictures hold the whole animal: measured on the pixels of its drawing, not on what the guide says of it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
import yaml
from PIL import Image, ImageChops

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.site.share_picture import find_ratio
from guidebuild.reading.whole import read_guide
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.cuts import cut_to_animal, cut_to_subject, cut_widest, find_animal
from guidebuild.views.pieces.one_scale import Box
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.posts.posts import SHAPES
from tests.guides.brush import Brush
from tests.guides.shapes import SHAPES as DRAWN_SHAPES
from tests.guides.whole_guides import HERE, NAMES
from tests.sample.drawings import SAMPLE, drawing

TABLE = Path(__file__).with_name("animals_of_sample.yaml")
SEEN = 60
"""How far a channel must be from what lies behind to count as the animal: its soft shadow does not."""
ENOUGH = 0.6
FOOT = 0.89
"""Share of the height above which nothing of the drawn ground stands."""


def _box_of_change(drawn: Image.Image, bare: Image.Image) -> Box:
    """Where two pictures differ, in hundredths of their width."""
    red, green, blue = ImageChops.difference(drawn.convert("RGB"), bare.convert("RGB")).split()
    most = ImageChops.lighter(ImageChops.lighter(red, green), blue)
    left, top, right, foot = (100 * side / drawn.width for side in most.point(lambda v: 255 if v > SEEN else 0).getbbox())
    return Box(left, top, right - left, foot - top)


def measure_drawn(wanted: Collection[str] = ()) -> dict[str, tuple[Box, float]]:
    """The box of each grown animal of the sample, by photo: drawn once with it and once without; and height over width.

    All of them take half a minute: `python -m tests.views.pieces.test_whole_animal` writes them to the table beside this file.
    """
    draw, plates = drawing("draw"), drawing("plates")
    boxes = {}
    for plate in plates.PLATES:
        if plate.subject == "adult" and plate.name.endswith("-adult") and (not wanted or plate.name in wanted):
            with pytest.MonkeyPatch.context() as patch:
                drawn = draw.draw(plate)
                patch.setattr(draw, "_subject", lambda *_: None)
                boxes[plate.name] = _box_of_change(drawn, draw.draw(plate)), drawn.height / drawn.width
    return boxes


@cache
def _animals_of_sample() -> dict[str, tuple[Box, float]]:
    """The boxes as they were measured last."""
    return {photo: (Box(*sides), shape) for photo, (*sides, shape) in yaml.safe_load(TABLE.read_text(encoding="utf-8")).items()}


def _animals_of(name: str) -> Iterator[tuple[str, Box, float]]:
    """The same of the invented guides, whose sky is one colour; what stands on the ground that is drawn ends where that begins."""
    table = yaml.safe_load((HERE / "pictures.yaml").read_text(encoding="utf-8"))[name]
    for photo, values in table["pictures"].items():
        brush, bare = Brush(table["background"]), Brush(table["background"])
        words = {key: str(value) for key, value in values.items()}
        DRAWN_SHAPES[words["shape"]](brush, words)
        box, shape = _box_of_change(brush.picture, bare.picture), brush.picture.height / brush.picture.width
        if box.width > 99:  # the ground reaches from edge to edge
            size = brush.picture.width, round(brush.picture.height * FOOT)
            box = _box_of_change(*(picture.crop((0, 0, *size)) for picture in (brush.picture, bare.picture)))
        yield photo, box, shape


def _plates(folder: Path) -> dict[str, PhotoView]:
    guide = read_guide(folder).guide
    assert guide is not None
    make = make_pieces(make_published(guide))
    return {plate.id: plate for account in make.guide.accounts.values() if (plate := make.plate(account))}


def _holds(cut: Box, animal: Box) -> bool:
    return (
        cut.x <= animal.x
        and cut.y <= animal.y
        and animal.x + animal.width <= cut.x + cut.width
        and animal.y + animal.height <= cut.y + cut.height
    )


def test_every_shape_holds_every_animal_of_the_sample() -> None:
    plates = _plates(SAMPLE)
    assert len(plates) == len(_animals_of_sample()) == 18
    for photo, (animal, shape) in _animals_of_sample().items():
        for name, ratio in SHAPES:
            cut = cut_widest(plates[photo], shape, ratio[0] / ratio[1])
            assert cut is not None
            assert cut.width / cut.height == pytest.approx(ratio[0] / ratio[1])
            assert _holds(cut, animal), (photo, name)


def test_shared_pictures_show_the_whole_animal_and_large() -> None:
    plates = _plates(SAMPLE)
    for photo, (animal, shape) in _animals_of_sample().items():
        for alone in (False, True):
            cut = cut_to_animal(plates[photo], shape, find_ratio(alone=alone))
            assert cut is not None
            assert _holds(cut, animal), (photo, alone)
            # The strip below a picture that stands alone takes 44 of 630 pixels.
            assert animal.height / cut.height * (586 / 630 if alone else 1) >= ENOUGH, (photo, alone)


@pytest.mark.parametrize("name", NAMES)
def test_every_shape_holds_what_the_other_guides_measure(name: str) -> None:
    plates, tried = _plates(HERE / name), 0
    for photo, animal, shape in _animals_of(name):
        plate = plates.get(photo)
        if plate is None or plate.measured is None:
            continue
        tried += 1
        for shape_name, ratio in SHAPES:
            cut = cut_widest(plate, shape, ratio[0] / ratio[1])
            assert cut is not None
            assert _holds(cut, animal), (photo, shape_name)
    assert tried


def test_spread_wings_are_cut_off_in_no_list() -> None:
    shape, ratio = 0.4, 4 / 3  # two and a half times as wide as high, in a list's frame
    moth = PhotoView("p", "", length=20, measured=(50, 30, 50, 70), reach=(10, 290))
    part, animal = cut_to_subject(moth, shape, ratio), find_animal(moth, shape)
    assert part and animal
    assert animal.width > 90
    assert part.x <= animal.x and part.x + part.width >= animal.x + animal.width
    bare = cut_to_subject(replace(moth, reach=None), shape, ratio)
    assert bare and bare.width < 60  # close to the body, where nothing says more


def test_what_an_entry_says_of_its_reach_is_kept_and_no_more() -> None:
    snake = PhotoView("p", "", length=600, measured=(30, 50, 70, 50), reach=(5, 10))
    cut = cut_to_animal(snake, 0.75, 4 / 3)
    assert cut is not None
    assert (cut.x, cut.width) == pytest.approx((28, 44))
    crane_fly = PhotoView("p", "", length=15, measured=(50, 40, 50, 60), reach=(60, 180))
    cut = cut_to_animal(crane_fly, 0.75, 1.0)
    assert cut is not None
    assert cut.width == pytest.approx(2 * 1.8 * 15)


def test_a_focus_is_kept_beside_the_animal() -> None:
    photo = PhotoView("p", "", length=10, measured=(20, 40, 20, 60), focus=(80, 50))
    cut = cut_widest(photo, 0.75, 1.0)
    assert cut is not None
    assert _holds(cut, Box(9.5, 20, 74, 20))


def test_table_says_what_the_drawings_show() -> None:
    for photo, (animal, _) in measure_drawn(("parent-adult", "southern-green-adult")).items():
        known = _animals_of_sample()[photo][0]
        assert (known.x, known.y, known.width, known.height) == pytest.approx((animal.x, animal.y, animal.width, animal.height), abs=0.2)


if __name__ == "__main__":
    rows = {photo: [round(n, 2) for n in (b.x, b.y, b.width, b.height)] + [shape] for photo, (b, shape) in measure_drawn().items()}
    TABLE.write_text(
        "# Left, top, width and height of each animal in hundredths of its picture's width; the picture's height over its width.\n"
        + yaml.safe_dump(rows, default_flow_style=None),
        encoding="utf-8",
    )
