"""Sunrise and sunset where and when a walk takes place."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from astral import Depression, Observer
from astral.sun import dawn, dusk, sunrise, sunset

from guidebuild.fieldwork.public_records import PublicWalk
from guidebuild.fieldwork.published import Published


@dataclass(frozen=True, slots=True)
class Daylight:
    """Local times, None where the sun does not cross the horizon (or twilight does not end) that day.

    Dawn and dusk are civil: the sun six degrees below the horizon, about when one can last read a label.
    """

    dawn: dt.datetime | None
    sunrise: dt.datetime | None
    sunset: dt.datetime | None
    dusk: dt.datetime | None


def daylight(latitude: float, longitude: float, day: dt.date, zone: str) -> Daylight:
    """The day's light at sea level with a free horizon; hills and trees take some of it."""
    observer, place = Observer(latitude, longitude), ZoneInfo(zone)
    times: list[dt.datetime | None] = []
    for event in (dawn, sunrise, sunset, dusk):
        depression = {"depression": Depression.CIVIL} if event in (dawn, dusk) else {}
        try:
            times.append(event(observer, day, tzinfo=place, **depression))
        except ValueError:  # the library's word for "not on this day"
            times.append(None)
    return Daylight(*times)


def light_of_walk(guide: Published, walk: PublicWalk) -> Daylight | None:
    """The light at the first stop whose position is known, else in the middle of the region; None where neither is given."""
    positions = (guide.places[stop.place].position for stop in walk.stops if stop.place in guide.places)
    here = next((p for p in positions if p), None)
    if here:
        return daylight(here.latitude, here.longitude, walk.date, walk.zone)
    box = guide.settings.region_box
    return daylight((box[0] + box[2]) / 2, (box[1] + box[3]) / 2, walk.date, walk.zone) if box else None
