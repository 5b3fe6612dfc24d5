"""Where a species was seen, as a map may show it: squares of what is open, rounded cells of what is kept secret.

An open species at an open place is drawn as exactly as its rows are told (`exact_spots.py`), never more. Near a secret place that
is: by the squares of the open place itself, and not at all where a row names no place. What is kept secret is drawn in the cell that
its category leaves, whoever saw it and however often: one row and a hundred look alike, and no date is drawn. How far squares keep
away from what is secret follows from that cell too: the middle of a hole round the place itself would be the place. A cell of which the
outline holds only a corner would tell more than its size, so a coarser one is drawn, or none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from guidebuild.fieldwork.decisions import Decisions
from guidebuild.fieldwork.hidden_cells import list_hidden_cells
from guidebuild.fieldwork.leaks import Secrets
from guidebuild.fieldwork.near_places import AT_PLACE, DISTANCES, lies_in_place, measure_reach
from guidebuild.fieldwork.public_records import Cell, Locality, PublicSquares, PublicTally
from guidebuild.fieldwork.secrecy import round_position
from guidebuild.guide.distances import METRES, measure_metres
from guidebuild.guide.records import Place, Position
from guidebuild.guide.region import Line, LonLat, MapGrid, PackedSquare, Region, Square
from guidebuild.guide.sightings import Tally
from guidebuild.later import imported_when_used

with imported_when_used():  # geometry and projections, which guides without a map do not ask for
    from guidebuild.fieldwork import region_shape
    from guidebuild.guide import projection

_LEAST_HELD = 0.5
"""How much of a cell the outline must hold: with less, outline and cell together would tell more than the cell."""
_COARSEST = 1.0


@dataclass(slots=True)
class _Gathered:
    """What of one species a map shows, while it is gathered."""

    seen: dict[Square, int] = field(default_factory=dict)
    sought: set[Square] = field(default_factory=set)

    def see(self, square: Square, day: int) -> None:
        self.seen[square] = max(day, self.seen.get(square, 0))


def squares_for_readers(made: Decisions, sightings: Iterable[PublicTally]) -> Mapping[str, PublicSquares]:
    """The squares of each account that a map shows; of a guide without a region, none."""
    region = made.guide.region
    if region is None:
        return {}
    sorting = _Sorter(made, region)
    gathered: dict[str, _Gathered] = {}
    for tally in made.guide.sightings:
        account = made.guide.accounts.get(tally.account)
        if account is not None and not account.sensitivity:
            sorting.sort(tally, gathered.setdefault(tally.account, _Gathered()))
    cells: dict[str, dict[Cell, None]] = {}
    for told in _list_generalised(made, sightings):
        cell = choose_cell(region, told[1])
        if cell:
            cells.setdefault(told[0], {})[cell] = None
    return {
        account: PublicSquares(
            tuple(sorted(found.seen.items())), tuple(sorted(found.sought - found.seen.keys())), tuple(sorted(cells.get(account, ())))
        )
        for account in made.guide.accounts
        if (found := gathered.get(account, _Gathered())).seen or found.sought or account in cells
    }


def _list_generalised(made: Decisions, sightings: Iterable[PublicTally]) -> Iterator[tuple[str, Locality]]:
    """Accounts with where they were found, where that is told by a cell: of sightings, and of the places that an account names."""
    yield from ((tally.account, tally.locality) for tally in sightings if tally.locality.generalised and tally.loose)
    for account in made.guide.accounts.values():
        for place in account.places:
            if place in made.guide.places and (told := made.locality(account, place)).generalised:
                yield account.id, told


def choose_cell(region: Region, told: Locality) -> Cell | None:
    """The cell that is drawn of a rounded position, by nothing but the position and the outline; None where none may be."""
    if not told.latitude:
        return None
    at, step = Position(float(told.latitude), float(told.longitude)), float(told.precision)
    while step <= _COARSEST:
        corners = cell_corners(region, Cell(at.latitude, at.longitude, step))
        if region_shape.is_held_by(region, corners) or region_shape.measure_held(region, corners) >= _LEAST_HELD:
            return Cell(at.latitude, at.longitude, step)
        step = round(step * 10, 3)
        decimals = {0.1: 1, 0.01: 2}.get(step, 0)
        latitude, longitude = round_position(at, decimals)
        at = Position(float(latitude), float(longitude))
    return None


def cell_corners(region: Region, cell: Cell) -> Line:
    """The corners of a cell, its longitudes as the region counts them."""
    east, north = region_shape.place_spot(region, Position(cell.latitude, cell.longitude))
    half = cell.step / 2
    return tuple((east + x * half, north + y * half) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1)))


class _Sorter:
    """Decides for the squares of open species."""

    def __init__(self, made: Decisions, region: Region) -> None:
        self._places = made.guide.places
        self._grid: MapGrid = region.grid
        self._side = region.grid.size if region.grid.epsg else region.grid.size * METRES
        self._cells = list_hidden_cells(made.anywhere.secrets)
        self._unpacked: dict[PackedSquare | None, Square | None] = {}
        self._near: dict[Square, bool] = {}
        self._own: dict[str, Square] = {}
        self._middles: dict[Square, LonLat] = {}

    def sort(self, tally: Tally, found: _Gathered) -> None:
        """Put the squares of a tally where they are told."""
        if (place := self._places.get(tally.place)) is not None and place.sensitivity:
            return
        for packed, day in tally.squares:
            if told := self._tell(self._unpack(packed), place):
                found.see(told, day)
        found.sought |= {told for packed in tally.sought if (told := self._tell(self._unpack(packed), place))}

    def _unpack(self, packed: PackedSquare | None) -> Square | None:
        if packed not in self._unpacked:
            self._unpacked[packed] = None if packed is None else projection.unpack_square(packed)
        return self._unpacked[packed]

    def _tell(self, square: Square | None, place: Place | None) -> Square | None:
        """The square that a row is told by; None where it is not told."""
        if square is not None and not self._is_near(square):
            return square
        if place is None or place.position is None:
            return None
        if square is not None and self._lies_in(square, place.position) and self._is_clear(place.position):
            return square
        return self._square_of(place)

    def _square_of(self, place: Place) -> Square:
        position = place.position
        if place.id not in self._own and position:
            self._own[place.id] = projection.find_square(self._grid, (position.longitude, position.latitude))
        return self._own[place.id]

    def _middle(self, square: Square) -> tuple[float, float]:
        if square not in self._middles:
            self._middles[square] = projection.square_middle(self._grid, square)
        east, north = self._middles[square]
        return north, east

    def _is_near(self, square: Square) -> bool:
        """Whether a square is told more exactly than a secret place near it may be."""
        known = self._near.get(square)
        if known is None:
            known = self._near[square] = any(
                self._side / METRES < cell.step / 2 and cell.is_near(self._middle(square), self._side) for cell in self._cells
            )
        return known

    def _lies_in(self, square: Square, at: Position) -> bool:
        """Whether a square touches an open place, which is told anyway."""
        return lies_in_place(self._middle(square), at, self._side)

    def _is_clear(self, at: Position) -> bool:
        """Whether all squares of an open place keep away from secret ones: a hole among them would tell where those are."""
        reach = measure_reach(at) + 2 * self._side + AT_PLACE
        return not any(cell.is_near((at.latitude, at.longitude), reach) for cell in self._cells)


def list_looked(squares: Mapping[str, PublicSquares]) -> tuple[Square, ...]:
    """Every square in which someone looked for species of the guide, as far as it is told."""
    return tuple(sorted({square for one in squares.values() for square in (*(square for square, _ in one.seen), *one.sought)}))


def is_beside(line: Sequence[LonLat], secret: Iterable[Position], metres: float) -> bool:
    """Whether a line passes a secret place within so many metres, or within the place itself."""
    return any(region_shape.measure_beside(line, (at.longitude, at.latitude)) <= max(metres, at.uncertainty or 0.0) for at in secret)


def list_secret(secrets: Secrets) -> list[Position]:
    """Where the secret places are."""
    return [at for at, _ in secrets.placed]


def leads_to(line: Line, secrets: Secrets) -> bool:
    """Whether a line of the map ends at a secret place, or runs closely round one."""
    if any(is_beside((end,), list_secret(secrets), AT_PLACE) for end in (line[0], line[-1])):
        return True
    return line[0] == line[-1] and any(_runs_round(line, at, DISTANCES[secret.step]) for at, secret in secrets.placed)


def _runs_round(ring: Line, at: Position, metres: float) -> bool:
    return all(measure_metres((north, east), (at.latitude, at.longitude)) <= metres for east, north in ring)
