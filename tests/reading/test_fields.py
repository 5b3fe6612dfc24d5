"""Small values as people type them, and what is told where they cannot be read."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from guidebuild.guide.findings import Level
from guidebuild.guide.measures import Measure
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.records import Position, Sensitivity
from guidebuild.reading import fields

READ: list[tuple[Callable[[str], Any], str, Any]] = [
    (fields.parse_yes_no, "No", False),
    (fields.parse_yes_no, "yes", True),
    (fields.parse_day, "2026-5-2", dt.date(2026, 5, 2)),
    (fields.parse_clock, "20:30", dt.time(20, 30)),
    (fields.parse_clock, "06.30", dt.time(6, 30)),
    (fields.parse_lengths, "60–90 s", (60, 90)),
    (fields.parse_lengths, "4:30–5:30", (270, 330)),
    (fields.parse_lengths, "1 min to 90 s", (60, 90)),
    (fields.parse_lengths, "2 min", (120, 120)),
    (fields.parse_minutes, "90", 90),
    (fields.parse_minutes, "1:30 h", 90),
    (fields.parse_minutes, "1.5 h", 90),
    (fields.parse_months, "36 months", 36),
    (fields.parse_months, "3 years", 36),
    (fields.parse_point, "52, 38", (52, 38)),
    (fields.parse_point, "50% 12%", (50, 12)),
    (fields.parse_line, "20, 50 – 80, 50", (20, 50, 80, 50)),
    (fields.parse_line, "20,50-80,50.5", (20, 50, 80, 50.5)),
    (fields.parse_position, "51.1034, -1.3121", Position(51.1034, -1.3121)),
    (fields.parse_position, "30°0'0\"S; 12.5 E", Position(-30, 12.5)),
    (fields.parse_box, "51.0, -1.5, 51.2, -1.2", (51, -1.5, 51.2, -1.2)),
    (fields.parse_metres, "50", 50),
    (fields.parse_metres, "1 km", 1000),
    (fields.parse_bleed, "0", 0),
    (fields.parse_bleed, "3 mm", 3),
    (fields.parse_bleed, "1/8 in", 3.175),
    (fields.parse_bleed, "0.125 in", 3.175),
    (fields.parse_bleed, "1 cm", 10),
    (fields.parse_margin, "0.5 mm", Measure("0.5 mm", 0.5, 0.5)),
    (fields.parse_margin, "2 g", Measure("2 g", 2, 2, "g")),
    (fields.parse_margin, "1", Measure("1", 1, 1, "")),
    (fields.parse_whole, "280", 280),
    (fields.parse_number, "4.2", 4.2),
    (fields.parse_sex, "♀", "female"),
    (fields.parse_sex, "males", "male"),
    (fields.parse_sex, "both", ""),
    (fields.parse_sex, "workers", "worker"),
    (fields.parse_rule_level, "off", None),
    (fields.parse_rule_level, "warning", Level.WARNING),
    (fields.parse_category, "no", Sensitivity()),
    (fields.parse_category, "Extreme", Sensitivity(1)),
    (fields.one_of("long edge", "short edge"), "Long  Edge", "long edge"),
]

TOLD: list[tuple[Callable[[str], Any], str]] = [
    (fields.parse_yes_no, "maybe"),
    (fields.parse_day, "02/05/2026"),
    (fields.parse_day, "2026-02-30"),
    (fields.parse_day, "9999-12-31"),
    (fields.parse_day, "0026-05-02"),
    (fields.parse_clock, "1230"),
    (fields.parse_clock, "25:00"),
    (fields.parse_seconds, "soon"),
    (fields.parse_lengths, "90–60 s"),
    (fields.parse_lengths, "1–2–3 s"),
    (fields.parse_lengths, "long"),
    (fields.parse_minutes, "a while"),
    (fields.parse_months, "often"),
    (fields.parse_point, "middle"),
    (fields.parse_point, "50% 130%"),
    (fields.parse_line, "20, 50"),
    (fields.parse_line, "20, 50 – 20, 50"),
    (fields.parse_position, "here"),
    (fields.parse_position, "95, 10"),
    (fields.parse_position, "10, 190"),
    (fields.parse_box, "1, 2, 3"),
    (fields.parse_box, "60, 0, 50, 10"),
    (fields.parse_metres, "far"),
    (fields.parse_bleed, "thin"),
    (fields.parse_bleed, "3–5 mm"),
    (fields.parse_bleed, "<3 mm"),
    (fields.parse_bleed, "10.1 mm"),
    (fields.parse_margin, "some"),
    (fields.parse_whole, "-3"),
    (fields.parse_number, "0"),
    (fields.parse_sex, "perhaps"),
    (fields.parse_rule_level, "loud"),
    (fields.parse_category, "yes"),
    (fields.one_of("long edge", "short edge"), "top"),
]


@pytest.mark.parametrize(("parse", "typed", "value"), READ)
def test_value_is_read(parse: Callable[[str], Any], typed: str, value: Any) -> None:
    assert parse(typed) == value


@pytest.mark.parametrize(("parse", "typed"), TOLD)
def test_what_cannot_be_read_is_quoted_and_mended(parse: Callable[[str], Any], typed: str) -> None:
    problem = parse(typed)
    assert isinstance(problem, Unreadable)
    assert problem.mend
