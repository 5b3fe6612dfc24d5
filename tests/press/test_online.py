"""The site copied for the web, and what stands there compared with it; the web is a server on this machine."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import suppress
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import ClassVar

import pytest

from guidebuild.cli import exit_code
from guidebuild.guide.media_types import FILM_TYPES, SOUND_TYPES
from guidebuild.press.engine import web_copy
from guidebuild.press.engine.digest import digest_bytes
from guidebuild.press.engine.file_types import TYPES
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.trees import MANIFEST, OwnList, write_list
from guidebuild.press.host_files import make_host_files
from guidebuild.press.online import compare_address, compare_folder
from guidebuild.press.theme.trust import POLICY
from guidebuild.views.site.page import base_path

FILES = {"index.html": b"<p>home", "a/b.html": b"<p>b", "assets/guide.css": b"p{}", "faces/one.woff2": b"face", "404.html": b"<p>none"}


@pytest.fixture
def published(tmp_path: Path) -> Path:
    folder = tmp_path / "guide/published"
    publish(folder, FILES)
    return folder


def publish(folder: Path, files: dict[str, bytes]) -> None:
    for path, data in files.items():
        (folder / "site" / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / "site" / path).write_bytes(data)
    listed = {f"site/{path}": digest_bytes(data) for path, data in files.items()}
    (folder / MANIFEST).write_bytes(write_list(OwnList({**listed, "cards/one.pdf": "0"})))


def files_in(folder: Path) -> dict[str, bytes]:
    paths = (path for path in folder.rglob("*") if path.is_file() and path.name != MANIFEST)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}


def test_a_copy_holds_the_site_and_nothing_else_of_the_guide(published: Path, tmp_path: Path) -> None:
    copied = web_copy.copy_site(published, tmp_path / "web", {"_headers": b"told"})
    assert files_in(tmp_path / "web") == {**FILES, "_headers": b"told"}
    assert (len(copied.written), copied.kept, copied.removed) == (6, 0, ())
    again = web_copy.copy_site(published, tmp_path / "web", {"_headers": b"told"})
    assert (again.written, again.kept) == ((), 6)


def test_only_what_a_copy_put_there_is_taken_away(published: Path, tmp_path: Path) -> None:
    web_copy.copy_site(published, tmp_path / "web", {})
    (tmp_path / "web/mine.html").write_bytes(b"mine")
    publish(published, {"index.html": b"<p>new"})
    copied = web_copy.copy_site(published, tmp_path / "web", {})
    assert files_in(tmp_path / "web") == {"index.html": b"<p>new", "mine.html": b"mine"}
    assert set(copied.removed) == FILES.keys() - {"index.html"}
    assert not (tmp_path / "web/a").exists()


def test_a_file_of_somebody_else_is_never_written_over(published: Path, tmp_path: Path) -> None:
    (tmp_path / "web").mkdir()
    (tmp_path / "web/index.html").write_bytes(b"somebody's")
    with pytest.raises(PressError, match=r"index\.html"):
        web_copy.copy_site(published, tmp_path / "web", {})
    assert files_in(tmp_path / "web") == {"index.html": b"somebody's"}


def test_a_link_in_the_folder_is_not_followed(published: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "web").mkdir()
    (tmp_path / "web/a").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(PressError, match=r"a/b\.html"):
        web_copy.copy_site(published, tmp_path / "web", {})
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_list_that_names_files_outside_takes_nothing_away_there(published: Path, tmp_path: Path) -> None:
    (tmp_path / "precious").write_bytes(b"mine")
    (tmp_path / "web").mkdir()
    (tmp_path / "web" / MANIFEST).write_bytes(write_list(OwnList({"../precious": "0"})))
    web_copy.copy_site(published, tmp_path / "web", {})
    assert (tmp_path / "precious").read_bytes() == b"mine"


@pytest.mark.parametrize("folder", ["guide/published/web", "guide", "guide/web", "."])
def test_a_folder_of_the_guide_itself_is_refused(published: Path, tmp_path: Path, folder: str) -> None:
    with pytest.raises(PressError, match="part of the guide"):
        web_copy.copy_site(published, tmp_path / folder, {})


def test_a_copy_that_ended_midway_is_finished_by_the_next(published: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = web_copy.write_safely
    for step in range(1, 8):
        folder = tmp_path / f"web{step}"
        web_copy.copy_site(published, folder, {})
        publish(published, {**FILES, "index.html": b"<p>%d" % step, "new.html": b"new"})
        left = iter(range(step))

        def end(*given: object, left: Iterator[int] = left) -> None:
            if next(left, None) is None:
                raise KeyboardInterrupt
            whole(*given)  # type: ignore[arg-type]

        with monkeypatch.context() as patched:
            patched.setattr(web_copy, "write_safely", end)
            with suppress(KeyboardInterrupt):
                web_copy.copy_site(published, folder, {})
        web_copy.copy_site(published, folder, {})
        assert files_in(folder) == {**FILES, "index.html": b"<p>%d" % step, "new.html": b"new"}
        publish(published, FILES)
        (published / "site/new.html").unlink()


class Host(SimpleHTTPRequestHandler):
    """A host of plain files; what is wrong with it stands in `wrong`."""

    wrong: ClassVar[dict[str, str]] = {}

    def log_message(self, *said: object) -> None:
        pass

    def do_GET(self) -> None:
        if "moved" in self.wrong and not self.headers["Host"].startswith("localhost"):
            self.send_response(302)
            self.send_header("Location", f"http://localhost:{self.server.server_port}{self.path}")  # type: ignore[attr-defined]
            self.end_headers()
        else:
            super().do_GET()

    def guess_type(self, path: str) -> str:  # type: ignore[override]
        ending = Path(path).suffix
        return self.wrong.get(f"type {ending}", TYPES.get(ending, "application/octet-stream"))

    def send_error(self, code: int, *said: object, **more: object) -> None:  # type: ignore[override]
        if code == 404 and "soft 404" in self.wrong:
            self.send_response(200)
            self.end_headers()
            self.wfile.write(b"all is well")
        else:
            super().send_error(code)


@pytest.fixture
def web(tmp_path: Path) -> Iterator[tuple[Path, str, dict[str, str]]]:
    (tmp_path / "web/guide").mkdir(parents=True)
    Host.wrong = {}
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Host, directory=str(tmp_path / "web")))
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield tmp_path / "web/guide", f"http://127.0.0.1:{server.server_port}/guide", Host.wrong
    server.shutdown()
    thread.join()
    server.server_close()
    Host.wrong = {}  # other tests serve by the same host


def test_a_site_that_arrived_whole_has_nothing_to_mend(published: Path, web: tuple[Path, str, dict[str, str]]) -> None:
    folder, address, _ = web
    web_copy.copy_site(published, folder, make_host_files("/guide/"))
    site = web_copy.list_site(published)
    for compared in (compare_address(site, address), compare_address(site, address + "/"), compare_folder(site, folder)):
        assert (compared.files, compared.differing) == (5, ())


def test_what_is_missing_old_or_of_another_type_is_told(published: Path, web: tuple[Path, str, dict[str, str]]) -> None:
    folder, address, wrong = web
    web_copy.copy_site(published, folder, {})
    (folder / "a/b.html").unlink()
    (folder / "assets/guide.css").write_bytes(b"old")
    wrong["type .woff2"] = "text/plain"
    wrong["soft 404"] = "yes"
    told = {(problem.what, problem.where) for problem in compare_address(web_copy.list_site(published), address).differing}
    assert ("online-other", "assets/guide.css") in told
    assert ("online-type", "faces/one.woff2") in told
    assert any(what == "online-absent" for what, _ in told)
    assert ("online-other", "a/b.html") in told or ("online-missing", "a/b.html") in told
    wrong.clear()
    told = {(problem.what, problem.where) for problem in compare_address(web_copy.list_site(published), address).differing}
    assert told == {("online-missing", "a/b.html"), ("online-other", "assets/guide.css")}


def test_a_way_round_by_another_host_is_told(published: Path, web: tuple[Path, str, dict[str, str]]) -> None:
    folder, address, wrong = web
    web_copy.copy_site(published, folder, {})
    wrong["moved"] = "yes"
    (told,) = compare_address(web_copy.list_site(published), address).differing
    assert (told.what, "http://localhost" in told.message) == ("online-moved", True)


def test_a_folder_with_other_files_is_told_of_and_fine(published: Path, tmp_path: Path) -> None:
    web_copy.copy_site(published, tmp_path / "web", {})
    (tmp_path / "web/mine.txt").write_bytes(b"mine")
    (told,) = compare_folder(web_copy.list_site(published), tmp_path / "web").differing
    assert (told.what, "mine.txt" in told.message) == ("online-more", True)


@pytest.mark.parametrize("address", ["ftp://example.org", "http://", "http://127.0.0.1:1/", "https://no-such-host.invalid/"])
def test_an_address_that_cannot_be_asked_is_one_clear_line(published: Path, address: str) -> None:
    with pytest.raises(PressError, match=r"no web address|cannot be reached"):
        compare_address(web_copy.list_site(published), address)


def test_hosts_are_told_types_policy_and_the_page_for_what_is_not_there() -> None:
    told = {name: data.decode() for name, data in make_host_files("/guide/").items()}
    assert "/guide/*.webmanifest\n  Content-Type: application/manifest+json\n" in told["_headers"]
    assert f"Content-Security-Policy: {POLICY}" in told["_headers"]
    assert "ErrorDocument 404 /guide/404.html\n" in told[".htaccess"]
    assert "AddType text/vtt .vtt\n" in told[".htaccess"]
    for ending in (*FILM_TYPES, *SOUND_TYPES):
        assert f"/guide/*{ending}\n  Content-Type: {TYPES[ending]}\n" in told["_headers"]
        assert f"AddType {TYPES[ending]} {ending}\n" in told[".htaccess"]


@pytest.mark.parametrize(
    ("address", "base"),
    [("https://a.example", "/"), ("https://a.example/guide", "/guide/"), ("https://a.example//evil.example/x", "/evil.example/x/")],
)
def test_the_base_is_never_another_host(address: str, base: str) -> None:
    assert base_path(address) == base


def test_make_copies_and_check_compares(starter: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    settings = starter / "guide.yaml"
    settings.write_text(settings.read_text("utf-8").replace("# address: https://…  ", "address: https://pond.example/guide #"), "utf-8")
    assert exit_code(["make", str(starter), "site", "--quiet", "--to", str(tmp_path / "web")]) == 0
    assert exit_code(["check", str(starter), "--online", str(tmp_path / "web")]) == 0
    assert "all as they were made here" in capsys.readouterr().out
    absent = (tmp_path / "web/404.html").read_text("utf-8")
    assert 'href="/guide/assets/first.css"' in absent
    assert "404.html" not in (tmp_path / "web/sitemap.xml").read_text("utf-8")
    (tmp_path / "web/index.html").unlink()
    assert exit_code(["check", str(starter), "--online", str(tmp_path / "web")]) == 1
    assert "index.html: error: is not there" in capsys.readouterr().out
