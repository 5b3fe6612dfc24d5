"""Pages of a large site on disk while they wait to be drawn: all of them at once would fill the memory."""

from __future__ import annotations

import pickle
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.digest import digest
from guidebuild.press.swap import told_in_one_line
from guidebuild.views.site_page import PageNote, PageView, noted


@dataclass(frozen=True, slots=True)
class PagePlace:
    """Where a page lies: in the spool's file, from this byte on, so many bytes."""

    file: Path
    start: int
    size: int

    def page(self) -> PageView:
        """The page itself, in whatever process asks."""
        with self.file.open("rb") as file:
            file.seek(self.start)
            found: PageView = pickle.loads(file.read(self.size))  # noqa: S301 (written by this very run, where no one else may write)
        return found


@dataclass(frozen=True, slots=True)
class Spooled:
    """A page that waits: what is noted of it, the digest of all it shows, and where it lies."""

    note: PageNote
    mark: str
    place: PagePlace


@contextmanager
def spooled(pages: Iterable[PageView]) -> Iterator[tuple[Spooled, ...]]:
    """Pages written away one by one, into a folder of this run's own that is gone at the end of the context."""
    with told_in_one_line(Path(tempfile.gettempdir())):
        folder = tempfile.TemporaryDirectory(prefix="guidebuild-")
    with folder as name:
        yield tuple(_taken(pages, Path(name) / "pages"))


def _taken(pages: Iterable[PageView], file: Path) -> Iterator[Spooled]:
    start = 0
    with told_in_one_line(file), file.open("wb") as out:
        for page in pages:
            data = pickle.dumps(page, protocol=pickle.HIGHEST_PROTOCOL)
            out.write(data)
            yield Spooled(noted(page), digest(page), PagePlace(file, start, len(data)))
            start += len(data)
