"""What `make` refuses is told by `check` beforehand, at its line, wherever it can be known without laying out or decoding."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from guidebuild.guide.findings import At
from guidebuild.guide.guide import Settings
from guidebuild.press.engine.problem_codes import PROBLEM_CODES
from guidebuild.press.foreseen import find_refused
from guidebuild.press.media import cleaning
from guidebuild.press.photos import info
from guidebuild.session import open_session
from guidebuild.views.posts.codes import POST_CODES
from tests.press.media.recordings import telltale_film, telltale_wav

PHOTOS = "bug:\n  credit: X\n  licence: CC-BY-4.0\n  file: photos/bug.heic\n"
WALK = 'title: X\ndate: 2027-04-11\nstart: "11:00"\ncard: {card}\n'


def png(width: int = 8, height: int = 8) -> bytes:
    made = io.BytesIO()
    Image.new("RGB", (width, height)).save(made, "PNG")
    return made.getvalue()


def told(folder: Path, files: dict[str, str | bytes]) -> list[str]:
    (folder / "accounts").mkdir(exist_ok=True)
    for name, text in {"guide.yaml": "title: Invented\n", **files}.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(text if isinstance(text, bytes) else text.encode())
    known = {code.code for code in PROBLEM_CODES}
    return [f"{f} [{f.code}]" for f in open_session(folder).report.findings if f.code in known]


FORMATS = "Write one of a6, a7, id-1, index-3x5, index-4x6, large-print-card."
CASES: dict[str, tuple[dict[str, str | bytes], str]] = {
    "a print that is none": (
        {"guide.yaml": "title: X\nprints: [booklet, leaflet-a5]\n"},
        "guide.yaml:2:1: error: There is no print “leaflet-a5”. Write one of a6, a7, booklet, ",
    ),
    "a card that is none": (
        {"guide.yaml": "title: X\ncard: a5\n"},
        "guide.yaml:2:1: error: There is no format “a5”. Write one of ",
    ),
    "a card that is another print": (
        {"guide.yaml": "title: X\ncard: booklet\n"},
        f"guide.yaml:2:1: error: There is no card format “booklet”. {FORMATS} [unknown-format]",
    ),
    "a paper that is none": ({"guide.yaml": "title: X\n\npaper: a7\n"}, "guide.yaml:3:1: error: There is no paper “a7”. Write one of "),
    "a card of a walk": (
        {"walks/w.yaml": WALK.format(card="leaflet-a4")},
        f"walks/w.yaml:4:1: error: There is no card format “leaflet-a4”. {FORMATS} [unknown-format]",
    ),
    "a booklet on small paper": (
        {"guide.yaml": "title: X\npaper: a5\nprints: [booklet]\n"},
        "guide.yaml:3:1: error: Two pages of the ",
    ),
    "a profile that is not there": (
        {"guide.yaml": "title: X\nprints: [print shop]\nprint profile: shop.icc\n"},
        "guide.yaml:3:1: error: Print profile “shop.icc” is not a file of the guide. "
        "Put the print shop's .icc file into the guide's folder. [print-profile]",
    ),
    "a profile that is none": (
        {"guide.yaml": "title: X\nprints: [print shop]\nprint profile: shop.icc\n", "shop.icc": b"x" * 200},
        "guide.yaml:3:1: error: shop.icc is not an ICC profile. Ask the print shop for the .icc file of its press. [print-profile]",
    ),
    "a HEIC that cannot be decoded": (
        {"photos.yaml": PHOTOS, "photos/bug.heic": b"\0\0\0\x18ftypheic" + b"\0" * 40},
        "photos.yaml:1:1: error: photos/bug.heic: the photo is a HEIC file, and it cannot be decoded here. Open it in ",
    ),
    "a web page for a photo": (
        {"photos.yaml": PHOTOS.replace("heic", "jpg"), "photos/bug.jpg": "<!DOCTYPE html><title>x</title>"},
        "photos.yaml:1:1: error: photos/bug.jpg: the file is a web page, not a photo. Save the picture itself. [not-a-photo]",
    ),
    "an empty photo": (
        {"photos.yaml": PHOTOS.replace("heic", "jpg"), "photos/bug.jpg": b""},
        "photos.yaml:1:1: error: photos/bug.jpg: the photo is cut short: the file is empty. "
        "Copy it again from the camera or card. [cut-short]",
    ),
    "a theme's template": (
        {"theme/site/page.html": "<p>\n{% if x %}\n"},
        "theme/site/page.html:2: error: The template cannot be understood: Unexpected end of template.",
    ),
    "a theme's rules": (
        {"theme/cards/card.yaml": "type: wide\n"},
        "theme/cards/card.yaml: error: theme/cards/card.yaml cannot be understood (could not convert string to float",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_what_make_would_refuse_is_told_with_its_line(tmp_path: Path, name: str) -> None:
    files, words = CASES[name]
    found = told(tmp_path, files)
    assert [words in line for line in found] == [True], found


def test_a_picture_too_large_is_told_beforehand(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(info, "LARGEST_PIXELS_OTHERWISE", 2_000_000)
    assert told(tmp_path, {"photos.yaml": PHOTOS.replace("heic", "png"), "photos/bug.png": png(2000, 1001)}) == [
        "photos.yaml:1:1: error: photos/bug.png: the photo has 2000 × 1001 pixels, more than the 2 million that are read. "
        "Save a smaller copy. [too-large]"
    ]


def test_a_photo_that_cannot_be_opened_is_told_beforehand(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = Path.open

    def refuse(self: Path, *given: Any, **named: Any) -> Any:
        if self.suffix == ".png":
            raise PermissionError(13, "Permission denied", str(self))
        return opened(self, *given, **named)

    files: dict[str, str | bytes] = {"photos.yaml": PHOTOS.replace("heic", "png"), "photos/bug.png": png()}
    told(tmp_path, files)
    monkeypatch.setattr(Path, "open", refuse)
    found = [str(f) for f in open_session(tmp_path).report.findings if f.code == "not-readable"]
    assert found == ["photos.yaml:1:1: error: photos/bug.png cannot be opened: Permission denied. Check the file's permissions."]


def test_a_sound_guide_with_a_theme_is_silent(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        "guide.yaml": "title: X\nprints: [print shop, booklet, leaflet-a4]\n",
        "photos.yaml": PHOTOS.replace("heic", "png"),
        "photos/bug.png": png(),
        "theme/cards/card.yaml": "comfortable: 9\n",
        "walks/w.yaml": WALK.format(card="a7"),
    }
    assert told(tmp_path, files) == []


RECORDINGS = {
    "a.wav": (
        telltale_wav(),
        "a.wav says where it was made: “+51.5061-001.2012” in its broadcast chunk (bext). Export it without",
    ),
    "cut.wav": (telltale_wav()[:900], "cut.wav: the file is cut short: its sound ends before its length says. Copy it again from the rec"),
    "a.mp3": (b"", "a.mp3: the file is none that is read (WAV, FLAC, MP3, Ogg, M4A, MP4, WebM). Export it as one of these."),
}


def told_of_recordings(folder: Path, name: str) -> list[str]:
    return [f"{f} [{f.code}]" for f in find_refused(folder, Settings("X"), (), (), [(name, At("sounds.yaml", 1, 1))])]


@pytest.mark.parametrize("name", RECORDINGS)
def test_what_a_recording_tells_and_why_it_is_refused_is_told_beforehand(tmp_path: Path, name: str) -> None:
    content, words = RECORDINGS[name]
    (tmp_path / name).write_bytes(content)
    found = told_of_recordings(tmp_path, name)
    assert [words in line for line in found] == [True], found


def test_a_recording_that_is_missing_or_too_large_is_told_beforehand(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert told_of_recordings(tmp_path, "a.wav") == [
        "sounds.yaml:1:1: error: a.wav: there is no such file. Check the name, capitals included. [media-missing]"
    ]
    (tmp_path / "a.wav").write_bytes(telltale_wav())
    monkeypatch.setattr(cleaning, "LARGEST_BYTES", 1000)
    assert [line[-17:] for line in told_of_recordings(tmp_path, "a.wav")] == ["[media-too-large]"]


FILMS = "pond:\n  title: The pond\n  credit: X\n  licence: CC-BY-4.0\n  accounts: []\n  file: pond.mp4\n"


def test_what_a_film_tells_is_told_beforehand_and_looked_for_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []
    look = cleaning.read_remarks
    monkeypatch.setattr(cleaning, "read_remarks", lambda source, where: (read.append(where), look(source, where))[1])
    film = telltale_film("mp4", "aac", "mpeg4")
    words = "films.yaml:6:3: note: films/pond.mp4 says where it was made: “a place with its position (3GPP)” in its user data."
    files = {"films.yaml": FILMS, "films/pond.mp4": film}
    for _ in range(2):  # as checks follow edits under preview
        found = told(tmp_path, files)
        assert [line.startswith(words) for line in found] == [True], found
        files = {}
    assert read == ["films/pond.mp4"]
    assert [line[-15:] for line in told(tmp_path, {"films/pond.mp4": film[:900]})] == ["[media-damaged]"]


TOLD_BY_CHECK = {
    *("theme", "no-room", "unknown-format", "print-profile"),
    *("not-readable", "too-large", "cut-short", "heic", "not-a-photo"),
    *("media-missing", "media-damaged", "media-refused", "media-too-large", "media-position"),
    *("post-out-of-date", "short-bleed", "few-pixels", "near-trim"),
}
ONLY_WHERE_THE_HEAD_IS = {"damaged": "the rest shows when the picture is decoded"}
TOLD_BY_ANOTHER_RULE = {"missing": "photo-file-missing"}
ONLY_BY_MAKE = {
    "failed": "what nobody foresaw",
    "leak": "the last look at finished files; what can be known before is told by the rules on secret places",
    "name": "names of finished files",
    "store": "the disk",
    "stays": "what a run with errors left",
    "rows-left-out": "rows are read one by one only where they are published",
    **dict.fromkeys(
        ("online-missing", "online-other", "online-type", "online-absent", "online-moved", "online-more"),
        "what stands on the web; `guidebuild check --online` looks there",
    ),
    "theme-scripts": "nothing is wrong with them; whoever publishes says yes or no",
    "media-not-cleaned": "shows when it has been cleaned; no file is known that gives it",
    "no-typesetter": "shows when the library that sets type is loaded",
    "nothing-to-find": "asks which species are out on each walk, as `make` works out",
    "sound-not-drawn": "shows when a sound is decoded",
    "layout": "shows when pages are laid out",
    "crop": "shows when a picture is cut",
    "short-page": "shows when a document is laid out",
    "too-much-ink": "shows when a picture is turned into inks",
    "left-out": "shows when a card is laid out",
    "too-long": "shows when a card is laid out",
    "too-wide": "shows when a card is laid out",
    "no-booklet": "follows from cards that could not be laid out",
    "missing-sign": "shows when a page is laid out in its typefaces",
    "missing-font": "shows when a page asks for it",
    "missing-image": "shows when a page asks for it",
    "missing-stylesheet": "shows when a page asks for it",
    "missing-attachment": "shows when a page asks for it",
    "drafts-off-slot": "drafts of all scripts are only made to be published",
    "post-too-long": "posts are only written to be published",
    "photo-not-cut": "posts are only written to be published",
}


def test_of_every_trouble_it_is_said_whether_a_check_tells_it() -> None:
    said = [*TOLD_BY_CHECK, *ONLY_WHERE_THE_HEAD_IS, *TOLD_BY_ANOTHER_RULE, *ONLY_BY_MAKE]
    assert len(said) == len(set(said))
    assert {code.code for code in (*PROBLEM_CODES, *POST_CODES)} == set(said)
