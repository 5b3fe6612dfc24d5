"""What maps cost: squares of a million sightings beside reading them without, the time of one map, and what a page grows by.

The risk: an author with many records waits longer for every check, or pages become heavy for a phone on a hill.
Run it with `python -m tests.benchmarks.bench_maps`; it ends with 1 where a limit is passed.
"""

from __future__ import annotations

import datetime as dt
import gzip
import math
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.guide import Guide
from guidebuild.guide.region import MapGrid, Region
from guidebuild.press.theme.sandbox import make_environment
from guidebuild.reading.sightings import read_sightings
from guidebuild.shipped import on_disk, themes
from guidebuild.views.pieces.maps import MapView, map_of_account
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.words import words
from tests.benchmarks import bench_sightings
from tests.benchmarks.rows import Row, told

TIMES, MILLISECONDS, KILOBYTES = 1.3, 25.0, 6.0
CORNERS = 4000
"""Of an outline as it is kept of the largest files."""


def region() -> Region:
    """An invented region about the benchmark's rows, with a ragged outline."""
    ring = tuple((-1.35 + math.cos(n / CORNERS * math.tau) * (0.16 + 0.01 * math.sin(n * 0.7)),
                  51.2 + math.sin(n / CORNERS * math.tau) * (0.21 + 0.01 * math.sin(n * 0.9))) for n in range(CORNERS))  # fmt: skip
    return Region((((*ring, ring[0]),),), grid=MapGrid(2000, 27700, -92.0, (-1.35, 51.2)))


def read(path: Path, guide: Guide) -> tuple[float, Guide]:
    """Processor seconds of reading, and the guide with what was read."""
    start = time.process_time()
    made = read_sightings(path.parent, [path.name], guide)
    return time.process_time() - start, replace(guide, sightings=made.tallies, as_of=dt.date(2026, 11, 28))


def draw(published: Published) -> tuple[float, list[str]]:
    """Milliseconds of the processor for a map with its drawing, the mean of all; and the drawings."""
    environment = make_environment((on_disk(themes()) / "plate",), ())
    module: Any = environment.get_template("map.html").make_module({"_": words("en")})
    make = make_pieces(published)
    start = time.process_time()
    views = [map_of_account(make, account) for account in published.accounts.values()]
    drawings = [_write(module, view) for view in views if view]
    return (time.process_time() - start) * 1000 / len(drawings), drawings


def _write(module: Any, view: MapView) -> str:
    return str(module.map_svg(view)) + "".join(f"{mark.words} {mark.names}" for mark in view.marks)


def rows() -> Iterator[Row]:
    """Read twice each, in turn; then draw."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "notebook.csv"
        bench_sightings.write_notebook(path)
        plain, mapped = bench_sightings.guide(), replace(bench_sightings.guide(), region=region())
        without = min(read(path, plain)[0] for _ in range(2))
        seconds, held = min((read(path, mapped) for _ in range(2)), key=lambda pair: pair[0])
    yield Row(f"{bench_sightings.ROWS:,} sightings with the squares of maps, beside without", f"{without:.2f} s", f"{seconds:.2f} s",
              seconds / without, TIMES)  # fmt: skip
    milliseconds, drawings = draw(make_published(held))
    kilobytes = max(len(gzip.compress(drawing.encode(), 9)) for drawing in drawings) / 1000
    yield Row(
        "one map of a species seen in most squares", f"{MILLISECONDS:.0f} ms", f"{milliseconds:.1f} ms", milliseconds / MILLISECONDS, 1.0
    )
    yield Row("the largest of these maps, packed", f"{KILOBYTES:.0f} kB", f"{kilobytes:.1f} kB", kilobytes / KILOBYTES, 1.0)


if __name__ == "__main__":
    sys.exit(told(rows))
