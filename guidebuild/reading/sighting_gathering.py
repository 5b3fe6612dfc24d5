"""What all files of sightings of one guide share: the rows gathered so far, and what is known of words in them."""

from __future__ import annotations

from array import array
from collections import Counter

from guidebuild.guide.guide import Guide
from guidebuild.guide.sightings import SeenSpot, Tally
from guidebuild.reading.packed_rows import DAY, FILE, FILE_BITS, ROW_BITS
from guidebuild.reading.sighting_names import NameResolver
from guidebuild.reading.sighting_places import PlaceNames, PlacesByPosition
from guidebuild.reading.sighting_records import Recorder
from guidebuild.reading.sighting_squares import Squares
from guidebuild.reading.sighting_stages import StageReader
from guidebuild.reading.sighting_words import shipped_words

Key = tuple[str, str, str]  # account, stage, place

_NO_ROWS = array("Q")


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
        self.undated: dict[Key, array[int]] = {}
        self.sought: dict[Key, array[int]] = {}
        self.squares = Squares(guide.region.grid) if guide.region else None
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
        dated = self.dated.pop(key, _NO_ROWS)
        # What is secret is drawn in the squares that its rounding leaves, and in no others.
        squares = self.squares if self.secret.isdisjoint((key[0], key[2])) else None
        rows = sorted(dated)
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
            squares=squares.find_latest(dated + self.undated.get(key, _NO_ROWS)) if squares else (),
            sought=tuple(square for square, _ in squares.find_latest(self.sought.get(key, _NO_ROWS))) if squares else (),
        )
