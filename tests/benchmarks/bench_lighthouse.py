"""How Lighthouse reads a page of each kind at its settings for phones: performance of 95 and more, accessibility of 100.

Run as `python -m tests.benchmarks.bench_lighthouse [SITE]` (needs Chromium, and `npm install` in this folder, which `make bench` does).
Performance is the median of three readings, since it hangs on what else the machine does. A ratio is what is asked over what was read.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from statistics import median

from tests.benchmarks.bench_paint import made_site, served
from tests.benchmarks.rows import Row, told

HERE = Path(__file__).parent
COMMAND = HERE / "node_modules" / ".bin" / "lighthouse"
KINDS = (
    "index.html",
    "accounts/index.html",
    "accounts/parent-bug.html",
    "families/acanthosomatidae.html",
    "compare/birch-shieldbug--parent-bug.html",
    "finder.html",
    "key.html",
    "practice.html",
    "seasons/index.html",
    "places/birch-clump.html",
    "walks/september-hedge.html",
    "tallies/september-hedge.html",
    "films/index.html",
    "field.html",
    "find.html",
    "seen.html",
    "sources.html",
    "es/index.html",
)
"""A page of each kind; one that the site has not is an error, since it would be read by nobody."""
ASKED = {"performance": 95, "accessibility": 100}
TIMES = 3


def read_page(address: str) -> dict[str, float]:
    """The scores of one reading, from 0 to 100."""
    flags = "--headless=new --no-sandbox --disable-gpu"
    command = [str(COMMAND), address, "--quiet", "--output=json", "--output-path=stdout", f"--chrome-flags={flags}"]
    chromium = {"CHROME_PATH": shutil.which("chromium") or ""}
    done = subprocess.run(
        [*command, f"--only-categories={','.join(ASKED)}"], capture_output=True, text=True, check=True, env=os.environ | chromium
    )
    found = json.loads(done.stdout)["categories"]
    return {name: 100 * found[name]["score"] for name in ASKED}


def rows_of(site: Path, times: int) -> Iterator[Row]:
    """The rows for each kind of page of a site."""
    if missing := [page for page in KINDS if not (site / page).is_file()]:
        raise FileNotFoundError(f"the site has no {', '.join(missing)}")
    with served(site) as port:
        for page in KINDS:
            readings = [read_page(f"http://127.0.0.1:{port}/{page}") for _ in range(times)]
            for name, asked in ASKED.items():
                score = median(reading[name] for reading in readings)
                yield Row(f"{name} of {page} on a phone", f"{asked}", f"{score:.0f}", asked / score if score else 99.0, 1.0)


def rows(times: int = TIMES, site: Path | None = None) -> Iterator[Row]:
    """The rows for the sample guide, published anew unless a site is given; none where Lighthouse or Chromium is not there."""
    if not COMMAND.exists() or not shutil.which("chromium"):
        print("Lighthouse is left out: it needs Chromium, and `npm install` in tests/benchmarks.", file=sys.stderr)
        return
    with made_site(site) as made:
        yield from rows_of(made, times)


if __name__ == "__main__":
    sys.exit(told(partial(rows, TIMES, Path(sys.argv[1]) if sys.argv[1:] else None)))
