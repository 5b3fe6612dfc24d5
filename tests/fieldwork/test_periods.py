"""How exactly a day at a place that is not told may be told: as no open place was left out. All places are invented."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from guidebuild.fieldwork.periods import Looked, find_looked
from guidebuild.fieldwork.public_records import Locality, PublicTally

HEDGE = Locality("Hedge", "51.10340", "-1.31210", place="hedge")
BANK = Locality("Bank", "51.11120", "-1.33110", place="bank")
FAR = Locality("Far End", "52.90000", "-1.90000", place="far")
AREA = Locality("the Vale", generalised="by its area")
CELL = Locality("the Vale", "51.1", "-1.3", generalised="rounded")


def day(text: str) -> int:
    return dt.date.fromisoformat(text).toordinal()


def seen(where: Locality, *days: str) -> PublicTally:
    return PublicTally("bug", "adult", where.place, days=tuple(map(day, days)), counts=(1,) * len(days), locality=where)


def told(text: str, where: Locality, *tallies: PublicTally) -> str:
    return find_looked(tallies).tell_period(day(text), where)


def test_a_month_in_which_every_open_place_was_looked_at_may_be_told() -> None:
    rows = (seen(HEDGE, "2024-05-03", "2025-06-01"), seen(BANK, "2024-05-30", "2025-07-01"))
    assert told("2024-05-14", AREA, *rows) == "2024-05"
    assert told("2025-06-14", AREA, *rows) == "2025"  # in June the bank was not looked at, in the year it was
    assert told("2023-05-14", AREA, *rows) == "2023-05"  # no open place tells anything of that month
    assert told("2024-06-14", AREA, *rows) == "2024-06"


def test_a_year_in_which_one_was_left_out_may_not() -> None:
    rows = (seen(HEDGE, "2024-05-03"), seen(BANK, "2025-05-03"))
    assert told("2024-05-14", AREA, *rows) == ""
    assert told("2024-08-14", AREA, *rows) == "2024-08"


def test_only_open_places_of_the_same_cell_count() -> None:
    rows = (seen(HEDGE, "2024-05-03"), seen(FAR, "2025-05-03"))
    assert told("2024-05-14", CELL, *rows) == "2024-05"
    assert told("2024-05-14", AREA, *rows) == ""
    finer = replace(CELL, latitude="51.10", longitude="-1.31")
    assert told("2024-05-14", finer, *rows, seen(BANK, "2023-05-03")) == "2024-05"  # the bank is in another cell of 0.01°
    assert told("2024-05-14", CELL, *rows, seen(BANK, "2023-05-03")) == ""


def test_a_place_without_a_position_counts_for_the_whole_guide() -> None:
    nowhere = seen(Locality("Hut", place="hut"), "2025-05-03")
    assert told("2024-05-14", AREA, seen(HEDGE, "2024-05-03"), nowhere) == ""
    assert told("2024-05-14", CELL, seen(HEDGE, "2024-05-03"), nowhere) == "2024-05"


def test_rows_that_tell_no_day_or_no_place_count_for_nothing() -> None:
    rows = (seen(HEDGE, "2024-05-03"), seen(BANK), seen(CELL, "2025-05-03"))
    assert told("2024-05-14", AREA, *rows) == "2024-05"
    assert Looked().tell_period(day("2024-05-14"), AREA) == "2024-05"
