"""The preview: follows edits, survives half-typed files, and answers to this machine alone."""

import http.client
import json
import os
import queue
import socket
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from guidebuild.guide.media_types import FILM_TYPES, SOUND_TYPES
from guidebuild.press.engine.file_types import TYPES
from guidebuild.press.engine.problems import PressError
from guidebuild.press.preview.board import Note, OvertakenError
from guidebuild.press.preview.edits import worth_a_look
from guidebuild.press.preview.follow import Options, preview
from guidebuild.press.preview.server import FIRST_PORT
from tests.press.preview.shown import Written

PAGE = "<!DOCTYPE html><html><head><title>Toad</title></head><body><p>Toad</p></body></html>"
PATIENCE = 20.0


@dataclass
class Shown:
    """A running preview and what came of it."""

    folder: Path
    written: Written
    url: str
    port: int
    changes: "queue.Queue[frozenset[Path]]"

    def ask(self, path: str, method: str = "GET", **headers: str) -> tuple[int, dict[str, str], bytes]:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        try:
            connection.putrequest(method, path, skip_host="Host" in headers)
            for name, value in headers.items():
                connection.putheader(name, value)
            connection.endheaders()
            answer = connection.getresponse()
            return answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read()
        finally:
            connection.close()


@dataclass
class News:
    """The stream of news, read as a browser reads it."""

    port: int
    _connection: http.client.HTTPConnection = field(init=False)
    _answer: http.client.HTTPResponse = field(init=False)

    def __post_init__(self) -> None:
        self._connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        self._connection.request("GET", "/-preview/events")
        self._answer = self._connection.getresponse()
        assert self._answer.getheader("Content-Type") == "text/event-stream"

    def next(self) -> dict[str, object]:
        while True:
            line = self._answer.readline()
            assert line, "the stream has ended"
            if line.startswith(b"data: "):
                told: dict[str, object] = json.loads(line[6:])
                return told

    def close(self) -> None:
        self._answer.close()
        self._connection.close()


@contextmanager
def shown(tmp_path: Path, on_change: Callable[[Written, frozenset[Path]], None] | None = None, start: str = "") -> Iterator[Shown]:
    folder = tmp_path / "guide"
    (folder / "accounts").mkdir(parents=True)
    changes: queue.Queue[frozenset[Path]] = queue.Queue()
    address: queue.Queue[str] = queue.Queue()
    stop = threading.Event()
    written = Written({"index.html": PAGE.encode()})

    def follow(changed: frozenset[Path]) -> None:
        changes.put(changed)
        if on_change:
            on_change(written, changed)

    written.on_change = follow
    options = Options(port=0, start=start, stop=stop)
    thread = threading.Thread(target=preview, args=(folder, written), kwargs={"announce": address.put, "options": options})
    thread.start()
    try:
        url = address.get(timeout=PATIENCE)
        assert changes.get(timeout=PATIENCE) == frozenset()
        yield Shown(folder, written, url, int(url.split(":")[2].split("/")[0]), changes)
    finally:
        stop.set()
        thread.join(PATIENCE)
        assert not thread.is_alive()


@pytest.fixture
def running(tmp_path: Path) -> Iterator[Shown]:
    with shown(tmp_path) as one:
        yield one


def test_pages_are_served_with_the_script_and_files_are_untouched(running: Shown) -> None:
    status, headers, body = running.ask("/")
    assert (status, headers["content-type"]) == (200, "text/html; charset=utf-8")
    mark = headers["x-page-mark"]
    assert f'<script src="/-preview/follow.js" data-drawn="1" data-mark="{mark}"></script></head>'.encode() in body
    assert headers["cache-control"] == "no-store"
    assert headers["x-content-type-options"] == "nosniff"
    assert "access-control-allow-origin" not in headers
    running.written.files["a.avif"] = b"picture"
    assert running.ask("/a.avif")[2] == b"picture"
    assert running.ask("/a.avif")[1]["content-type"] == "image/avif"
    assert b"EventSource" in running.ask("/-preview/follow.js")[2]
    assert running.ask("/-preview/follow.css")[1]["content-type"].startswith("text/css")


@pytest.mark.parametrize("ending", [*FILM_TYPES, *SOUND_TYPES])
def test_films_and_sounds_are_sent_in_ranges_with_their_type(running: Shown, tmp_path: Path, ending: str) -> None:
    """RFC 9110, 14: a browser that jumps in a film asks for the bytes from there on."""
    film = tmp_path / f"film{ending}"
    film.write_bytes(bytes(range(100)))
    running.written.own[f"films/a b{ending}"] = film
    status, headers, body = running.ask(f"/films/a%20b{ending}")
    assert (status, headers["content-type"], headers["accept-ranges"], body) == (200, TYPES[ending], "bytes", film.read_bytes())
    assert headers["cache-control"] == "no-store"
    status, headers, body = running.ask(f"/films/a%20b{ending}", Range="bytes=40-49")
    assert (status, headers["content-range"], body) == (206, "bytes 40-49/100", film.read_bytes()[40:50])
    assert running.ask("/films/../film")[0] == 404


