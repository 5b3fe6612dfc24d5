"""Units against published figures."""

from __future__ import annotations

import pytest

from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.measure_words import metric_words
from guidebuild.guide.measures import Measure


@pytest.mark.parametrize(
    ("typed", "kind", "low"),
    [
        # NIST SP 811, App. B.8 (figures from memory; 2.54 cm an inch is also printed in NIST LC 1137).
        ("1 in", "length", 25.4),
        ("1 ft", "length", 304.8),
        ("1 lb", "mass", 453.59237),
        ("1 oz", "mass", 28.3495231),
        # SI prefixes.
        ("1 µm", "length", 0.001),
        ("1 km", "length", 1_000_000),
    ],
)
def test_unit_is_worth_the_published_figure(typed: str, kind: str, low: float) -> None:
    measure = parse_measure(typed, unit_kind=kind)
    assert isinstance(measure, Measure)
    assert measure.low == pytest.approx(low, rel=1e-8)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        # NIST Metric Style Guide, LC 1137: 36 in is 91 cm and not 91.44; 40.1 in is 101.9 cm and not 101.854.
        ("36 in", "91 cm"),
        ("40.1 in", "101.9 cm"),
        # A11 of the project's list of real troubles.
        ("about 4 in", "about 10 cm"),
        # Limits are not rounded past themselves: ASME A112.18.1 Annex A, A.2 e (5 in is 12.7 cm).
        ("<5 in", "<12 cm"),
        ("at least 5 in", "at least 13 cm"),
        ("male 1–1½ in, female 2 in", "male 2.5–3.8 cm, female 5.1 cm"),
        ("½ in", "1.3 cm"),
        ("1/2 in", "1.3 cm"),
        ("1 1/2 in", "3.8 cm"),
        ("1/8 in", "0.32 cm"),
        ("4 in long", "10 cm long"),
        ("2 ft high", "0.61 m high"),
        ("2 × 1 in", "5.1 cm × 2.5 cm"),
        ("male 1–2, female 2–3 in", "male 2.5–5.1 cm, female 5.1–7.6 cm"),
        ("(5–)6–9(–10) in", "(13–)15–23(–25) cm"),
        ("4 in (10 cm) long", ""),
        ("6 ft", "1.8 m"),
        ("2 oz", "57 g"),
    ],
)
def test_inches_are_said_in_metric_without_false_precision(typed: str, said: str) -> None:
    assert metric_words(typed) == said


def test_metric_measurements_need_no_words() -> None:
    assert metric_words("10–12 mm") == ""


def test_ties_go_to_the_even_digit() -> None:
    # ASME A112.18.1 Annex A: a five alone goes to the even digit. 2.5 in is 6.35 cm, 7.5 in is 19.05 cm.
    assert [metric_words(t) for t in ("2.5 in", "7.5 in")] == ["6.4 cm", "19.0 cm"]
