"""The rows of one file → tallies, each with its fate. What many rows share is only looked up here."""

from __future__ import annotations

from collections.abc import Sequence

from guidebuild.guide.sightings import SeenSpot
from guidebuild.reading.sighting_answers import Answers, Species
from guidebuild.reading.sighting_cells import PLAIN
from guidebuild.reading.sighting_columns import Columns
from guidebuild.reading.sighting_gathering import DAY, FILE, FILE_BITS, Gathering, Key
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.sighting_places import Whereabouts
from guidebuild.reading.sighting_totals import Fate, Ledger
from guidebuild.reading.tables import Table

_OWN_NUMBER = 12
"""Signs up to which an ID is taken for a number that each table gives anew."""


class RowReader:
    """Reads the rows of one file into the gathering."""

    def __init__(self, gathering: Gathering, columns: Columns, notes: SightingNotes, ledger: Ledger, number: int) -> None:
        """`number` is the file's, among all."""
        self.rows = 0
        self.counted = 0
        self._all, self._columns, self._notes, self._ledger = gathering, columns, notes, ledger
        self._answers = Answers(gathering, columns, notes, ledger)
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
            who = known.get(names) or answers.find_species(names)
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
        everything, answers = self._all, self._answers
        copied, alike = self._meet(row)
        if copied:
            return self._tell_copy(row, number)
        when, state = answers.find_day(row, number), answers.find_state(row, number)
        spot, where = answers.find_spot(row, number), answers.find_where(row)
        by_position = "" if where.place or isinstance(spot, Whereabouts) else answers.find_place_at(spot, row, where, number)
        if where.trouble is not None and not by_position:
            where.trouble.add(number)
        place = where.place or by_position
        key = who.account, answers.find_stage(row, who.account, number), place
        if who.account in everything.secret or place in everything.secret:
            at = () if isinstance(spot, Whereabouts) else spot
            everything.spots.setdefault(key, set()).add(SeenSpot("" if place else where.typed, *at))
        if when.left_out:
            return self._ledger.left_out(when.left_out)
        if isinstance(spot, Whereabouts) and spot.outside:
            return self._ledger.left_out("outside region")
        if state is not PLAIN or who.doubtful:
            fate = self._set_aside(key, absent=state.absent, doubtful=state.doubtful or who.doubtful, left_out=state.left_out)
            if fate is not None:
                return fate
        if when.day:
            everything.keep(key, when.day << DAY | self._file_bits | number)
        else:
            everything.loose[key] = everything.loose.get(key, 0) + 1
        nowhere = isinstance(spot, Whereabouts) and spot.nowhere
        for code in (*when.remarks, *(("alike",) if alike else ()), *(("by position",) if by_position else ()),
                     *(("zero position",) if nowhere else ())):  # fmt: skip
            self._ledger.remark(code).add(number, row)
        return None

    def _set_aside(self, key: Key, *, absent: bool, doubtful: bool, left_out: str) -> Fate | None:
        """Count a row among what was looked for in vain or is no more than likely; None for a row that is neither."""
        if left_out:
            return self._ledger.left_out("left out", left_out)
        if absent:
            self._all.absent[key] = self._all.absent.get(key, 0) + 1
            return self._ledger.left_out("absence")
        if doubtful:
            self._all.doubtful[key] = self._all.doubtful.get(key, 0) + 1
            return self._ledger.left_out("doubtful")
        return None

    def _meet(self, row: Sequence[str]) -> tuple[bool, bool]:
        """Whether a row is a copy of one that was met, and whether it is alike to one in all but its ID."""
        everything, identity = self._all, row[self._identity_at]
        if not identity:
            met_as = hash(tuple(row))
        elif len(identity) <= _OWN_NUMBER:
            met_as = hash((self._file, identity))
        else:
            met_as = hash(identity)
        if met_as in everything.met:
            return True, False
        everything.met.add(met_as)
        if self._without_ids is None:
            return False, False
        alike_as = hash(self._without_ids(row))
        if alike_as in everything.alike:
            return False, True
        everything.alike.add(alike_as)
        return False, False

    def _tell_copy(self, row: Sequence[str], number: int) -> Fate:
        identity = row[self._identity_at]
        words = f"The occurrenceID “{identity}” stands in an earlier row too" if identity else "The row is a copy of an earlier one"
        self._notes.add("sighting-duplicate", words, number)
        return self._ledger.left_out("copy")
