"""Pages of a large site on disk while they wait to be drawn: all of them at once would fill the memory."""

from __future__ import annotations

import io
import pickle
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from operator import attrgetter
from pathlib import Path
from typing import Any, BinaryIO

from guidebuild.press.engine.digest import Marked, digest
from guidebuild.press.engine.swap import told_in_one_line
from guidebuild.views.site.page import PageNote, PageView, note_page


@dataclass(frozen=True, slots=True)
class PagePlace(Marked):
    """Where a page lies, in the spool's file, from this byte on, so many bytes; and the digest of all it shows."""

    file: Path
    start: int
    size: int
    mark: str

    def page(self) -> PageView:
        """The page itself, in whatever process asks."""
        with self.file.open("rb") as file:
            file.seek(self.start)
            found: PageView = pickle.loads(file.read(self.size))  # noqa: S301 (written by this very run, where no one else may write)
        return found


@dataclass(frozen=True, slots=True)
class Spooled:
    """A page that waits: what is noted of it, and where it lies. One that was left out can be made."""

    note: PageNote
    place: PagePlace
    make: Callable[[], PageView] | None = None


class _Pickler(pickle.Pickler):
    """Writes a view as its kind and its fields, in a third of the time that frozen records with slots take of their own accord."""

    def reducer_override(self, value: Any) -> Any:
        """How a value is made again; what is no view is left to the library."""
        kind: Any = type(value)
        fields_of = _fields_of(kind)
        return NotImplemented if fields_of is None else (kind, fields_of(value))


@cache
def _fields_of(kind: type) -> Callable[[object], tuple[object, ...]] | None:
    if not (is_dataclass(kind) and kind.__module__.startswith("guidebuild.views.")):
        return None
    names = [field.name for field in fields(kind)]
    return attrgetter(*names) if len(names) > 1 else lambda value: tuple(getattr(value, name) for name in names)


def _pickled(page: PageView) -> bytes:
    written = io.BytesIO()
    _Pickler(written, pickle.HIGHEST_PROTOCOL).dump(page)
    return written.getvalue()


class Spool:
    """A file into which pages are written one by one. A process that reads one finds it as soon as `put` has answered."""

    def __init__(self, file: Path, out: BinaryIO) -> None:
        self._file = file
        self._out = out
        self._end = 0

    def put(self, page: PageView) -> Spooled:
        """Write a page away."""
        data, start = _pickled(page), self._end
        with told_in_one_line(self._file):
            self._out.write(data)
            self._out.flush()
        self._end += len(data)
        return Spooled(note_page(page), PagePlace(self._file, start, len(data), digest(page)))

    def leave_out(self, mark: str) -> PagePlace:
        """The place of a page that is known by its digest and was not written."""
        return PagePlace(self._file, 0, 0, mark)


@contextmanager
def open_spool(folder: Path) -> Iterator[Spool]:
    """A spool in a folder of this run's own; it is gone at the end of the context."""
    file = folder / "pages"
    try:
        with told_in_one_line(file):
            out = file.open("wb")
        with out:
            yield Spool(file, out)
    finally:
        file.unlink(missing_ok=True)


@contextmanager
def spool_pages(pages: Iterable[PageView], folder: Path) -> Iterator[tuple[Spooled, ...]]:
    """Pages written away one by one, into a folder of this run's own; they are gone at the end of the context."""
    with open_spool(folder) as spool:
        yield tuple(map(spool.put, pages))
