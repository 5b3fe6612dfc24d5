"""Every benchmark, one table: `python -m tests.benchmarks [--readme] [TOPIC…]`; `--readme` writes the table into the README.

Exits with 1 where a limit is missed. Sizes of the guide benchmark: see bench_guide.
"""

from __future__ import annotations

import platform
import re
import sys
from collections.abc import Iterable
from importlib import import_module
from pathlib import Path

from tests.benchmarks.rows import Row, as_markdown

HERE = Path(__file__).parent
_PHOTOS = "Up to 1,000 accounts each has two photos of its own; those of the rows on 5,000 share two, and 200 cards share 60."
_PLACE = re.compile(r"(<!-- bench -->\n).*?(<!-- /bench -->)", re.DOTALL)


def main(arguments: list[str]) -> int:
    """Run the benchmarks of these topics, or all of them."""
    topics = [argument for argument in arguments if not argument.startswith("-")]
    found = topics or sorted(path.stem.removeprefix("bench_") for path in HERE.glob("bench_*.py"))
    rows: list[Row] = []
    for topic in found:
        print(f"{topic} …", flush=True)
        for row in _rows(topic):
            print("  " + "  ".join(cell for cell in row.cells if cell), flush=True)
            rows.append(row)
    table = as_markdown(rows)
    print(f"\n{table}")
    if "--readme" in arguments:
        write_readme(table, HERE.parents[1] / "README.md")
    return int(not all(row.passed for row in rows))


def _rows(topic: str) -> Iterable[Row]:
    try:
        module = import_module(f"tests.benchmarks.bench_{topic}")
    except ModuleNotFoundError as error:
        return (Row(topic, "", f"not measured: {error.name} is not installed"),)
    if hasattr(module, "rows"):
        measured: Iterable[Row] = module.rows()
        return measured
    # It prints a table of its own, with other columns, and answers whether a limit was missed.
    missed = int(module.main())
    return (
        Row((module.__doc__ or topic).strip().splitlines()[0].rstrip("."), "", "limit missed" if missed else "within its limit", missed, 0),
    )


def write_readme(table: str, readme: Path) -> None:
    """Put the table between the marks of the README."""
    where = (
        f"Measured on {platform.machine()}, Python {platform.python_version()}; processor seconds unless it says otherwise.\n{_PHOTOS}\n"
    )
    text = readme.read_text(encoding="utf-8")
    readme.write_text(_PLACE.sub(lambda m: f"{m[1]}{where}\n{table}\n{m[2]}", text), encoding="utf-8")


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
