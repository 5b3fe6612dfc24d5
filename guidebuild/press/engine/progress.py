"""How far a run is: bars on a terminal, now and then a line elsewhere, nothing when quiet was asked for."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from types import TracebackType

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskID, TextColumn, TimeElapsedColumn

from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.jobs import Progress as Watcher

_SECONDS_BETWEEN_LINES = 10.0


@contextmanager
def progress_shown(console: Console) -> Iterator[Watcher]:
    """Show progress on a console while the block runs, in the way that suits it."""
    if console.quiet:
        yield Silence()
    elif console.is_terminal:
        with _Bars(console) as bars:
            yield bars
    else:
        with _Lines(console) as lines:
            yield lines


class Silence:
    """Progress that nobody watches."""

    def expect(self, craft: Craft, count: int) -> None:
        """So many more pieces of this craft are to be done."""

    def advance(self, craft: Craft, count: int = 1) -> None:
        """So many more pieces of this craft are done."""


class _Bars:
    """One bar a craft, gone when all is done."""

    def __init__(self, console: Console) -> None:
        columns = (TextColumn("{task.description:<10}"), BarColumn(bar_width=30), MofNCompleteColumn(), TimeElapsedColumn())
        self._shown = Progress(*columns, console=console, transient=True)
        self._rows: dict[Craft, TaskID] = {}
        self._expected: Counter[Craft] = Counter()
        self._done: Counter[Craft] = Counter()

    def __enter__(self) -> _Bars:
        self._shown.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self._shown.stop()

    def expect(self, craft: Craft, count: int) -> None:
        self._expected[craft] += count
        self._show(craft)

    def advance(self, craft: Craft, count: int = 1) -> None:
        self._done[craft] += count
        self._show(craft)

    def _show(self, craft: Craft) -> None:
        if craft not in self._rows:
            self._rows[craft] = self._shown.add_task(craft.plural, total=None)
        # What is kept from the last run is done without having been expected.
        total = max(self._expected[craft], self._done[craft])
        self._shown.update(self._rows[craft], completed=self._done[craft], total=total)


class _Lines:
    """A line every few seconds while there is work, for logs."""

    def __init__(self, console: Console) -> None:
        self._console = console
        self._done: Counter[Craft] = Counter()
        self._expected: Counter[Craft] = Counter()
        self._told_at = time.monotonic()

    def __enter__(self) -> _Lines:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        if self._done:
            counts = sorted((craft.name if count == 1 else craft.plural, count) for craft, count in self._done.items())
            self._tell(f"Done: {', '.join(f'{count} {things}' for things, count in counts)}.")

    def expect(self, craft: Craft, count: int) -> None:
        self._expected[craft] += count

    def advance(self, craft: Craft, count: int = 1) -> None:
        self._done[craft] += count
        if time.monotonic() - self._told_at >= _SECONDS_BETWEEN_LINES:
            self._told_at = time.monotonic()
            self._tell(f"{self._done[craft]} of {max(self._done[craft], self._expected[craft])} {craft.plural}")

    def _tell(self, line: str) -> None:
        self._console.print(line, highlight=False, markup=False, soft_wrap=True)
