"""How far a run is and how long it takes still: bars on a terminal, seldom a line elsewhere, nothing when quiet was asked for."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from types import TracebackType

from rich.console import Console, RenderableType
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskID, TextColumn, TimeElapsedColumn
from rich.text import Text

from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.jobs import Progress as Watcher
from guidebuild.press.engine.time_left import TimeLeft, say_time_left

_SECONDS_BETWEEN_LINES = 20.0


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

    def foresee(self, shares: Sequence[float]) -> None:
        """What the parts of the run that come take, compared with each other."""

    def begin_part(self) -> None:
        """The next of these parts begins."""

    def expect(self, craft: Craft, count: int) -> None:
        """So many more pieces of this craft are to be done."""

    def advance(self, craft: Craft, count: int = 1) -> None:
        """So many more pieces of this craft are done."""


class _Watched:
    """Counts what is expected and done, and knows how long it takes still."""

    def __init__(self) -> None:
        self._left = TimeLeft()
        self._expected: Counter[Craft] = Counter()
        self._done: Counter[Craft] = Counter()

    def foresee(self, shares: Sequence[float]) -> None:
        self._left.foresee(shares)

    def begin_part(self) -> None:
        self._left.begin_part()

    def expect(self, craft: Craft, count: int) -> None:
        self._expected[craft] += count
        self._left.expect(craft, count)

    def advance(self, craft: Craft, count: int = 1) -> None:
        self._done[craft] += count
        self._left.advance(craft, count)

    def say_left(self) -> str:
        return say_time_left(self._left.seconds())

    def total_of(self, craft: Craft) -> int:
        # What is kept from the last run is done without having been expected.
        return max(self._expected[craft], self._done[craft])


class _ShownBars(Progress):
    """Bars with a line below them."""

    say_below: Callable[[], str] = staticmethod(str)

    def get_renderables(self) -> Iterable[RenderableType]:
        """The bars, then the line, where there is something to say."""
        yield from super().get_renderables()
        if words := self.say_below():
            yield Text(words)


class _Bars(_Watched):
    """One bar a craft and below them the time left, gone when all is done."""

    def __init__(self, console: Console) -> None:
        super().__init__()
        columns = (TextColumn("{task.description:<10}"), BarColumn(bar_width=30), MofNCompleteColumn(), TimeElapsedColumn())
        self._shown = _ShownBars(*columns, console=console, transient=True)
        self._shown.say_below = self.say_left
        self._rows: dict[Craft, TaskID] = {}

    def __enter__(self) -> _Bars:
        self._shown.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self._shown.stop()

    def expect(self, craft: Craft, count: int) -> None:
        super().expect(craft, count)
        self._show(craft)

    def advance(self, craft: Craft, count: int = 1) -> None:
        super().advance(craft, count)
        self._show(craft)

    def _show(self, craft: Craft) -> None:
        if craft not in self._rows:
            self._rows[craft] = self._shown.add_task(craft.plural, total=None)
        self._shown.update(self._rows[craft], completed=self._done[craft], total=self.total_of(craft))


class _Lines(_Watched):
    """A line now and then while there is work, for logs."""

    def __init__(self, console: Console) -> None:
        super().__init__()
        self._console = console
        self._told_at = time.monotonic()

    def __enter__(self) -> _Lines:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        if self._done:
            counts = sorted((craft.name if count == 1 else craft.plural, count) for craft, count in self._done.items())
            self._tell(f"Done: {', '.join(f'{count} {things}' for things, count in counts)}.")

    def advance(self, craft: Craft, count: int = 1) -> None:
        super().advance(craft, count)
        if time.monotonic() - self._told_at >= _SECONDS_BETWEEN_LINES:
            self._told_at = time.monotonic()
            left = self.say_left()
            self._tell(f"{self._done[craft]} of {self.total_of(craft)} {craft.plural}" + (f", {left}" if left else ""))

    def _tell(self, line: str) -> None:
        self._console.print(line, highlight=False, markup=False, soft_wrap=True)
