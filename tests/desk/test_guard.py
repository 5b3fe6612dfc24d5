"""The desk is its author's alone. Each test does what a page of another site, or another program, could do."""

from __future__ import annotations

import json
import socket
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest

from guidebuild.cli import exit_code
from guidebuild.desk.desk import Desk
from guidebuild.desk.part import Part
from guidebuild.desk.parts.table import PARTS
from guidebuild.errors import SaidInOneLineError
from guidebuild.guide.findings import At
from tests.desk.opened import Opened, open_desk

DONE: list[Mapping[str, Any]] = []


def note(_: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    if asked.get("refuse"):
        raise SaidInOneLineError("“x” is no size. Write 6–9 mm.")
    DONE.append(asked)
    return {"message": "done"}


def show(_: Desk, rest: str, asked: Mapping[str, str]) -> object | None:
    return None


def locate(_: Desk, at: At) -> str | None:
    return f"{at.file.removesuffix('.md')}#line {at.line}" if at.file.endswith(".md") else None


PART = Part("noting", "Desk", show, {"note": note}, locate)


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("desk") / "pond"
    assert exit_code(["start", str(folder)]) == 0
    (folder / "outside.txt").write_text("secret of the guide's folder")
    return folder


@pytest.fixture(scope="module")
def desk(guide: Path) -> Iterator[Opened]:
    with open_desk(guide, (*PARTS, PART)) as opened:
        yield opened


@pytest.fixture(autouse=True)
def nothing_done() -> Iterator[None]:
    DONE.clear()
    yield
    DONE.clear()


def test_the_author_gets_in_and_changes(desk: Opened) -> None:
    page = desk.look("/-desk/week/")
    assert page.status == 200
    assert desk.change("/-desk/noting/note", {"a": "b"}).told == {"message": "done"}
    assert DONE == [{"a": "b"}]


def test_a_refusal_says_what_to_write(desk: Opened) -> None:
    answer = desk.change("/-desk/noting/note", {"refuse": True})
    assert (answer.status, answer.told) == (422, {"message": "“x” is no size. Write 6–9 mm."})


@pytest.mark.parametrize(
    "path",
    ["/", "/-desk/", "/-desk/week/", "/-preview/notes.json", "/-preview/events", "/accounts/common-frog.html", "/-desk/look/desk.js"],
)
@pytest.mark.parametrize(
    "cookie", ["", "guidebuild-desk-{port}=", "guidebuild-desk-{port}=guessed", "guidebuild-desk-1={session}", "=;;=\x7f"]
)
def test_without_the_cookie_nothing_is_shown(desk: Opened, path: str, cookie: str) -> None:
    session = desk.cookie.partition("=")[2]
    given = {"Cookie": cookie.format(port=desk.port, session=session)} if cookie else {}
    answer = desk.ask(path, **given)
    assert answer.status == 403
    assert b"The desk is closed here" in answer.body
    assert b"Common Frog" not in answer.body and b"form-token" not in answer.body


def test_the_cookie_is_for_this_machine_and_for_no_script(desk: Opened) -> None:
    path = desk.address.removeprefix(desk.origin)
    cookie = desk.ask(path).headers["set-cookie"]
    parts = {part.strip().lower() for part in cookie.split(";")[1:]}
    assert parts == {"httponly", "path=/", "samesite=strict"}
    assert desk.ask(path).headers["location"] == "/-desk/"


@pytest.mark.parametrize("given", ["", "?key=", "?key=guessed", "?key=%ff", "?key=a&key=b", "?other=x"])
def test_only_the_secret_of_the_address_lets_in(desk: Opened, given: str) -> None:
    answer = desk.ask(f"/-desk/enter{given}")
    assert answer.status == 403
    assert "set-cookie" not in answer.headers


def test_secrets_are_long_and_of_this_sitting(desk: Opened, guide: Path) -> None:
    key = desk.address.partition("key=")[2]
    assert len({key, desk.token, desk.cookie.partition("=")[2]}) == 3
    assert min(map(len, (key, desk.token, desk.cookie.partition("=")[2]))) >= 43
    with open_desk(guide) as other:
        assert desk.ask("/-desk/week/", Cookie=f"guidebuild-desk-{desk.port}={other.cookie.partition('=')[2]}").status == 403
        assert other.address.partition("key=")[2] != key


@pytest.mark.parametrize("host", ["evil.example", "evil.example:{port}", "127.0.0.1", "localhost.evil.example:{port}", "", "[::1]:{port}"])
def test_a_name_that_was_pointed_at_this_machine_is_refused(desk: Opened, host: str) -> None:
    """DNS rebinding: the browser would even send a cookie that this name was given before."""
    own = {**desk.own(), "Host": host.format(port=desk.port), "Origin": f"http://{host.format(port=desk.port)}"}
    for path, method, body in (("/-desk/week/", "GET", None), ("/-desk/noting/note", "POST", b"{}")):
        answer = desk.ask(path, method, body, **own)
        assert answer.status == 421
        assert b"form-token" not in answer.body
    assert DONE == []


@pytest.mark.parametrize("name", ["Cookie", "Origin", "X_Form_Token", "Content_Type"])
def test_each_thing_that_is_asked_of_a_change_is_asked_by_itself(desk: Opened, name: str) -> None:
    own = desk.own()
    del own[name]
    assert desk.ask("/-desk/noting/note", "POST", b"{}", **own).status in (403, 415)
    assert DONE == []


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("Origin", "null"),
        ("Origin", "https://evil.example"),
        ("Origin", "http://127.0.0.1"),
        ("Origin", "http://127.0.0.1:1"),
        ("Origin", "https://127.0.0.1:{port}"),
        ("Origin", "http://localhost:{port}"),
        ("Origin", "http://127.0.0.1:{port}.evil.example"),
        ("X_Form_Token", ""),
        ("X_Form_Token", "guessed"),
        ("X_Form_Token", "é"),
        ("Content_Type", "text/plain"),
        ("Content_Type", "application/x-www-form-urlencoded"),
        ("Content_Type", "multipart/form-data; boundary=x"),
        ("Content_Type", "text/plain; application/json"),
        ("Sec_Fetch_Site", "cross-site"),
        ("Sec_Fetch_Site", "same-site"),
    ],
)
def test_a_change_from_elsewhere_is_refused(desk: Opened, name: str, value: str) -> None:
    own = {**desk.own(), name: value.format(port=desk.port)}
    answer = desk.ask("/-desk/noting/note", "POST", b"{}", **own)
    assert answer.status in (403, 415)
    assert DONE == []


