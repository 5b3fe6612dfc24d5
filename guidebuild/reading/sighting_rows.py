"""The rows of one file → tallies, each with its fate. What many rows share is only looked up here."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence
from itertools import repeat
from typing import NamedTuple

from guidebuild.guide.sightings import SeenSpot
from guidebuild.reading.packed_rows import FILE, FILE_BITS
from guidebuild.reading.sighting_answers import Answers, Sort, Species, Where
from guidebuild.reading.sighting_cells import PLAIN, State
from guidebuild.reading.sighting_columns import Columns
from guidebuild.reading.sighting_copies import Copies
from guidebuild.reading.sighting_dates import Dated
from guidebuild.reading.sighting_gathering import Gathering, Key
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.sighting_places import NO_FIGURES, NOWHERE, OUTSIDE, NoSpot, Spot
from guidebuild.reading.sighting_records import FileRecorder
from guidebuild.reading.sighting_totals import Fate, Ledger
from guidebuild.reading.tables import Table

_TOGETHER = 250
"""Rows whose cells are looked up together, which takes half the time; so few that Python does not look for garbage among them."""
Mine = tuple[list[str], Species, int]
"""A row of a species of the guide, and its number."""


class Meaning(NamedTuple):
    """What the cells of one row mean."""

    who: Species
    sort: Sort
    state: State
    when: Dated
    where: Where
    place: str
    spot: Spot | NoSpot


class RowReader:
    """Reads the rows of one file into the gathering."""

    def __init__(self, gathering: Gathering, columns: Columns, notes: SightingNotes, ledger: Ledger, number: int) -> None:
        """`number` is the file's, among all."""
        self.rows = 0
        self.counted = 0
        self._all, self._columns, self._notes, self._ledger = gathering, columns, notes, ledger
        self._answers = Answers(gathering, columns, notes, ledger)
        self._copies = Copies(gathering.met, gathering.alike, columns, number)
        self._recorder: FileRecorder | None = gathering.recorder.for_file(notes.file, columns) if gathering.recorder else None
        self._file_bits = (number & FILE_BITS) << FILE
        self._identity_at = columns.position("occurrenceID")
        self._spots = gathering.squares.for_file(number & FILE_BITS, columns) if gathering.squares else None

    def read(self, table: Table) -> None:
        """Read all rows."""
        answers, width = self._answers, self._columns.width
        known, pick_names = answers.species, answers.pick_names
        mine: list[Mine] = []
        try:
            for number, row in enumerate(table.rows, table.first):
                if len(row) != width and not self._fit(row, number):
                    continue
                row.append("")  # what a column that is not there holds
                names = pick_names(row)
                who = known.get(names) or answers.read_species(names)
                self.rows += 1
                if who.fate is None:
                    mine.append((row, who, number))
                    if len(mine) >= _TOGETHER:
                        self._take(mine)
                        mine = []
                elif who.fate.code == "name missing" and not any(map(str.strip, row)):
                    self._ledger.left_out("empty").add(number, row)
                    continue
                else:
                    who.fate.add(number, row)
                if who.trouble is not None:
                    who.trouble.add(number)
        finally:
            self._take(mine)  # where a file breaks off, what was read of it counts
        answers.tell_orders()

    def _fit(self, row: list[str], number: int) -> bool:
        """Whether a row of another length can be used: empty cells at its end may be left off, or stand too many."""
        width = self._columns.width
        if len(row) < 2 and not any(row):
            return False  # an empty line is no row
        if len(row) < width:
            row.extend([""] * (width - len(row)))
        elif not any(row[width:]):
            del row[width:]
        else:
            self.rows += 1
            self._ledger.left_out("cells").add(number, row)
            self._notes.add("sighting-cells", f"There are {len(row)} cells in a table of {width} columns", number)
            return False
        return True

    def _take(self, mine: Sequence[Mine]) -> None:
        """Put rows of the guide's species into their tallies, and count those that fall out of them."""
        answers, file_bits = self._answers, self._file_bits
        rows, species, numbers, alikes = self._leave_copies(mine)
        whens = map(answers.days.get, map(answers.pick_dates, rows))
        wheres = map(answers.wheres.get, map(answers.pick_places, rows))
        spots: Iterable[Spot | NoSpot] = answers.find_spots(rows, numbers) if answers.has_position else repeat(NO_FIGURES, len(rows))
        if self._spots is not None and answers.has_position:
            if answers.positions.halves:
                self._spots.keep_all(rows, numbers, answers.positions.halves)
            else:
                spots = [*spots]
                self._spots.keep_some(rows, numbers, spots)
        sorts, texts = map(answers.pick_sort, rows), answers.read_texts(rows)
        for row, who, number, alike, known_day, known_place, cells, said, spot in zip(
            rows, species, numbers, alikes, whens, wheres, sorts, texts, spots, strict=False
        ):
            when = known_day or answers.read_day(answers.pick_dates(row), number)
            where = known_place or answers.read_where(answers.pick_places(row))
            sort = who.sorts.get(cells) or answers.read_sort(who, cells)
            place = where.place or answers.find_place_at(spot, row, where, number)
            state = sort.state
            if said is not None or state is not PLAIN:
                state = answers.tell_state(state, said, number)
            if sort.trouble is not None:
                sort.trouble.add(number)
            tally = sort.days.get(place)
            if tally is not None and when.day and state is PLAIN and spot is not OUTSIDE:
                tally.append(when.packed + file_bits + number)
            elif (fate := self._take_slowly(row, Meaning(who, sort, state, when, where, place, spot), number)) is not None:
                fate.add(number, row)
                continue
            self.counted += 1
            if alike or when.remarks or spot is NOWHERE or place != where.place:
                remarks = (alike, "alike"), (place != where.place, "by position"), (spot is NOWHERE, "zero position")
                for code in (*when.remarks, *(code for holds, code in remarks if holds)):
                    self._ledger.remark(code).add(number, row)

    def _leave_copies(self, mine: Sequence[Mine]) -> tuple[Sequence[list[str]], Sequence[Species], Sequence[int], Sequence[bool]]:
        """Rows, species and numbers of what is no copy of an earlier row, and of each row whether it is alike to one."""
        known = self._copies.meet([row for row, _, _ in mine])
        if None in known:
            for (row, _, number), alike in zip(mine, known, strict=True):
                if alike is None:
                    self._tell_copy(row, number).add(number, row)
            mine = [one for one, alike in zip(mine, known, strict=True) if alike is not None]
        rows, species, numbers = zip(*mine, strict=True) if mine else ((), (), ())
        return rows, species, numbers, [alike for alike in known if alike is not None]

    def _take_slowly(self, row: list[str], read: Meaning, number: int) -> Fate | None:
        """The same for a row of which more is to be known, or the first of its tally."""
        everything, account, place, day = self._all, read.who.account, read.place, read.when.day
        key = account, read.sort.stage, place
        secret = account in everything.secret or place in everything.secret
        if secret:
            self._keep_spot(key, read.spot, read.where)
        if read.when.left_out:
            return self._without_day(read.when, number)
        fate = self._set_aside(key, read, number)
        if self._recorder is not None:
            self._recorder.keep(row, key, day, read.spot, fate.code if fate else "")
        if fate is not None:
            return fate
        if not day:
            everything.undated.setdefault(key, array("Q")).append(self._file_bits + number)
            everything.loose[key] = everything.loose.get(key, 0) + 1
            return None
        days = everything.dated.setdefault(key, array("Q"))
        days.append(read.when.packed + self._file_bits + number)
        if not secret and self._recorder is None:
            read.sort.days[place] = days  # the next such row takes the short way
        return None

    def _without_day(self, when: Dated, number: int) -> Fate:
        if when.trouble is not None:
            when.trouble.add(number)
        return self._ledger.left_out(when.left_out)

    def _keep_spot(self, key: Key, spot: Spot | NoSpot, where: Where) -> None:
        """Remember where a row of what is secret was."""
        at = () if isinstance(spot, NoSpot) else spot
        self._all.spots.setdefault(key, set()).add(SeenSpot("" if key[2] else where.typed, *at))

    def _set_aside(self, key: Key, read: Meaning, number: int) -> Fate | None:
        """Count a row among what was looked for in vain or is no more than likely; None for a row that is to be counted."""
        state = read.state
        if read.spot is OUTSIDE:
            return self._ledger.left_out("outside region")
        if state.left_out:
            return self._ledger.left_out("left out", state.left_out)
        if state.absent:
            self._all.absent[key] = self._all.absent.get(key, 0) + 1
            self._all.sought.setdefault(key, array("Q")).append(self._file_bits + number)
            return self._ledger.left_out("absence")
        if read.who.doubtful or state.doubtful:
            self._all.doubtful[key] = self._all.doubtful.get(key, 0) + 1
            return self._ledger.left_out("doubtful")
        return None

    def _tell_copy(self, row: Sequence[str], number: int) -> Fate:
        identity = row[self._identity_at]
        words = f"The occurrenceID “{identity}” stands in an earlier row too" if identity else "The row is a copy of an earlier one"
        self._notes.add("sighting-duplicate", words, number)
        return self._ledger.left_out("copy")
