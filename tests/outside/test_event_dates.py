"""Dates of sightings against the Darwin Core standard's own examples."""

from __future__ import annotations

import datetime as dt

import pytest

from guidebuild.guide.problem import Unreadable
from guidebuild.reading.event_dates import EventDate, parse_event_date
from guidebuild.reading.sighting_dates import list_dates


def on(first: str, last: str = "") -> tuple[dt.date, dt.date]:
    return dt.date.fromisoformat(first), dt.date.fromisoformat(last or first)


# Darwin Core term list, eventDate, version of 2026-05-26 (tdwg/dwc, vocabulary/term_versions.csv). The ends of the two last
# are part of the interval by this project's declared choice; the standard said "to the end of" until 2023, "before" since 2025.
EXAMPLES = {
    "1963-03-08T14:07-06:00": on("1963-03-08"),
    "1963-03-08T14:07-0600": on("1963-03-08"),  # the offset as spelt up to 2023
    "2009-02-20T08:40Z": on("2009-02-20"),
    "2018-08-29T15:19": on("2018-08-29"),
    "1809-02-12": on("1809-02-12"),
    "1906-06": on("1906-06-01", "1906-06-30"),
    "1971": on("1971-01-01", "1971-12-31"),
    "2007-03-01T13:00:00Z/2008-05-11T15:30:00Z": on("2007-03-01", "2008-05-11"),
    "1900/1909": on("1900-01-01", "1909-12-31"),
    "2007-11-13/15": on("2007-11-13", "2007-11-15"),
}
# The same list, for verbatimEventDate: such words never stand in eventDate.
VERBATIM = ["spring 1910", "Marzo 2002", "1999-03-XX", "17IV1934"]
# startDayOfYear of the same list: 1 is 1 January, 32 is 1 February, 365 is 31 December, or 30 December in a leap year.
DAYS_OF_YEAR = {
    "2021-001": on("2021-01-01"), "2021-032": on("2021-02-01"), "2021-365": on("2021-12-31"), "2020-365": on("2020-12-30"),
    "2020-366": on("2020-12-31"),
}  # fmt: skip
# ISO 8601-1:2019, from memory: basic form, weeks (W01 of 2021 starts on 4 January), shortened ends.
OTHER = {
    "20210914": on("2021-09-14"), "2021-W01": on("2021-01-04", "2021-01-10"), "2021-W01-3": on("2021-01-06"),
    "2007-11-13/12-15": on("2007-11-13", "2007-12-15"), "2007-03/05": on("2007-03-01", "2007-05-31"),
    "2018-08-29T14:07/15:30": on("2018-08-29"), "2020-02-29 14:30": on("2020-02-29"),
}  # fmt: skip
# Common practice, no source: how people type a day whose month cannot be mistaken.
TYPED = {
    "14/09/2021": on("2021-09-14"), "09/14/2021": on("2021-09-14"), "14.09.2021": on("2021-09-14"), "06/06/2020": on("2020-06-06"),
    "Tuesday 14th Sept. 2021": on("2021-09-14"), "14 September 2021": on("2021-09-14"), "Sep 14, 2021": on("2021-09-14"),
    "14-Sep-2021": on("2021-09-14"),
    "2021/05/03": on("2021-05-03"), "2021-5-3": on("2021-05-03"), "2021.05.03": on("2021-05-03"), "2021-5": on("2021-05-01", "2021-05-31"),
    "2021-05-03 4:30": on("2021-05-03"), "2021-05-03 14:30:00 UTC": on("2021-05-03"), "  2020-06-05 ": on("2020-06-05"),
}  # fmt: skip
ALL = EXAMPLES | DAYS_OF_YEAR | OTHER | TYPED


@pytest.mark.parametrize(("text", "days"), ALL.items(), ids=ALL)
def test_a_date_is_read(text: str, days: tuple[dt.date, dt.date]) -> None:
    found = parse_event_date(text)
    assert isinstance(found, EventDate), found
    assert (found.first, found.last) == days


@pytest.mark.parametrize("text", VERBATIM)
def test_words_go_to_the_verbatim_field(text: str) -> None:
    found = parse_event_date(text)
    assert found == Unreadable(
        f"The date “{text}” cannot be read.", "Write the date as 2021-09-14; words for it can stand in verbatimEventDate.", "sighting-date"
    )


