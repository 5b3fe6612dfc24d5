"""Pages under preview as a browser asks for them: all is made for it but the guide's films and sounds; no other path leads to a file."""

from __future__ import annotations

import asyncio
import html
import json
import logging
import mimetypes
from collections.abc import AsyncIterator, Callable
from dataclasses import asdict
from functools import cache
from importlib.resources import files
from pathlib import Path, PurePosixPath
from urllib.parse import quote, unquote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route

from guidebuild.errors import SaidInOneLineError
from guidebuild.press.engine.file_types import TYPES
from guidebuild.press.preview.board import Board, News

OWN = "/-preview/"
"""Where the preview's own files are, beside the guide's."""
_ASSETS = {"follow.js": "text/javascript", "follow.css": "text/css"}
_PAGE = "text/html; charset=utf-8"
_LONGEST_MARK = 200
_HEARTBEAT_SECONDS = 15.0
_LISTENERS_AT_MOST = 40
_LOG = logging.getLogger(__name__)

Read = Callable[[str], "tuple[bytes, str] | None"]
"""A file by its path from the root, with a mark that is another when it, or what it shows, is another; None where there is none."""

FindFile = Callable[[str], Path | None]
"""A file that is sent as it stands on disk, in ranges where a browser asks for them; None where the path is of none."""


def _find_none(_: str) -> Path | None:
    return None


class PreviewPages:
    """The answers of a preview."""

    def __init__(self, read: Read, board: Board, *, find_file: FindFile = _find_none, start: str = "", desk: str = "") -> None:
        """`start` is the path shown first, `desk` the address of the desk's page where there is one: findings lead to it."""
        self._read = read
        self._find_file = find_file
        self._board = board
        self._start = start
        self._desk = desk
        self._listeners = 0

    @property
    def routes(self) -> list[Route]:
        """All of them, the guide's own pages last: they have every address that is left."""
        return [
            Route(f"{OWN}events", self._stream),
            Route(f"{OWN}notes.json", self._tell_notes),
            Route(f"{OWN}{{name:path}}", self._send_asset),
            Route("/{path:path}", self._answer),
        ]

    async def _answer(self, request: Request) -> Response:
        try:
            path = unquote(request.scope["raw_path"].decode("ascii"), errors="strict")
        except ValueError:
            return PlainTextResponse("no such address", 400)
        if path == "/" and self._start:
            return _lead_to(f"/{quote(self._start)}")
        return await run_in_threadpool(self._find_page, path)

    def _find_page(self, path: str) -> Response:
        wanted = path.removeprefix("/")
        kind = find_media_type(PurePosixPath(wanted).suffix.lower() or ".html")
        try:
            if file := self._find_file(wanted):
                return FileResponse(file, media_type=kind)
            found = self._read(wanted + "index.html" if wanted.endswith("/") or not wanted else wanted)
            if found is None and wanted and not wanted.endswith("/") and self._read(f"{wanted}/index.html"):
                # Written from the path without its first strokes, so that it can never name another host.
                return _lead_to(f"/{quote(path.strip('/'))}/")
        except Exception as error:  # whatever is half typed: the page stays open, says so, and follows the next edit
            _LOG.debug("%s", path, exc_info=True)
            told = str(error) if isinstance(error, SaidInOneLineError) else f"{type(error).__name__}: {error}"
            page = _say("Not drawn (yet)", f"{wanted or 'The first page'} cannot be drawn: {told}")
            return self._send_followed(page, told[:_LONGEST_MARK], 500)
        if found is None:
            return self._send_followed(_say("Not there (yet)", f"Nothing is drawn at {path}."), "", 404)
        data, mark = found
        return self._send_followed(data, mark) if kind == _PAGE else _send(data, kind, mark)

    def _send_followed(self, page: bytes, mark: str, status: int = 200) -> Response:
        """The page with the preview's script and style at the end of its head."""
        told = f'data-drawn="{self._board.number}" data-mark="{quote(mark)}"' + (f' data-desk="{self._desk}"' if self._desk else "")
        added = f'<link rel="stylesheet" href="{OWN}follow.css"><script src="{OWN}follow.js" {told}></script>'
        head, end, rest = page.partition(b"</head>")
        return _send(head + added.encode() + end + rest if end else added.encode() + page, _PAGE, mark, status)

    async def _send_asset(self, request: Request) -> Response:
        name = request.path_params["name"]
        return Response(_asset(name), media_type=_ASSETS[name]) if name in _ASSETS else PlainTextResponse("no such file", 404)

    async def _tell_notes(self, _: Request) -> Response:
        return JSONResponse({"notes": [asdict(note) for note in self._board.notes]})

    async def _stream(self, _: Request) -> Response:
        """Server-sent events (WHATWG HTML, section 9.2): the numbers of the last drawing and telling now, and each that follows."""
        if self._listeners >= _LISTENERS_AT_MOST:
            return PlainTextResponse("too many pages are open", 503)
        return StreamingResponse(self._write_news(), headers={"Content-Type": "text/event-stream"})

    async def _write_news(self) -> AsyncIterator[str]:
        rung = asyncio.Event()
        loop = asyncio.get_running_loop()
        seen: News | None = None
        self._listeners += 1
        try:
            with self._board.heard_by(lambda: loop.call_soon_threadsafe(rung.set)):
                while (now := self._board.read_news()) is not None:
                    told = json.dumps({"number": now[0], "noted": now[1]})
                    yield f"event: drawn\ndata: {told}\n\n" if now != seen else ": still here\n\n"
                    seen = now
                    await _wait_for(rung)
                    rung.clear()
        finally:
            self._listeners -= 1


async def _wait_for(rung: asyncio.Event) -> None:
    """Until there is news, or it is time to say that one is still here."""
    try:
        await asyncio.wait_for(rung.wait(), _HEARTBEAT_SECONDS)
    except TimeoutError:
        return


def _send(data: bytes, kind: str, mark: str, status: int = 200) -> Response:
    return Response(data, status, {"Content-Type": kind, **({"X-Page-Mark": quote(mark)} if mark else {})})


def _lead_to(address: str) -> Response:
    return Response(b"", 302, {"Location": address})


@cache
def _asset(name: str) -> bytes:
    return (files("guidebuild.press.preview.following") / name).read_bytes()


def _say(title: str, told: str) -> bytes:
    return (
        f'<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>{title}</title></head>'
        f"<body><h1>{title}</h1><p>{html.escape(told)} This page follows your edits: "
        'once there is something, it shows here.</p><p><a href="/">To the start</a></p></body></html>'
    ).encode()


def find_media_type(suffix: str) -> str:
    """What a file with this ending is sent as."""
    kind = TYPES.get(suffix) or mimetypes.types_map.get(suffix) or "application/octet-stream"
    return f"{kind}; charset=utf-8" if kind.startswith("text/") or kind in ("application/json", "image/svg+xml") else kind
