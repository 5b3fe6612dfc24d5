"""`mend`: keys of an older guide get their names of today and not a byte more changes; shown first, asked, and taken back."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.cli.options import FINE, FOUND, UNREADABLE
from guidebuild.desk.editing.writer import Writer
from guidebuild.mending import plan_mending
from guidebuild.reading import moved_keys
from guidebuild.reading.file_shapes import LIST_FILES, shape_of_file
from guidebuild.reading.moved_keys import MOVED_KEYS, MovedKey
from guidebuild.reading.shaping import known_keys
from guidebuild.session import open_session

ACCOUNT = "---\nname: Bufo bufo\nvernacular: Common Toad\n{facts}---\n\n## In brief\n\nInvented. Host_Plants: none\n"


@pytest.fixture
def guide(tmp_path: Path) -> Path:
    folder = tmp_path / "guide"
    (folder / "accounts").mkdir(parents=True)
    (folder / "guide.yaml").write_text("title: Invented\ngroup: amphibian\n", "utf-8")
    return folder


def toad(guide: Path, facts: str, *, newline: str = "\n", mark: bytes = b"") -> Path:
    path = guide / "accounts" / "toad.md"
    path.write_bytes(mark + ACCOUNT.format(facts=facts).replace("\n", newline).encode())
    return path


def mend(guide: Path, *words: str) -> int:
    return exit_code(["mend", str(guide), *words])


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("Status: common\n", "status: common\n"),
        ("life_stages:   # a remark\n  adult: 'Warty.'\n", "life stages:   # a remark\n  adult: 'Warty.'\n"),
        ('"Life-Stages": {adult: Warty.}\n', '"life stages": {adult: Warty.}\n'),
        ("diagnostics:\n- {mark: warts, Stage: adult}\n", "diagnostics:\n- {mark: warts, stage: adult}\n"),
        ("similar:\n  - account: frog\n    TELL BY: [skin]\n", "similar:\n  - account: frog\n    tell by: [skin]\n"),
        ("Similar:\n  - account: frog\n    tell_by: [skin]\n", "similar:\n  - account: frog\n    tell by: [skin]\n"),
        ("reviewed:\n  By: Ann\n  on: 2026-05-02\n", "reviewed:\n  by: Ann\n  on: 2026-05-02\n"),
    ],
)
@pytest.mark.parametrize(("newline", "mark"), [("\n", b""), ("\r\n", b"\xef\xbb\xbf")])
def test_a_key_typed_otherwise_is_written_as_it_is_called(guide: Path, typed: str, written: str, newline: str, mark: bytes) -> None:
    path = toad(guide, typed, newline=newline, mark=mark)
    assert mend(guide, "--yes") == FINE
    assert path.read_bytes() == mark + ACCOUNT.format(facts=written).replace("\n", newline).encode()
    assert "unknown-key" not in {found.code for found in open_session(guide).report.findings}


@pytest.mark.parametrize(
    "typed",
    [
        "status: common\nStatus: rare\n",  # which of the two is meant is the author's to say
        "Status: common\nSTATUS: rare\n",
        "Sensitive: no\n",  # what the public learns is corrected by hand
        "statis: common\n",  # a misspelling may mean another key
        "life stages:\n  Adult: Warty.\n",  # the stage's word, no key
    ],
)
def test_what_is_not_surely_meant_stays(guide: Path, typed: str) -> None:
    path = toad(guide, typed)
    before = path.read_bytes()
    assert mend(guide, "--yes") == FINE
    assert path.read_bytes() == before


MOVED = (
    MovedKey("accounts", ("rarity",), "status", "0.2.0"),
    MovedKey("accounts", ("diagnostics", "told of"), "stage", "0.2.0"),
    MovedKey("photos.yaml", ("photographed",), "taken", "0.3.0"),
    MovedKey("guide.yaml", ("life stages", "*", "headed"), "title", "0.2.0"),
)
"""Invented moves: no key has moved in any version."""


@pytest.fixture
def moved(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(moved_keys, "MOVED_KEYS", MOVED)


@pytest.mark.usefixtures("moved")
def test_a_key_that_has_moved_is_told_with_its_name_and_mended_in_every_file(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    toad(guide, "rarity: common  # here\ndiagnostics:\n  - mark: warts\n    told of: adult\n")
    (guide / "photos.yaml").write_text("photographed:\n  photographed: 2026-05-02\n", "utf-8")
    (guide / "guide.yaml").write_text("title: Invented\nlife stages:\n  headed: {headed: Toads, stages: {egg: egg}}\n", "utf-8")
    told = [str(found) for found in open_session(guide).report.findings if found.code == "unknown-key"]
    wanted = "accounts/toad.md:4:1: error: There is no key 'rarity'. It is called 'status' since 0.2.0: guidebuild mend writes it so."
    assert wanted in told
    assert len(told) == 4

    assert mend(guide) == FOUND  # nobody can be asked here
    shown = capsys.readouterr().out
    assert "-rarity: common  # here\n+status: common  # here" in shown
    assert "4 keys in 3 files.\nNothing is written yet" in shown
    assert b"rarity" in (guide / "accounts" / "toad.md").read_bytes()

    assert mend(guide, "--yes") == FINE
    assert (guide / "photos.yaml").read_text("utf-8") == "photographed:\n  taken: 2026-05-02\n"  # the id stays
    assert "  headed: {title: Toads, stages" in (guide / "guide.yaml").read_text("utf-8")
    assert plan_mending(guide).files == ()

    assert mend(guide, "--undo") == FINE
    assert capsys.readouterr().out.endswith("Put back: accounts/toad.md and 2 more.\n")
    assert [one.keys for one in plan_mending(guide).files] == [2, 1, 1]


def test_the_author_is_asked_and_may_say_no(guide: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    path = toad(guide, "Status: common\n")
    before = path.read_bytes()
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.confirm", lambda words: False)
    assert mend(guide) == FOUND
    assert path.read_bytes() == before
    assert "Nothing is written.\n" in capsys.readouterr().out
    monkeypatch.setattr("click.confirm", lambda words: True)
    assert mend(guide) == FINE
    assert path.read_bytes() != before


def test_a_file_that_changes_meanwhile_is_not_written_over(guide: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = toad(guide, "Status: common\n")
    put = Writer.put_texts

    def edited(writer: Writer, wanted: list[tuple[str, bytes, bytes]]) -> None:
        toad(guide, "Status: rare\n")
        put(writer, wanted)

    monkeypatch.setattr(Writer, "put_texts", edited)
    assert mend(guide, "--yes") == UNREADABLE
    assert b"Status: rare" in path.read_bytes()


def test_of_what_cannot_be_read_nothing_is_claimed(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (guide / "places.yaml").write_text('pond: {Name: "Pond}\n', "utf-8")
    assert mend(guide) == FINE
    assert capsys.readouterr().out == "In every file that can be read, keys are called as they are today: there is nothing to mend.\n"


def test_a_file_that_cannot_be_read_is_left_and_the_others_are_mended(guide: Path) -> None:
    path = toad(guide, "Status: common\n")
    (guide / "places.yaml").write_text('pond: {Name: "Pond}\n', "utf-8")
    assert mend(guide, "--yes") == FINE
    assert b"\nstatus: common" in path.read_bytes()
    assert (guide / "places.yaml").read_text("utf-8") == 'pond: {Name: "Pond}\n'


def find_unsound(table: tuple[MovedKey, ...]) -> list[str]:
    """Moves that name a file of no guide, a key that is one still, or a new name that is none."""
    unsound = []
    for moved in table:
        example = moved.file if moved.file.endswith(".yaml") else f"{moved.file}/x.{'yaml' if moved.file == 'walks' else 'md'}"
        shape = shape_of_file(example)
        path = (("id",) if moved.file in LIST_FILES else ()) + moved.path[:-1]
        known = known_keys(shape, path) if shape else ()
        if moved.now not in known or moved.path[-1] in known:
            unsound.append(".".join(moved.path))
    return unsound


def test_every_move_of_the_table_leads_from_no_key_to_a_key() -> None:
    assert find_unsound(MOVED_KEYS) == []
    assert find_unsound(MOVED) == []
    wrong = (MovedKey("accounts", ("status",), "size", "0.2.0"), MovedKey("accounts", ("rarity",), "rareness", "0.2.0"))
    assert find_unsound((*wrong, MovedKey("nowhere.yaml", ("a",), "b", "1"))) == ["status", "rarity", "a"]
