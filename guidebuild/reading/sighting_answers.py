"""What the cells of a file's rows mean, each set of cells resolved once and looked up ever after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from guidebuild.reading.sighting_cells import PLAIN, State, StateReader
from guidebuild.reading.sighting_columns import DATES, NAMES, PLACES, POSITIONS, Columns
from guidebuild.reading.sighting_dates import Dated, DateReader
from guidebuild.reading.sighting_gathering import Gathering
from guidebuild.reading.sighting_notes import SightingNotes, Trouble
from guidebuild.reading.sighting_places import Positions, Spot, Whereabouts
from guidebuild.reading.sighting_totals import Fate, Ledger

_CACHED = 50_000
"""Answers kept of one kind; times of day make every date another."""
Cells = tuple[str, ...]


@dataclass(slots=True)
class Species:
    """The account that a set of names means, or the fate of the rows that bear them; `trouble` is told of each."""

    account: str = ""
    doubtful: bool = False
    fate: Fate | None = None
    trouble: Trouble | None = None


@dataclass(slots=True)
class Where:
    """The place that a row names, and what it calls it; `trouble` where that is none of the guide's."""

    place: str = ""
    typed: str = ""
    trouble: Trouble | None = None


class Answers:
    """Answers what the rows of one file mean. Rows have one empty cell more than columns, for terms that the table lacks."""

    def __init__(self, gathering: Gathering, columns: Columns, notes: SightingNotes, ledger: Ledger) -> None:
        """Find what reads each column."""
        self._all, self._notes, self._ledger = gathering, notes, ledger
        self._dates = DateReader(gathering.guide, notes)
        self._states = StateReader(gathering.words, columns, notes)
        self._positions = Positions(gathering.guide.settings.region_box, notes)
        self._name_terms, self._date_terms, self._place_terms = (columns.present(terms) for terms in (NAMES, DATES, PLACES))
        self.pick_names = columns.picker(self._name_terms)
        self._pick_dates = columns.picker(self._date_terms)
        self._pick_places = columns.picker(self._place_terms)
        self._pick_state = columns.picker(self._states.terms)
        self._pick_position = columns.picker(POSITIONS)
        self._has_position = bool(columns.present(POSITIONS))
        self._stage_at = columns.position("lifeStage")
        self._uncertainty_at = columns.position("coordinateUncertaintyInMeters")
        self.species: dict[Cells, Species] = {}
        self._days: dict[Cells, Dated] = {}
        self._wheres: dict[Cells, Where] = {}
        self._stages: dict[tuple[str, str], tuple[str, Trouble | None]] = {}
        self._known_states: dict[Cells, State] = {}

    def find_species(self, names: Cells) -> Species:
        """What a set of names that was not met before means."""
        named = self._all.names.resolve(dict(zip(self._name_terms, names, strict=True)))
        trouble = None
        if named.word:
            trouble = self._notes.word(named.code, named.word, named.message, mend=named.mend)
        elif named.code:
            trouble = self._notes.trouble(named.code, named.message, mend=named.mend)
        fate = self._ledger.left_out(named.fate) if named.fate else None
        made = self.species[names] = Species(named.account, named.doubtful, fate, trouble)
        return made

    def find_day(self, row: Sequence[str], number: int) -> Dated:
        """On which day a row counts."""
        cells = self._pick_dates(row)
        dated = self._days.get(cells)
        if dated is None:
            dated = self._dates.read(dict(zip(self._date_terms, cells, strict=True)), number)
            if len(self._days) < _CACHED:
                self._days[cells] = dated
        if dated.trouble is not None:
            dated.trouble.add(number)
        return dated

    def find_state(self, row: Sequence[str], number: int) -> State:
        """Whether a row says absence or doubt, or is to be left out."""
        cells = self._pick_state(row)
        state = self._known_states.get(cells)
        if state is None:
            state = self._states.read(cells)
            if len(self._known_states) < _CACHED:
                self._known_states[cells] = state
        for trouble in state.troubles:
            trouble.add(number)
        if state is PLAIN and self._states.texts:
            return self._states.read_text(row) or PLAIN
        return state

    def find_spot(self, row: Sequence[str], number: int) -> Spot | Whereabouts:
        """Where a row was by its figures."""
        if not self._has_position:
            return Whereabouts()
        north, east, typed_north, typed_east, datum, uncertainty = self._pick_position(row)
        if uncertainty and not uncertainty.strip("0., "):
            self._notes.add("sighting-uncertainty", f"The uncertainty is {uncertainty} m", number)
        if not (north or east or typed_north or typed_east):
            return Whereabouts()
        return self._positions.read(north or typed_north, east or typed_east, datum, number)

    def find_where(self, row: Sequence[str]) -> Where:
        """The place that a row names."""
        cells = self._pick_places(row)
        where = self._wheres.get(cells)
        if where is None:
            texts = tuple(cell for cell in cells if cell and not cell.isspace())
            where = Where(self._all.places.find(texts), (texts[-1] if texts else "").strip())
            if not where.place and where.typed:
                where.trouble = self._notes.word("sighting-place", where.typed, f"“{where.typed}” is no place of this guide")
            if len(self._wheres) < _CACHED:
                self._wheres[cells] = where
        return where

    def find_place_at(self, spot: Spot, row: Sequence[str], where: Where, number: int) -> str:
        """The place that holds a position, for a row that names none of the guide's. What it calls it is told with the place."""
        place = self._all.by_position.find(spot, row[self._uncertainty_at])
        if place and where.typed:
            told = f"“{where.typed}” counts for {place} by its position"
            self._notes.word("sighting-place-by-position", f"{where.typed} = {place}", told).add(number)
        return place

    def find_stage(self, row: Sequence[str], account: str, number: int) -> str:
        """The life stage of a row; one that cannot be told is told."""
        text = row[self._stage_at]
        if not text:
            return ""
        known = self._stages.get((account, text))
        if known is None:
            known = self._stages[account, text] = self._read_stage(account, text)
        stage, trouble = known
        if trouble is not None:
            trouble.add(number)
        return stage

    def _read_stage(self, account: str, text: str) -> tuple[str, Trouble | None]:
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
