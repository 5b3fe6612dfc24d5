"""A walk as a calendar event (iCalendar, RFC 5545). Same walk, same bytes."""

from __future__ import annotations

import datetime as dt
from urllib.parse import urlsplit

from icalendar import Calendar, Event

from guidebuild.fieldwork.walks import WalkPack
from guidebuild.guide.facts import AnyGuide
from guidebuild.words import words


def walk_calendar(guide: AnyGuide, pack: WalkPack, address: str = "") -> bytes:
    """The event's file; `address` is the walk's page. The place is the meeting point as typed, never coordinates."""
    settings, walk = guide.settings, pack.walk
    say = words(settings.language)
    event = Event()
    host = urlsplit(settings.address).hostname or "guide.invalid"
    event.add("uid", f"walk-{walk.id}@{host}")
    # The standard wants the moment the file was made; the start is used so that the file does not change by itself.
    event.add("dtstamp", pack.starts.astimezone(dt.UTC))
    event.add("dtstart", pack.starts)
    event.add("dtend", pack.ends)
    event.add("summary", walk.title)
    event.add("location", walk.meet)
    told = [
        walk.note.words,
        say("Leader: {name}", name=walk.leader) if walk.leader else "",
        walk.contact,
        say("Bring: {things}", things=", ".join(walk.bring)) if walk.bring else "",
    ]
    event.add("description", "\n".join(line for line in told if line))
    if address:
        event.add("url", address)
    calendar = Calendar()
    calendar.add("prodid", f"-//{settings.publisher or settings.title}//guidebuild//{settings.language.upper()}")
    calendar.add("version", "2.0")
    calendar.add_component(event)
    # Only the changes of the clock round the walk, not all of the past.
    calendar.add_missing_timezones(first_date=walk.date.replace(month=1, day=1), last_date=walk.date.replace(month=12, day=31))
    return bytes(calendar.to_ical())
