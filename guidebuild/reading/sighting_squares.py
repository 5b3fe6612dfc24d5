"""In which squares of the guide's maps the rows of a file lie."""

from __future__ import annotations

from collections.abc import Sequence
from operator import itemgetter

from guidebuild.guide.distances import METRES
from guidebuild.guide.region import MapGrid, Square
from guidebuild.later import imported_when_used
from guidebuild.reading.sighting_columns import Columns
from guidebuild.reading.sighting_places import NoSpot, Spot

with imported_when_used():  # the projections, which guides without a map do not ask for
    from guidebuild.guide import projection


class Squares:
    """Finds squares for many rows at once, which takes a fifth of the time."""

    def __init__(self, grid: MapGrid, columns: Columns) -> None:
        """`grid` is that of the guide's maps."""
        self._grid = grid
        self._side = grid.size if grid.epsg else grid.size * METRES
        self._pick_uncertainty = itemgetter(columns.position("coordinateUncertaintyInMeters"))
        self._fine = {""}  # uncertainties met that a square is larger than

    def find_all(self, rows: Sequence[Sequence[str]], spots: Sequence[Spot | NoSpot]) -> list[Square | None]:
        """The square of each row; None where its figures say none, or less exactly than a square is large."""
        placed = [spot for spot in spots if not isinstance(spot, NoSpot)]
        squares = projection.find_squares(self._grid, *zip(*placed, strict=True)) if placed else []
        if len(placed) < len(spots):
            given = iter(squares)
            found: list[Square | None] = [None if isinstance(spot, NoSpot) else next(given) for spot in spots]
        else:
            found = [*squares]
        uncertainties = [*map(self._pick_uncertainty, rows)]
        if not self._fine.issuperset(uncertainties):
            return [square if self._is_fine(text) else None for square, text in zip(found, uncertainties, strict=True)]
        return found

    def _is_fine(self, uncertainty: str) -> bool:
        if uncertainty in self._fine:
            return True
        try:
            fine = float(uncertainty.replace(",", ".")) <= self._side
        except ValueError:
            fine = True
        if fine:
            self._fine.add(uncertainty)
        return fine
