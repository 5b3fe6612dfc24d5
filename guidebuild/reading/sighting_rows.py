"""The rows of one file → tallies, each with its fate. What many rows share is only looked up here."""

from __future__ import annotations

from array import array
from collections.abc import Sequence

from guidebuild.guide.sightings import SeenSpot
from guidebuild.reading.sighting_answers import Answers, Species, Where
from guidebuild.reading.sighting_cells import PLAIN, State
from guidebuild.reading.sighting_columns import Columns
from guidebuild.reading.sighting_dates import Dated
from guidebuild.reading.sighting_gathering import DAY, FILE, FILE_BITS, Gathering, Key
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.sighting_places import NO_FIGURES, NOWHERE, OUTSIDE, NoSpot, Spot
from guidebuild.reading.sighting_records import FileRecorder
from guidebuild.reading.sighting_totals import Fate, Ledger
from guidebuild.reading.tables import Table

_OWN_NUMBER = 12
"""Signs up to which an ID is taken for a number that each table gives anew."""
_COMPARED = 250_000
"""Rows among which those alike in all but the ID are told: to keep more takes much memory for a remark."""
_BITS = (1 << 60) - 1
"""Bits kept of a hash: Python stores one bit more in half as much memory again."""


class RowReader:
    """Reads the rows of one file into the gathering."""

    def __init__(self, gathering: Gathering, columns: Columns, notes: SightingNotes, ledger: Ledger, number: int) -> None:
        """`number` is the file's, among all."""
        self.rows = 0
        self.counted = 0
        self._all, self._columns, self._notes, self._ledger = gathering, columns, notes, ledger
        self._answers = Answers(gathering, columns, notes, ledger)
        self._recorder: FileRecorder | None = gathering.recorder.for_file(notes.file, columns) if gathering.recorder else None
        self._file = number
        self._file_bits = (number & FILE_BITS) << FILE
        self._identity_at = columns.position("occurrenceID")
        self._without_ids = columns.without_ids() if columns.has("occurrenceID") else None

    def read(self, table: Table) -> None:
        """Read all rows."""
        answers, width = self._answers, self._columns.width
        known, pick_names = answers.species, answers.pick_names
        for number, row in enumerate(table.rows, table.first):
            if len(row) != width and not self._fit(row, number):
                continue
            row.append("")  # what a column that is not there holds
            names = pick_names(row)
            who = known.get(names) or answers.read_species(names)
            fate = who.fate or self._take(row, who, number)
            self.rows += 1
            if fate is None:
                self.counted += 1
            elif fate.code == "name missing" and not any(map(str.strip, row)):
                self._ledger.left_out("empty").add(number, row)
                continue
            else:
                fate.add(number, row)
            if who.trouble is not None:
                who.trouble.add(number)
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

    def _take(self, row: list[str], who: Species, number: int) -> Fate | None:
        """Put a row of the guide's species into its tally; or its fate, where it is not counted."""
        everything, answers, account = self._all, self._answers, who.account
        secret = everything.secret
        alike = self._meet(row)
        if alike is None:
            return self._tell_copy(row, number)
        dates, names, cells = answers.pick_dates(row), answers.pick_places(row), answers.pick_state(row)
        when = answers.days.get(dates) or answers.read_day(dates, number)
        where = answers.wheres.get(names) or answers.read_where(names)
        state = answers.states.get(cells) or answers.read_state(cells)
        if state.troubles or answers.read_text is not None:
            state = answers.tell_state(state, row, number)
        spot = answers.find_spot(row, number) if answers.has_position else NO_FIGURES
        place = where.place or answers.find_place_at(spot, row, where, number)
        text = row[answers.stage_at]
        key = account, answers.find_stage(text, account, number) if text else "", place
        if secret and (account in secret or place in secret):
            self._keep_spot(key, spot, where)
        if when.left_out:
            return self._without_day(when, number)
        plain = state is PLAIN and not who.doubtful and spot is not OUTSIDE
        fate = None if plain else self._set_aside(key, state, doubtful=who.doubtful, outside=spot is OUTSIDE)
        if self._recorder is not None:
            self._recorder.keep(row, key, when.day, spot, fate.code if fate else "")
        if fate is not None:
            return fate
        if not when.day:
            everything.loose[key] = everything.loose.get(key, 0) + 1
        elif (days := everything.dated.get(key)) is not None:
            days.append(when.day << DAY | self._file_bits | number)
        else:
            everything.dated[key] = array("Q", (when.day << DAY | self._file_bits | number,))
        if alike or when.remarks or spot is NOWHERE or place != where.place:
            said = (alike, "alike"), (place != where.place, "by position"), (spot is NOWHERE, "zero position")
            for code in (*when.remarks, *(code for holds, code in said if holds)):
                self._ledger.remark(code).add(number, row)
        return None

    def _without_day(self, when: Dated, number: int) -> Fate:
        if when.trouble is not None:
            when.trouble.add(number)
        return self._ledger.left_out(when.left_out)

    def _keep_spot(self, key: Key, spot: Spot | NoSpot, where: Where) -> None:
        """Remember where a row of what is secret was."""
        at = () if isinstance(spot, NoSpot) else spot
        self._all.spots.setdefault(key, set()).add(SeenSpot("" if key[2] else where.typed, *at))

    def _set_aside(self, key: Key, state: State, *, doubtful: bool, outside: bool) -> Fate | None:
        """Count a row among what was looked for in vain or is no more than likely; None for a row that is to be counted."""
        if outside:
            return self._ledger.left_out("outside region")
        if state.left_out:
            return self._ledger.left_out("left out", state.left_out)
        if state.absent:
            self._all.absent[key] = self._all.absent.get(key, 0) + 1
            return self._ledger.left_out("absence")
        if doubtful or state.doubtful:
            self._all.doubtful[key] = self._all.doubtful.get(key, 0) + 1
            return self._ledger.left_out("doubtful")
        return None

    def _meet(self, row: Sequence[str]) -> bool | None:
        """Whether a row is alike to one that was met in all but its ID; None where it is a copy."""
        met, identity = self._all.met, row[self._identity_at]
        if not identity:
            met_as = hash(tuple(row)) & _BITS
        elif len(identity) <= _OWN_NUMBER:
            met_as = hash((self._file, identity)) & _BITS
        else:
            met_as = hash(identity) & _BITS
        if met_as in met:
            return None
        met.add(met_as)
        if self._without_ids is None:
            return False
        alike, alike_as = self._all.alike, hash(self._without_ids(row)) & _BITS
        if alike_as in alike:
            return True
        alike.add(alike_as)
        if len(alike) >= _COMPARED:
            self._without_ids = None
        return False

    def _tell_copy(self, row: Sequence[str], number: int) -> Fate:
        identity = row[self._identity_at]
        words = f"The occurrenceID “{identity}” stands in an earlier row too" if identity else "The row is a copy of an earlier one"
        self._notes.add("sighting-duplicate", words, number)
        return self._ledger.left_out("copy")
