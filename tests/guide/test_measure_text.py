"""Measurements as people type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.measures import Measure, Span, kind_of_unit
from guidebuild.guide.problem import Unreadable


def read(text: str, unit_kind: str = "length") -> Measure:
    measure = parse_measure(text, unit_kind=unit_kind)
    assert isinstance(measure, Measure), measure
    assert measure.typed == text
    return measure


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [
        ("10–12 mm", 10, 12),
        ("10 - 12 mm", 10, 12),
        ("10—12 mm", 10, 12),
        ("10−12 mm", 10, 12),
        ("10 to 12 mm", 10, 12),
        ("10mm-1.2 cm", 10, 12),
        ("10–12 MM", 10, 12),
        ("10–12 millimetres", 10, 12),
        ("10\u00a0mm", 10, 10),
        ("<5 mm", None, 5),
        ("up to 5 mm", None, 5),
        (">5 mm", 5, None),
        ("at least 5 mm", 5, None),
        ("5+ mm", 5, None),
        ("15 ± 2 mm", 13, 17),
        ("15 +/- 2 mm", 13, 17),
        ("1,5 cm", 15, 15),
        ("1,200 m", 1_200_000, 1_200_000),
        ("½ in", 12.7, 12.7),
        ("1½ in", 38.1, 38.1),
        ("1 1/2 in", 38.1, 38.1),
        ("3/4 in", 19.05, 19.05),
        ("3'6\"", 1066.8, 1066.8),
        ("3′6″", 1066.8, 1066.8),
        ("0.5 mm", 0.5, 0.5),
        ("500 µm", 0.5, 0.5),
        ("6–9 mm body length", 6, 9),
        ("wingspan 25–30 mm", 25, 30),
        ("10 -12 mm", 10, 12),
        ("wing – 6–9 mm", 6, 9),
        ("♀–6 mm", 6, 6),
        ("2 ± 2 mm", 0, 4),
    ],
)
def test_lengths_are_read_in_millimetres(typed: str, low: float | None, high: float | None) -> None:
    measure = read(typed)
    assert (measure.low, measure.high, measure.unit) == (low, high, "mm")


@pytest.mark.parametrize("typed", ["c. 10 mm", "ca 10 mm", "about 10 mm", "~10 mm", "circa 10 mm", "approx. 10 mm"])
def test_about_is_kept_as_about(typed: str) -> None:
    assert (read(typed).approximate, read(typed).low, read(typed).what) == (True, 10, "")


@pytest.mark.parametrize("typed", ["male 10–12, female 13–18 mm", "♂ 10–12 mm, ♀ 13–18 mm", "Males 10–12 mm; females 13–18 mm"])
def test_sexes_are_kept_apart_and_together(typed: str) -> None:
    measure = read(typed)
    assert measure.spans == (Span(10, 12, "male"), Span(13, 18, "female"))
    assert (measure.low, measure.high) == (10, 18)
    assert measure.span("female") == Span(13, 18, "female")


def test_rare_extremes_in_parentheses_keep_the_usual_range() -> None:
    measure = read("(5–)6–9(–10) mm")
    assert (measure.low, measure.high, measure.span("usual")) == (5, 10, Span(6, 9, "usual"))


def test_what_was_measured_is_kept() -> None:
    assert [read(t).what for t in ("6–9 mm body length", "wingspan 25–30 mm", "male 10, female 12 mm")] == ["body length", "wingspan", ""]


@pytest.mark.parametrize("typed", ["5–8 × 3–4 mm", "5–8 x 3–4 mm", "5–8 mm by 3–4 mm", "5-8 × 0.3-0.4 cm"])
def test_the_sides_of_one_thing_are_told_by_the_first(typed: str) -> None:
    measure = read(typed)
    first = (5, 8) if "cm" not in typed else (50, 80)
    assert (measure.low, measure.high, measure.sides) == (*first, (Span(3, 4),))
    assert (measure.spans, measure.what) == ((), "")


def test_a_conversion_in_brackets_is_no_second_measurement() -> None:
    assert (read("4 in (10 cm) long").low, read("4 in (10 cm) long").what) == (101.6, "long")


@pytest.mark.parametrize(("unit", "low"), [("mm", 360), ("cm", 36), ("m", 0.36), ("in", 14.1732283), ("ft", 1.18110236)])
def test_a_measure_says_its_numbers_in_any_unit(unit: str, low: float) -> None:
    assert read("36 cm").in_unit(unit).low == pytest.approx(low, rel=1e-8)


@given(st.sampled_from(["µm", "mm", "cm", "m", "in", "ft", "g", "kg", "oz", "lb"]), st.integers(1, 9999), st.integers(0, 99))
def test_a_number_in_a_unit_is_read_back_in_that_unit(unit: str, whole: int, hundredths: int) -> None:
    number = float(f"{whole}.{hundredths:02d}")
    kind = kind_of_unit(unit)
    measure = read(f"{number} {unit}", kind).in_unit(unit)
    assert (measure.low, measure.unit) == (pytest.approx(number, rel=1e-8), unit)


def test_masses_and_counts() -> None:
    assert (read("3.5 g", "mass").low, read("2 kg", "mass").high, read("1 oz", "mass").low) == (3.5, 2000, 28.3495231)
    assert (read("4–6", "count").high, read("5 spots", "count").what) == (6, "spots")


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("12–10 mm", "reversed-range"),
        ("10–12", "missing-unit"),
        ("10 million mm", "missing-unit"),
        ("big", "unreadable-measure"),
        ("", "unreadable-measure"),
        ("6/9 cm", "unreadable-measure"),
        ("3/4 cm", "unreadable-measure"),
        ("4 in (10 mm)", "unreadable-measure"),
        ("5 × 10–8 mm", "reversed-range"),
        ("12:15 mm", "unreadable-measure"),
        ("5 kg", "unreadable-measure"),
        ("1" * 300, "unreadable-measure"),
        ("(-3) mm", "unreadable-measure"),
        ("body length -3 mm", "unreadable-measure"),
        ("male 10–12, female −13 mm", "unreadable-measure"),
        ("2 ± 3 mm", "unreadable-measure"),
    ],
)
def test_what_cannot_be_read_is_told(typed: str, code: str) -> None:
    problem = parse_measure(typed)
    assert isinstance(problem, Unreadable)
    assert problem.code == code
    assert problem.mend


@given(st.text(max_size=80))
def test_any_text_is_read_or_told(text: str) -> None:
    measure = parse_measure(text)
    if isinstance(measure, Measure) and measure.low is not None and measure.high is not None:
        assert measure.low <= measure.high


@given(
    st.integers(0, 10_000),
    st.integers(0, 10_000),
    st.sampled_from(["–", "-", " - ", "—", " to ", "−"]),
    st.sampled_from(["mm", " mm", " cm"]),
)
def test_every_range_reads_back(first: int, second: int, dash: str, unit: str) -> None:
    low, high = sorted((first, second))
    scale = 10 if "cm" in unit else 1
    measure = read(f"{low}{dash}{high}{unit}")
    assert (measure.low, measure.high) == (low * scale, high * scale)
