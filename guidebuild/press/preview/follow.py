"""Local pages that follow an author's edits."""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol
from urllib.parse import quote

from starlette.applications import Starlette
from starlette.types import ASGIApp

from guidebuild.press.preview.board import Board, Note, OvertakenError
from guidebuild.press.preview.edits import NoMoreEdits, noticed_edits
from guidebuild.press.preview.guard import ADDRESS, HostGuard, list_hosts
from guidebuild.press.preview.pages import PreviewPages
from guidebuild.press.preview.server import served_on

_CALM_SECONDS = 0.2
"""Findings wait so long for the pages on show, which come first."""


class Shown(Protocol):
    """What is on show."""

    def follow(self, changed: frozenset[Path]) -> None:
        """Look at the guide after these files have changed (none: for the first time)."""

    def find_notes(self, is_overtaken: Callable[[], bool]) -> tuple[Note, ...]:
        """What is wrong with it; asked after the pages have been told of the change.

        Raises `OvertakenError` where an edit came meanwhile: that is followed first, and then this is asked again.
        """

    def read(self, path: str) -> tuple[bytes, str] | None:
        """A file, see `Read`; several threads ask."""

    def find_file(self, path: str) -> Path | None:
        """A film or a sound, see `FindFile`; several threads ask."""


@dataclass(frozen=True, slots=True)
class Front:
    """What a browser gets: the app, and the address that is announced, from the root on."""

    app: ASGIApp
    start: str = ""


@dataclass(frozen=True, slots=True)
class Options:
    """How a preview is run."""

    port: int | None = None
    """Nothing takes the first free one from `FIRST_PORT` on."""
    start: str = ""
    """The path shown first."""
    stop: threading.Event = field(default_factory=threading.Event)
    """Ends the preview when set."""


MakeFront = Callable[[Shown, Board, int, str], Front]
"""A front for what is shown at a port, with the path shown first."""


def preview_front(shown: Shown, board: Board, port: int, start: str) -> Front:
    """Pages to look at, and nothing that changes anything."""
    pages = PreviewPages(shown.read, board, find_file=shown.find_file, start=start)
    return Front(HostGuard(Starlette(routes=pages.routes), list_hosts(port)), quote(start))


def preview(
    folder: Path,
    shown: Shown,
    *,
    announce: Callable[[str], None],
    options: Options | None = None,
    make_front: MakeFront = preview_front,
) -> None:
    """Serve what is shown until interrupted; it follows every change in `folder`.

    `announce` is told the address once there is something to see.  Raises `PressError` when no port is free.
    """
    chosen = options or Options()
    board = Board()
    starts: list[str] = []

    def make_app(port: int) -> ASGIApp:
        front = make_front(shown, board, port, chosen.start)
        starts.append(front.start)
        return front.app

    try:
        with served_on(chosen.port, make_app) as port:
            try:
                _follow_edits(folder, shown, board, chosen.stop, lambda: announce(f"http://{ADDRESS}:{port}/{starts[0]}"))
            finally:
                board.close()
    except KeyboardInterrupt:
        return


def _follow_edits(folder: Path, shown: Shown, board: Board, stop: threading.Event, announce: Callable[[], None]) -> None:
    # Watching begins before the first drawing, so that nothing typed meanwhile is missed.
    with noticed_edits(folder, stop) as edits, suppress(NoMoreEdits):
        told = not _follow(shown, board, frozenset())
        announce()
        while True:
            changed = edits.take(None if told else _CALM_SECONDS)
            if changed:
                told = not _follow(shown, board, changed)
            elif not told:
                told = _tell(shown, board, edits.are_waiting)


def _follow(shown: Shown, board: Board, changed: frozenset[Path]) -> bool:
    """Have a change followed; whether that could be done."""
    try:
        shown.follow(changed)
    except Exception as error:  # whatever is half typed, what was shown before stays and says so
        board.post_notes((Note("error", "preview", f"nothing new could be drawn: {error or type(error).__name__}"),))
        return False
    board.post_pages()
    return True


def _tell(shown: Shown, board: Board, is_overtaken: Callable[[], bool]) -> bool:
    """Tell what is wrong with the guide; whether that was done, and not left as an edit waited."""
    try:
        board.post_notes(shown.find_notes(is_overtaken))
    except OvertakenError:
        return False
    except Exception as error:
        board.post_notes((Note("error", "preview", f"the guide could not be checked: {error or type(error).__name__}"),))
    return True
