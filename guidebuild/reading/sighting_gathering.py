"""What all files of sightings of one guide share: the rows gathered so far, and what is known of words in them."""

from __future__ import annotations

from array import array
from collections import Counter

from guidebuild.guide.guide import Guide
from guidebuild.guide.region import Square
from guidebuild.guide.sightings import SeenSpot, Tally
from guidebuild.later import imported_when_used
from guidebuild.reading.sighting_names import NameResolver
from guidebuild.reading.sighting_places import PlaceNames, PlacesByPosition
from guidebuild.reading.sighting_records import Recorder
from guidebuild.reading.sighting_stages import StageReader
from guidebuild.reading.sighting_words import shipped_words

with imported_when_used():  # the projections, which guides without a map do not ask for
    from guidebuild.guide import projection

Key = tuple[str, str, str]  # account, stage, place

# One dated row is one 64-bit number: day, file, row. Sorting them puts the first row of each day first.
DAY, FILE = 44, 32
ROW_BITS, FILE_BITS = 0xFFFFFFFF, 0xFFF


class Gathering:
    """The rows of all files of a guide, as they are gathered."""

    def __init__(self, guide: Guide, recorder: Recorder | None = None) -> None:
        """Start with no rows. With a `recorder`, each is kept as it was typed too."""
        self.guide = guide
        self.recorder = recorder
        self.words = guide.sighting_words or shipped_words()
        self.names = NameResolver(guide)
        self.places = PlaceNames(guide, self.words)
        self.by_position = PlacesByPosition(guide)
        self.stages = StageReader(guide, self.words)
        self.dated: dict[Key, array[int]] = {}
        self.loose: dict[Key, int] = {}
        self.absent: dict[Key, int] = {}
        self.doubtful: dict[Key, int] = {}
        self.spots: dict[Key, set[SeenSpot]] = {}
        self.squares: dict[Key, dict[int | None, int]] = {}
        self.sought: dict[Key, set[int | None]] = {}
        sensitive = (*((a.id, a.sensitivity) for a in guide.accounts.values()), *((p.id, p.sensitivity) for p in guide.places.values()))
        self.secret = {ident for ident, kept in sensitive if kept}
        self.met: set[int] = set()  # hashes of rows, so that copies are found without keeping the rows
        self.alike: set[int] = set()  # the same without what only numbers a row

    def tallies(self, files: tuple[str, ...]) -> tuple[Tally, ...]:
        """The gathered rows as values, in order of account, stage and place."""
        self.met.clear()
        self.alike.clear()
        keys = sorted(self.dated.keys() | self.spots.keys() | self.loose.keys() | self.absent.keys() | self.doubtful.keys())
        ordinals: dict[int, int] = {}
        return tuple(self._tally(key, files, ordinals) for key in keys)

    def _tally(self, key: Key, files: tuple[str, ...], ordinals: dict[int, int]) -> Tally:
        """One tally. `ordinals` are the days met so far, so that each is held once."""
        rows = sorted(self.dated.pop(key, ()))
        days = [packed >> DAY for packed in rows]
        counts = Counter(map(ordinals.setdefault, days, days))
        firsts = dict(zip(reversed(days), reversed(rows), strict=True))  # of the rows of a day the first stays
        first_rows = [firsts[day] for day in counts]
        return Tally(
            *key,
            days=tuple(counts),
            counts=tuple(counts.values()),
            first_rows=tuple([packed & ROW_BITS for packed in first_rows]),
            files=tuple([files[packed >> FILE & FILE_BITS] for packed in first_rows]),
            loose=self.loose.get(key, 0),
            absences=self.absent.get(key, 0),
            doubtful=self.doubtful.get(key, 0),
            spots=tuple(sorted(self.spots.get(key, ()), key=repr)),
            squares=tuple((_unpack(square), day) for square, day in _sort(self.squares.get(key, {}))) if self.guide.region else (),
            sought=tuple(_unpack(square) for square, _ in _sort(dict.fromkeys(self.sought.get(key, ()), 0))) if self.guide.region else (),
        )


def _sort(squares: dict[int | None, int]) -> list[tuple[int | None, int]]:
    """Squares by their place in the grid, rows without one first."""
    return sorted(squares.items(), key=lambda seen: (seen[0] is not None, seen[0] or 0))


def _unpack(square: int | None) -> Square | None:
    return None if square is None else projection.unpack_square(square)
