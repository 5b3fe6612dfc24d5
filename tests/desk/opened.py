"""A desk that stands open for a test, and a browser's requests to it written by hand."""

from __future__ import annotations

import difflib
import http.client
import json
import queue
import re
import shutil
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from guidebuild.desk.app import desk_front
from guidebuild.desk.desk import Desk
from guidebuild.desk.part import Part
from guidebuild.desk.parts.table import PARTS
from guidebuild.handbook.book import make_files
from guidebuild.press.preview.board import Board
from guidebuild.press.preview.follow import Front, Options, Shown, preview
from guidebuild.resident import Resident

SAMPLE = Path(__file__).resolve().parents[2] / "sample_guide"
PATIENCE = 30.0


@dataclass(frozen=True)
class Answer:
    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def told(self) -> Any:
        return json.loads(self.body)


@dataclass
class Opened:
    """An open desk; `cookie` and `token` are those of its author once it was entered."""

    folder: Path
    address: str
    cookie: str = ""
    token: str = ""
    port: int = field(init=False)

    def __post_init__(self) -> None:
        self.port = urlsplit(self.address).port or 0

    @property
    def origin(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def ask(self, path: str, method: str = "GET", body: bytes | None = None, **headers: str) -> Answer:
        """A request with these headers alone; `_` in their names stands for `-`."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        try:
            connection.putrequest(method, path, skip_host="Host" in named, skip_accept_encoding=True)
            for name, value in named.items():
                connection.putheader(name, value)
            if body is not None and "Content-Length" not in named and "Transfer-Encoding" not in named:
                connection.putheader("Content-Length", str(len(body)))
            connection.endheaders(body)
            answer = connection.getresponse()
            return Answer(answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read())
        finally:
            connection.close()

    def look(self, path: str) -> Answer:
        """As the author's own browser asks."""
        return self.ask(path, Cookie=self.cookie, Sec_Fetch_Site="same-origin")

    def change(self, path: str, asked: Any) -> Answer:
        """As a page of the desk sends a change."""
        return self.ask(path, "POST", json.dumps(asked).encode(), **self.own())

    def own(self) -> dict[str, str]:
        """The headers of a change that a page of the desk sends."""
        return {
            "Cookie": self.cookie,
            "Origin": self.origin,
            "X_Form_Token": self.token,
            "Content_Type": "application/json",
            "Sec_Fetch_Site": "same-origin",
        }

    def enter(self) -> None:
        """Open the address that the terminal shows, as a browser does."""
        split = urlsplit(self.address)
        entered = self.ask(f"{split.path}?{split.query}")
        assert (entered.status, entered.headers["location"]) == (303, "/-desk/")
        self.cookie = entered.headers["set-cookie"].partition(";")[0]
        found = re.search(rb'name="form-token" content="([^"]+)"', self.look("/-desk/week/").body)
        assert found
        self.token = found[1].decode()


@contextmanager
def open_desk(folder: Path, parts: Sequence[Part] = PARTS, *, entered: bool = True) -> Iterator[Opened]:
    stop = threading.Event()
    addresses: queue.Queue[str] = queue.Queue()
    with Resident(folder) as shown:
        desk = Desk(folder, shown, lambda: make_files(()))

        def make_front(shown: Shown, board: Board, port: int, start: str) -> Front:
            return desk_front(desk, shown, board, port, start, parts=parts)

        named = {"announce": addresses.put, "options": Options(port=0, stop=stop), "make_front": make_front}
        thread = threading.Thread(target=preview, args=(folder, shown), kwargs=named)
        thread.start()
        try:
            opened = Opened(folder, addresses.get(timeout=PATIENCE))
            if entered:
                opened.enter()
            yield opened
        finally:
            stop.set()
            thread.join(PATIENCE)
            assert not thread.is_alive()


def copy_sample(folder: Path) -> Path:
    """The sample as its author has it, in a folder of its own."""
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing"))
    return folder


@contextmanager
def desk_on(folder: Path) -> Iterator[Desk]:
    """A desk without a browser, its guide read and checked."""
    with Resident(folder) as resident:
        resident.follow(frozenset())
        resident.find_notes()
        yield Desk(folder, resident)


def changed_lines(before: str, file: Path) -> list[str]:
    """What differs in a file from its former text: `- ` before lines that went, `+ ` before those that came."""
    return [line for line in difflib.ndiff(before.splitlines(), file.read_text("utf-8").splitlines()) if line[:2] in ("- ", "+ ")]
