"""How often each stage was seen at each place in each dekad: a summary of the sightings for a spreadsheet, and no list of occurrences."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from guidebuild.fieldwork.published import Published
from guidebuild.fieldwork.season_words import first_day, last_day
from guidebuild.guide.seasons import dekad_of

SEEN_COLUMNS = (
    "scientific name", "vernacular name", "stage", "place", "first day of the dekad", "last day of the dekad", "sightings",
    "days with sightings", "first year", "last year",
)  # fmt: skip


@dataclass(slots=True)
class _Seen:
    """What is seen of a stage at a place in a dekad."""

    rows: int = 0
    days: set[int] = field(default_factory=set)


def seen_rows(guide: Published) -> Iterator[tuple[str, ...]]:
    """Rows under `SEEN_COLUMNS`, made of the published rows alone, so that nothing can be told by the difference.

    What is told by month or year only, as its place is kept secret, has no dekad and no row here.
    """
    gathered: dict[tuple[str, str, str], dict[int, _Seen]] = defaultdict(lambda: defaultdict(_Seen))
    for row in guide.rows:
        record = row.record
        if record is None or not record.day or record.absent or record.doubtful:
            continue
        seen = gathered[row.account, row.stage, row.locality.name][dekad_of(dt.date.fromordinal(record.day))]
        seen.rows += 1
        seen.days.add(record.day)
    for (account_id, stage, place), dekads in sorted(gathered.items()):
        account = guide.accounts[account_id]
        word = guide.stage_set(account).word(stage) if stage else ""
        for dekad, seen in sorted(dekads.items()):
            yield account.name.plain, account.vernacular, word, place, *_tell_dekad(dekad), *_tell_seen(seen)


def _tell_dekad(dekad: int) -> tuple[str, str]:
    return f"{first_day(dekad):%m-%d}", f"{last_day(dekad):%m-%d}"


def _tell_seen(seen: _Seen) -> tuple[str, ...]:
    years = [dt.date.fromordinal(day).year for day in seen.days]
    return str(seen.rows), str(len(seen.days)), str(min(years)), str(max(years))
