"""A walk as a calendar event, read back by the icalendar library's own parser."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from icalendar import Calendar, Event

from guidebuild.fieldwork.calendar import Writing, rewrite_calendar, walk_calendar
from guidebuild.fieldwork.published import make_published
from guidebuild.fieldwork.walks import walk_pack
from guidebuild.guide.guide import Caution
from guidebuild.reading.shipped_lists import cautions
from tests.as_published import with_walk
from tests.fieldwork.invented import WALK, guide

FIRST = Writing(0, dt.date(2026, 5, 2))


def event_of(written: bytes) -> Event:
    (event,) = Calendar.from_ical(written).walk("VEVENT")
    assert isinstance(event, Event)
    return event


def rewritten(*former: bytes, today: dt.date = FIRST.day, **changes: object) -> bytes:
    """The walk, with changes, written after the files that were published before."""
    changed = replace(WALK, **changes)  # type: ignore[arg-type] # the fields of a walk by their names
    return rewrite_calendar(make_published(guide()), walk_pack(*with_walk(guide(), changed)), "", former, today)


def stamp_of(written: bytes) -> tuple[int, str]:
    event = event_of(written)
    return int(event["sequence"]), event["dtstamp"].dt.isoformat()


def test_the_event_reads_back() -> None:
    address = "https://larkfold.example/guide/walks/june-walk.html"
    written = walk_calendar(make_published(guide()), walk_pack(*with_walk(guide(), WALK)), address, FIRST)
    calendar = Calendar.from_ical(written)
    (event,) = calendar.walk("VEVENT")
    assert event["uid"] == "walk-june-walk@larkfold.example"
    assert event["dtstart"].dt.isoformat() == "2026-06-20T18:30:00+01:00"
    assert event["dtend"].dt - event["dtstart"].dt == dt.timedelta(minutes=90)
    assert (str(event["summary"]), str(event["location"])) == ("A June evening on the hedge", "the lay-by")
    assert (
        str(event["description"])
        == "Leader: A. Leader\nBring: notebook\nRoad walking: Face the traffic.\nTicks: Check your skin and clothes after the walk."
    )
    assert [str(zone["tzid"]) for zone in calendar.walk("VTIMEZONE")] == ["Europe/London"]
    assert "geo" not in event
    assert len(written) < 2000


def test_lines_end_and_fold_as_rfc_5545_says() -> None:
    written = walk_calendar(make_published(guide()), walk_pack(*with_walk(guide(), WALK)), "https://larkfold.example/" + "x" * 100, FIRST)
    assert written.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in written.replace(b"\r\n", b"")
    assert max(len(line) for line in written.split(b"\r\n")) <= 75


def test_the_event_says_when_it_was_written() -> None:
    """RFC 5545, 3.8.7.2: DTSTAMP is in UTC and, without a METHOD, says when the event was last changed; 3.8.7.4: SEQUENCE begins at 0."""
    assert stamp_of(rewritten()) == (0, "2026-05-02T00:00:00+00:00")
    assert b"DTSTAMP:20260502T000000Z\r\n" in rewritten()


def test_the_same_walk_gives_the_same_bytes_on_a_later_day() -> None:
    first = rewritten()
    assert rewritten() == first
    assert rewritten(first, today=dt.date(2026, 6, 1)) == first


def test_a_correction_has_a_higher_sequence() -> None:
    """RFC 5546 (from memory): of two files with one UID that with the higher SEQUENCE counts, among equals that with the later DTSTAMP."""
    first = rewritten()
    moved = rewritten(first, today=dt.date(2026, 6, 1), start=dt.time(19, 0))
    assert stamp_of(moved) == (1, "2026-06-01T00:00:00+00:00")
    again = rewritten(moved, today=dt.date(2026, 6, 1), meet="the gate")
    assert stamp_of(again) == (2, "2026-06-01T00:00:00+00:00")
    assert event_of(again)["uid"] == event_of(first)["uid"]
    back = rewritten(again, today=dt.date(2026, 6, 3))  # as it was at first: that too is a correction
    assert stamp_of(back) == (3, "2026-06-03T00:00:00+00:00")


def test_the_later_of_two_published_files_counts() -> None:
    """The site and the packs each hold the event, and one may have been published more often."""
    first = rewritten()
    second = rewritten(first, today=dt.date(2026, 6, 1), meet="the gate")
    for former in ((first, second), (second, first)):
        assert rewritten(*former, today=dt.date(2026, 6, 9), meet="the gate") == second
        assert stamp_of(rewritten(*former, today=dt.date(2026, 6, 9), meet="the stile"))[0] == 2


def test_a_correction_is_never_older_than_what_it_corrects() -> None:
    later = rewritten(today=dt.date(2026, 6, 9))
    assert stamp_of(rewritten(later, today=dt.date(2026, 6, 1), meet="the gate")) == (1, "2026-06-09T00:00:00+00:00")


DAMAGED = [b"", b"\xff\xfe", b"BEGIN:VCALENDAR", b"BEGIN:VTODO\r\nEND:VTODO\r\n", rewritten().replace(b"DTSTAMP:2026", b"DTSTAMP:then")]


@pytest.mark.parametrize("damaged", DAMAGED)
def test_a_damaged_file_is_written_anew(damaged: bytes) -> None:
    assert rewritten(damaged) == rewritten()


def test_the_event_speaks_the_guides_language() -> None:
    spanish = replace(guide(), settings=replace(guide().settings, languages=("es",)))
    (event,) = Calendar.from_ical(walk_calendar(make_published(spanish), walk_pack(*with_walk(spanish, WALK)), "", FIRST)).walk("VEVENT")
    assert str(event["description"]).splitlines() == [
        "Guía de la salida: A. Leader",
        "Traer: notebook",
        "Road walking: Face the traffic.",
        "Garrapatas: Check your skin and clothes after the walk.",
    ]


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", ["Roads: Walk facing the traffic in single file and do not stop in the road.", "Old nets: Mind old nets."]),
        ("es", ["Carreteras: Camine de cara al tráfico, en fila, y no se pare en la calzada.", "Old nets: Mind old nets."]),
    ],
)
def test_the_event_warns_of_the_walk_and_its_places(language: str, said: list[str]) -> None:
    """Who has only the event in a calendar must know of the road too."""
    warned = {"road": cautions()["road"], "nets": Caution("nets", "Old nets", "Mind old nets.")}
    places = {**guide().places, "meadow": replace(guide().places["meadow"], hazards=("nets", "road"))}
    of = replace(guide(), settings=replace(guide().settings, languages=(language,)), cautions=warned, places=places)
    (event,) = Calendar.from_ical(walk_calendar(make_published(of), walk_pack(*with_walk(of, WALK)), "", FIRST)).walk("VEVENT")
    assert str(event["description"]).splitlines()[2:] == said


@pytest.mark.parametrize(("publisher", "named"), [("Hedge Press", "Hedge Press"), ("", "Hedge Bugs")])
def test_the_event_names_who_publishes_it_or_else_the_guide(publisher: str, named: str) -> None:
    of = guide(settings=replace(guide().settings, publisher=publisher, title="Hedge Bugs"))
    written = walk_calendar(make_published(of), walk_pack(*with_walk(of, WALK)), "", FIRST)
    assert str(Calendar.from_ical(written)["prodid"]) == f"-//{named}//guidebuild//{of.settings.language.upper()}"
