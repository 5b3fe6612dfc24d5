"""Films as people enter them, with all that goes wrong: each slip is one clear line (invented films)."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.checks import films
from guidebuild.checks.registry import check_guide
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.films import Film, FilmChapter
from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.reading.whole import read_guide
from guidebuild.views.scripts.film_facts import find_outdated
from tests.guide_files import write_files

VTT = (
    "WEBVTT\n\n00:00:00.000 --> 00:00:04.000\nThis is a toad.\n\n"
    "00:00:04.000 --> 00:01:58.000\nIts name is <i>Bufo bufo</i>.\nIt lives by the water.\n"
)
ENTRY = {
    "title": "The toad",
    "address": "https://films.example/toad",
    "file": "films/toad.mp4",
    "day": "2026-06-12",
    "length": '"2:00"',
    "kind": "short",
    "accounts": "[toad]",
    "script": "toad-short",
    "captions": "toad.vtt",
    "chapters": '["0:00 Opening", "0:40 By the water"]',
    "still": "toad-adult",
    "credit": "A. Maker",
    "licence": "CC-BY-4.0",
    "note": "A toad at *Mill Pond*.",
}
FILES = {
    "guide.yaml": "title: Toads\nepisodes: [{name: short, length: 60–150 s}]\n",
    "accounts/toad.md": "---\nname: Bufo bufo\nvernacular: Toad\nphotos: [toad-adult]\n---\n## In brief\nA toad.\n",
    "photos.yaml": "toad-adult: {account: toad, credit: A. Maker, licence: CC-BY-4.0, alt: A brown toad}\n",
    "photos/toad-adult.jpg": "",
    "films/toad.mp4": "",
    "films/toad.vtt": VTT,
}


def entry(**changes: str) -> str:
    said = {key: value for key, value in (ENTRY | changes).items() if value}
    return "toad-film:\n" + "".join(f"  {key}: {value}\n" for key, value in said.items())


def read(folder: Path, files: dict[str, str], **changes: str) -> tuple[Guide, list[Finding]]:
    own = {file: text for file, text in FILES.items() if file != "films/toad.mp4" or "file" not in changes}
    whole = own | {"films.yaml": entry(**changes)} | files
    reading = read_guide(write_files(folder, whole), as_of=dt.date(2026, 11, 28))
    assert reading.guide is not None
    kept = [finding for finding in reading.findings if finding.at.file.startswith("films")]
    report = check_guide(reading.guide, kept, films.RULES)
    return reading.guide, list(report.findings)


def test_a_film_is_read_whole_and_in_silence(tmp_path: Path) -> None:
    guide, found = read(tmp_path, {})
    assert found == []
    film = guide.films["toad-film"]
    assert (film.length, film.day, film.accounts) == (120.0, dt.date(2026, 6, 12), ("toad",))
    assert (film.file, film.captions) == ("films/toad.mp4", "films/toad.vtt")
    assert [(chapter.start, chapter.title) for chapter in film.chapters] == [(0.0, "Opening"), (40.0, "By the water")]
    assert film.cues[1].text == "Its name is Bufo bufo.\nIt lives by the water."
    assert film.cues[1].names == ("Bufo bufo",)
    assert str(film.cues[1].at) == "films/toad.vtt:7"


BAD = {
    "an address that is none": ("unreadable-value", {"address": "films/toad"}, {}, "films.yaml:3:12: 'films/toad' is not a web address."),
    "an address with a script in it": (
        "unreadable-value",
        {"address": "'javascript:alert(1)'"},
        {},
        "'javascript:alert(1)' is not a web address.",
    ),
    "captions that are none": ("captions-none-read", {}, {"films/toad.vtt": "Hello\nthere\n"}, "films/toad.vtt: The file has no cues."),
    "captions that are not there": (
        "film-file-missing",
        {"captions": "films/tod.vtt"},
        {},
        "The captions file of the film “toad-film”, films/tod.vtt, is not there. Did you mean films/toad.vtt?",
    ),
    "captions in another kind of file": (
        "film-file-kind",
        {"captions": "toad.docx"},
        {},
        "'toad.docx' cannot be the captions file of the film “toad-film”.",
    ),
    "a file that is not there": (
        "film-file-missing",
        {"file": "films/frog.webm"},
        {},
        "The file of the film “toad-film”, films/frog.webm, is not there.",
    ),
    "a file that no browser plays": (
        "film-file-kind",
        {"file": "films/toad.avi"},
        {},
        "'films/toad.avi' cannot be the file of the film “toad-film”.",
    ),
    "nothing but a file that no browser plays": (
        "film-file-kind",
        {"address": "", "file": "films/toad.avi"},
        {},
        "'films/toad.avi' cannot be the file of the film “toad-film”. Give a file that ends in .mp4 or .webm.",
    ),
    "nothing but a file that is not there": (
        "film-file-missing",
        {"address": "", "file": "frog.mp4"},
        {},
        "The file of the film “toad-film”, films/frog.mp4, is not there. Put the file there, or take `file:` out.",
    ),
    "nothing behind its file": (
        "film-nowhere",
        {"address": "", "file": "''"},
        {},
        "The film “toad-film” has neither an address nor a file.",
    ),
    "a kind that there is not": (
        "unknown-film-kind",
        {"kind": "shrot"},
        {},
        "There is no kind of episode “shrot”. Did you mean “short”?",
    ),
    "a kind like no other": (
        "unknown-film-kind",
        {"kind": "trailer"},
        {},
        "There is no kind of episode “trailer”. Write one of: short; or take `kind:` out.",
    ),
    "a file out of the guide": ("outside-guide", {"file": "../toad.mp4"}, {}, "The file '../toad.mp4' is not in the guide's folder."),
    "neither address nor file": (
        "film-nowhere",
        {"address": "", "file": ""},
        {},
        "The film “toad-film” has neither an address nor a file.",
    ),
    "a script that there is not": (
        "unknown-script",
        {"script": "toad-shrot"},
        {},
        "There is no script “toad-shrot”. Did you mean “toad-short”?",
    ),
    "a day that there is not": ("unreadable-value", {"day": "2026-02-30"}, {}, "There is no day '2026-02-30'."),
    "a day to come": (
        "film-to-come",
        {"day": "2027-01-01"},
        {},
        "The film “toad-film” is to come out on 2027-01-01, and is shown already.",
    ),
    "a length in words": ("unreadable-value", {"length": "two minutes"}, {}, "'two minutes' is not a length of time."),
    "captions that outlast it": (
        "film-length",
        {"length": "90 s"},
        {},
        "The film “toad-film” lasts 1:30, and its captions in films/toad.vtt end at 1:58.",
    ),
    "a length of another kind": (
        "film-length",
        {"length": '"5:00"'},
        {},
        "The film “toad-film” lasts 5:00; an episode of the kind “short” lasts 1:00–2:30.",
    ),
    "a chapter behind the end": (
        "film-length",
        {"chapters": '["0:00 Opening", "2:10 After"]'},
        {},
        "A chapter of the film “toad-film” begins at 2:10, and the film ends at 2:00.",
    ),
    "chapters out of order": (
        "film-chapter-order",
        {"chapters": '["0:40 By the water", "0:00 Opening"]'},
        {},
        "The chapter “Opening” of the film “toad-film” does not begin after the one before it.",
    ),
    "a chapter without a time": (
        "unreadable-value",
        {"chapters": "[Opening]"},
        {},
        "'Opening' is not a chapter. Write when it begins and its title",
    ),
    "no licence": ("film-not-credited", {"licence": ""}, {}, "The film “toad-film” has no licence, so its file is not published."),
    "a film that is not entered": (
        "film-not-entered",
        {},
        {"films/newt.mp4": ""},
        "films/newt.mp4 stands in the folder but not in films.yaml.",
    ),
    "an unknown key": ("unknown-key", {"adress": "https://films.example/toad"}, {}, "adress"),
}


@pytest.mark.parametrize("case", BAD)
def test_each_slip_is_one_clear_line(tmp_path: Path, case: str) -> None:
    code, changes, files, words = BAD[case]
    _, found = read(tmp_path, files, **changes)
    lines = [f"{finding.at}: {finding.message} {finding.mend}" for finding in found]
    assert len(lines) == 1, lines
    assert words in lines[0]
    assert found[0].code == code


def test_a_guide_that_names_no_kinds_of_episode_has_the_usual_ones(tmp_path: Path) -> None:
    usual = {"guide.yaml": "title: Toads\n"}
    _, found = read(tmp_path, usual, kind="full", script="toad-full", length='"4:30"', captions="")
    assert found == []
    _, found = read(tmp_path / "other", usual, kind="trailer", script="toad-trailer")
    assert {finding.code for finding in found} == {"unknown-script", "unknown-film-kind"}


def test_a_kind_may_be_that_of_an_own_episode(tmp_path: Path) -> None:
    own = {"episodes/toads.md": "---\ntitle: Toads\nkind: trailer\naccount: toad\n---\n## Opening\nA toad.\n"}
    _, found = read(tmp_path, own, kind="trailer")
    assert found == []


def test_what_a_film_names_is_looked_for(tmp_path: Path) -> None:
    named = {"accounts": "[toad, newt]", "still": "newt-adult", "licence": "CC-0.5"}
    write_files(tmp_path, FILES | {"films.yaml": entry(**named)})
    guide = read_guide(tmp_path).guide
    assert guide is not None
    told = {finding.message for finding in check_guide(guide).findings if finding.at.file == "films.yaml"}
    assert told == {
        "There is no account “newt”.",
        "There is no photo “newt-adult” in photos.yaml.",
        "“CC-0.5” is not a licence this tool knows.",
    }


SECRET = {
    "places.yaml": "weir: {name: Otter Weir, position: '51.1034, -1.3121', sensitive: high}\n"
    "lane: {name: Coldharbour Lane, position: '51.2034, -1.4121', sensitive: no}\n"
}
TELLING = {
    "its title": {"title": "The toads of Otter Weir"},
    "its address": {"address": "https://films.example/otter-weir"},
    "its file": {"file": "otter-weir.mp4"},
    "a chapter": {"chapters": '["0:00 Opening", "0:40 At Otter Weir"]'},
    "its note": {"note": "Filmed at Otter Weir."},
    "its credit": {"credit": "Friends of Otter Weir"},
}


@pytest.mark.parametrize("what", TELLING)
def test_a_film_that_tells_a_secret_place_is_not_shown(tmp_path: Path, what: str) -> None:
    files = SECRET | {"films/otter-weir.mp4": ""}
    guide, found = read(tmp_path, files, **TELLING[what])
    assert "film-tells-secret" in {finding.code for finding in found}
    assert "The film “toad-film” tells of “Otter Weir”, so it is not shown." in [finding.message for finding in found]
    assert make_published(guide).films == {}


def test_a_name_that_runs_over_two_captions_is_heard(tmp_path: Path) -> None:
    spoken = VTT.replace("This is a toad.", "Here we stand by Otter").replace("Its name", "Weir, and its name")
    guide, _ = read(tmp_path, SECRET | {"films/toad.vtt": spoken})
    assert make_published(guide).films == {}


def test_a_film_of_a_species_that_is_kept_secret_names_no_place(tmp_path: Path) -> None:
    hidden = FILES["accounts/toad.md"].replace(
        "vernacular: Toad\n", "vernacular: Toad\nsensitive: {category: high, reason: taken}\nplaces: [lane]\n"
    )
    guide, found = read(tmp_path, SECRET | {"accounts/toad.md": hidden}, note="Filmed by Coldharbour Lane.")
    assert [finding.message for finding in found] == ["The film “toad-film” tells of “Coldharbour Lane”, so it is not shown."]
    assert make_published(guide).films == {}
    assert make_published(replace(guide, accounts={}, unpublished=tuple(guide.accounts.values()))).films == {}
    open_guide, _ = read(tmp_path / "open", SECRET, note="Filmed by Coldharbour Lane.")
    assert set(make_published(open_guide).films) == {"toad-film"}


def test_a_film_of_a_species_that_cannot_be_read_is_not_shown(tmp_path: Path) -> None:
    guide, _ = read(tmp_path, {"accounts/toad.md": "---\nname: [Bufo\n---\n"})
    assert guide.unread == {"toad"}
    assert make_published(guide).films == {}
    known, _ = read(tmp_path / "known", {})
    left_out = replace(known, accounts={}, unread=frozenset({"toad"}), unpublished=tuple(known.accounts.values()))
    assert set(make_published(left_out).films) == {"toad-film"}


def test_what_a_film_was_noted_to_say_is_held_against_secrets(tmp_path: Path) -> None:
    said = "noted: 2026-06-12\nsays:\n- {account: toad, fact: habitat, words: Otter Weir, at: '0:12'}\n"
    files = {"films/toad-film.said.yaml": said}
    guide, found = read(tmp_path, SECRET | files)
    assert [finding.message for finding in found] == ["The film “toad-film” tells of “Otter Weir”, so it is not shown."]
    shown = make_published(guide)
    assert shown.films == {}
    assert list(find_outdated(shown, guide.films.values())) == []  # its author is not told to post that name
    open_guide, _ = read(tmp_path / "open", files)
    assert set(make_published(open_guide).films) == {"toad-film"}


def test_a_file_without_licence_stays_here_and_its_address_is_told(tmp_path: Path) -> None:
    guide, _ = read(tmp_path, {}, licence="")
    film = make_published(guide).films["toad-film"]
    assert (film.file, film.address) == ("", "https://films.example/toad")
    alone, _ = read(tmp_path / "alone", {}, licence="", address="")
    assert make_published(alone).films == {}


def test_films_stand_in_the_order_of_the_file(tmp_path: Path) -> None:
    older = "\nfirst:\n  title: First\n  address: https://films.example/1\n  day: 2025-01-01\n  accounts: toad\n"
    guide, _ = read(tmp_path, {"films.yaml": entry() + older})
    published = make_published(guide)
    assert list(published.films) == ["toad-film", "first"]
    assert isinstance(published.films["first"], Film)
    assert published.films["toad-film"].chapters[0] == FilmChapter(0.0, "Opening", guide.films["toad-film"].chapters[0].at)
