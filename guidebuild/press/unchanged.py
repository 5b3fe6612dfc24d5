"""Knowing at once that a guide has not changed since it was last published.

Names, sizes and times of all files of the guide stand for their contents, as they do for the published ones. A file that
changed while a run read it, or within the clock's grain of it, is not trusted: then nothing is written down, and the next
run looks at everything.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.digest import digest
from guidebuild.press.problems import Problem
from guidebuild.press.staging import WORKSHOP

_GRAIN_NS = 2_000_000_000
_STATE = "last-run.json"


@dataclass(frozen=True, slots=True)
class LastRun:
    """What the last run made a published folder from, as one digest, and what it told."""

    state: Path
    now: str
    """Digest of all that this run depends on; empty where a file is too fresh to be trusted."""

    def told(self) -> tuple[Problem, ...] | None:
        """The problems of the last run, if it depended on the very same; None where it did not."""
        try:
            read = json.loads(self.state.read_text(encoding="utf-8"))
            same = bool(self.now) and read["from"] == self.now
            return tuple(Problem(*map(str, told)) for told in read["problems"]) if same else None
        except (OSError, ValueError, TypeError, KeyError, AttributeError):
            return None

    def remember(self, problems: tuple[Problem, ...]) -> None:
        """Write down what this run told; nothing where its files are not to be trusted."""
        try:
            if self.now:
                told = [[p.what, p.where, p.message] for p in problems]
                self.state.write_text(json.dumps({"from": self.now, "problems": told}), encoding="utf-8")
            else:
                self.state.unlink(missing_ok=True)
        except OSError:
            return


def last_run(folder: Path, place: Path, begun: int | None, *options: object) -> LastRun:
    """What is known of the last run of a guide into a place.

    `begun` is when this run began to read, in nanoseconds since 1970; without it nothing is trusted. `options` are all
    that a run depends on beside the guide's files.
    """
    state = place.parent / WORKSHOP / f"{place.name}-{_STATE}"
    if begun is None:
        return LastRun(state, "")
    try:
        files = sorted(_files(folder, place.resolve()))
    except OSError:
        return LastRun(state, "")
    newest = max((max(modified, changed) for _, _, modified, changed in files), default=0)
    return LastRun(state, digest(files, *options) if newest < begun - _GRAIN_NS else "")


def tree_digest(folder: Path) -> str:
    """Digest of names, sizes and times of all files below a folder."""
    return digest(sorted(_files(folder, folder.resolve())))


def _files(folder: Path, place: Path, above: str = "") -> Iterator[tuple[str, int, int, int]]:
    """Path, size and times of every file of a guide, but not of what was published from it."""
    with os.scandir(folder) as entries:
        for entry in entries:
            path = f"{above}{entry.name}"
            if entry.name == WORKSHOP or (not above and Path(entry.path).resolve() == place):
                continue
            if entry.is_dir():
                yield from _files(Path(entry.path), place, f"{path}/")
            else:
                stat = entry.stat()
                yield path, stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns
