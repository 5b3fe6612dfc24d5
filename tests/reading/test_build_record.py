"""A field that a record declares is kept by it without further code: as it was read, Markdown with its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

import pytest

from guidebuild.guide.field_declaration import Field
from guidebuild.guide.findings import NO_KEYS, NOWHERE, At
from guidebuild.guide.text.inline import NO_TEXT, Inline
from guidebuild.reading.build_record import build_record
from guidebuild.reading.kinds import Shape, Text, Whole, Words
from guidebuild.reading.markers import ListOf
from guidebuild.reading.notes import Notes
from guidebuild.reading.shaping import read_shape
from guidebuild.reading.yaml_text import read_block


@dataclass(frozen=True)
class Bench:
    """An invented record."""

    seats: int = 0
    note: Inline = NO_TEXT
    views: tuple[Inline, ...] = ()
    name: str = ""
    at: At = NOWHERE
    positions: Mapping[str, At] = field(default=NO_KEYS, compare=False)


class BenchShape(Shape):
    declared = (
        Field("seats", "How many may sit.", "3"),
        Field("note", "What to know.", "wet"),
        Field("looks over", "What one sees.", "[hill]", stored_as="views"),
        Field("called", "Its name.", "Old Seat", unstored="the test gives it"),
    )
    seats: Whole = 0
    note: Text = ""
    looks_over: Words = ()
    called: Text = ""


class BenchesShape(Shape):
    benches: Annotated[tuple[BenchShape, ...], ListOf()] = ()


TEXT = """benches:
  - seats: 3
    called: Old Seat
    note: Sit *still*.
    looks over: [the hill, the brook]
"""


def read_bench(**given: object) -> Bench:
    notes = Notes()
    block = read_block(TEXT, "benches.yaml", notes)
    assert block is not None
    shape = read_shape(block, BenchesShape, notes)
    assert shape is not None
    assert notes.findings == ()
    return build_record(Bench, shape.benches[0], block, "benches", 0, **given)


def test_every_declared_field_is_kept_with_the_place_of_its_texts() -> None:
    bench = read_bench()
    assert bench == Bench(3, Inline("Sit *still*."), (Inline("the hill"), Inline("the brook")), "", At("benches.yaml", 2, 5))
    assert bench.note.at == At("benches.yaml", 4, 11)
    assert [text.at.column for text in bench.views] == [18, 28]
    assert bench.positions["looks over"] == At("benches.yaml", 5, 5)


def test_what_is_built_takes_the_place_of_what_was_read() -> None:
    bench = read_bench(seats=7, name="Old Seat", at=NOWHERE)
    assert (bench.seats, bench.name, bench.at) == (7, "Old Seat", NOWHERE)


def test_what_the_tool_ships_stands_nowhere_in_the_guide() -> None:
    bench = build_record(Bench, BenchShape.model_validate({"seats": "2"}), None)
    assert (bench, bench.positions) == (Bench(2), {})


def test_a_declared_field_that_the_record_lacks_is_an_error_at_once() -> None:
    class Longer(BenchShape):
        declared = (*BenchShape.declared, Field("wood", "What it is made of.", "oak"))
        wood: Text = ""

    with pytest.raises(TypeError, match="wood"):
        build_record(Bench, Longer(), None)
