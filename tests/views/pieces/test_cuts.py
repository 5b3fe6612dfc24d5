"""Thumbs and shared pictures cut to their subject: at least three fifths of the frame, wherever and however it lies."""

from __future__ import annotations

from math import hypot
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.reading.whole import read_guide
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.credits import LicenceView
from guidebuild.views.pieces.cuts import cut_to_animal, cut_to_subject, cut_widest
from guidebuild.views.pieces.parts import make_pieces
from tests.guides.whole_guides import HERE, NAMES
from tests.sample.drawings import SAMPLE

FRAMES = (4 / 3, 640 / 630, 1200 / 630)
SHAPES = (0.75, 1.0, 4 / 3)
ENOUGH = 0.6


def _share(line: tuple[float, float, float, float], shape: float, ratio: float) -> float:
    """How much of the frame's height, or of its width where the body lies, the measured line takes, along itself."""
    cut = cut_to_subject(PhotoView("p", "", length=10, measured=line), shape, ratio)
    assert cut is not None
    assert cut.width / cut.height == pytest.approx(ratio)
    x1, y1, x2, y2 = line
    for x, y in ((x1, y1 * shape), (x2, y2 * shape)):
        assert cut.x <= x <= cut.x + cut.width
        assert cut.y <= y <= cut.y + cut.height
    return hypot(x2 - x1, (y2 - y1) * shape) / min(cut.width, cut.height)


@pytest.mark.parametrize("ratio", FRAMES)
@pytest.mark.parametrize("shape", SHAPES)
def test_subject_takes_three_fifths_of_the_frame(shape: float, ratio: float) -> None:
    for line in ((50, 25, 50, 75), (20, 50, 60, 50), (30, 30, 60, 60), (70, 20, 45, 62), (5, 10, 5, 60), (60, 92, 95, 92)):
        assert _share(line, shape, ratio) >= ENOUGH, line


@pytest.mark.parametrize("ratio", FRAMES)
@pytest.mark.parametrize("shape", SHAPES)
def test_nothing_is_cut_off_a_picture_whose_licence_allows_no_changed_copies(shape: float, ratio: float) -> None:
    # CC BY-ND 4.0, section 2(a)(1)(B): adapted material may be made and not shared.
    kept = LicenceView("CC-BY-ND-4.0", "CC BY-ND 4.0", derivatives=False)
    photo = PhotoView("p", "", length=10, measured=(40, 40, 40, 60), focus=(40, 50), licence=kept)
    for cut in (cut_to_subject, cut_to_animal, cut_widest):
        part = cut(photo, shape, ratio)
        assert part is not None
        assert part.width / part.height == pytest.approx(ratio)
        assert (part.x, part.y) <= (1e-9, 1e-9)
        assert part.x + part.width >= 100 - 1e-9
        assert part.y + part.height >= 100 * shape - 1e-9


@pytest.mark.parametrize("folder", [SAMPLE, *(HERE / name for name in NAMES)], ids=lambda folder: folder.name)
def test_every_measured_plate_of_every_guide_fills_its_thumb(folder: Path) -> None:
    guide = read_guide(folder).guide
    assert guide is not None
    make = make_pieces(make_published(guide))
    tried = 0
    for photo in make.guide.photos.values():
        small = make.small_photo(photo)
        if small.length and small.measured:
            cut = cut_to_subject(small, 0.75, 4 / 3)
            assert cut is not None
            x1, y1, x2, y2 = small.measured
            length = hypot(x2 - x1, (y2 - y1) * 0.75)
            # A subject of a few hundredths of its picture is not enlarged to mush.
            assert length / min(cut.width, cut.height) >= ENOUGH or cut.width <= 30, photo.id
            tried += 1
    assert tried


def test_point_of_interest_stands_in_for_a_line() -> None:
    cut = cut_to_subject(PhotoView("p", "", focus=(80, 20)), 0.75, 4 / 3)
    assert cut is not None
    assert (cut.x + cut.width, cut.y) == pytest.approx((100, 0))
    assert cut.width == pytest.approx(70)
    assert cut_to_subject(PhotoView("p", ""), 0.75, 4 / 3) is None
