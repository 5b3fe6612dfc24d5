"""Local pages that follow an author's edits."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol

from watchfiles import Change, watch

from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.press.engine.problems import PressError
from guidebuild.press.preview.server import Board, Note, PreviewServer

FIRST_PORT = 8147
_PORTS_TO_TRY = 30
# Editors save in several steps: a pause of the first length ends a save, the second bounds how long one may take.
_PAUSE_MS = 50
_LONGEST_SAVE_MS = 600
_LOOK_UP_MS = 100
_IGNORED_FOLDERS = {WORKSHOP, "published", ".git", "__pycache__", "node_modules"}
_IGNORED_FILES = re.compile(r"^(\..*|#.*#|.*~|.*\.(swp|swx|swo|tmp|part|crdownload|bak)|4913|~\$.*)$", re.IGNORECASE)

_CALM_SECONDS = 0.2
"""Findings wait so long for the pages on show, which come first."""


class Shown(Protocol):
    """What is on show."""

    def follow(self, changed: frozenset[Path]) -> None:
        """Look at the guide after these files have changed (none: for the first time)."""

    def find_notes(self) -> tuple[Note, ...]:
        """What is wrong with it; asked after the pages have been told of the change."""

    def read(self, path: str) -> tuple[bytes, str] | None:
        """A file, see `Read`; several threads ask."""


@dataclass(frozen=True, slots=True)
class Options:
    """How a preview is run."""

    port: int | None = None
    """Nothing takes the first free one from `FIRST_PORT` on."""
    start: str = ""
    """The path shown first."""
    stop: threading.Event = field(default_factory=threading.Event)
    """Ends the preview when set."""


def preview(folder: Path, shown: Shown, *, announce: Callable[[str], None], options: Options | None = None) -> None:
    """Serve what is shown until interrupted; it follows every change in `folder`.

    `announce` is told the address once there is something to see.  Raises `PressError` when no port is free.
    """
    chosen = options or Options()
    board = Board()
    server = _server(shown, board, chosen)
    serving = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    serving.start()
    changes = _changes(folder, chosen.stop)
    try:
        # Watching begins before the first drawing, so that nothing typed meanwhile is missed.
        next(changes, None)
        followed: bool | None = _follow(shown, board, frozenset())
        announce(server.url)
        while followed is not None:
            if followed and not chosen.stop.wait(_CALM_SECONDS):
                _tell(shown, board)
            changed = next(filter(None, changes), None)
            followed = None if changed is None else _follow(shown, board, changed)
    except KeyboardInterrupt:
        return
    finally:
        board.close()
        server.shutdown()
        server.server_close()


def worth_a_look(folder: Path, path: Path) -> bool:
    """Whether a changed file can matter to the guide: not what the tool wrote, nor what editors leave while saving."""
    try:
        *above, name = path.relative_to(folder).parts
    except ValueError:
        return False
    return not _IGNORED_FOLDERS.intersection(above) and name not in _IGNORED_FOLDERS and not _IGNORED_FILES.match(name)


def _server(shown: Shown, board: Board, options: Options) -> PreviewServer:
    ports = range(FIRST_PORT, FIRST_PORT + _PORTS_TO_TRY) if options.port is None else (options.port,)
    for port in ports:
        try:
            return PreviewServer(shown.read, board, port=port, start=options.start)
        except OSError:
            continue
    told = f"port {options.port} is" if options.port is not None else f"ports {ports[0]} to {ports[-1]} are"
    raise PressError(f"cannot show a preview: {told} in use; name another with --port")


def _changes(folder: Path, stop: threading.Event) -> Iterator[frozenset[Path]]:
    """Changed files that matter; an empty set now and then, the first at once when watching has begun."""
    root = folder.resolve()

    def matters(change: Change, path: str) -> bool:
        return worth_a_look(root, Path(path))

    for changes in watch(
        root,
        watch_filter=matters,
        stop_event=stop,
        debounce=_LONGEST_SAVE_MS,
        step=_PAUSE_MS,
        rust_timeout=_LOOK_UP_MS,
        yield_on_timeout=True,
    ):
        yield frozenset(Path(path) for _, path in changes)


def _follow(shown: Shown, board: Board, changed: frozenset[Path]) -> bool:
    """Have a change followed; whether that could be done."""
    try:
        shown.follow(changed)
    except Exception as error:  # whatever is half typed, what was shown before stays and says so
        board.post_notes((Note("error", "preview", f"nothing new could be drawn: {error or type(error).__name__}"),))
        return False
    board.post_pages()
    return True


def _tell(shown: Shown, board: Board) -> None:
    try:
        board.post_notes(shown.find_notes())
    except Exception as error:
        board.post_notes((Note("error", "preview", f"the guide could not be checked: {error or type(error).__name__}"),))
