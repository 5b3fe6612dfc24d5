"""One dated row of sightings as one number, by its day, its file and its row."""

from __future__ import annotations

# One dated row is one 64-bit number: day, file, row. Sorting them puts the first row of each day first.
DAY, FILE = 44, 32
ROW_BITS, FILE_BITS = 0xFFFFFFFF, 0xFFF
