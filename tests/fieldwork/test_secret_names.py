"""Which words are looked for as the names of a secret place, and which positions may be shown."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.leaks import leaks_in, names_in_bytes, secrets_of
from guidebuild.guide.records import Position, Sensitivity
from tests.fieldwork.invented import PLACES, guide

HOLT = replace(PLACES["weir-pool"], id="otter-holt", name="Sally's Bank")


def found_in(text: str, **places: object) -> list[str]:
    return [f"{leak.what}: {leak.found}" for leak in leaks_in(text, secrets_of(guide(places={**PLACES, **places})))]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("/places/otter-holt.html", ["The name: otter-holt"]),
        ("an otter holt", ["The name: otter holt"]),
        ("by Sally’s Bank", ["The name: sallys bank"]),
        ("by Sallys bank", ["The name: sallys bank"]),
        ("Sally and the bank", []),
        ("an otter in its holt", []),
    ],
)
def test_name_and_id_are_both_secret(text: str, found: list[str]) -> None:
    assert found_in(text, **{"otter-holt": HOLT}) == found


def test_an_id_of_three_letters_is_too_common_to_look_for_and_one_of_four_is_not() -> None:
    assert found_in("a pit", pit=replace(HOLT, id="pit")) == []
    assert found_in("a holt", holt=replace(HOLT, id="holt")) == ["The name: holt"]


def test_a_place_without_a_name_matches_nothing() -> None:
    assert found_in("any text at all", **{"otter-holt": replace(HOLT, name=" ")}) == []


def test_names_are_found_among_the_bytes_of_a_file() -> None:
    secrets = secrets_of(guide())
    assert [leak.found for leak in names_in_bytes(b"\xff\x00Weir Pool\x00", secrets)] == ["weir pool"]
    assert list(names_in_bytes(b"\xff\x00Weir Pool\x00", secrets_of(guide(places={})))) == []


# North Hedge is open: it may be shown as it is, and rounded as any sensitive species there asks (Chapman 2020, tables 6 and 7).
# Weir Pool may be shown to 0.01° and 0.1°, never closer; the invented otter holt of category 1 not at all.
def test_positions_that_may_be_shown() -> None:
    shown = {(p.latitude, p.longitude) for p in secrets_of(guide()).shown}
    assert {(51.1034, -1.3121), (51.1, -1.3), (51.1, -1.31)} <= shown
    assert (51.103, -1.312) not in shown  # the hedge reaches 100 m: more than a cell of 0.001° may tell
    assert {(51.1, -1.3), (51.13, -1.28)} <= shown
    assert (51.128, -1.285) not in shown
    hidden = replace(HOLT, position=Position(51.2222, -1.4444), sensitivity=Sensitivity(1))
    boxless = replace(guide().settings, region_box=None)  # else the corners of the box may be shown too
    assert all(p.latitude < 51.2 for p in secrets_of(guide(settings=boxless, places={**PLACES, "otter-holt": hidden})).shown)
    assert secrets_of(guide(settings=boxless, places={"meadow": replace(PLACES["meadow"], position=None)})).shown == ()


@pytest.mark.parametrize(
    ("text", "leaks"),
    [
        ("51.2, -1.4", True),  # a tenth of a degree
        ("51, -1", False),
        ("51.2222, -1.4444", True),
        ("52.2222, -1.4444", False),
    ],
)
def test_of_the_strictest_category_not_even_a_rounded_position_may_be_told(text: str, *, leaks: bool) -> None:
    hidden = replace(HOLT, position=Position(51.2222, -1.4444), sensitivity=Sensitivity(1))
    assert bool(found_in(text, **{"otter-holt": hidden})) is leaks