def test_head_has_no_body_and_a_folder_leads_to_its_index(running: Shown) -> None:
    running.written.files["é b/index.html"] = PAGE.encode()
    status, headers, body = running.ask("/", "HEAD")
    assert (status, body) == (200, b"")
    assert int(headers["content-length"]) > len(PAGE)
    status, headers, _ = running.ask("/%C3%A9%20b")
    assert (status, headers["location"]) == (302, "/%C3%A9%20b/")
    assert running.ask("/%C3%A9%20b/")[0] == 200


def test_the_start_page_is_where_it_is_said_to_be(tmp_path: Path) -> None:
    with shown(tmp_path, start="site/") as one:
        assert one.url.endswith("/site/")
        assert one.ask("/")[1]["location"] == "/site/"


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "CONNECT", "BREW"])
def test_other_methods_are_refused(running: Shown, method: str) -> None:
    status, headers, _ = running.ask("/", method)
    assert (status, set(headers["allow"].split(", "))) == (405, {"GET", "HEAD"})


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:{port}", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example:{port}", "", "[::1]:{port}"]
)
def test_requests_under_another_name_are_refused(running: Shown, host: str) -> None:
    for path in ("/", "/-preview/notes.json", "/-preview/events"):
        status, _, body = running.ask(path, Host=host.format(port=running.port))
        assert status == 421
        assert b"Toad" not in body


def test_this_machine_may_be_called_by_either_name(running: Shown) -> None:
    for name in ("localhost", "LocalHost", "127.0.0.1"):
        assert running.ask("/", Host=f"{name}:{running.port}")[0] == 200


@pytest.mark.parametrize(
    "path",
    [
        "/../guide.yaml",
        "/..%2fguide.yaml",
        "/%2e%2e/guide.yaml",
        "/a/../../guide.yaml",
        "/..\\guide.yaml",
        "/..%5cguide.yaml",
        "//etc/hostname",
        "/%2fetc/hostname",
        "/link",
        "/folder/guide.yaml",
        "/%00",
        "/index.html%00.png",
        "/-preview/../index.html",
        "/-preview/%2e%2e/secret",
    ],
)
def test_a_path_leads_to_no_file(running: Shown, path: str) -> None:
    (running.folder / "guide.yaml").write_text("secret")
    status, _, body = running.ask(path)
    assert status == 404
    assert b"secret" not in body


def test_addresses_that_are_no_text_are_refused(running: Shown) -> None:
    assert running.ask("/%ff%fe")[0] == 400
    assert running.ask("/" + "a" * 70_000)[0] in (400, 404, 414)


def test_a_page_that_is_not_there_follows_edits_and_shows_its_name_harmlessly(running: Shown) -> None:
    status, _, body = running.ask("/%3Cscript%3Ealert(1)%3C/script%3E")
    assert status == 404
    assert b"<script>alert" not in body
    assert b"/-preview/follow.js" in body


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux answers on all of 127.0.0.0/8")
def test_it_listens_on_this_machine_only(running: Shown) -> None:
    with socket.socket() as other:
        other.settimeout(PATIENCE)
        with pytest.raises(ConnectionRefusedError):
            # Another address of this machine, which a server on all addresses would answer.
            other.connect(("127.0.0.2", running.port))


def test_an_edit_is_drawn_at_once_and_then_told_with_its_findings(tmp_path: Path) -> None:
    found = (Note("error", "accounts/toad.md:3", "“<b>” is no size"), Note("warning", "x", "y"))

    def write(written: Written, changed: frozenset[Path]) -> None:
        if changed:
            written.files["toad.html"], written.notes = PAGE.replace("Toad", "Newt").encode(), found

    with shown(tmp_path, write) as one:
        news = News(one.port)
        first = news.next()
        assert first["number"] == 1
        if first["noted"] == 0:
            assert news.next() == {"number": 1, "noted": 1}
        before = one.ask("/toad.html")
        (one.folder / "accounts" / "toad.md").write_text("size: <b>")
        assert one.changes.get(timeout=PATIENCE) == {one.folder / "accounts" / "toad.md"}
        assert news.next() == {"number": 2, "noted": 1}
        assert (before[0], one.ask("/toad.html")[0]) == (404, 200)
        assert one.ask("/toad.html", "HEAD")[1]["x-page-mark"] != one.ask("/", "HEAD")[1]["x-page-mark"]
        assert news.next() == {"number": 2, "noted": 2}
        news.close()
        told = json.loads(one.ask("/-preview/notes.json")[2])
    assert told["notes"][0] == {"level": "error", "where": "accounts/toad.md:3", "message": "“<b>” is no size"}


