"""The pointers in the accounts stand where the drawing puts the marks they name."""

from __future__ import annotations

import math

import pytest

from guidebuild.guide.accounts import FieldMark
from guidebuild.guide.guide import Guide
from guidebuild.reading.whole import read_guide
from tests.sample.drawings import SAMPLE, drawing

NEAR = 1.5  # hundredths of the picture
# Which words of a mark speak of which place on the drawing.
WORDS = {
    "shoulder": ("shoulder",),
    "scutellum": ("scutellum",),
    "scutellum tip": ("scutellum",),
    "front dots": ("scutellum",),
    "corium": ("corium",),
    "white patch": ("corium",),
    "wing spot": ("corium",),
    "membrane": ("membrane",),
    "connexivum": ("connexivum",),
    "pronotum": ("pronotum",),
    "red spots": ("pronotum",),
    "legs": ("legs",),
    "shin": ("legs",),
    "rostrum": ("rostrum",),
    "eggs": ("eggs",),
    "spots": ("spots",),
    "plates": ("plates",),
    "edge": ("edge",),
    "wing pads": ("wing pad",),
}


def the_guide() -> Guide:
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    return guide


PLATES = {plate.name: plate for plate in drawing("plates").PLATES}
GUIDE = the_guide()
POINTERS = [(account.id, mark) for account in GUIDE.accounts.values() for mark in account.diagnostics if mark.point]


def words_of(place: str) -> tuple[str, ...]:
    return ("antenna",) if place.startswith("antenna") else WORDS.get(place, ())


@pytest.mark.parametrize(("account", "mark"), POINTERS, ids=[f"{a}: {m.mark}" for a, m in POINTERS])
def test_a_pointer_stands_on_the_mark_that_it_names(account: str, mark: FieldMark) -> None:
    assert mark.point is not None
    drawn = PLATES[mark.photo].marks()
    named = {place: spot for place, spot in drawn.items() if any(word in mark.mark.words for word in words_of(place))}
    assert named, f"{mark.photo} draws nothing that “{mark.mark}” names"
    place, spot = min(named.items(), key=lambda item: math.dist(item[1], mark.point or (0, 0)))
    assert math.dist(spot, mark.point) <= NEAR, f"{place} is drawn at {spot}, the account points at {mark.point}"


def test_every_account_points_at_two_marks_or_more() -> None:
    assert {account.id for account in GUIDE.accounts.values() if sum(m.point is not None for m in account.diagnostics) < 2} == set()


def test_measured_lines_run_from_head_to_tip() -> None:
    measured = {photo.id: photo.measured for photo in GUIDE.photos.values() if photo.measured}
    assert len(measured) > 20
    for name, (x1, y1, x2, y2) in measured.items():
        drawn = PLATES[name].marks()
        assert math.dist((x1, y1), drawn["front"]) <= NEAR, name
        assert math.dist((x2, y2), drawn["tip"]) <= NEAR, name


def test_size_on_the_photo_lies_within_the_size_of_the_account() -> None:
    for photo in GUIDE.photos.values():
        if not photo.length or photo.stage != "adult":
            continue
        size = GUIDE.accounts[photo.account].size
        assert size is not None
        shown = photo.length.middle
        assert size.low is not None and size.high is not None and shown is not None
        assert size.low <= shown <= size.high, photo.id
