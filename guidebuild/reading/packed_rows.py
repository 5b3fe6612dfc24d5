"""One dated row of sightings as one number, by its day, its file and its row."""

from __future__ import annotations

# One dated row is one 64-bit number: day, file, row. Sorting them puts the first row of each day first. Two files may not share a number,
# or rows of one would lie where those of the other do: 65,536 files of 268 million rows are more than anyone has.
DAY, FILE = 44, 28
ROW_BITS, FILE_BITS = 0xFFFFFFF, 0xFFFF