def test_checks_give_way_to_an_edit_and_are_made_after_it(tmp_path: Path) -> None:
    begun, ended, gave_way = threading.Event(), threading.Event(), threading.Event()

    def check(is_overtaken: Callable[[], bool]) -> None:
        """Checks that would last until the end of the test."""
        begun.set()
        while not ended.wait(0.01):
            if is_overtaken():
                gave_way.set()
                raise OvertakenError

    with shown(tmp_path) as one:
        one.written.on_check = check
        try:
            (one.folder / "accounts" / "toad.md").write_text("size: 5")
            one.changes.get(timeout=PATIENCE)
            assert begun.wait(PATIENCE)
            (one.folder / "accounts" / "newt.md").write_text("size: 6")
            assert one.changes.get(timeout=PATIENCE) == {one.folder / "accounts" / "newt.md"}
            assert gave_way.is_set()
        finally:
            ended.set()
        one.written.notes = (Note("error", "accounts/newt.md:1", "told in the end"),)
        news = News(one.port)
        while not (told := json.loads(one.ask("/-preview/notes.json")[2])["notes"]):
            news.next()
        news.close()
        assert [note["message"] for note in told] == ["told in the end"]


def test_an_end_of_watching_ends_the_preview_and_says_why(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*arguments: object, **options: object) -> Iterator[object]:
        raise OSError("no more files can be watched")

    monkeypatch.setattr("guidebuild.press.preview.edits.watch", refuse)
    with pytest.raises(OSError, match="no more files can be watched"):
        preview(tmp_path, Written(), announce=lambda _: None, options=Options(port=0))


def test_what_cannot_be_followed_keeps_the_pages_and_says_so(tmp_path: Path) -> None:
    def fail(written: Written, changed: frozenset[Path]) -> None:
        if changed and "title: [" in (tmp_path / "guide" / "guide.yaml").read_text():
            raise ValueError("half typed")

    with shown(tmp_path, fail) as one:
        news = News(one.port)
        while news.next()["noted"] == 0:
            pass
        (one.folder / "guide.yaml").write_text("title: [")
        assert news.next() == {"number": 1, "noted": 2}
        assert b"Toad" in one.ask("/")[2]
        assert json.loads(one.ask("/-preview/notes.json")[2])["notes"][0]["message"] == "nothing new could be drawn: half typed"
        (one.folder / "guide.yaml").write_text("title: Toads")
        assert news.next()["number"] == 2
        news.close()


def test_a_page_that_cannot_be_made_says_why_and_stays_open(running: Shown) -> None:
    running.written.broken.add("toad.html")
    status, headers, body = running.ask("/toad.html")
    assert status == 500
    assert b"toad.html cannot be drawn: KeyError" in body
    assert b"/-preview/follow.js" in body
    assert headers["x-page-mark"]


@pytest.mark.parametrize(
    ("path", "matters"),
    [
        ("accounts/toad.md", True),
        ("theme/site/base.html", True),
        ("photos/toad.jpg", True),
        ("published/site/index.html", False),
        (".guidebuild/store/ab/cd", False),
        (".git/index", False),
        ("accounts/.toad.md.swp", False),
        ("accounts/toad.md~", False),
        ("accounts/#toad.md#", False),
        ("accounts/4913", False),
        ("accounts/~$toad.md", False),
        ("../other/toad.md", False),
        ("published", False),
    ],
)
def test_only_the_authors_files_matter(path: str, matters: bool) -> None:
    assert worth_a_look(Path("/guide"), Path(os.path.normpath(f"/guide/{path}"))) is matters


def test_a_taken_port_is_one_line_and_otherwise_the_next_is_used(tmp_path: Path) -> None:
    stop = threading.Event()
    stop.set()
    addresses: list[str] = []
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(PressError, match=rf"port {port} is in use; name another with --port"):
            preview(tmp_path, Written(), announce=addresses.append, options=Options(port=port))
    with suppress(OSError), socket.create_server(("127.0.0.1", FIRST_PORT)):
        preview(tmp_path, Written(), announce=addresses.append, options=Options(stop=stop))
        assert addresses[0].startswith("http://127.0.0.1:")
        assert addresses[0] != f"http://127.0.0.1:{FIRST_PORT}/"


def test_too_many_open_pages_are_turned_away(running: Shown) -> None:
    streams = []
    try:
        for _ in range(40):
            streams.append(News(running.port))
            streams[-1].next()
        assert running.ask("/-preview/events")[0] == 503
        assert running.ask("/")[0] == 200
    finally:
        for stream in streams:
            stream.close()
