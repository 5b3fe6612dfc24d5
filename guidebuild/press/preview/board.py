"""What the pages on show are told: that they may be other than before, and what was found."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

News = tuple[int, int]
"""The numbers of the last drawing and of the last telling of findings."""


class OvertakenError(Exception):
    """What was looked at has changed meanwhile, so that looking on is of no use."""


@dataclass(frozen=True, slots=True)
class Note:
    """One finding as the page shows it."""

    level: str
    """`error`, `warning` or `note`."""
    where: str
    """File and line."""
    message: str


@dataclass
class Board:
    """Shared between the thread that draws and those that serve. Who listens is rung at each news, in the thread that brings it."""

    number: int = 0
    """Of the last drawing."""
    notes: tuple[Note, ...] = ()
    noted: int = 0
    """How often the findings have been told."""
    closed: bool = False
    _bells: set[Callable[[], object]] = field(default_factory=set)
    _writing: threading.Lock = field(default_factory=threading.Lock)

    def post_pages(self) -> None:
        """Tell everyone that pages may be other than before."""
        with self._writing:
            self.number += 1
            self._ring()

    def post_notes(self, notes: tuple[Note, ...]) -> None:
        """Tell everyone what was found."""
        with self._writing:
            self.noted += 1
            self.notes = notes
            self._ring()

    def close(self) -> None:
        """Let everyone who listens go."""
        with self._writing:
            self.closed = True
            self._ring()

    def read_news(self) -> News | None:
        """The numbers now; None when nothing more will come."""
        with self._writing:
            return None if self.closed else (self.number, self.noted)

    @contextmanager
    def heard_by(self, bell: Callable[[], object]) -> Iterator[None]:
        """Have a bell rung at each news within the block."""
        with self._writing:
            self._bells.add(bell)
        try:
            yield
        finally:
            with self._writing:
                self._bells.discard(bell)

    def _ring(self) -> None:
        for bell in self._bells:
            bell()
