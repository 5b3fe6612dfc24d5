"""How far a run is: bars on a terminal, now and then a line elsewhere, nothing when quiet was asked for."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from types import TracebackType

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskID, TextColumn, TimeElapsedColumn

from guidebuild.press.engine.jobs import Progress as Watcher

PLURALS = {
    "page": "pages",
    "card": "cards",
    "sheet": "sheets",
    "script": "scripts",
    "post": "posts",
    "picture": "pictures",
    "font": "fonts",
    "pack": "packs",
    "leak": "files looked through",
}
"""Words for kinds of work; a kind without one is shown as it is."""
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

    def expect(self, kind: str, count: int) -> None:
        """So many more of this kind are to be done."""

    def advance(self, kind: str, count: int = 1) -> None:
        """So many more of this kind are done."""


class _Bars:
    """One bar a kind of work, gone when all is done."""

    def __init__(self, console: Console) -> None:
        columns = (TextColumn("{task.description:<10}"), BarColumn(bar_width=30), MofNCompleteColumn(), TimeElapsedColumn())
        self._shown = Progress(*columns, console=console, transient=True)
        self._rows: dict[str, TaskID] = {}
        self._expected: Counter[str] = Counter()
        self._done: Counter[str] = Counter()

    def __enter__(self) -> _Bars:
        self._shown.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self._shown.stop()

    def expect(self, kind: str, count: int) -> None:
        self._expected[kind] += count
        self._show(kind)

    def advance(self, kind: str, count: int = 1) -> None:
        self._done[kind] += count
        self._show(kind)

    def _show(self, kind: str) -> None:
        if kind not in self._rows:
            self._rows[kind] = self._shown.add_task(PLURALS.get(kind, kind), total=None)
        # What is kept from the last run is done without having been expected.
        total = max(self._expected[kind], self._done[kind])
        self._shown.update(self._rows[kind], completed=self._done[kind], total=total)


class _Lines:
    """A line every few seconds while there is work, for logs."""

    def __init__(self, console: Console) -> None:
        self._console = console
        self._done: Counter[str] = Counter()
        self._expected: Counter[str] = Counter()
        self._told_at = time.monotonic()

    def __enter__(self) -> _Lines:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        if self._done:
            counts = ", ".join(f"{self._done[name]} {PLURALS.get(name, name)}" for name in sorted(self._done))
            self._tell(f"Done: {counts}.")

    def expect(self, kind: str, count: int) -> None:
        self._expected[kind] += count

    def advance(self, kind: str, count: int = 1) -> None:
        self._done[kind] += count
        if time.monotonic() - self._told_at >= _SECONDS_BETWEEN_LINES:
            self._told_at = time.monotonic()
            self._tell(f"{self._done[kind]} of {max(self._done[kind], self._expected[kind])} {PLURALS.get(kind, kind)}")

    def _tell(self, line: str) -> None:
        self._console.print(line, highlight=False, markup=False, soft_wrap=True)
