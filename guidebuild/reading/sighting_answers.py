"""What the cells of a file's rows mean, each set of cells resolved once and looked up ever after."""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from guidebuild.reading.packed_rows import DAY
from guidebuild.reading.sighting_cells import State, StateReader
from guidebuild.reading.sighting_columns import DATES, NAMES, PLACES, POSITIONS, Cells, Columns, name_cells
from guidebuild.reading.sighting_dates import Dated, DateReader
from guidebuild.reading.sighting_gathering import Gathering
from guidebuild.reading.sighting_notes import SightingNotes, Trouble
from guidebuild.reading.sighting_places import NoSpot, Positions, Spot
from guidebuild.reading.sighting_totals import Fate, Ledger

_CACHED = 50_000
"""Answers kept of one kind; times of day make every date another."""
K = TypeVar("K")
V = TypeVar("V")


@dataclass(slots=True)
class Sort:
    """What rows of one species share that have the same cells for life stage and state.

    `trouble` is told of each of them. `days` are those of the tallies that plain rows of theirs belong to, by place,
    as far as nothing else is to be done with such a row.
    """

    stage: str
    state: State
    trouble: Trouble | None = None
    days: dict[str, array[int]] = field(default_factory=dict)


@dataclass(slots=True)
class Species:
    """The account that a set of names means, or the fate of the rows that bear them; `trouble` is told of each."""

    account: str = ""
    doubtful: bool = False
    fate: Fate | None = None
    trouble: Trouble | None = None
    sorts: dict[Cells, Sort] = field(default_factory=dict)


@dataclass(slots=True)
class Where:
    """The place that a row names, and what it calls it; `trouble` where that is none of the guide's.

    `held` are the places of the guide that positions of such rows lie in, each with what is told of them.
    """

    place: str = ""
    typed: str = ""
    trouble: Trouble | None = None
    held: dict[str, Trouble] = field(default_factory=dict)


class Answers:
    """Answers what the rows of one file mean: look a set of cells up in a table of answers first, and ask for those it lacks.

    Rows have one empty cell more than columns, for terms that the table lacks.
    """

    def __init__(self, gathering: Gathering, columns: Columns, notes: SightingNotes, ledger: Ledger) -> None:
        """Find what reads each column."""
        self._all, self._notes, self._ledger = gathering, notes, ledger
        self._dates = DateReader(gathering.guide, notes)
        self._states = StateReader(gathering.words, columns, notes)
        self.positions = Positions(gathering.guide.settings.region_box, columns, notes)
        self.find_spots = self.positions.find_all
        self._name_terms, self._date_terms, self._place_terms = (columns.present(terms) for terms in (NAMES, DATES, PLACES))
        self.pick_names = columns.picker(self._name_terms)
        self.pick_dates = columns.picker(self._date_terms)
        self.pick_places = columns.picker(self._place_terms)
        self.has_position = bool(columns.present(POSITIONS))
        self.pick_sort = columns.picker(("lifeStage", *self._states.terms))
        self.read_texts = self._states.read_texts
        self._uncertainty_at = columns.position("coordinateUncertaintyInMeters")
        self.species: dict[Cells, Species] = {}
        self.days: dict[Cells, Dated] = {}
        self.wheres: dict[Cells, Where] = {}
        self._sorts = 0

    def read_species(self, names: Cells) -> Species:
        """What a set of names means."""
        named = self._all.names.resolve(name_cells(self._name_terms, names))
        trouble = None
        if named.word:
            trouble = self._notes.word(named.code, named.word, named.message, mend=named.mend)
        elif named.code:
            trouble = self._notes.trouble(named.code, named.message, mend=named.mend)
        fate = self._ledger.left_out(named.fate) if named.fate else None
        made = self.species[names] = Species(named.account, named.doubtful, fate, trouble)
        return made

    def read_day(self, dates: Cells, number: int) -> Dated:
        """On which day a row of these dates counts."""
        dated = self._dates.read(name_cells(self._date_terms, dates), number)
        return _keep(self.days, dates, replace(dated, packed=dated.day << DAY))

    def read_sort(self, who: Species, cells: Cells) -> Sort:
        """The stage that a species has in rows of these cells, and whether they say absence or doubt, or are to be left out."""
        text, *others = (cells,) if isinstance(cells, str) else cells
        stage, trouble = self._read_stage(who.account, text) if text else ("", None)
        sort = Sort(stage, self._states.read(tuple(others)), trouble)
        if self._sorts < _CACHED:
            self._sorts += 1
            who.sorts[cells] = sort
        return sort

    @staticmethod
    def tell_state(state: State, said: State | None, number: int) -> State:
        """The state of a row whose remarks say `said`; what is odd in it is told."""
        for trouble in state.troubles:
            trouble.add(number)
        decided = state.absent or state.doubtful or state.left_out
        return state if decided or said is None else said

    def read_where(self, names: Cells) -> Where:
        """The place that a row names by these cells."""
        texts = tuple(cell for cell in name_cells(self._place_terms, names).values() if cell and not cell.isspace())
        where = Where(self._all.places.find(texts), (texts[-1] if texts else "").strip())
        if not where.place and where.typed:
            where.trouble = self._notes.word("sighting-place", where.typed, f"“{where.typed}” is no place of this guide")
        return _keep(self.wheres, names, where)

    def find_place_at(self, spot: Spot | NoSpot, row: Sequence[str], where: Where, number: int) -> str:
        """The place that holds a position, for a row that names none of the guide's. What it calls it is told with the place."""
        place = "" if isinstance(spot, NoSpot) else self._all.by_position.find(spot, row[self._uncertainty_at])
        if place and where.typed:
            trouble = where.held.get(place)
            if trouble is None:
                told = f"“{where.typed}” counts for {place} by its position"
                trouble = self._notes.word("sighting-place-by-position", f"{where.typed} = {place}", told)
                where.held[place] = trouble
            trouble.add(number)
        elif where.trouble is not None:
            where.trouble.add(number)
        return place

    def _read_stage(self, account: str, text: str) -> tuple[str, Trouble | None]:
        """The life stage that a cell means, and what is to be told where that cannot be said."""
        species = self._all.guide.accounts[account]
        read = self._all.stages.read(species, text)
        if read.mixed:
            told = f"“{text}” is several stages together, and counts for none of them"
            return "", self._notes.trouble("sighting-stage-mixed", told)
        if not read.unknown:
            return read.stage, None
        known = ", ".join(word for _, word in self._all.guide.stage_set(species).stages)
        called = species.vernacular or account
        mend = f"The stages are: {known}; sightings.yaml can say what other words mean." if known else ""
        return "", self._notes.word("sighting-stage", text, f"“{text}” is no stage of {called}", mend=mend)

    def tell_orders(self) -> None:
        """Say what only all rows together show."""
        self._dates.tell_orders()


def _keep(answers: dict[K, V], asked: K, answer: V) -> V:
    """An answer, kept for the next row while there is room."""
    if len(answers) < _CACHED:
        answers[asked] = answer
    return answer
