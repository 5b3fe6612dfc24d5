"""Every benchmark, one table: `python -m tests.benchmarks [--readme] [TOPIC…]`; `--readme` writes the table into the README.

Every topic runs in a process of its own, so that none finds the memory of another. Exits with 1 where a limit is missed. Sizes of
the guide benchmark: see bench_guide.
"""

from __future__ import annotations

import json
import platform
import re
import subprocess
import sys
from collections.abc import Iterable, Iterator
from dataclasses import astuple
from importlib import import_module
from pathlib import Path

from tests.benchmarks.rows import Row, as_markdown

HERE = Path(__file__).parent
_ALONE = "--alone"
_ROW = "row "
_PHOTOS = "Up to 1,000 accounts each has two photos of its own; those of the rows on 5,000 share two, and makes of 200 cards 60."
_PLACE = re.compile(r"(<!-- bench -->\n).*?(<!-- /bench -->)", re.DOTALL)


def main(arguments: list[str]) -> int:
    """Run the benchmarks of these topics, or all of them."""
    topics = [argument for argument in arguments if not argument.startswith("-")]
    found = topics or sorted(path.stem.removeprefix("bench_") for path in HERE.glob("bench_*.py"))
    rows: list[Row] = []
    for topic in found:
        print(f"{topic} …", flush=True)
        for row in _measured_alone(topic):
            print("  " + "  ".join(cell for cell in row.cells if cell), flush=True)
            rows.append(row)
    table = as_markdown(rows)
    print(f"\n{table}")
    if "--readme" in arguments:
        write_readme(table, HERE.parents[1] / "README.md")
    return int(not all(row.passed for row in rows))


def _measured_alone(topic: str) -> Iterator[Row]:
    """The rows of one topic as its process gives them; what else it says is passed on."""
    command = [sys.executable, "-m", "tests.benchmarks", _ALONE, topic]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        for line in process.stdout or ():
            if line.startswith(_ROW):
                yield Row(*json.loads(line.removeprefix(_ROW)))
            else:
                print(line, end="", flush=True)
    if process.returncode:
        raise SystemExit(f"{topic} failed")


def _tell_rows(topic: str) -> int:
    for row in _rows(topic):
        print(_ROW + json.dumps(astuple(row)), flush=True)
    return 0


def _rows(topic: str) -> Iterable[Row]:
    try:
        module = import_module(f"tests.benchmarks.bench_{topic}")
    except ModuleNotFoundError as error:
        return (Row(topic, "", f"not measured: {error.name} is not installed"),)
    measured: Iterable[Row] = module.rows()
    return measured


def write_readme(table: str, readme: Path) -> None:
    """Put the table between the marks of the README."""
    where = (
        f"Measured on {platform.machine()}, Python {platform.python_version()}; processor seconds unless it says otherwise.\n{_PHOTOS}\n"
    )
    text = readme.read_text(encoding="utf-8")
    readme.write_text(_PLACE.sub(lambda m: f"{m[1]}{where}\n{table}\n{m[2]}", text), encoding="utf-8")


if __name__ == "__main__":
    raise SystemExit(_tell_rows(sys.argv[2]) if sys.argv[1:2] == [_ALONE] else main(sys.argv[1:]))
