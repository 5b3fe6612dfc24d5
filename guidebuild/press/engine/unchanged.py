"""Knowing at once that a guide has not changed since it was last published.

Names, sizes and times of all files of the guide stand for their contents, as they do for the published ones. A file that
changed while a run read it, or within the clock's grain of it, is not trusted: then nothing is written down, and the next
run looks at everything.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.press.engine.problems import Problem, read_problem

_GRAIN_NS = 2_000_000_000
_STATE = "last-run.json"


@dataclass(frozen=True, slots=True)
class Checked:
    """What the checks said of a guide, as far as a run that publishes it tells."""

    left_out: tuple[str, ...] = ()
    """Accounts that have an error, by the names they are shown by."""
    warnings: int = 0
    worst: int = 0
    """The weight of the gravest finding, 0 where there is none."""
    kept: tuple[str, ...] = ()
    """What is published as it was before, and why, in a line each."""


@dataclass(frozen=True, slots=True)
class RunNote:
    """All that a run told its author."""

    problems: tuple[Problem, ...]
    checked: Checked


@dataclass(frozen=True, slots=True)
class LastRun:
    """What the last run made a published folder from, as one digest, and what it told."""

    state: Path
    now: str
    """Digest of all that this run depends on; empty where a file is too fresh to be trusted."""

    def recall(self) -> RunNote | None:
        """What the last run told, if it depended on the very same; None where it did not."""
        try:
            read = json.loads(self.state.read_text(encoding="utf-8"))
            if not self.now or read["from"] != self.now:
                return None
            checked = Checked(tuple(map(str, read["left out"])), int(read["warnings"]), int(read["worst"]), tuple(map(str, read["kept"])))
            return RunNote(tuple(map(read_problem, read["problems"])), checked)
        except (OSError, ValueError, TypeError, KeyError, AttributeError):
            return None

    def remember(self, note: RunNote) -> None:
        """Write down what this run told; nothing where its files are not to be trusted."""
        try:
            if self.now:
                problems, checked = [problem.as_list() for problem in note.problems], note.checked
                state = {"from": self.now, "problems": problems, "left out": checked.left_out, "kept": checked.kept}
                self.state.write_text(json.dumps(state | {"warnings": checked.warnings, "worst": checked.worst}), encoding="utf-8")
            else:
                self.forget()
        except OSError:
            return

    def forget(self) -> None:
        """Leave nothing for the next run to stand by."""
        with suppress(OSError):
            self.state.unlink()


def read_last_run(folder: Path, place: Path, begun: int | None, options: Sequence[object] = ()) -> LastRun:
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
    newest = max((max(modified, changed) for _, _, modified, changed, _ in files), default=0)
    return LastRun(state, digest(files, options) if newest < begun - _GRAIN_NS else "")


def _files(folder: Path, place: Path, above: str = "") -> Iterator[tuple[str, int, int, int, int]]:
    """Path, size, times and number on the disk of every file of a guide, but not of what was published from it."""
    with os.scandir(folder) as entries:
        for entry in entries:
            path = f"{above}{entry.name}"
            if entry.name == WORKSHOP or (not above and Path(entry.path).resolve() == place):
                continue
            if entry.is_dir():
                yield from _files(Path(entry.path), place, f"{path}/")
            else:
                stat = entry.stat()
                yield path, stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino
