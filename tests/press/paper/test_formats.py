"""Formats are data, and bad ones are refused in words."""

from __future__ import annotations

import pytest

from guidebuild.press.paper.formats import FLOOR, PrintKind, UnknownFormatError, format_named, paper_named, read_formats


def test_every_asked_format_is_shipped() -> None:
    asked = {
        "a6",
        "a7",
        "id-1",
        "index-3x5",
        "index-4x6",
        "plate-a5",
        "leaflet-a4",
        "leaflet-letter",
        "booklet",
        "booklet-a6",
        "booklet-4x6",
        "checklist",
    }
    asked |= {"children-a4", "children-letter", "large-print-a4", "large-print-letter", "large-print-card"}
    assert asked <= set(read_formats())


def test_no_format_sets_type_below_the_floor() -> None:
    assert all(FLOOR <= one.least_type < one.largest_type for one in read_formats().values())


def test_cards_have_two_sides_and_plates_one() -> None:
    assert {one.sides for one in read_formats().values() if one.kind is PrintKind.CARD} == {2}
    assert format_named("plate-a5").sides == 1


def test_an_unknown_format_lists_the_known_ones() -> None:
    with pytest.raises(UnknownFormatError, match=r"there is no format “a66”\. Write one of a6, a7"):
        format_named("a66")
    with pytest.raises(UnknownFormatError, match=r"there is no paper “b4”\. Write one of a3, a4"):
        paper_named("b4")
