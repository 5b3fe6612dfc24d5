"""A walk as a calendar event, read back by the icalendar library's own parser."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from icalendar import Calendar

from guidebuild.fieldwork.calendar import walk_calendar
from guidebuild.fieldwork.published import make_published
from guidebuild.fieldwork.walks import walk_pack
from tests.as_published import with_walk
from tests.fieldwork.invented import WALK, guide


def test_the_event_reads_back() -> None:
    written = walk_calendar(
        make_published(guide()), walk_pack(*with_walk(guide(), WALK)), "https://larkfold.example/guide/walks/june-walk.html"
    )
    calendar = Calendar.from_ical(written)
    (event,) = calendar.walk("VEVENT")
    assert event["uid"] == "walk-june-walk@larkfold.example"
    assert event["dtstart"].dt.isoformat() == "2026-06-20T18:30:00+01:00"
    assert event["dtend"].dt - event["dtstart"].dt == dt.timedelta(minutes=90)
    assert event["dtstamp"].dt == dt.datetime(2026, 6, 20, 17, 30, tzinfo=dt.UTC)
    assert (str(event["summary"]), str(event["location"])) == ("A June evening on the hedge", "the lay-by")
    assert str(event["description"]) == "Leader: A. Leader\nBring: notebook"
    assert [str(zone["tzid"]) for zone in calendar.walk("VTIMEZONE")] == ["Europe/London"]
    assert "geo" not in event
    assert len(written) < 2000


def test_lines_end_and_fold_as_rfc_5545_says() -> None:
    written = walk_calendar(make_published(guide()), walk_pack(*with_walk(guide(), WALK)), "https://larkfold.example/" + "x" * 100)
    assert written.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in written.replace(b"\r\n", b"")
    assert max(len(line) for line in written.split(b"\r\n")) <= 75


def test_the_same_walk_gives_the_same_bytes() -> None:
    assert walk_calendar(make_published(guide()), walk_pack(*with_walk(guide(), WALK))) == walk_calendar(
        make_published(guide()), walk_pack(*with_walk(guide(), WALK))
    )


def test_the_event_speaks_the_guides_language() -> None:
    spanish = replace(guide(), settings=replace(guide().settings, languages=("es",)))
    (event,) = Calendar.from_ical(walk_calendar(make_published(spanish), walk_pack(*with_walk(spanish, WALK)))).walk("VEVENT")
    assert str(event["description"]) == "Guía de la salida: A. Leader\nTraer: notebook"
