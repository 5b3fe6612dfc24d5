"""Broken (and odd but accepted) guides as text files: `=== file` starts a file, `=== findings` what must be found.

A file marked `(escaped)` is given as a Python string of bytes on one line. A finding is its code and place, then words
that its message or mend must hold, parted by bars.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent / "cases"


@dataclass(frozen=True)
class Wanted:
    code: str
    at: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class Case:
    name: str
    files: dict[str, bytes]
    wanted: tuple[Wanted, ...]

    def write(self, folder: Path) -> None:
        for name, raw in {"guide.yaml": b"title: Toads\n", **self.files}.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(raw)


def read_case(path: Path) -> Case:
    pieces = re.split(r"^=== (.*)\n", path.read_bytes().decode("utf-8"), flags=re.MULTILINE)
    files: dict[str, bytes] = {}
    wanted: tuple[Wanted, ...] = ()
    for head, text in zip(pieces[1::2], pieces[2::2], strict=True):
        if head == "findings":
            wanted = tuple(_wanted(line) for line in text.splitlines() if line)
        elif head.endswith(" (escaped)"):
            files[head.removesuffix(" (escaped)")] = text.strip().encode("latin-1").decode("unicode_escape").encode("latin-1")
        else:
            files[head] = text.encode("utf-8")
    return Case(path.stem, files, wanted)


def _wanted(line: str) -> Wanted:
    start, *words = line.split(" | ")
    code, _, at = start.partition(" ")
    return Wanted(code, at, tuple(words))


def all_cases() -> list[Case]:
    return [read_case(path) for path in sorted(FOLDER.glob("*.txt"))]
