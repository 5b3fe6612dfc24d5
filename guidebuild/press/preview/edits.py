"""Edits of a guide's files, noticed by a thread of its own, so that whoever is at work can ask whether one waits."""

from __future__ import annotations

import queue
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from watchfiles import Change, watch

from guidebuild.press.engine.own_places import WORKSHOP

# Editors save in several steps: a pause of the first length ends a save, the second bounds how long one may take.
_PAUSE_MS = 50
_LONGEST_SAVE_MS = 600
_LOOK_UP_MS = 100
_LOOK_UP_SECONDS = 1.0
"""Who waits looks up so often: not all systems let a keyboard interrupt end a longer wait."""
_IGNORED_FOLDERS = {WORKSHOP, "published", ".git", "__pycache__", "node_modules"}
_IGNORED_FILES = re.compile(r"^(\..*|#.*#|.*~|.*\.(swp|swx|swo|tmp|part|crdownload|bak)|4913|~\$.*)$", re.IGNORECASE)


class NoMoreEdits(Exception):  # noqa: N818 - an end, and no error
    """The preview is to end."""


class Edits:
    """What was edited and has not been taken yet."""

    def __init__(self) -> None:
        self._waiting: queue.SimpleQueue[frozenset[Path] | Exception] = queue.SimpleQueue()

    def put(self, news: frozenset[Path] | Exception) -> None:
        """Have files wait that were edited, or the reason why no more will come."""
        self._waiting.put(news)

    def are_waiting(self) -> bool:
        """Whether something was edited since edits were last taken."""
        return not self._waiting.empty()

    def take(self, seconds: float | None = None) -> frozenset[Path]:
        """All files that were edited, as soon as there are some; none where that takes longer. Raises NoMoreEdits at the end."""
        files: frozenset[Path] = frozenset()
        try:
            files = self._get(_LOOK_UP_SECONDS if seconds is None else seconds)
            while self.are_waiting():
                files |= self._get(0)
        except queue.Empty:
            pass
        return files if files or seconds is not None else self.take()

    def _get(self, seconds: float | None) -> frozenset[Path]:
        news = self._waiting.get(timeout=seconds)
        if isinstance(news, Exception):
            raise news
        return news


@contextmanager
def noticed_edits(folder: Path, stop: threading.Event) -> Iterator[Edits]:
    """Edits in a folder until `stop` is set, which it is at the end of the block. Nothing is missed from the block's start on."""
    edits, begun = Edits(), threading.Event()
    watcher = threading.Thread(target=_notice, args=(folder.resolve(), stop, edits, begun), name="edits", daemon=True)
    watcher.start()
    begun.wait()
    try:
        yield edits
    finally:
        stop.set()
        watcher.join()


def worth_a_look(folder: Path, path: Path) -> bool:
    """Whether a changed file can matter to the guide: not what the tool wrote, nor what editors leave while saving."""
    try:
        *above, name = path.relative_to(folder).parts
    except ValueError:
        return False
    return not _IGNORED_FOLDERS.intersection(above) and name not in _IGNORED_FOLDERS and not _IGNORED_FILES.match(name)


def _notice(root: Path, stop: threading.Event, edits: Edits, begun: threading.Event) -> None:
    def matters(change: Change, path: str) -> bool:
        return worth_a_look(root, Path(path))

    try:
        for changes in watch(
            root,
            watch_filter=matters,
            stop_event=stop,
            debounce=_LONGEST_SAVE_MS,
            step=_PAUSE_MS,
            rust_timeout=_LOOK_UP_MS,
            yield_on_timeout=True,
        ):
            if changes:
                edits.put(frozenset(Path(path) for _, path in changes))
            begun.set()
        edits.put(NoMoreEdits())
    except Exception as error:  # whoever takes edits is told
        edits.put(error)
    finally:
        begun.set()
