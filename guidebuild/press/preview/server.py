"""Serving pages under preview to the browser of this machine, and to nobody else.

Any page in the author's browser can send requests to this server, also under a name of its own that it has pointed at
this machine.  So requests must name this machine as their host, nothing can be changed by asking, and no file outside
the folder is served.
"""

from __future__ import annotations

import html
import json
import mimetypes
import threading
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field
from functools import cache
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from urllib.parse import quote, unquote, urlsplit

from guidebuild.press.engine.trees import find_inside

ADDRESS = "127.0.0.1"
OWN = "/-preview/"
"""Where the preview's own files are, beside the guide's."""
_ASSETS = {"follow.js": "text/javascript; charset=utf-8", "follow.css": "text/css; charset=utf-8"}
_TYPES = {
    ".avif": "image/avif",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
    ".js": "text/javascript",
    ".webmanifest": "application/manifest+json",
    ".vtt": "text/vtt",
    ".srt": "application/x-subrip",
    ".md": "text/markdown",
}
_HEARTBEAT_SECONDS = 15.0
_LISTENERS_AT_MOST = 40


@dataclass(frozen=True, slots=True)
class Note:
    """One finding as the page shows it."""

    level: str
    """`error`, `warning` or `note`."""
    where: str
    """File and line."""
    message: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """What a redrawing gave."""

    notes: tuple[Note, ...] = ()
    changed: tuple[str, ...] | None = None
    """Paths of the served files that are new or other than before; nothing means that any may be."""


@dataclass
class Board:
    """What the pages on show are told; shared between the drawing thread and those that serve."""

    number: int = 0
    drawn: Drawn = field(default_factory=Drawn)
    closed: bool = False
    news: threading.Condition = field(default_factory=threading.Condition)

    def post(self, drawn: Drawn) -> None:
        """Tell everyone that all has been drawn anew."""
        with self.news:
            self.number += 1
            self.drawn = drawn
            self.news.notify_all()

    def close(self) -> None:
        """Let everyone who waits go."""
        with self.news:
            self.closed = True
            self.news.notify_all()

    def wait(self, seen: int, seconds: float) -> int | None:
        """The number of the last drawing once it differs from `seen` or time is up; nothing when closed."""
        with self.news:
            self.news.wait_for(lambda: self.closed or self.number != seen, seconds)
            return None if self.closed else self.number


class PreviewServer(ThreadingHTTPServer):
    """The pages in `site`, with the preview's script added, on a port of this machine alone."""

    daemon_threads = True
    # Threads that serve the event stream end only when their browser leaves.
    block_on_close = False

    def __init__(self, site: Path, board: Board, *, port: int, start: str = "") -> None:
        super().__init__((ADDRESS, port), _Handler)
        self.site = site
        self.board = board
        self.start = start
        self.listeners = threading.BoundedSemaphore(_LISTENERS_AT_MOST)
        names = (ADDRESS, "localhost")
        self.hosts = frozenset(f"{name}:{self.server_port}" for name in names)

    @property
    def url(self) -> str:
        """Where to look."""
        return f"http://{ADDRESS}:{self.server_port}/{quote(self.start)}"


