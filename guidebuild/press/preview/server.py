"""Serving pages under preview to the browser of this machine, and to nobody else.

Any page in the author's browser can send requests to this server, also under a name of its own that it has pointed at
this machine.  So requests must name this machine as their host, nothing can be changed by asking, and what is served is
made for it: no path leads to a file.
"""

from __future__ import annotations

import html
import json
import logging
import mimetypes
import threading
from collections.abc import Callable
from dataclasses import asdict, dataclass, field
from functools import cache
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import PurePosixPath
from urllib.parse import quote, unquote, urlsplit

from guidebuild.errors import SaidInOneLineError

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
_PAGE = "text/html; charset=utf-8"
_LONGEST_MARK = 200
_LOG = logging.getLogger(__name__)
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


Read = Callable[[str], "tuple[bytes, str] | None"]
"""A file by its path from the root, with a mark that is another when it, or what it shows, is another; None where there is none."""


@dataclass
class Board:
    """What the pages on show are told; shared between the drawing thread and those that serve."""

    number: int = 0
    """Of the last drawing."""
    notes: tuple[Note, ...] = ()
    noted: int = 0
    """How often the findings have been told."""
    closed: bool = False
    news: threading.Condition = field(default_factory=threading.Condition)

    def post_pages(self) -> None:
        """Tell everyone that pages may be other than before."""
        with self.news:
            self.number += 1
            self.news.notify_all()

    def post_notes(self, notes: tuple[Note, ...]) -> None:
        """Tell everyone what was found."""
        with self.news:
            self.noted += 1
            self.notes = notes
            self.news.notify_all()

    def close(self) -> None:
        """Let everyone who waits go."""
        with self.news:
            self.closed = True
            self.news.notify_all()

    def wait(self, seen: tuple[int, int], seconds: float) -> tuple[int, int] | None:
        """The numbers of the last drawing and telling once they differ from those seen, or time is up; nothing when closed."""
        with self.news:
            self.news.wait_for(lambda: self.closed or (self.number, self.noted) != seen, seconds)
            return None if self.closed else (self.number, self.noted)


class PreviewServer(ThreadingHTTPServer):
    """Pages with the preview's script added, on a port of this machine alone."""

    daemon_threads = True
    # Threads that serve the event stream end only when their browser leaves.
    block_on_close = False

    def __init__(self, read: Read, board: Board, *, port: int, start: str = "") -> None:
        super().__init__((ADDRESS, port), _Handler)
        self.read = read
        self.board = board
        self.start = start
        self.listeners = threading.BoundedSemaphore(_LISTENERS_AT_MOST)
        names = (ADDRESS, "localhost")
        self.hosts = frozenset(f"{name}:{self.server_port}" for name in names)

    def handle_error(self, _request: object, client_address: object) -> None:
        """A browser that leaves in the middle of an answer is no news; the terminal is for findings."""
        _LOG.debug("a request from %s", client_address, exc_info=True)

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
        wanted = path.removeprefix("/")
        kind = _media_type(PurePosixPath(wanted).suffix.lower() or ".html")
        try:
            found = self.server.read(wanted + "index.html" if wanted.endswith("/") or not wanted else wanted)
            if found is None and wanted and not wanted.endswith("/") and self.server.read(f"{wanted}/index.html"):
                # Written from the path without its first strokes, so that it can never name another host.
                self._go(f"/{quote(path.strip('/'))}/")
                return
        except Exception as error:  # whatever is half typed: the page stays open, says so, and follows the next edit
            _LOG.debug("%s", path, exc_info=True)
            told = str(error) if isinstance(error, SaidInOneLineError) else f"{type(error).__name__}: {error}"
            page = _say("Not drawn (yet)", f"{wanted or 'The first page'} cannot be drawn: {told}")
            self._send(
                HTTPStatus.INTERNAL_SERVER_ERROR,
                self._followed(page, told[:_LONGEST_MARK]),
                _PAGE,
                with_body=with_body,
                mark=told[:_LONGEST_MARK],
            )
            return
        if found is None:
            page = _say("Not there (yet)", f"Nothing is drawn at {path}.")
            self._send(HTTPStatus.NOT_FOUND, self._followed(page, ""), _PAGE, with_body=with_body)
            return
        data, mark = found
        body = self._followed(data, mark) if kind == _PAGE else data
        self._send(HTTPStatus.OK, body, kind, with_body=with_body, mark=mark)

    def _answer_own(self, name: str, *, with_body: bool) -> None:
        if name in _ASSETS:
            self._send(HTTPStatus.OK, _asset(name), _ASSETS[name], with_body=with_body)
        elif name == "notes.json":
            notes = self.server.board.notes
            told = {"notes": [asdict(note) for note in notes]}
            self._send(HTTPStatus.OK, json.dumps(told).encode(), "application/json", with_body=with_body)
        elif name == "events" and with_body:
            self._stream()
        else:
            self._send(HTTPStatus.NOT_FOUND, b"no such file", "text/plain", with_body=with_body)

    def _stream(self) -> None:
        """Server-sent events (WHATWG HTML, section 9.2): the numbers of the last drawing and telling now, and each that follows."""
        if not self.server.listeners.acquire(blocking=False):
            self._send(HTTPStatus.SERVICE_UNAVAILABLE, b"too many pages are open", "text/plain", with_body=True)
            return
        self.close_connection = True
        board = self.server.board
        seen = -1, -1
        try:
            self._head(HTTPStatus.OK, "text/event-stream", None)
            while (now := board.wait(seen, _HEARTBEAT_SECONDS)) is not None:
                told = json.dumps({"number": now[0], "noted": now[1]})
                self.wfile.write(f"event: drawn\ndata: {told}\n\n".encode() if now != seen else b": still here\n\n")
                self.wfile.flush()
                seen = now
        except OSError:
            return  # the browser has left
        finally:
            self.server.listeners.release()

    def _followed(self, page: bytes, mark: str) -> bytes:
        """The page with the preview's script and style at the end of its head."""
        told = f'data-drawn="{self.server.board.number}" data-mark="{quote(mark)}"'
        added = f'<link rel="stylesheet" href="{OWN}follow.css"><script src="{OWN}follow.js" {told}></script>'
        head, end, rest = page.partition(b"</head>")
        return head + added.encode() + end + rest if end else added.encode() + page

    def _go(self, address: str) -> None:
        self._send(HTTPStatus.FOUND, b"", "text/plain", with_body=False, location=address)

    def _send(  # noqa: PLR0913 - the parts of an answer, by name
        self, status: HTTPStatus, body: bytes, kind: str, *, with_body: bool, location: str = "", mark: str = ""
    ) -> None:
        self._head(status, kind, len(body), location, mark)
        if with_body:
            self.wfile.write(body)

    def _head(self, status: HTTPStatus, kind: str, length: int | None, location: str = "", mark: str = "") -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        if length is not None:
            self.send_header("Content-Length", str(length))
        if location:
            self.send_header("Location", location)
        if mark:
            self.send_header("X-Page-Mark", quote(mark))
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


def _say(title: str, told: str) -> bytes:
    return (
        f'<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>{title}</title></head>'
        f"<body><h1>{title}</h1><p>{html.escape(told)} This page follows your edits: "
        'once there is something, it shows here.</p><p><a href="/">To the start</a></p></body></html>'
    ).encode()


def _media_type(suffix: str) -> str:
    kind = _TYPES.get(suffix) or mimetypes.types_map.get(suffix) or "application/octet-stream"
    return f"{kind}; charset=utf-8" if kind.startswith("text/") or kind in ("application/json", "image/svg+xml") else kind