@pytest.mark.parametrize("method", ["GET", "HEAD", "PUT", "DELETE", "OPTIONS", "PATCH"])
def test_a_change_is_sent_by_post_alone(desk: Opened, method: str) -> None:
    assert desk.ask("/-desk/noting/note", method, **desk.own()).status in (404, 405)
    assert DONE == []


def test_another_page_is_allowed_to_read_nothing(desk: Opened) -> None:
    for path in ("/-desk/week/", "/", "/-preview/notes.json", "/-desk/look/desk.js"):
        answer = desk.ask(path, Cookie=desk.cookie, Origin="https://evil.example")
        assert not [name for name in answer.headers if name.startswith("access-control")]
        assert answer.headers["cross-origin-resource-policy"] == "same-origin"
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["x-content-type-options"] == "nosniff"
    asked = {"Cookie": desk.cookie, "Origin": "https://evil.example", "Access_Control_Request_Method": "POST"}
    preflight = desk.ask("/-desk/noting/note", "OPTIONS", **asked)
    assert not [name for name in preflight.headers if name.startswith("access-control")]
    assert desk.ask("/-desk/week/", Cookie=desk.cookie, Sec_Fetch_Site="cross-site").status == 403


def test_a_page_of_the_desk_runs_nothing_inline_and_stands_in_no_frame(desk: Opened) -> None:
    page = desk.look("/-desk/week/")
    policy = dict(rule.strip().split(" ", 1) for rule in page.headers["content-security-policy"].split(";"))
    assert policy["default-src"] == "'none'" and policy["script-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert "unsafe" not in page.headers["content-security-policy"]
    assert page.headers["x-frame-options"] == "DENY"
    text = page.body.decode()
    assert text.count("<script") == text.count('<script type="module" src=') > 0
    assert " style=" not in text and "<style" not in text and " onclick" not in text


@pytest.mark.parametrize(
    "path",
    [
        "/-desk/look/../../site/base.html",
        "/-desk/look/..%2f..%2fsite%2fbase.html",
        "/-desk/look/%2e%2e/static/guide.js",
        "/-desk/look//etc/hostname",
        "/-desk/look/week.html",
        "/-desk/look/",
        "/-desk/../outside.txt",
        "/outside.txt",
        "/..%2foutside.txt",
        "/-desk/week/../../outside.txt",
        "/-desk/nothing/",
        "/-desk/week/nothing",
    ],
)
def test_a_path_leads_to_no_file(desk: Opened, path: str) -> None:
    answer = desk.look(path)
    assert answer.status == 404
    assert b"secret of the guide" not in answer.body and b"{%" not in answer.body


@pytest.mark.parametrize(
    ("body", "status"),
    [
        (b"", 400),
        (b"{", 400),
        (b"[]", 400),
        (b'"a"', 400),
        (b"\xff", 400),
        (b"[" * 100_000, 400),
        (b'{"a": "' + b"x" * 1_000_001 + b'"}', 413),
    ],
)
def test_a_change_that_is_none_is_refused(desk: Opened, body: bytes, status: int) -> None:
    answer = desk.ask("/-desk/noting/note", "POST", body, **desk.own())
    assert answer.status == status
    assert answer.told["message"]
    assert DONE == []


def test_a_body_without_a_length_is_cut_off_too(desk: Opened) -> None:
    pieces = b"".join(b"%x\r\n%s\r\n" % (50_000, b"x" * 50_000) for _ in range(30)) + b"0\r\n\r\n"
    answer = desk.ask("/-desk/noting/note", "POST", pieces, Transfer_Encoding="chunked", **desk.own())
    assert answer.status == 413


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux answers on all of 127.0.0.0/8")
def test_it_listens_on_this_machine_only(desk: Opened) -> None:
    with socket.socket() as other:
        other.settimeout(5)
        with pytest.raises(ConnectionRefusedError):
            other.connect(("127.0.0.2", desk.port))


def test_scripts_of_a_guides_own_theme_are_still_at_the_desk(guide: Path) -> None:
    own = guide / "theme" / "static"
    own.mkdir(parents=True)
    try:
        with open_desk(guide) as opened:
            policy = opened.look("/").headers["content-security-policy"]
            assert policy == f"script-src http://127.0.0.1:{opened.port}/-preview/; form-action 'none'"
            assert opened.look("/-desk/week/").headers["content-security-policy"].startswith("default-src 'none'")
    finally:
        own.rmdir()
        own.parent.rmdir()


def test_a_finding_leads_to_the_part_that_has_its_field(desk: Opened) -> None:
    opened = desk.look("/-desk/open?at=episodes/common-frog.md:7:3")
    assert (opened.status, opened.headers["location"]) == (303, "/-desk/noting/episodes/common-frog#line%207")
    asked = desk.look("/-desk/open?at=episodes/common-frog.md&field=host%20plants")
    assert asked.headers["location"] == "/-desk/noting/episodes/common-frog#field-host-plants"
    assert desk.look("/-desk/open?at=//evil.example/x.md:1").headers["location"].startswith("/-desk/noting/")


def test_a_finding_that_no_part_has_a_field_of_shows_its_line(desk: Opened) -> None:
    words = ["stages:", "  imago: adult", "  spawnling: spawn", *(f"  word{n}: adult" for n in range(40))]
    (desk.folder / "sightings.yaml").write_text("\n".join(words), "utf-8")
    page = desk.look("/-desk/open?at=sightings.yaml:3")
    text = page.body.decode()
    assert page.status == 200
    assert f'<li class="meant" aria-current="true"><a href="/-desk/open?at=sightings.yaml:3">3</a><code>{words[2]}</code>' in text
    assert ">2</a>" in text and ">30</a>" not in text


@pytest.mark.parametrize(
    "at",
    [
        "",
        "::::",
        "../outside.txt:1",
        "outside.txt:1",
        "/etc/hostname:1",
        "plants.yaml:1",
        ".guidebuild/edit.lock:1",
        "sightings/away.csv:1",
        "sightings/../outside.txt:1",
        "sightings/../../pond/outside.txt:1",
        "sightings/x.html",
        "places.yaml:1",
        "guide.yaml\x00:1",
        "sightings:1",
    ],
)
def test_no_line_is_shown_of_what_is_no_file_of_the_guide(desk: Opened, at: str) -> None:
    away = desk.folder.parent / "away.csv"
    away.write_text("secret of the guide's folder")
    (desk.folder / "sightings").mkdir(exist_ok=True)
    links = (desk.folder / "sightings" / "away.csv", desk.folder / "places.yaml")
    for link in links:
        link.unlink(missing_ok=True)
        link.symlink_to(away)
    try:
        page = desk.look(f"/-desk/open?at={quote(at)}")
        assert page.status == 404
        assert b"secret of the guide" not in page.body
    finally:
        for link in links:
            link.unlink()


def test_what_is_shown_of_the_guide_is_told_as_json(desk: Opened) -> None:
    assert isinstance(json.loads(desk.look("/-preview/notes.json").body)["notes"], list)
