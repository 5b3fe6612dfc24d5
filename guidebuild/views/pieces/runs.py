"""Long lists in runs, each of which is a page of its own."""

from __future__ import annotations

from dataclasses import dataclass

MOST_ENTRIES = 100
"""Entries with their pictures on one page: about 150 kB."""
MOST_LINES = 300
"""Lines of words on one page, likewise."""


@dataclass(frozen=True, slots=True)
class Run:
    """A run of entries: its number among the runs of a list, from 0, and its first entry and the one after its last, from 0."""

    number: int = 0
    start: int = 0
    end: int | None = None

    @property
    def held(self) -> slice:
        """What of the list it holds."""
        return slice(self.start, self.end)

    @property
    def words(self) -> str:
        """Which entries it holds, as a reader counts them."""
        return f"{self.start + 1}–{self.end}"


WHOLE = Run()
"""A list that is not divided."""


def divide_in_runs(entries: int, most: int) -> tuple[Run, ...]:
    """Runs of at most so many entries; one, the whole, where they are no more than that. Only the last run is shorter."""
    if entries <= most:
        return (WHOLE,)
    starts = range(0, entries, most)
    return tuple(Run(number, start, min(start + most, entries)) for number, start in enumerate(starts))


@dataclass(frozen=True, slots=True)
class LongList:
    """A list that stands on one page, or on as many as it takes: of so many entries, at most so many on one."""

    path: str
    template: str
    title: str
    entries: int
    most: int = MOST_ENTRIES
    kind: str = "page"

    @property
    def runs(self) -> tuple[Run, ...]:
        """What each of its pages holds."""
        return divide_in_runs(self.entries, self.most)


def name_run(path: str, number: int) -> str:
    """The page of a run: the first has the list's own, the second of `sources.html` is `sources/2.html`."""
    return path if number == 0 else f"{path.removesuffix('.html')}/{number + 1}.html"
