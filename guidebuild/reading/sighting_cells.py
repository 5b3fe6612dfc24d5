"""What the cells of a row say beside name, date and place: absence, doubt, words that leave it out, counts and sexes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import repeat
from operator import itemgetter

from guidebuild.guide.names import Standing
from guidebuild.guide.resolve import fold_name
from guidebuild.guide.sighting_words import SightingWords
from guidebuild.reading.sighting_columns import Cells, Columns, name_cells
from guidebuild.reading.sighting_names import qualifier_standing
from guidebuild.reading.sighting_notes import SightingNotes, Trouble

_FREE_TEXT = ("remarks", "notes", "comments")
_STANDING = {"identificationverificationstatus": "identificationVerificationStatus", "identificationqualifier": "identificationQualifier"}
_CACHED = 50_000
_COUNTS = ("individualcount", "organismquantity")


@dataclass(frozen=True, slots=True)
class State:
    """What cells say of a row: nothing found, no more than likely, or left out for `left_out`; `troubles` are told of it."""

    absent: bool = False
    doubtful: bool = False
    left_out: str = ""
    troubles: tuple[Trouble, ...] = ()


PLAIN = State()


class StateReader:
    """Reads the states of one file's rows; each set of cells is read once, remarks row by row."""

    def __init__(self, words: SightingWords, columns: Columns, notes: SightingNotes) -> None:
        """Find the columns that say such things."""
        self._words = words
        self._notes = notes
        tables = (words.absence, words.doubt, words.leave_out)
        asked = dict.fromkeys((*_COUNTS, "occurrencestatus", "sex", *(column for table in tables for column in table)))
        present = columns.present(asked)
        self.terms = tuple(term for term in present if not term.endswith(_FREE_TEXT))
        self._longest = 2 * max((len(word) for table in tables for words in table.values() for word in words), default=0)
        texts = (term for term in present if term.endswith(_FREE_TEXT))
        self._texts = [(columns.position(term), self._verdicts(term), {""}) for term in texts]  # with short texts that say nothing such

    def read(self, cells: Cells) -> State:
        """The state of a row by its cells of `terms`."""
        state = PLAIN
        for term, cell in name_cells(self.terms, cells).items():
            if cell and not cell.isspace():
                state = _stronger(state, self._of_cell(term, cell))
        return state

    def read_texts(self, rows: Sequence[Sequence[str]]) -> Iterable[State | None]:
        """Of each row what a remark that is no more than such a word says, or None: all at once where no remark is new."""
        if all(silent.issuperset(map(itemgetter(at), rows)) for at, _, silent in self._texts):
            return repeat(None, len(rows))
        return map(self._read_text, rows)

    def _read_text(self, row: Sequence[str]) -> State | None:
        for at, verdicts, silent in self._texts:
            text = row[at]
            if text in silent or len(text) > self._longest:
                continue
            verdict = verdicts.get(fold_name(text).rstrip("."))
            if verdict is not None:
                return verdict
            if len(silent) < _CACHED:
                silent.add(text)
        return None

    def _of_cell(self, term: str, cell: str) -> State:
        word = fold_name(cell)
        verdict = self._verdicts(term).get(word)
        if verdict is not None:
            return verdict
        if term in _COUNTS:
            return self._of_count(term, cell.strip())
        if term == "sex" and word not in self._words.sexes:
            return State(troubles=(self._notes.word("sighting-sex", cell, f"“{cell}” is no sex that is known"),))
        if term in _STANDING and word not in self._words.no_doubt.get(term, ()) and qualifier_standing(cell) is Standing.CERTAIN:
            told = f"“{cell}” in {_STANDING[term]} is not known, and is taken to mean no doubt"
            return State(troubles=(self._notes.word("sighting-word", cell, told),))
        return PLAIN

    def _of_count(self, term: str, cell: str) -> State:
        try:
            if float(cell.replace(",", ".")) == 0:
                return State(absent=True)
        except ValueError:
            pass
        if term == "individualcount" and not cell.isdecimal():
            return State(troubles=(self._notes.trouble("sighting-count", f"The count “{cell}” is not a whole number"),))
        return PLAIN

    def _verdicts(self, term: str) -> dict[str, State]:
        """What the listed words of a column say."""
        words = self._words
        return {
            **{word: State(doubtful=True) for word in words.doubt.get(term, ())},
            **{word: State(absent=True) for word in words.absence.get(term, ())},
            **{word: State(left_out=f"{term} “{word}”") for word in words.leave_out.get(term, ())},
        }


def _stronger(one: State, other: State) -> State:
    """Both together: what leaves a row out goes before absence, absence before doubt."""
    if other is PLAIN:
        return one
    return State(
        one.absent or other.absent, one.doubtful or other.doubtful, one.left_out or other.left_out, (*one.troubles, *other.troubles)
    )
