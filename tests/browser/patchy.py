"""A site on a network that fails while it answers: cut short, silent, halting midway, out of order, or a part for the whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Event, Thread

CUT, UNSAID, SILENT, HALTING, BUSY, PART = "cut", "unsaid", "silent", "halting", "busy", "part"
"""Half of the bytes that were said; half, and no word of how many; no answer; half, and then nothing; 503; 206 with the first half."""


class Patchy:
    """The site's address, and what goes wrong with which file (by its path within the site). Counts how often those are asked for."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.faults: dict[str, str] = {}
        self.asked = 0
        self._over = Event()

    def mend(self) -> None:
        """All is well from now on; what hung is broken off."""
        self.faults.clear()
        self._over.set()
        self._over = Event()

    def answer(self, handler: SimpleHTTPRequestHandler, data: bytes, fault: str) -> None:
        """Answer with a file's bytes as the fault has it."""
        self.asked += 1
        half = data[: len(data) // 2]
        if fault == SILENT:
            self._over.wait()
            return
        told: Mapping[str, str] = {"Content-Length": str(len(data))}
        if fault == UNSAID:
            told = {}
        elif fault == PART:
            told = {"Content-Length": str(len(half)), "Content-Range": f"bytes 0-{len(half) - 1}/{len(data)}"}
        handler.send_response({BUSY: 503, PART: 206}.get(fault, 200))
        for name, value in {"Content-Type": handler.guess_type(handler.path), **told}.items():
            handler.send_header(name, value)
        handler.end_headers()
        handler.wfile.write(data if fault == BUSY else half)
        handler.wfile.flush()
        if fault == HALTING:
            self._over.wait()


class _Handler(SimpleHTTPRequestHandler):
    site: Patchy

    def log_message(self, *_: object) -> None:
        """Say nothing."""

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-store")  # only the page's own worker may keep anything
        super().end_headers()

    def do_GET(self) -> None:
        path = self.path.split("?")[0].lstrip("/")
        fault = self.site.faults.get(path)
        if fault is None:
            super().do_GET()
        else:
            self.site.answer(self, Path(self.translate_path(self.path)).read_bytes(), fault)


@contextmanager
def serve_patchily(folder: Path) -> Iterator[Patchy]:
    """Serve a folder, well at first, on a free port of this machine."""
    handler = type("Handler", (_Handler,), {})
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(handler, directory=str(folder)))
    server.daemon_threads = True
    handler.site = Patchy(f"http://127.0.0.1:{server.server_port}/")
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield handler.site
    finally:
        handler.site.mend()
        server.shutdown()
        server.server_close()