class _Handler(BaseHTTPRequestHandler):
    server: PreviewServer
    server_version = "preview"
    sys_version = ""
    protocol_version = "HTTP/1.1"
    timeout = 60.0

    def do_GET(self) -> None:
        """Serve a file, or the stream of news."""
        self._answer(with_body=True)

    def do_HEAD(self) -> None:
        """The same without the body."""
        self._answer(with_body=False)

    def log_message(self, format: str, *args: object) -> None:
        """Stay silent; the terminal is for findings."""

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """Errors of the protocol, a method other than GET and HEAD among them, as short text."""
        status = HTTPStatus.METHOD_NOT_ALLOWED if code == HTTPStatus.NOT_IMPLEMENTED else HTTPStatus(code)
        self.close_connection = True
        self._send(status, status.phrase.encode(), "text/plain", with_body=self.command != "HEAD")

    def _answer(self, *, with_body: bool) -> None:
        if self.headers.get("Host", "").lower() not in self.server.hosts:
            self._send(HTTPStatus.MISDIRECTED_REQUEST, b"this preview answers only to this machine", "text/plain", with_body=with_body)
            return
        try:
            path = unquote(urlsplit(self.path).path, errors="strict")
        except ValueError:
            self._send(HTTPStatus.BAD_REQUEST, b"no such address", "text/plain", with_body=with_body)
            return
        if path.startswith(OWN):
            self._answer_own(path.removeprefix(OWN), with_body=with_body)
        elif path == "/" and self.server.start:
            self._go(f"/{quote(self.server.start)}")
        else:
            self._answer_page(path, with_body=with_body)

    def _answer_page(self, path: str, *, with_body: bool) -> None:
        file = find_inside(self.server.site, path.lstrip("/"))
        if file is not None and file.is_dir():
            if not path.endswith("/"):
                # Written from the path without its first strokes, so that it can never name another host.
                self._go(f"/{quote(path.strip('/'))}/")
                return
            file = file / "index.html"
        data = _read(file) if file is not None else None
        if data is None:
            self._send(HTTPStatus.NOT_FOUND, self._followed(_absent(path)), "text/html; charset=utf-8", with_body=with_body)
            return
        kind = _media_type(file.suffix.lower()) if file else ""
        body = self._followed(data) if kind.startswith("text/html") else data
        self._send(HTTPStatus.OK, body, kind, with_body=with_body)

    def _answer_own(self, name: str, *, with_body: bool) -> None:
        if name in _ASSETS:
            self._send(HTTPStatus.OK, _asset(name), _ASSETS[name], with_body=with_body)
        elif name == "notes.json":
            notes = self.server.board.drawn.notes
            told = {"summary": _summary(notes), "notes": [asdict(note) for note in notes]}
            self._send(HTTPStatus.OK, json.dumps(told).encode(), "application/json", with_body=with_body)
        elif name == "events" and with_body:
            self._stream()
        else:
            self._send(HTTPStatus.NOT_FOUND, b"no such file", "text/plain", with_body=with_body)

    def _stream(self) -> None:
        """Server-sent events (WHATWG HTML, section 9.2): the number of the last drawing now, and each that follows."""
        if not self.server.listeners.acquire(blocking=False):
            self._send(HTTPStatus.SERVICE_UNAVAILABLE, b"too many pages are open", "text/plain", with_body=True)
            return
        self.close_connection = True
        board = self.server.board
        seen = -1
        try:
            self._head(HTTPStatus.OK, "text/event-stream", None)
            while (number := board.wait(seen, _HEARTBEAT_SECONDS)) is not None:
                told = json.dumps({"number": number, "changed": board.drawn.changed})
                self.wfile.write(f"event: drawn\ndata: {told}\n\n".encode() if number != seen else b": still here\n\n")
                self.wfile.flush()
                seen = number
        except OSError:
            return  # the browser has left
        finally:
            self.server.listeners.release()

    def _followed(self, page: bytes) -> bytes:
        """The page with the preview's script and style at the end of its head."""
        added = (
            f'<link rel="stylesheet" href="{OWN}follow.css"><script src="{OWN}follow.js" data-drawn="{self.server.board.number}"></script>'
        )
        head, end, rest = page.partition(b"</head>")
        return head + added.encode() + end + rest if end else added.encode() + page

    def _go(self, address: str) -> None:
        self._send(HTTPStatus.FOUND, b"", "text/plain", with_body=False, location=address)

    def _send(self, status: HTTPStatus, body: bytes, kind: str, *, with_body: bool, location: str = "") -> None:
        self._head(status, kind, len(body), location)
        if with_body:
            self.wfile.write(body)

    def _head(self, status: HTTPStatus, kind: str, length: int | None, location: str = "") -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        if length is not None:
            self.send_header("Content-Length", str(length))
        if location:
            self.send_header("Location", location)
        if status is HTTPStatus.METHOD_NOT_ALLOWED:
            self.send_header("Allow", "GET, HEAD")
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Cross-Origin-Resource-Policy", "same-origin")
        self.send_header("X-Frame-Options", "SAMEORIGIN")
        if self.close_connection:
            self.send_header("Connection", "close")
        self.end_headers()


@cache
def _asset(name: str) -> bytes:
    return (files("guidebuild.press.preview.following") / name).read_bytes()


def _read(file: Path) -> bytes | None:
    # A folder may be swapped between finding a file and opening it; the second look finds the new one.
    for _ in range(2):
        try:
            return file.read_bytes()
        except OSError:
            continue
    return None


def _absent(path: str) -> bytes:
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>Not there (yet)</title></head>'
        f"<body><h1>Not there (yet)</h1><p>Nothing is drawn at {html.escape(path)}. This page follows your edits: "
        'once there is something, it shows here.</p><p><a href="/">To the start</a></p></body></html>'
    ).encode()


def _media_type(suffix: str) -> str:
    kind = _TYPES.get(suffix) or mimetypes.types_map.get(suffix) or "application/octet-stream"
    return f"{kind}; charset=utf-8" if kind.startswith("text/") or kind in ("application/json", "image/svg+xml") else kind


def _summary(notes: Sequence[Note]) -> str:
    counts = {level: sum(note.level == level for note in notes) for level in ("error", "warning", "note")}
    return ", ".join(f"{number} {level}{'' if number == 1 else 's'}" for level, number in counts.items() if number)
