"""A million sightings read, checked and gathered, against the bare CSV reader on the same file in the same run.

The risk: an author who shares years of records waits for minutes, or the computer runs out of memory.
Run it with `python -m tests.benchmarks.bench_sightings`; it ends with 1 where a limit is passed.
"""

from __future__ import annotations

import csv
import datetime as dt
import random
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide, Settings
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.names import ScientificName
from guidebuild.guide.records import Place, Position
from guidebuild.reading.sightings import read_sightings
from tests.benchmarks.rows import Row, told

ROWS = 1_000_000
TIMES, MEGABYTES = 6.0, 200.0
SPECIES = tuple(f"Inventus species{chr(97 + n)}" for n in range(20))
PLACES = tuple(f"place-{n}" for n in range(12))
STAGES = ("egg", "nymph", "adult")


def guide() -> Guide:
    """An invented guide of twenty species and twelve places."""
    accounts = {name[-1]: Account(name[-1], ScientificName(name, *name.split()), "", At(f"accounts/{name[-1]}.md")) for name in SPECIES}
    places = {p: Place(p, p.title(), position=Position(51.1 + n / 100, -1.3, 100)) for n, p in enumerate(PLACES)}
    stages = {"true-bug": StageSet("true-bug", "True bugs", tuple((s, s) for s in STAGES), ("adult",))}
    settings = Settings("Invented", group="true-bug", region_box=(51.0, -1.5, 51.4, -1.2))
    return Guide(settings, accounts=accounts, places=places, stage_sets=stages)


def write(path: Path) -> None:
    """Invented rows as a record centre would export them; one in a thousand is bad."""
    choose = random.Random(6)
    start = dt.date(2012, 1, 1).toordinal()
    with path.open("w", newline="", encoding="utf-8") as target:
        table = csv.writer(target)
        table.writerow(
            [
                "occurrenceID",
                "basisOfRecord",
                "scientificName",
                "eventDate",
                "lifeStage",
                "locality",
                "decimalLatitude",
                "decimalLongitude",
                "coordinateUncertaintyInMeters",
                "individualCount",
                "recordedBy",
                "occurrenceRemarks",
            ]
        )
        for number in range(ROWS):
            day = dt.date.fromordinal(start + choose.randrange(5000)).isoformat() if number % 1000 else "sometime"
            table.writerow(
                [
                    f"invented-{number}",
                    "HumanObservation",
                    choose.choice(SPECIES),
                    day,
                    choose.choice(STAGES),
                    choose.choice(PLACES),
                    f"{51 + choose.random() * 0.4:.5f}",
                    f"{-1.5 + choose.random() * 0.3:.5f}",
                    choose.choice(("10", "30", "100")),
                    choose.choice(("1", "2", "3", "12")),
                    "An observer",
                    "on a leaf",
                ]
            )


def bare(path: Path) -> float:
    """Seconds that the CSV reader alone takes."""
    start = time.perf_counter()
    with path.open(newline="", encoding="utf-8") as source:
        for _ in csv.reader(source):
            pass
    return time.perf_counter() - start


def ours(path: Path) -> float:
    """Seconds that reading, checking and gathering take."""
    start = time.perf_counter()
    tallies, findings = read_sightings(path.parent, [path.name], guide())
    seconds = time.perf_counter() - start
    counted = sum(tally.rows for tally in tallies)
    if counted != ROWS - ROWS // 1000 or not findings:
        raise SystemExit(f"{counted} rows counted, {len(findings)} findings")
    return seconds


def measure(path: Path) -> str:
    """The line printed by the process that measures itself."""
    floor = min(bare(path) for _ in range(2))
    seconds = ours(path)
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return f"{floor:.3f} {seconds:.3f} {megabytes:.1f}"


def rows() -> Iterator[Row]:
    """Write the file and measure in a process of its own."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sightings.csv"
        write(path)
        done = subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.bench_sightings", str(path)], capture_output=True, text=True, check=True
        )
    floor, seconds, megabytes = map(float, done.stdout.split())
    yield Row(f"{ROWS:,} sightings, beside the bare CSV reader", f"{floor:.2f} s", f"{seconds:.2f} s", seconds / floor, TIMES)
    yield Row("most memory of it", f"{MEGABYTES:.0f} MB", f"{megabytes:.0f} MB", megabytes / MEGABYTES, 1.0)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(measure(Path(sys.argv[1])))
    else:
        sys.exit(told(rows))