def test_a_slashed_date_is_never_guessed() -> None:
    found = parse_event_date("05/06/2020")
    assert isinstance(found, Unreadable)
    assert found.code == "sighting-day-or-month"
    for order, day in (("day first", "2020-06-05"), ("month first", "2020-05-06")):
        read = parse_event_date("05/06/2020", order)
        assert isinstance(read, EventDate)
        assert read.day == dt.date.fromisoformat(day)


def test_an_interval_no_longer_than_a_dekad_has_a_day() -> None:
    for text, day in {"2007-11-13/15": dt.date(2007, 11, 14), "2007-11-01/10": dt.date(2007, 11, 5), "2007-11-01/11": None}.items():
        found = parse_event_date(text)
        assert isinstance(found, EventDate)
        assert found.day == day


@pytest.mark.parametrize("text", ["2008-05-11/2007-03-01", "2021-366", "2021-13", "2021-W54", "0021-01-01", "14 Foo 2021", "/", "2021/",
                                  "2021-05-03T4",
                                  "2021-05-03T14:67", "2021-05-03T25:00", "2021-05-03T14:07+19:00", "2021/13/03"])  # fmt: skip
def test_senseless_dates_are_refused(text: str) -> None:
    assert isinstance(parse_event_date(text), Unreadable)


# Times of the forms that the same list's examples have (hours and minutes, seconds, an offset, Z); the times themselves are ours.
TIMES = ("14:07-06:00", "08:40:21Z", "09:15", "14Z", "13:00:00Z")


@pytest.mark.parametrize("time", TIMES)
def test_a_time_of_the_standards_examples_leaves_its_day(time: str) -> None:
    found = parse_event_date(f"2009-02-20T{time}")
    assert isinstance(found, EventDate), found
    assert (found.first, found.last) == on("2009-02-20")


# The same list, eventTime: with the day in eventDate, or in year, month and day.
@pytest.mark.parametrize("time", ["14:07-06:00", "14:07-0600", "08:40:21Z", "13:00:00Z/15:30:00Z"])
@pytest.mark.parametrize("cells", [{"eventDate": "2009-02-20"}, {"year": "2009", "month": "2", "day": "20"}])
def test_an_event_time_of_the_standards_examples_says_which_day_it_is_here(time: str, cells: dict[str, str]) -> None:
    (text,) = list_dates({**cells, "eventTime": time})
    here, there = parse_event_date(text), parse_event_date(text, zone="Pacific/Kiritimati")
    assert isinstance(here, EventDate)
    assert isinstance(there, EventDate)
    assert (here.first, here.last) == on("2009-02-20")
    # Kiritimati is 14 hours ahead of UTC (tz database).
    late = time != "08:40:21Z"
    assert (there.first, there.last) == (on("2009-02-21") if late else on("2009-02-20"))


@pytest.mark.parametrize("time", ["", "09:15", "afternoon", "14:07/15:30", "13:00:00Z/noon", "P1D"])
def test_a_time_without_a_zone_changes_no_day(time: str) -> None:
    assert list_dates({"eventDate": "2009-02-20", "eventTime": time}) == ["2009-02-20"]
    assert list_dates({"eventDate": "2009-02", "eventTime": "13:00Z"}) == ["2009-02"]


@pytest.mark.parametrize(
    ("text", "zone", "day"),
    [
        ("2021-06-30T23:30Z", "Europe/Vienna", "2021-07-01"),
        ("2021-06-30T23:30:00+02:00", "Europe/Vienna", "2021-06-30"),
        ("2021-06-30T23:30-06:00", "Europe/Vienna", "2021-07-01"),
        ("2021-06-30T03:30Z", "America/Denver", "2021-06-29"),
        ("2021-06-30T23:30Z", "UTC", "2021-06-30"),
        ("2021-06-30T23:30", "Europe/Vienna", "2021-06-30"),
        ("9999-12-31T23:30Z", "Europe/Vienna", ""),
    ],
)
def test_a_time_with_its_offset_falls_on_the_local_day(text: str, zone: str, day: str) -> None:
    found = parse_event_date(text, zone=zone)
    assert (str(found.first) if isinstance(found, EventDate) else "") == day
