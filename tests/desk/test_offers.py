"""Files dropped on the desk: pictures that are none, names that lead elsewhere, far too much of it; and what becomes of the good ones."""

from __future__ import annotations

import errno
import io
import struct
import zlib
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
from PIL import Image

from guidebuild.bringing.offered import OfferedKind
from guidebuild.cli import exit_code
from guidebuild.desk import offers
from tests.desk.opened import Answer, Opened, open_desk


def picture(kind: str = "JPEG", size: tuple[int, int] = (64, 48)) -> bytes:
    drawn = io.BytesIO()
    Image.new("RGB", size, "#6b4a2f").save(drawn, kind)
    return drawn.getvalue()


def bomb() -> bytes:
    """A small PNG that says it is 60,000 pixels wide and high (PNG, third edition, sections 5.3 and 11.2.1)."""
    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 100_000)), (b"IEND", b""))
    made = b"\x89PNG\r\n\x1a\n"
    for name, data in chunks:
        made += struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
    return made


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Opened]:
    folder = tmp_path / "pond"
    assert exit_code(["start", str(folder)]) == 0
    left = folder / ".guidebuild" / "offered" / "left.jpg"
    left.parent.mkdir(parents=True)
    left.write_bytes(picture())
    with open_desk(folder) as opened:
        assert not left.exists(), "what an ended desk left is gone"
        yield opened


def offer(desk: Opened, name: str, data: bytes, **more: str) -> Answer:
    own = {**desk.own(), "Content_Type": "application/octet-stream", **more}
    return desk.ask(f"/-desk/offer?name={quote(name, safe='')}", "POST", data, **own)


def lying(desk: Opened) -> set[str]:
    aside = desk.folder / ".guidebuild" / "offered"
    return {path.relative_to(aside).as_posix() for path in aside.rglob("*") if path.is_file()}


def test_a_picture_is_told_of_first_and_then_brought(desk: Opened) -> None:
    assert offer(desk, "common frog/IMG 1.jpg", picture()).told == {"name": "common frog/IMG 1.jpg"}
    assert not (desk.folder / "photos").exists()
    plan = desk.change("/-desk/plan", {}).told
    (file,) = plan["files"]
    assert file["file"].startswith("photos/common-frog")
    assert not (desk.folder / "photos").exists()
    done = desk.change("/-desk/bring", {}).told
    assert done == plan
    assert (desk.folder / file["file"]).read_bytes() == picture()
    assert lying(desk) == set()
    assert desk.change("/-desk/plan", {}).told["files"] == []


def test_a_list_and_pictures_of_its_species_come_together(desk: Opened) -> None:
    rows = "Name,Scientific name\nSmooth Newt,Lissotriton vulgaris\n"
    assert offer(desk, "Lissotriton vulgaris 2.png", picture("PNG")).status == 200
    assert offer(desk, "my list.csv", rows.encode()).status == 200
    names = {one["file"] for one in desk.change("/-desk/bring", {}).told["files"]}
    assert any(name.startswith("accounts/") for name in names) and any(name.startswith("photos/") for name in names)


def test_what_is_left_comes_to_nothing(desk: Opened) -> None:
    assert offer(desk, "frog.jpg", picture()).status == 200
    assert desk.change("/-desk/clear", {}).status == 200
    assert lying(desk) == set()
    assert desk.change("/-desk/bring", {}).told["files"] == []


@pytest.mark.parametrize(
    "name",
    [
        "../x.jpg",
        "..",
        "a/../x.jpg",
        "/etc/x.jpg",
        "a//x.jpg",
        "..\\x.jpg",
        "c:x.jpg",
        ".x.jpg",
        "a/.git/x.jpg",
        "x.jpg\0.png",
        "x\n.jpg",
        "",
        "a" * 151 + ".jpg",
        "a/b/c/d/x.jpg",
        "x.jpg.",
        "~$x.csv",
    ],
)
def test_a_name_that_is_none_is_refused(desk: Opened, name: str) -> None:
    before = {path for path in desk.folder.parent.rglob("*") if ".guidebuild" not in path.parts}
    answer = offer(desk, name, picture())
    assert answer.status in (400, 415)
    assert answer.told["message"]
    assert lying(desk) == set()
    assert {path for path in desk.folder.parent.rglob("*") if ".guidebuild" not in path.parts} == before


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("none.jpg", b"GIF89a is not what this is"),
        ("page.png", b"<!DOCTYPE html><script>alert(1)</script>"),
        ("drawing.jpg", b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"),
        ("cut.jpg", picture(size=(640, 480))[:2000]),
        ("bomb.png", bomb()),
        ("empty.jpg", b""),
    ],
)
def test_a_picture_that_is_none_is_not_kept(desk: Opened, name: str, data: bytes) -> None:
    answer = offer(desk, name, data)
    assert answer.status == 422
    assert answer.told["message"].startswith(name)
    assert lying(desk) == set()


@pytest.mark.parametrize("name", ["run.exe", "page.html", "script.js", "theme.css", "accounts.md", "guide.yaml", "x", "picture.svg"])
def test_other_kinds_are_not_taken(desk: Opened, name: str) -> None:
    assert offer(desk, name, b"x").status == 415
    assert lying(desk) == set()


def test_a_file_that_is_too_large_is_cut_off_and_nothing_of_it_stays(desk: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    assert max(offers.MOST_BYTES.values()) < 300_000_000
    monkeypatch.setitem(offers.MOST_BYTES, OfferedKind.PICTURE, 100_000)
    pieces = b"".join(b"%x\r\n%s\r\n" % (50_000, b"\xff" * 50_000) for _ in range(40)) + b"0\r\n\r\n"
    answer = offer(desk, "large.jpg", pieces, Transfer_Encoding="chunked")
    assert answer.status == 413
    assert lying(desk) == set()


def test_only_so_many_files_lie_aside(desk: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(offers, "MOST_FILES", 2)
    assert [offer(desk, f"{number}.jpg", picture()).status for number in range(3)] == [200, 200, 413]


def test_a_full_disk_is_told_and_leaves_nothing(desk: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(offers.Taking, "write", fail)
    answer = offer(desk, "frog.jpg", picture())
    assert (answer.status, answer.told["message"]) == (507, "The file cannot be kept: No space left on device.")
    assert lying(desk) == set()


@pytest.mark.parametrize("name", ["Cookie", "Origin", "X_Form_Token", "Content_Type"])
def test_a_page_from_elsewhere_can_offer_nothing(desk: Opened, name: str) -> None:
    own = {**desk.own(), "Content_Type": "application/octet-stream"}
    del own[name]
    assert desk.ask("/-desk/offer?name=x.jpg", "POST", picture(), **own).status in (403, 415)
    own = {**desk.own(), "Content_Type": "multipart/form-data; boundary=x"}
    assert desk.ask("/-desk/offer?name=x.jpg", "POST", picture(), **own).status == 415
    assert lying(desk) == set()
