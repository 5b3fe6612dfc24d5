"""A million sightings read, checked and gathered, against the bare CSV reader on the same rows in the same run.

The risk: an author who shares years of records, or lays a public download into the guide, waits for minutes, or the computer
runs out of memory. The download is of a region: six rows of ten are other species, of two thousand names, at many localities.
Seconds are the processor's, for both, as other work on the machine would fall on either by chance.
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
import zipfile
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
TIMES, ZIPPED, MEGABYTES = 6.0, 7.0, 200.0
OTHERS = 1_980
"""Names of other species in the download."""
SPECIES = tuple(f"Inventus species{chr(97 + n)}" for n in range(20))
PLACES = tuple(f"place-{n}" for n in range(12))
DOWNLOADED = ("occurrenceID", "basisOfRecord", "scientificName", "kingdom", "eventDate", "year", "month", "day", "lifeStage", "locality",
              "decimalLatitude", "decimalLongitude", "coordinateUncertaintyInMeters", "occurrenceStatus", "recordedBy")  # fmt: skip
STAGES = ("egg", "nymph", "adult")


def guide() -> Guide:
    """An invented guide of twenty species and twelve places."""
    accounts = {name[-1]: Account(name[-1], ScientificName(name, *name.split()), "", At(f"accounts/{name[-1]}.md")) for name in SPECIES}
    places = {p: Place(p, p.title(), position=Position(51.1 + n / 100, -1.3, 100)) for n, p in enumerate(PLACES)}
    stages = {"true-bug": StageSet("true-bug", "True bugs", tuple((s, s) for s in STAGES), ("adult",))}
    settings = Settings("Invented", group="true-bug", region_box=(51.0, -1.5, 51.4, -1.2))
    return Guide(settings, accounts=accounts, places=places, stage_sets=stages)


def write_notebook(path: Path) -> None:
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


def write_download(path: Path) -> None:
    """Invented rows as a public site would give them away, four of ten of the guide's species."""
    choose = random.Random(7)
    start = dt.date(2012, 1, 1).toordinal()
    names = [f"{choose.choice(('Alienus', 'Peregrinus', 'Vicinus'))} {chr(97 + n % 26)}lius{n}um".replace("0", "o") for n in range(OTHERS)]
    with path.open("w", newline="", encoding="utf-8") as target:
        table = csv.writer(target)
        table.writerow(DOWNLOADED)
        for number in range(ROWS):
            name = choose.choice(SPECIES) if number % 10 < 4 else choose.choice(names)
            day = dt.date.fromordinal(start + choose.randrange(5000))
            table.writerow([f"urn:invented:{number}", "HUMAN_OBSERVATION", name, "Animalia", day.isoformat(), day.year, day.month, day.day,
                            choose.choice(("", "ADULT", "nymph")), f"Square {choose.randrange(3000)}", f"{51 + choose.random() * 0.4:.5f}",
                            f"{-1.5 + choose.random() * 0.3:.5f}", choose.choice(("10", "30.5")), "PRESENT", "An observer"])  # fmt: skip


def write_archive(path: Path) -> None:
    """The same download as a Darwin Core archive, parted by tabs."""
    terms = "".join(f'<field index="{n}" term="http://rs.tdwg.org/dwc/terms/{term}"/>' for n, term in enumerate(DOWNLOADED))
    meta = ('<archive xmlns="http://rs.tdwg.org/dwc/text/"><core rowType="http://rs.tdwg.org/dwc/terms/Occurrence" encoding="UTF-8" '
            'fieldsTerminatedBy="\\t" fieldsEnclosedBy="" ignoreHeaderLines="1"><files><location>occurrence.txt</location></files>'
            f'<id index="0"/>{terms}</core></archive>')  # fmt: skip
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed, path.with_suffix(".csv").open(newline="", encoding="utf-8") as source:
        packed.writestr("meta.xml", meta)
        with packed.open("occurrence.txt", "w") as target:
            for row in csv.reader(source):
                target.write(("\t".join(row) + "\n").encode())


def bare(path: Path) -> float:
    """Processor seconds that the CSV reader alone takes."""
    start = time.process_time()
    with path.open(newline="", encoding="utf-8") as source:
        for _ in csv.reader(source):
            pass
    return time.process_time() - start


def ours(path: Path, expected: int) -> float:
    """Processor seconds that reading, checking and gathering take."""
    start = time.process_time()
    made = read_sightings(path.parent, [path.name], guide())
    seconds = time.process_time() - start
    counted = sum(tally.rows for tally in made.tallies)
    if counted != expected or not made.findings:
        raise SystemExit(f"{counted} rows counted, {len(made.findings)} findings")
    return seconds


def measure(path: Path, expected: int) -> str:
    """The line printed by the process that measures itself: the floor, ours, and the most memory."""
    floor = min(bare(path.with_suffix(".csv")) for _ in range(2))
    seconds = ours(path, expected)
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return f"{floor:.3f} {seconds:.3f} {megabytes:.1f}"


def rows() -> Iterator[Row]:
    """Write each file and measure in a process of its own."""
    with tempfile.TemporaryDirectory() as folder:
        notebook, download, archive = (Path(folder) / name for name in ("notebook.csv", "download.csv", "download.zip"))
        write_notebook(notebook)
        write_download(download)
        write_archive(archive)
        for path, words, expected, times in (
            (notebook, "sightings", ROWS - ROWS // 1000, TIMES),
            (download, "rows of a public download", ROWS * 4 // 10, TIMES),
            (archive, "rows of a Darwin Core archive", ROWS * 4 // 10, ZIPPED),
        ):
            command = [sys.executable, "-m", "tests.benchmarks.bench_sightings", str(path), str(expected)]
            done = subprocess.run(command, capture_output=True, text=True, check=True)
            floor, seconds, megabytes = map(float, done.stdout.split())
            yield Row(f"{ROWS:,} {words}, beside the bare CSV reader", f"{floor:.2f} s", f"{seconds:.2f} s", seconds / floor, times)
            yield Row("most memory of it", f"{MEGABYTES:.0f} MB", f"{megabytes:.0f} MB", megabytes / MEGABYTES, 1.0)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(measure(Path(sys.argv[1]), int(sys.argv[2])))
    else:
        sys.exit(told(rows))
