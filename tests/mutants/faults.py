"""Faults put in by hand (`faults.yaml`): `python -m tests.mutants.faults` puts each in and tells those that no test notices."""

from __future__ import annotations

import ast
import sys
from dataclasses import dataclass
from pathlib import Path

import yaml

from tests.mutants.operators import ROOT
from tests.mutants.runner import Bench, run_bench

TABLE = Path(__file__).with_name("faults.yaml")


@dataclass(frozen=True)
class Fault:
    """One fault: what is replaced in a file by what, why it matters to a user, and the tests that must notice."""

    file: str
    replace: str
    by: str
    why: str
    tests: tuple[str, ...]

    def __str__(self) -> str:
        return f"{self.file}: {self.replace.strip()!r} -> {self.by.strip()!r}: {self.why}"

    def put_in(self) -> str:
        """The file's text with the fault; ValueError where the text to replace does not stand in it just once."""
        text = (ROOT / self.file).read_text(encoding="utf-8")
        if text.count(self.replace) != 1:
            raise ValueError(f"{self.file} holds {text.count(self.replace)} times, not once: {self.replace!r}")
        return text.replace(self.replace, self.by)


def read_faults() -> list[Fault]:
    """The table."""
    rows = yaml.safe_load(TABLE.read_text(encoding="utf-8"))
    return [Fault(**{**row, "tests": tuple(row["tests"])}) for row in rows]


def list_unnoticed(faults: list[Fault]) -> list[Fault]:
    """Put in one after the other, run its tests, and list those that none of them noticed."""
    unnoticed = []

    def try_all(bench: Bench) -> None:
        for fault in faults:
            tests = [name for name in bench.all_tests() if name.startswith(fault.tests)]
            if not bench.is_caught(fault.file, ast.parse(fault.put_in()), tests, [0]):
                unnoticed.append(fault)

    if run_bench([], sorted({test for fault in faults for test in fault.tests}), try_all):
        raise SystemExit(2)
    return unnoticed


if __name__ == "__main__":
    found = list_unnoticed([fault for fault in read_faults() if all(part in str(fault) for part in sys.argv[1:])])
    print("\n".join(map(str, found)))
    sys.exit(bool(found))
