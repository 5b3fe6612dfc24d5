"""Problems of what is not made again: a file that is kept from the last run is told of as it was then."""

from __future__ import annotations

import json
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from guidebuild.press.engine.problems import Problem, read_problem


class KeptProblems:
    """Problems by the key of the job that told them, from one run to the next."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._former = _read(file)
        self._now: dict[str, tuple[Problem, ...]] = {}

    def recall(self, key: str) -> tuple[Problem, ...]:
        """What was told under this key last time; it is remembered on."""
        problems = self._former.get(key, ())
        self.remember(key, problems)
        return problems

    def remember(self, key: str, problems: Iterable[Problem]) -> None:
        """Note what was told under a key."""
        if noted := tuple(problems):
            self._now[key] = noted

    def write(self) -> None:
        """Write down what the next run may want to know."""
        listed = {key: [problem.as_list() for problem in problems] for key, problems in self._now.items()}
        with suppress(OSError):  # then the next run does not tell of what it keeps
            self._file.parent.mkdir(parents=True, exist_ok=True)
            self._file.write_text(json.dumps(listed), encoding="utf-8")


def _read(file: Path) -> dict[str, tuple[Problem, ...]]:
    try:
        written = json.loads(file.read_text(encoding="utf-8"))
        return {str(key): tuple(map(read_problem, listed)) for key, listed in written.items()}
    except (OSError, ValueError, AttributeError, TypeError):
        return {}
