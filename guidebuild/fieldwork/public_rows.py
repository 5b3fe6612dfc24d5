"""Rows of sightings for readers: what was typed where that may be told, a generalised row where it may not, or none.

Three things are decided of each row: whether its licence lets it be handed on (`record_terms.py`), whether its species or place is
kept secret, and whether its figures or words tell of a secret place though it names none. Rows that are not told leave no trace: no
gap in ids that count rows, and no place in an order.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import PurePosixPath
from typing import NamedTuple

from guidebuild.fieldwork.decisions import Decisions
from guidebuild.fieldwork.exact_spots import ExactSpots
from guidebuild.fieldwork.periods import Looked
from guidebuild.fieldwork.public_records import LeftOutRows, Locality, PublicRow
from guidebuild.fieldwork.record_terms import Terms, find_terms
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Source
from guidebuild.guide.sighting_records import SightingRecord

_OF_ITS_OWN = re.compile(r"https?://|(?:urn:uuid:)?[0-9a-f]{8}(?:-?[0-9a-f]{4}){3}-?[0-9a-f]{12}$", re.IGNORECASE)
"""IDs that no guide counts its own rows by."""
_WORDS = (
    "occurrenceID", "scientificName", "identificationQualifier", "identificationVerificationStatus", "recordedBy", "identifiedBy", "sex",
    "lifeStage", "reproductiveCondition", "verbatimEventDate", "locality", "verbatimLocality", "verbatimLatitude", "verbatimLongitude",
    "samplingProtocol", "occurrenceRemarks", "rightsHolder", "datasetName",
)  # fmt: skip
"""Cells that may hold words that tell."""
_TERMS = ("license", "rightsHolder", "recordedBy", "datasetName")
_TELLS = "it tells of a place that is kept secret"
_NEAR = "it was near a place that is kept secret, and at no open place whose position could be told instead"


@dataclass(slots=True)
class _Sorting:
    """Rows as they are told, while they are sorted."""

    exact: list[PublicRow] = field(default_factory=list)
    hidden: dict[tuple[str, str, Locality], set[str]] = field(default_factory=lambda: defaultdict(set))
    left_out: Counter[tuple[str, str]] = field(default_factory=Counter)
    broken_series: set[str] = field(default_factory=set)

    def leave_out(self, record: SightingRecord, why: str) -> None:
        self.left_out[record.file, why] += 1


class _Met(NamedTuple):
    """A row with what is known of it."""

    record: SightingRecord
    account: Account
    terms: Terms
    data_set: Source | None


def rows_for_readers(made: Decisions, looked: Looked) -> tuple[tuple[PublicRow, ...], tuple[LeftOutRows, ...]]:
    """The rows, those in full first, and how many of each file are left out for which reason."""
    sorting, spots = _Sorting(), ExactSpots(made)
    guide = made.guide
    known: dict[tuple[object, ...], Terms] = {}
    data_sets = _find_data_sets(guide)
    for record in guide.records:
        account = guide.accounts.get(record.account)
        if account is None:
            continue
        data_set = data_sets.get(record.file)
        asked = (record.foreign, data_set and data_set.id, *(record.cell(term) for term in _TERMS))
        terms = known.get(asked) or known.setdefault(asked, find_terms(record, guide.licences, guide.settings.licence, data_set))
        _sort_row(made, sorting, spots, _Met(record, account, terms, data_set), looked)
    left_out = tuple(LeftOutRows(file, why, rows) for (file, why), rows in sorted(sorting.left_out.items()))
    return (*_with_ids(sorting), *_generalised(sorting)), left_out


def _find_data_sets(guide: Guide) -> dict[str, Source]:
    """The sources of the files that come from a data set."""
    of_file = guide.sighting_words.data_sets if guide.sighting_words else {}
    named = ((file, of_file.get(PurePosixPath(file).name, "")) for file in guide.sighting_files)
    return {file: guide.sources[source] for file, source in named if source in guide.sources}


def _sort_row(made: Decisions, sorting: _Sorting, spots: ExactSpots, met: _Met, looked: Looked) -> None:
    record, account, terms, data_set = met
    locality = made.locality(account, record.place)
    if locality.generalised:
        sorting.broken_series.add(_series_of(record.cell("occurrenceID")))
        # One row is told for many: nobody is named in it, so that none is made of what asks for names, or that found nothing.
        if terms.refused or terms.credited:
            sorting.leave_out(record, terms.refused or "it would be told without the names that its licence asks for")
        elif not record.absent and not record.doubtful:
            sorting.hidden[record.account, record.stage, locality].update(_periods(record, locality, looked))
        return
    if terms.refused:
        sorting.leave_out(record, terms.refused)
        return
    told = spots.tell_position(record, locality)
    named = (data_set.holder, data_set.title, data_set.cite, data_set.id) if data_set else ()
    # Of a row without its own figures, words alone are looked at: what figures it had is no reason to leave it out.
    if told is None or spots.tells((*(told[1].cell(term) for term in _WORDS), *named)):
        sorting.broken_series.add(_series_of(record.cell("occurrenceID")))
        sorting.leave_out(record, _NEAR if told is None else _TELLS)
        return
    where, shown, exact = told
    of = data_set.id if data_set else ""
    sorting.exact.append(PublicRow(record.account, record.stage, record.event_date, where, terms.licence, shown, exact=exact, data_set=of))


def _periods(record: SightingRecord, locality: Locality, looked: Looked) -> Iterator[str]:
    if record.day:
        yield looked.tell_period(record.day, locality)


def _generalised(sorting: _Sorting) -> Iterator[PublicRow]:
    """A row for each period, in an order that follows from what is told."""
    for (account, stage, locality), periods in sorted(sorting.hidden.items(), key=lambda item: (*item[0][:2], repr(item[0][2]))):
        yield from (PublicRow(account, stage, period, locality) for period in sorted(periods))


def _series_of(identity: str) -> str:
    """What IDs share that count rows: `larkfold-#`. An ID without a figure, or one that others give, is of no series."""
    return "" if _OF_ITS_OWN.match(identity) or not re.search(r"\d", identity) else re.sub(r"\d+", "#", identity)


def _with_ids(sorting: _Sorting) -> Iterable[PublicRow]:
    """The rows with the IDs that they may keep: of a series in which rows are missing, the gap would tell when and by whom."""
    used: set[str] = set()
    broken = sorting.broken_series - {""}
    for row in sorting.exact:
        identity = row.record.cell("occurrenceID") if row.record else ""
        if not identity or identity in used or _series_of(identity) in broken:
            yield row
            continue
        used.add(identity)
        yield replace(row, own_id=identity)
