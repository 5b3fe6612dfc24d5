"""A table of the forms in which positions are written, and numbers of other kinds that stop nothing."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Geod

from guidebuild.fieldwork.leaks import Secrets, leaks_in, secrets_of
from guidebuild.guide.records import Place, Position, Sensitivity
from tests.fieldwork.invented import guide
from tests.fieldwork.position_forms import HERE, write_forms

NOT_FOUND = {"XB {e} {n}", "three words", "words for figures"}
"""As DEVELOPERS.md lists them."""
FORMS = tuple(write_forms())


def keep_secret(*positions: Position, category: int = 3) -> Secrets:
    places = {
        f"p{n}": Place(f"p{n}", f"Quagga Hollow {n}", position=position, sensitivity=Sensitivity(category))
        for n, position in enumerate(positions)
    }
    return replace(secrets_of(guide(places=places)), ground=None)  # what is no public place has tests of its own


@pytest.mark.parametrize(("form", "position", "text"), [form for form in FORMS if form[0] not in NOT_FOUND])
def test_a_position_is_found_however_it_is_written(form: str, position: Position, text: str) -> None:
    assert [leak for leak in leaks_in(text, keep_secret(position)) if leak.what != "The name"], form


def test_the_table_is_long_enough_and_says_what_is_not_found() -> None:
    missed = {form for form, position, text in FORMS if not list(leaks_in(text, keep_secret(position)))}
    assert missed == NOT_FOUND
    assert len(FORMS) >= 99
    assert len(missed) <= len(FORMS) * 0.04


@pytest.mark.parametrize(("form", "position", "text"), FORMS)
def test_the_same_form_of_another_place_is_none(form: str, position: Position, text: str) -> None:
    far = Position(position.latitude - 0.71, position.longitude + 0.93)
    assert list(leaks_in(text, keep_secret(far))) == [], form


@pytest.mark.parametrize(("category", "near", "far"), [(1, 9_800, 10_300), (2, 7_800, 8_300), (3, 780, 830), (4, 90, 110)])
@pytest.mark.parametrize("bearing", range(0, 360, 45))
def test_distance_decides_and_no_cell(category: int, near: int, far: int, bearing: int) -> None:
    secrets = replace(keep_secret(HERE, category=category), shown=())
    for metres, is_told in ((near, True), (far, False)):
        longitude, latitude, _ = Geod(ellps="WGS84").fwd(HERE.longitude, HERE.latitude, bearing, metres)
        assert bool(list(leaks_in(f"{latitude:.6f}, {longitude:.6f}", secrets))) == is_told


@given(st.floats(-60, 60), st.floats(-170, 170), st.floats(0, 360), st.integers(2, 4))
@settings(max_examples=100, deadline=None)
def test_a_receiver_that_is_thirty_metres_off_tells_as_much(latitude: float, longitude: float, bearing: float, category: int) -> None:
    secrets = keep_secret(Position(latitude, longitude), category=category)
    east, north, _ = Geod(ellps="WGS84").fwd(longitude, latitude, bearing, 30)
    # One figure more than a place's own six: noughts at the end would say less.
    assert list(leaks_in(f"{north:.6f}1, {east:.6f}1", secrets))


def write_everyday_numbers(draw: random.Random) -> str:
    """A line of everyday numbers: measures, times, dates, prices, telephone numbers, digests, sizes of drawings."""
    n, m = (draw.randrange(10, 99) for _ in range(2))
    return draw.choice(
        (
            f"{n}.{m} cm by {draw.uniform(0.5, 3):.2f} cm, {n}.{m} mm long and 1.{m} mm wide",
            f"00:{n % 60:02}:{m % 60:02},{draw.randrange(1000):03} --> 00:{n % 60:02}:{m % 60:02},{draw.randrange(1000):03}\nA bug.",
            f"{draw.randrange(1900, 2026)}-{n % 12 + 1:02}-{m % 28 + 1:02}T{n % 24:02}:{m % 60:02}:{n % 60:02}Z",
            f"£{n}.{m} a copy, £{m}.{n} for two; ring 01{draw.randrange(100, 999)} {draw.randrange(100_000, 999_999)}",
            f"sha256-{draw.getrandbits(256):064x}",
            f"<{draw.getrandbits(256):064x}> Tj {draw.uniform(0, 842):.3f} {draw.uniform(0, 595):.3f} Td",
            f'<rect width="{draw.uniform(1, 400):.2f}" height="{draw.uniform(1, 400):.2f}" x="{n}.{m}" y="1.{n}"/>',
            f"{draw.uniform(2, 6):.2f} syllables a second, pauses of 0.{n} s and 1.{m} s, {n * 1000 + m:,} words",
            f"ISBN 978-0-{draw.randrange(100, 999)}-{draw.randrange(10_000, 99_999)}-{n % 10}, pp. {n}–{n + m}, vol. {m}({n})",
        )
    )


SEVERAL = (*(Position(51.1 + n / 300, -1.28 + n / 200) for n in range(4)), Position(5.2, 1.3), Position(52.21346, 5.86312))


@pytest.mark.parametrize("category", [1, 2, 3, 4])
def test_everyday_numbers_stop_nothing(category: int) -> None:
    draw = random.Random(category)
    secrets = keep_secret(*SEVERAL, category=category)
    for _ in range(100):
        text = "\n".join(write_everyday_numbers(draw) for _ in range(6))
        assert [str(leak) for leak in leaks_in(text, secrets)] == [], text


@given(st.text(alphabet="0123456789.,-+°′″'\" NSEWnsewUSUlatlon:/;\n٠٣", max_size=120))
@settings(max_examples=150, deadline=None)
def test_no_text_of_figures_and_signs_is_too_strange(text: str) -> None:
    list(leaks_in(text, keep_secret(HERE)))
