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
from guidebuild.reading import parse_values

READ: list[tuple[Callable[[str], Any], str, Any]] = [
    (parse_values.parse_yes_no, "No", False),
    (parse_values.parse_yes_no, "yes", True),
    (parse_values.parse_day, "2026-5-2", dt.date(2026, 5, 2)),
    (parse_values.parse_clock, "20:30", dt.time(20, 30)),
    (parse_values.parse_clock, "06.30", dt.time(6, 30)),
    (parse_values.parse_lengths, "60–90 s", (60, 90)),
    (parse_values.parse_lengths, "4:30–5:30", (270, 330)),
    (parse_values.parse_lengths, "1 min to 90 s", (60, 90)),
    (parse_values.parse_lengths, "2 min", (120, 120)),
    (parse_values.parse_minutes, "90", 90),
    (parse_values.parse_minutes, "1:30 h", 90),
    (parse_values.parse_minutes, "1.5 h", 90),
    (parse_values.parse_months, "36 months", 36),
    (parse_values.parse_months, "3 years", 36),
    (parse_values.parse_point, "52, 38", (52, 38)),
    (parse_values.parse_point, "50% 12%", (50, 12)),
    (parse_values.parse_line, "20, 50 – 80, 50", (20, 50, 80, 50)),
    (parse_values.parse_line, "20,50-80,50.5", (20, 50, 80, 50.5)),
    (parse_values.parse_position, "51.1034, -1.3121", Position(51.1034, -1.3121)),
    (parse_values.parse_position, "30°0'0\"S; 12.5 E", Position(-30, 12.5)),
    (parse_values.parse_box, "51.0, -1.5, 51.2, -1.2", (51, -1.5, 51.2, -1.2)),
    (parse_values.parse_metres, "50", 50),
    (parse_values.parse_metres, "1 km", 1000),
    (parse_values.parse_ink_limit, "300 %", 300),
    (parse_values.parse_ink_limit, " 280% ", 280),
    (parse_values.parse_ink_limit, "400", 400),
    (parse_values.parse_bleed, "0", 0),
    (parse_values.parse_bleed, "3 mm", 3),
    (parse_values.parse_bleed, "1/8 in", 3.175),
    (parse_values.parse_bleed, "0.125 in", 3.175),
    (parse_values.parse_thickness, "0.12 mm", 0.12),
    (parse_values.parse_bleed, "1 cm", 10),
    (parse_values.parse_margin, "0.5 mm", Measure("0.5 mm", 0.5, 0.5)),
    (parse_values.parse_margin, "2 g", Measure("2 g", 2, 2, "g")),
    (parse_values.parse_margin, "1", Measure("1", 1, 1, "")),
    (parse_values.parse_whole, "280", 280),
    (parse_values.parse_number, "4.2", 4.2),
    (parse_values.parse_sex, "♀", "female"),
    (parse_values.parse_sex, "males", "male"),
    (parse_values.parse_sex, "both", ""),
    (parse_values.parse_sex, "workers", "worker"),
    (parse_values.parse_rule_level, "off", None),
    (parse_values.parse_rule_level, "warning", Level.WARNING),
    (parse_values.parse_category, "no", Sensitivity()),
    (parse_values.parse_category, "Extreme", Sensitivity(1)),
    (parse_values.one_of("long edge", "short edge"), "Long  Edge", "long edge"),
]

TOLD: list[tuple[Callable[[str], Any], str]] = [
    (parse_values.parse_yes_no, "maybe"),
    (parse_values.parse_day, "02/05/2026"),
    (parse_values.parse_day, "2026-02-30"),
    (parse_values.parse_day, "9999-12-31"),
    (parse_values.parse_day, "0026-05-02"),
    (parse_values.parse_clock, "1230"),
    (parse_values.parse_clock, "25:00"),
    (parse_values.parse_seconds, "soon"),
    (parse_values.parse_lengths, "90–60 s"),
    (parse_values.parse_lengths, "1–2–3 s"),
    (parse_values.parse_lengths, "long"),
    (parse_values.parse_minutes, "a while"),
    (parse_values.parse_months, "often"),
    (parse_values.parse_point, "middle"),
    (parse_values.parse_point, "50% 130%"),
    (parse_values.parse_line, "20, 50"),
    (parse_values.parse_line, "20, 50 – 20, 50"),
    (parse_values.parse_position, "here"),
    (parse_values.parse_position, "95, 10"),
    (parse_values.parse_position, "10, 190"),
    (parse_values.parse_box, "1, 2, 3"),
    (parse_values.parse_box, "60, 0, 50, 10"),
    (parse_values.parse_metres, "far"),
    (parse_values.parse_thickness, "3 mm"),
    (parse_values.parse_thickness, "0.1–0.2 mm"),
    (parse_values.parse_thickness, "thin"),
    (parse_values.parse_ink_limit, "3"),
    (parse_values.parse_ink_limit, "401 %"),
    (parse_values.parse_ink_limit, "99 %"),
    (parse_values.parse_ink_limit, "300 g"),
    (parse_values.parse_bleed, "thin"),
    (parse_values.parse_bleed, "3–5 mm"),
    (parse_values.parse_bleed, "<3 mm"),
    (parse_values.parse_bleed, "10.1 mm"),
    (parse_values.parse_margin, "some"),
    (parse_values.parse_whole, "-3"),
    (parse_values.parse_number, "0"),
    (parse_values.parse_sex, "perhaps"),
    (parse_values.parse_rule_level, "loud"),
    (parse_values.parse_category, "yes"),
    (parse_values.one_of("long edge", "short edge"), "top"),
]


@pytest.mark.parametrize(("parse", "typed", "value"), READ)
def test_value_is_read(parse: Callable[[str], Any], typed: str, value: Any) -> None:
    assert parse(typed) == value


@pytest.mark.parametrize(("parse", "typed"), TOLD)
def test_what_cannot_be_read_is_quoted_and_mended(parse: Callable[[str], Any], typed: str) -> None:
    problem = parse(typed)
    assert isinstance(problem, Unreadable)
    assert problem.mend
