"""The last look through a finished site for twenty secret places, beside the same for one.

    python -m tests.benchmarks secrets

The risk: the time grows with the number of places that are kept secret. A guide of invented accounts, of which three scores in ten are
unknown; all places and names are made up. Every file is looked through in this process; times are processor seconds.
"""

from __future__ import annotations

import random
import re
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path

from guidebuild.cli import exit_code
from guidebuild.fieldwork.leaks import Secrets, secrets_of
from guidebuild.press.leak_scan import file_leaks
from guidebuild.session import open_session
from tests.benchmarks.bench_guide import SHARED
from tests.benchmarks.rows import Row, told
from tests.benchmarks.synthetic import Invented, word

ACCOUNTS, SECRET, UNKNOWN, TIMES, ROUNDS = 100, 20, 0.3, 1.3, 2
_PLACE = """secret-{n}: {{name: {first} {second} Hollow, area: Inventshire, habitat: [hedgerow],
  position: "{north:.4f}, {east:.4f}", uncertainty: 50 m, sensitive: {{category: high, reason: Invented., review: 2028-05-01}}}}
"""


def write(folder: Path) -> None:
    """The guide, with its secret places and its gaps."""
    Invented(ACCOUNTS).write(folder, pictures=SHARED)
    draw = random.Random("secrets")
    with (folder / "places.yaml").open("a", encoding="utf-8") as file:
        for n in range(SECRET):
            names = {"first": word(900 + n).title(), "second": word(1900 + n, 2).title()}
            file.write(_PLACE.format(n=n, north=51.7 + draw.random() / 2, east=-1.25 + draw.random() / 10, **names))
    for path in sorted((folder / "accounts").glob("*.md")):
        lines = path.read_text("utf-8").splitlines(keepends=True)
        # The first three are what look-alikes are told by.
        gaps = [line for line in lines if re.fullmatch(r"  \w+ look: \w+\n", line)][3:]
        kept = (line for line in lines if not (line in gaps and draw.random() < UNKNOWN))
        path.write_text("".join(kept), encoding="utf-8")


def rows() -> Iterator[Row]:
    """Make the site once; then look through it for one place and for all."""
    with tempfile.TemporaryDirectory() as here:
        folder = Path(here) / "guide"
        write(folder)
        with redirect_stdout(StringIO()):
            exit_code(["make", str(folder), "site", "--workers", "1", "--quiet"])
        secrets = secrets_of(open_session(folder).guide)
        files = {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted((folder / "published").rglob("*")) if p.is_file()}
    one = Secrets(secrets.places[:1], secrets.shown, secrets.ground)
    first, all_of_them = (min(_look(files, held) for _ in range(ROUNDS)) for held in (one, secrets))
    what = f"last look through {len(files):,} files for {len(secrets.places)} secret places, beside one"
    yield Row(what, f"{first:.2f} s", f"{all_of_them:.2f} s", all_of_them / first, TIMES)


def _look(files: dict[str, bytes], secrets: Secrets) -> float:
    start = time.process_time()
    for name, content in files.items():
        for problem in file_leaks(name, content, secrets):
            raise SystemExit(f"the benchmark's own guide tells a secret: {problem}")
    return time.process_time() - start


if __name__ == "__main__":
    sys.exit(told(rows))
