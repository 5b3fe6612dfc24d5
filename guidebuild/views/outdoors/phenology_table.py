"""When each stage was really seen, as a table for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.fieldwork.limits import ESTIMATOR
from guidebuild.fieldwork.phenology import Phenology, SeenDay, date_of, list_phenologies
from guidebuild.fieldwork.published import Published

PHENOLOGY_COLUMNS = (
    "scientific name", "vernacular name", "stage", "sightings", "years", "first seen", "5 % date", "5 % interval", "50 % date",
    "50 % interval", "95 % date", "95 % interval", "last seen", f"true first ({ESTIMATOR})", "true first interval",
    f"true last ({ESTIMATOR})", "true last interval", "all round the year", "note",
)  # fmt: skip


def phenology_rows(guide: Published) -> Iterator[tuple[str, ...]]:
    """Rows under PHENOLOGY_COLUMNS; dates are month and day, intervals hold the date by 95 %."""
    for found in list_phenologies(guide):
        account = guide.accounts.get(found.account)
        if account:
            words = dict(guide.stage_set(account).stages)
            yield (account.name.plain, account.vernacular, words.get(found.stage, found.stage), *_numbers(found))


def _numbers(found: Phenology) -> tuple[str, ...]:
    return (
        str(found.rows), str(found.years), _day(found.first), *_held(found.early), *_held(found.middle), *_held(found.late),
        _day(found.last), *_held(found.true_first), *_held(found.true_last), "yes" if found.all_round else "", found.caution,
    )  # fmt: skip


def _day(day: int) -> str:
    return f"{date_of(day):%m-%d}"


def _held(seen: SeenDay | None) -> tuple[str, str]:
    return (_day(seen.day), f"{_day(seen.earliest)} to {_day(seen.latest)}") if seen else ("", "")
