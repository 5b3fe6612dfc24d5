"""A walk as a calendar event (iCalendar, RFC 5545). Same walk, same bytes.

A calendar that holds the event already takes it anew only where its SEQUENCE is higher (RFC 5545, 3.8.7.4; RFC 5546).
The event as it was published last says which writing that was, so nothing else has to be remembered.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlsplit

from icalendar import Calendar, Event

from guidebuild.fieldwork.walks import WalkPack
from guidebuild.guide.facts import AnyGuide
from guidebuild.words import Words, words


@dataclass(frozen=True, slots=True, order=True)
class Writing:
    """Which writing of an event it is (0: the first), and the day on which it was written."""

    number: int
    day: dt.date


def rewrite_calendar(guide: AnyGuide, pack: WalkPack, address: str, former: Iterable[bytes], today: dt.date) -> bytes:
    """The event's file after those that were published before it: the latest of them where nothing has changed, else a correction."""
    latest = max((writing for data in former if (writing := _read_writing(data))), default=None)
    if latest is None:
        return walk_calendar(guide, pack, address, Writing(0, today))
    again = walk_calendar(guide, pack, address, latest)
    if again in former:
        return again
    return walk_calendar(guide, pack, address, Writing(latest.number + 1, max(today, latest.day)))


def _read_writing(data: bytes) -> Writing | None:
    """Which writing a published file holds; None where it holds no event."""
    try:
        events = [part for part in Calendar.from_ical(data).walk("VEVENT") if isinstance(part, Event)]
        stamped = [(max(0, event.sequence), event.DTSTAMP) for event in events]
    except ValueError:
        return None
    return max((Writing(number, stamp.date()) for number, stamp in stamped if stamp), default=None)


def walk_calendar(guide: AnyGuide, pack: WalkPack, address: str, writing: Writing) -> bytes:
    """The event's file; `address` is the walk's page. The place is the meeting point as typed.

    Its position stands beside it where a walk gives one that may be told.
    """
    settings, walk = guide.settings, pack.walk
    say = words(settings.language)
    event = Event()
    host = urlsplit(settings.address).hostname or "guide.invalid"
    event.add("uid", f"walk-{walk.id}@{host}")
    # A day without its hour, so that a second run on that day gives the same bytes; SEQUENCE orders corrections of one day.
    event.add("dtstamp", dt.datetime.combine(writing.day, dt.time(), tzinfo=dt.UTC))
    event.add("sequence", writing.number)
    event.add("dtstart", pack.starts)
    event.add("dtend", pack.ends)
    event.add("summary", walk.title)
    event.add("location", walk.meet)
    if walk.meet_at:
        event.add("geo", (round(walk.meet_at.latitude, 5), round(walk.meet_at.longitude, 5)))
    lines = [
        walk.note.words,
        say("Leader: {name}", name=walk.leader) if walk.leader else "",
        walk.contact,
        say("Bring: {things}", things=", ".join(walk.bring)) if walk.bring else "",
        *_cares(guide, pack, say),
    ]
    event.add("description", "\n".join(line for line in lines if line))
    if address:
        event.add("url", address)
    calendar = Calendar()
    calendar.add("prodid", f"-//{settings.publisher or settings.title}//guidebuild//{settings.language.upper()}")
    calendar.add("version", "2.0")
    calendar.add_component(event)
    # Only the changes of the clock round the walk, not all of the past.
    calendar.add_missing_timezones(first_date=walk.date.replace(month=1, day=1), last_date=walk.date.replace(month=12, day=31))
    return bytes(calendar.to_ical())


def _cares(guide: AnyGuide, pack: WalkPack, say: Words) -> tuple[str, ...]:
    """What to do about each hazard of the walk and of its places, a line each: the calendar may be all that one reads."""
    places = [guide.places[stop.place] for stop in pack.walk.stops if stop.place in guide.places]
    hazards = dict.fromkeys((*pack.walk.hazards, *(hazard for place in places for hazard in place.hazards)))
    cautions = [guide.cautions[hazard] for hazard in hazards if hazard in guide.cautions]
    return tuple(f"{say(caution.title)}: {say(caution.short or caution.text)}" for caution in cautions)
