"""Sunrise and sunset against the astronomy library ephem and the almanac."""

from __future__ import annotations

import datetime as dt

import ephem
import pytest

from guidebuild.fieldwork.daylight import daylight

MINUTES = 60.0
# Greenwich, from memory of the printed almanac: shortest and longest day and an equinox, local clock time.
ALMANAC = {
    dt.date(2024, 6, 20): ("04:43", "21:22"),
    dt.date(2024, 12, 21): ("08:04", "15:53"),
    dt.date(2024, 3, 20): ("06:03", "18:13"),
}


@pytest.mark.parametrize(("day", "times"), ALMANAC.items(), ids=str)
def test_greenwich_as_in_the_almanac(day: dt.date, times: tuple[str, str]) -> None:
    light = daylight(51.4779, -0.0015, day, "Europe/London")
    assert light.sunrise is not None
    assert light.sunset is not None
    for ours, printed in zip((light.sunrise, light.sunset), times, strict=True):
        hours, minutes = map(int, printed.split(":"))
        assert abs((ours.hour - hours) * 60 + ours.minute - minutes) <= 2


PLACES = [(51.5, -1.2, "Europe/London"), (-36.8, 174.8, "Pacific/Auckland"), (0.0, 37.0, "Africa/Nairobi"), (60.2, 25.0, "Europe/Helsinki")]


@pytest.mark.parametrize("month", [1, 4, 7, 10])
@pytest.mark.parametrize(("latitude", "longitude", "zone"), PLACES, ids=[p[2] for p in PLACES])
def test_times_agree_with_another_library(latitude: float, longitude: float, zone: str, month: int) -> None:
    day = dt.date(2026, month, 15)
    light = daylight(latitude, longitude, day, zone)
    assert light.sunrise is not None
    assert light.sunset is not None
    assert light.sunrise.date() == light.sunset.date() == day
    theirs = ephem.Observer()
    theirs.lat, theirs.lon, theirs.pressure, theirs.horizon = (
        str(latitude),
        str(longitude),
        0,
        "-0:34",
    )  # air bends the light of the upper rim
    midnight = light.sunrise.replace(hour=0, minute=0, second=0, microsecond=0).astimezone(dt.UTC)
    theirs.date = midnight.replace(tzinfo=None)
    for ours, found in ((light.sunrise, theirs.next_rising(ephem.Sun())), (light.sunset, theirs.next_setting(ephem.Sun()))):
        assert abs((ours - found.datetime().replace(tzinfo=dt.UTC)).total_seconds()) < 2 * MINUTES


def test_a_day_without_sunset_has_none() -> None:
    light = daylight(69.6, 18.9, dt.date(2026, 6, 21), "Europe/Oslo")
    assert (light.sunrise, light.sunset) == (None, None)
