"""CSV files of sightings, streamed, → tallies and findings. A million rows need neither much time nor memory."""

from __future__ import annotations

import csv
from array import array
from collections.abc import Iterable, Iterator
from itertools import islice
from operator import itemgetter
from pathlib import Path

from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.guide.names import Standing
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.resolve import find_account, fold_name
from guidebuild.guide.sightings import SeenSpot, Tally
from guidebuild.reading.event_dates import parse_event_date
from guidebuild.reading.sighting_columns import Columns, Layout, find_columns, layout_of
from guidebuild.reading.sighting_lookups import WORLD, PlacesByPosition, account_of, place_names, position_of, qualifier_standing, stage_of
from guidebuild.reading.sighting_notes import SightingNotes

Key = tuple[str, str, str]  # account, stage, place

# One dated row is one 64-bit number: day, file, row. Sorting them puts the first row of each day first.
_DAY, _FILE = 44, 32
# Darwin Core says detected and notDetected since 2026-05-26, and said present and absent before.
_ABSENT = {"absent": True, "notdetected": True}
_BAD = -1  # a date that cannot be used
_LOOSE = 0  # a date that is not known to the day
_CACHED = 200_000  # texts of dates kept; times of day make each of them different


def read_sightings(folder: Path, files: Iterable[str], guide: Guide) -> tuple[tuple[Tally, ...], tuple[Finding, ...]]:
    """Read files of sightings (relative to the guide's folder).

    A row that cannot be used is a finding with its number (as a spreadsheet counts, the header is row 1); the rest counts.
    """
    names = tuple(files)
    gathering = _Gathering(guide)
    findings: list[Finding] = []
    for number, file in enumerate(names):
        notes = SightingNotes(file)
        _FileReader(gathering, notes, number).read(folder / file)
        findings += notes.findings()
    return gathering.tallies(names), tuple(findings)


class _Gathering:
    """What all files of one guide share: look-ups, and the rows gathered so far."""

    def __init__(self, guide: Guide) -> None:
        self.guide = guide
        self.places = place_names(guide)
        self.by_position = PlacesByPosition(guide)
        self.dated: dict[Key, array[int]] = {}
        self.loose: dict[Key, int] = {}
        self.absent: dict[Key, int] = {}
        self.doubtful: dict[Key, int] = {}
        self.doubtful_names: set[str] = set()
        self.vernaculars: dict[str, str] = {}
        self.accounts: dict[str, str] = {}
        self.stages: dict[tuple[str, str], str | None] = {}
        self.verdicts: dict[tuple[str, ...], bool] = {}  # uncertainty, count, status → nothing was found
        self.spots: dict[Key, set[SeenSpot]] = {}
        sensitive = (*((a.id, a.sensitivity) for a in guide.accounts.values()), *((p.id, p.sensitivity) for p in guide.places.values()))
        self.secret = {ident for ident, kept in sensitive if kept}
        self.met: set[int] = set()  # hashes of rows, so that copies are found without keeping the rows

    def tallies(self, files: tuple[str, ...]) -> tuple[Tally, ...]:
        """The gathered rows as values, in order of account, stage and place."""
        self.met.clear()
        keys = sorted(self.dated.keys() | self.spots.keys() | self.loose.keys() | self.absent.keys() | self.doubtful.keys())
        return tuple(self._tally(key, files) for key in keys)

    def _tally(self, key: Key, files: tuple[str, ...]) -> Tally:
        firsts: list[int] = []
        counts: list[int] = []
        for packed in sorted(self.dated.pop(key, ())):
            if firsts and firsts[-1] >> _DAY == packed >> _DAY:
                counts[-1] += 1
            else:
                firsts.append(packed)
                counts.append(1)
        return Tally(
            *key,
            days=tuple(packed >> _DAY for packed in firsts),
            counts=tuple(counts),
            first_rows=tuple(packed & 0xFFFFFFFF for packed in firsts),
            files=tuple(files[packed >> _FILE & 0xFFF] for packed in firsts),
            loose=self.loose.get(key, 0),
            absences=self.absent.get(key, 0),
            doubtful=self.doubtful.get(key, 0),
            spots=tuple(sorted(self.spots.get(key, ()), key=repr)),
        )


