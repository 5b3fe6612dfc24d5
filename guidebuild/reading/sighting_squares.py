"""In which squares of the guide's maps rows lie: positions are put by while rows are read, and worked out all at once in the end."""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from operator import itemgetter

from guidebuild.guide.distances import METRES
from guidebuild.guide.region import MapGrid, PackedSquare
from guidebuild.later import imported_when_used
from guidebuild.reading.sighting_columns import Columns
from guidebuild.reading.sighting_places import Halves, NoSpot, Spot

with imported_when_used():  # the projections, which guides without a map do not ask for
    from guidebuild.reading import squares_of_rows


class FileSpots:
    """Where the rows of one file were, as far as a square can be told of it."""

    def __init__(self, grid: MapGrid, columns: Columns) -> None:
        """`grid` is that of the guide's maps."""
        self.numbers, self.norths, self.easts = array("q"), array("d"), array("d")
        self._side = grid.size if grid.epsg else grid.size * METRES
        self._pick_uncertainty = itemgetter(columns.position("coordinateUncertaintyInMeters"))
        self._fine = {""}  # uncertainties met that a square is larger than

    def keep_all(self, rows: Sequence[Sequence[str]], numbers: Sequence[int], halves: Halves) -> None:
        """Keep rows that all have degrees north and east."""
        if self._fine.issuperset(map(self._pick_uncertainty, rows)):
            self.numbers.extend(numbers)
            self.norths.extend(halves[0])
            self.easts.extend(halves[1])
        else:
            self.keep_some(rows, numbers, list(zip(*halves, strict=True)))

    def keep_some(self, rows: Sequence[Sequence[str]], numbers: Sequence[int], spots: Sequence[Spot | NoSpot]) -> None:
        """Keep those of some rows that have a spot, and one that is told more exactly than a square is large."""
        for row, number, spot in zip(rows, numbers, spots, strict=True):
            if not isinstance(spot, NoSpot) and self._is_fine(self._pick_uncertainty(row)):
                self.numbers.append(number)
                self.norths.append(spot[0])
                self.easts.append(spot[1])

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


class Squares:
    """The squares of the rows of all files. Rows are packed as in the gathering: day, file, row."""

    def __init__(self, grid: MapGrid) -> None:
        """`grid` is that of the guide's maps."""
        self._grid = grid
        self._files: dict[int, FileSpots] = {}
        self._known: squares_of_rows.Known = {}

    def for_file(self, number: int, columns: Columns) -> FileSpots:
        """Where the rows of a file are kept; `number` is the file's, among all."""
        return self._files.setdefault(number, FileSpots(self._grid, columns))

    def find_latest(self, rows: array[int]) -> tuple[tuple[PackedSquare | None, int], ...]:
        """The squares of some rows with the latest day in each, None for those of which no square is told."""
        if not rows:
            return ()
        while self._files:
            number, spots = self._files.popitem()
            self._known[number] = squares_of_rows.find_by_number(self._grid, spots.numbers, spots.norths, spots.easts)
        return squares_of_rows.find_latest(self._known, rows)