class _FileReader:
    """Reads one file into the gathering."""

    def __init__(self, gathering: _Gathering, notes: SightingNotes, number: int) -> None:
        self.all = gathering
        self.notes = notes
        self.file_bits = (number & 0xFFF) << _FILE
        self.days: dict[str, int] = {}
        self.orders: dict[str, int] = {}  # order of day and month seen → first row
        self.done = 1
        settings = gathering.guide.settings
        self.box, self.order = settings.region_box, settings.date_order
        as_of = gathering.guide.as_of
        self.last_day = as_of.toordinal() if as_of else None

    def read(self, path: Path) -> None:
        """Read a file; one that is not UTF-8 is told and read as Windows-1252 from the row on."""
        try:
            layout = layout_of(path)
            try:
                self._read_as(path, layout)
            except UnicodeDecodeError:
                self.notes.add("sightings-not-utf8", f"Row {self.done + 1} or one soon after is not in UTF-8", 0)
                self._read_as(path, Layout("cp1252", layout.separator, layout.lines_before))
        except OSError as trouble:
            self.notes.add("sightings-not-readable", f"The file cannot be opened: {trouble.strerror}", 0)
        except csv.Error as trouble:
            self.notes.add("sightings-not-readable", f"After row {self.done} the table breaks off: {trouble}", 0,
                           mend="Look for a quotation mark that is not closed.")  # fmt: skip
        if len(self.orders) > 1:
            (one, first), (other, second) = self.orders.items()
            self.notes.add("sighting-date-order", f"Row {first} has the {one} and row {second} the {other}", 0)

    def _read_as(self, path: Path, layout: Layout) -> None:
        errors = "replace" if layout.encoding == "cp1252" else "strict"
        with path.open(encoding=layout.encoding, errors=errors, newline="") as source:
            for _ in range(layout.lines_before):
                source.readline()
            rows = csv.reader(source, delimiter=layout.separator)
            header = next(rows, None)
            if header is None or not any(cell.strip() for cell in header):
                self.notes.add("sightings-not-readable", "The file is empty", 0)
            elif columns := find_columns(header, self.notes if self.done == 1 else SightingNotes("")):
                self._rows(islice(rows, self.done - 1, None), columns)

    def _rows(self, rows: Iterator[list[str]], columns: Columns) -> None:
        """The one hot loop: everything that can be answered from a table is, the rest goes to small functions."""
        known, met, days, shared_doubts = self.all.accounts, self.all.met, self.days, self.all.doubtful_names
        pick = itemgetter(*columns.positions)
        for number, row in enumerate(rows, self.done + 1):
            self.done = number
            if len(row) != columns.width:
                self._wrong_width(row, columns.width, number)
                continue
            row.append("")  # what a column that is not there holds
            (name, common, date, year, month, day, stage, place_id, locality, north, east, typed_north, typed_east, *rest,
             kingdom, qualifier, identity) = pick(row)  # fmt: skip
            met_as = hash(identity) if identity else hash(tuple(row))
            if met_as in met:
                self._copy(identity, number)
                continue
            called = name or common
            account = known.get(f"{called}\t{kingdom}" if kingdom else called) or self._account(called, kingdom, number)
            doubtful = called in shared_doubts
            if account and qualifier:
                doubtful, account = self._qualified(account, called, qualifier, number)
            if account and name and common and self._other_species(account, name, common, number):
                continue
            if not account:
                continue
            met.add(met_as)
            when = days.get(date)
            if when is None:
                when = self._day(date, (year, month, day), number)
            if when == _BAD:
                continue
            spot = self._spot(north or typed_north, east or typed_east, number) if north or east or typed_north or typed_east else None
            place = self._place(place_id or locality, spot, number)
            key = (account, self._stage(account, stage, number) if stage else "", place)
            if account in self.all.secret or place in self.all.secret:
                self.all.spots.setdefault(key, set()).add(SeenSpot("" if place else (locality or place_id).strip(), *(spot or ())))
            if doubtful:
                self._keep_doubtful(key, called, number)
            else:
                self._keep(key, when, tuple(rest), number)

    def _wrong_width(self, row: list[str], width: int, number: int) -> None:
        if row:  # an empty line is no row
            self.notes.add("sighting-cells", f"There are {len(row)} cells in a table of {width} columns", number)

    def _keep(self, key: Key, when: int, counts: tuple[str, ...], number: int) -> None:
        """Put a row into its tally. `counts` are the cells uncertainty, count and status."""
        shared = self.all
        absent = shared.verdicts.get(counts)
        if absent is None:
            absent = self._absent(*counts, number=number)
        if absent:
            shared.absent[key] = shared.absent.get(key, 0) + 1
        elif when == _LOOSE:
            shared.loose[key] = shared.loose.get(key, 0) + 1
        elif (rows := shared.dated.get(key)) is not None:
            rows.append(when | self.file_bits | number)
        else:
            shared.dated[key] = array("Q", (when | self.file_bits | number,))

    def _spot(self, north: str, east: str, number: int) -> tuple[float, float] | None:
        """The position of a row, or None where there is none to trust."""
        south, west, top, right = self.box or WORLD
        try:
            y, x = float(north), float(east)
            if (y or x) and south <= y <= top and west <= x <= right:
                return y, x
        except ValueError:
            pass  # commas, degree signs and letters are read below
        return position_of(north, east, box=self.box, row=number, notes=self.notes)

    def _copy(self, identity: str, row: int) -> None:
        words = f"The occurrenceID “{identity}” stands in an earlier row too" if identity else "The row is a copy of an earlier one"
        self.notes.add("sighting-duplicate", words, row)

    def _other_species(self, account: str, name: str, common: str, row: int) -> bool:
        """Whether the vernacular name of a row is that of another species: then nobody knows which of the two was meant."""
        if common not in self.all.vernaculars:
            found = find_account(self.all.guide, common)
            self.all.vernaculars[common] = found.id if found else ""
        other = self.all.vernaculars[common]
        if other in {"", account}:
            return False
        self.notes.add("sighting-names-differ", f"“{name}” and “{common}” are two species, and the row is not counted", row)
        return True

    def _qualified(self, account: str, name: str, qualifier: str, row: int) -> tuple[bool, str]:
        """Whether a qualified row is no more than likely, and its account: "" where the qualifier says another species."""
        standing = qualifier_standing(qualifier)
        if standing is Standing.UNCERTAIN:
            return True, account
        self.notes.add("sighting-name-doubtful", f"“{name}” with “{qualifier}” is not the species alone, and is not counted", row)
        return False, ""

    def _keep_doubtful(self, key: Key, name: str, row: int) -> None:
        """Count a row that is no more than likely: it shows in no season and makes nothing likely."""
        self.notes.add("sighting-name-doubtful", f"“{name}” is uncertain, and counts for no season", row)
        self.all.doubtful[key] = self.all.doubtful.get(key, 0) + 1

    def _account(self, name: str, kingdom: str, row: int) -> str:
        named = account_of(self.all.guide, name, row, self.notes, kingdom=kingdom)
        if named.account:
            self.all.accounts[f"{name}\t{kingdom}" if kingdom else name] = named.account
        if named.doubtful:
            self.all.doubtful_names.add(name)
        return named.account

    def _stage(self, account: str, text: str, row: int) -> str:
        key = (account, text)
        if key not in self.all.stages:
            self.all.stages[key] = stage_of(self.all.guide, self.all.guide.accounts[account], text)
        stage = self.all.stages[key]
        if stage is None:
            species = self.all.guide.accounts[account]
            known = ", ".join(word for _, word in self.all.guide.stage_set(species).stages)
            mend = f"The stages are: {known}." if known else ""
            self.notes.add("sighting-stage", f"“{text}” is no stage of {species.vernacular or account}", row, mend=mend)
            return ""
        return stage

    def _place(self, text: str, spot: tuple[float, float] | None, row: int) -> str:
        """The place that a row names; where it names none, the place that holds its position."""
        if not text:
            return self.all.by_position.find(*spot) if spot else ""
        places = self.all.places
        place = places.get(text)
        if place is None:
            place = places.setdefault(text, places.get(fold_name(text), ""))
        if not place:
            self.notes.add("sighting-place", f"“{text}” is no place of this guide", row)
        return place

    def _day(self, date: str, parts: tuple[str, str, str], number: int) -> int:
        """A day's bits, _LOOSE, or _BAD with a finding."""
        text = date.strip() or "-".join(part.strip().zfill(2) for part in parts if part.strip())
        if not text:
            self.notes.add("sighting-date-missing", "There is no date", number)
            return _BAD
        found = parse_event_date(text, self.order)
        if isinstance(found, Unreadable):
            self.notes.add(found.code, found.message, number, mend=found.mend)
            return _BAD
        if found.order:
            self.orders.setdefault(found.order, number)
        if self.last_day is not None and found.first.toordinal() > self.last_day:
            self.notes.add("sighting-date-future", f"The date {text} lies in the future", number)
            return _BAD
        bits = found.day.toordinal() << _DAY if found.day else _LOOSE
        if date.strip() and len(self.days) < _CACHED:
            self.days[date] = bits
        return bits

    def _absent(self, uncertainty: str, count: str, status: str, *, number: int) -> bool:
        """Whether the row says that nothing was found; odd values are told."""
        absent = _ABSENT.get(status.strip().lower(), False) or (count.isdecimal() and not count.strip("0"))
        if uncertainty and uncertainty.strip("0., ") == "":
            self.notes.add("sighting-uncertainty", f"The uncertainty is {uncertainty} m", number)
        elif count and not count.isdecimal():
            self.notes.add("sighting-count", f"The count “{count}” is not a whole number", number)
        elif len(self.all.verdicts) < _CACHED:
            self.all.verdicts[uncertainty, count, status] = absent
        return absent
