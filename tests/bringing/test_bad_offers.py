"""What is offered and cannot be used gets a line, and nothing of the guide is harmed."""

from __future__ import annotations

import errno
import os
import shutil
import socket
import subprocess
import sys
import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from guidebuild import changes
from guidebuild.bringing.doing import do_bringing
from guidebuild.bringing.planning import plan_bringing
from guidebuild.changes import CannotChangeError, undo_broken_change
from guidebuild.cli import exit_code
from guidebuild.press.photos import info
from guidebuild.session import read_for_draft
from tests.bringing.harbour import lay_out


@pytest.fixture
def harbour(tmp_path: Path) -> Path:
    lay_out(tmp_path)
    return tmp_path


def _why(harbour: Path, *given: Path) -> dict[str, str]:
    planned = plan_bringing(harbour / "guide", read_for_draft(harbour / "guide"), given)
    return {Path(unused.offered).name: unused.why for unused in planned.plan.unused}


def _picture(size: tuple[int, int] = (40, 30)) -> bytes:
    out = BytesIO()
    Image.new("RGB", size, (90, 120, 60)).save(out, "JPEG")
    return out.getvalue()


def test_what_is_no_picture_says_so(harbour: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = harbour / "bad"
    folder.mkdir()
    (folder / "web.jpg").write_text("<!doctype html><p>Sign in", encoding="utf-8")
    (folder / "empty.jpg").write_bytes(b"")
    (folder / "cut.jpg").write_bytes(_picture((400, 300))[:900])
    (folder / "note.docx").write_bytes(b"PK")
    (folder / "large.jpg").write_bytes(_picture() + bytes(200_000))
    monkeypatch.setattr(info, "LARGEST_BYTES", 100_000)
    bomb = Image.new("1", (20_000, 20_000))
    bomb.save(folder / "bomb.png")
    why = _why(harbour, folder)
    assert "web page" in why["web.jpg"]
    assert "empty" in why["empty.jpg"]
    assert "cut short" in why["cut.jpg"]
    assert "neither a picture" in why["note.docx"]
    assert "more than" in why["large.jpg"]
    assert "20000 × 20000 pixels" in why["bomb.png"]


def test_links_pipes_and_sockets_stay_outside(harbour: Path) -> None:
    folder = harbour / "odd"
    folder.mkdir()
    (folder / "link.jpg").symlink_to(harbour / "card/DCIM/knots.jpg")
    (folder / "above").symlink_to(harbour)
    os.mkfifo(folder / "pipe.jpg")
    with socket.socket(socket.AF_UNIX) as wire:
        here = Path.cwd()
        os.chdir(folder)
        try:
            wire.bind("wire.csv")
        finally:
            os.chdir(here)
        why = _why(harbour, folder)
    assert why == {
        "link.jpg": "is a link; give the file itself",
        "above": "is a link; give the file itself",
        "pipe.jpg": "is no file that can be read, but a pipe or device",
        "wire.csv": "is no file that can be read, but a pipe or device",
    }


def test_a_guide_whose_photos_are_a_link_elsewhere_gets_none(harbour: Path) -> None:
    elsewhere = harbour / "elsewhere"
    elsewhere.mkdir()
    (harbour / "guide/photos").symlink_to(elsewhere)
    plan = plan_bringing(harbour / "guide", read_for_draft(harbour / "guide"), [harbour / "card"]).plan
    with pytest.raises(CannotChangeError, match="outside of the guide"):
        do_bringing(harbour / "guide", plan)
    assert not list(elsewhere.iterdir())


@pytest.mark.parametrize("name", ["..%2f..%2fevil.jpg", "con.jpg", "  .jpg", "Ørsted's \u202eLoś.jpg", "-rf.jpg", "a" * 200 + ".jpg"])
def test_odd_names_become_plain_ones_in_photos(harbour: Path, name: str) -> None:
    (harbour / name).write_bytes(_picture())
    plan = plan_bringing(harbour / "guide", read_for_draft(harbour / "guide"), [harbour / name]).plan
    for file in plan.files:
        assert file.file.startswith("photos/")
        assert file.file.count("/") == 1
        assert len(file.file) < 100
        do_bringing(harbour / "guide", plan)
        assert len(read_for_draft(harbour / "guide").photos) == 1
    assert plan.files or plan.unused


def test_lists_that_are_none_say_what_they_lack(harbour: Path) -> None:
    for name, text in {
        "nameless.csv": "Family,Notes\nScolopacidae,red legs\n",
        "bare.csv": "Common name,Latin name\n",
        "dated.csv": "Seen there,Date,Place\nTringa totanus,3/5/2025,wall\n",
        "vernacular.csv": "Common name,Notes\nRedshank,red legs\n",
        "twice.csv": "Latin name,Notes\nTringa totanus,a\nTRINGA TOTANUS,b\nTringa totanus,c\nTringa sp.,d\nnot a name at all!,e\n",
    }.items():
        (harbour / name).write_text(text, encoding="utf-8")
        planned = plan_bringing(harbour / "guide", read_for_draft(harbour / "guide"), [harbour / name])
        why = "\n".join(map(str, planned.plan.unused))
        if name == "nameless.csv":
            assert "neither a column with names of species" in why
        elif name == "bare.csv":
            assert "no row below" in why
        elif name == "dated.csv":
            assert "has days and no column with names of species" in why
        elif name == "vernacular.csv":
            assert "row 2: “Redshank” has no scientific name Add a column" in why
        else:
            assert [file.file for file in planned.plan.files] == ["accounts/tringa-totanus.md"]
            assert why.count("stands in row 2 too") >= 1
            assert "“Tringa sp.” is no single species" in why
            assert len(planned.plan.unused) == 4


def test_values_with_signs_of_yaml_stay_what_they_are(harbour: Path) -> None:
    (harbour / "list.csv").write_text(
        "Latin name,Common name,Status,Family,Habitat\n"
        'Tringa totanus,"Redshank: ""the warden""",#1 of the marsh,- none yet,"mud; salt, marsh"\n'
        "Calidris alba,[Sanderling],yes,{x},none: \n",
        encoding="utf-8",
    )
    do_bringing(harbour / "guide", plan_bringing(harbour / "guide", read_for_draft(harbour / "guide"), [harbour / "list.csv"]).plan)
    accounts = {account.name.plain: account for account in read_for_draft(harbour / "guide").accounts.values()}
    redshank = accounts["Tringa totanus"]
    assert (redshank.vernacular, redshank.status.text, redshank.family) == ('Redshank: "the warden"', "#1 of the marsh", "- none yet")
    assert accounts["Calidris alba"].vernacular == "[Sanderling]"
    assert accounts["Calidris alba"].status.text == "yes"


def test_what_a_photo_entry_cannot_follow_is_refused_and_all_stands(harbour: Path) -> None:
    (harbour / "guide/photos.yaml").write_text("gull: {shows: a gull\n", encoding="utf-8")
    before = _bytes_of(harbour / "guide")
    assert exit_code(["bring", str(harbour / "card"), "--in", str(harbour / "guide")]) == 2
    assert _bytes_of(harbour / "guide") == before


def test_lines_are_put_behind_a_file_of_any_make(harbour: Path) -> None:
    file = harbour / "guide/photos.yaml"
    standing = "\ufeff# mine\r\ngull:\r\n  shows: a gull # really".encode()
    file.write_bytes(standing)
    do_bringing(harbour / "guide", plan_bringing(harbour / "guide", read_for_draft(harbour / "guide"), [harbour / "card"]).plan)
    now = file.read_bytes()
    assert now.startswith(standing + b"\r\n")
    assert b"\n" not in now.replace(b"\r\n", b"")
    assert len(read_for_draft(harbour / "guide").photos) == 15


def _bytes_of(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file() and path.suffix != ".lock"}


def test_a_full_disk_leaves_all_as_it_was(harbour: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    guide = harbour / "guide"
    before = _bytes_of(guide)
    plan = plan_bringing(guide, read_for_draft(guide), [harbour / "card", harbour / "friends.xlsx"]).plan
    whole, copied = shutil.copyfile, 0

    def copy(source: Path, target: Path) -> None:
        nonlocal copied
        copied += 1
        if copied > 9:
            target.write_bytes(b"half")
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(target))
        whole(source, target)

    monkeypatch.setattr(changes.shutil, "copyfile", copy)
    with pytest.raises(CannotChangeError, match=r"No space left on device\. All stands as before"):
        do_bringing(guide, plan)
    assert copied == 10
    assert _bytes_of(guide) == before


def test_a_file_that_came_meanwhile_is_neither_written_over_nor_taken_away(harbour: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    guide = harbour / "guide"
    plan = plan_bringing(guide, read_for_draft(guide), [harbour / "card", harbour / "friends.xlsx"]).plan
    before = _bytes_of(guide)
    theirs = guide / plan.files[5].file
    whole = changes._write_beside

    def write(folder: Path, made: changes.Changes) -> None:
        whole(folder, made)
        theirs.write_bytes(b"from another program")

    monkeypatch.setattr(changes, "_write_beside", write)
    with pytest.raises(CannotChangeError, match="All stands as before"):
        do_bringing(guide, plan)
    assert _bytes_of(guide) == before | {plan.files[5].file: b"from another program"}


_KILLED = """
import os, sys
from pathlib import Path
from guidebuild.bringing import doing, planning
from guidebuild import session
guide, given, after = Path(sys.argv[1]), [Path(name) for name in sys.argv[3:]], int(sys.argv[2])
plan = planning.plan_bringing(guide, session.read_for_draft(guide), given).plan
steps = 0
def count(event, args):
    global steps
    if event in ("open", "os.rename", "os.link", "os.remove", "os.mkdir") and "guide" in str(args):
        steps += 1
        if steps > after:
            os._exit(9)
sys.addaudithook(count)
doing.do_bringing(guide, plan)
os._exit(0)
"""


def test_a_killed_bringing_is_put_back_or_whole(harbour: Path) -> None:
    """Killed at many places, the next look at the guide finds it as it was; let be, it finds all of it."""
    before = _bytes_of(harbour / "guide")
    after, killed = 1, 0
    while True:
        guide = harbour / f"try{after}" / "guide"
        shutil.copytree(harbour / "guide", guide)
        given = [str(harbour / "card"), str(harbour / "friends.xlsx")]
        run = subprocess.run([sys.executable, "-c", _KILLED, str(guide), str(after), *given], check=False, capture_output=True, text=True)
        if run.returncode == 0:
            assert len(read_for_draft(guide).photos) == 14
            break
        assert run.returncode == 9, run.stderr
        killed += 1
        undo_broken_change(guide)
        assert {name: data for name, data in _bytes_of(guide).items() if not name.startswith(".guidebuild")} == before
        after += 17
    assert killed > 4


def test_an_archive_with_names_that_lead_out_is_only_copied(harbour: Path) -> None:
    packed = harbour / "evil.zip"
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("../../evil.csv", "scientificName,eventDate\nTringa totanus,2025-05-01\n")
    plan = plan_bringing(harbour / "guide", read_for_draft(harbour / "guide"), [packed]).plan
    assert {file.file for file in plan.files} <= {"sightings/evil.zip"}
    assert not (harbour.parent / "evil.csv").exists()


def test_a_picture_of_which_nothing_is_known_is_entered_too(harbour: Path) -> None:
    guide = harbour / "guide"
    text = (guide / "guide.yaml").read_text(encoding="utf-8")
    (guide / "guide.yaml").write_text(text.replace("photo credit: Saltgrave Shore Group\nphoto licence: CC-BY-4.0\n", ""), encoding="utf-8")
    (harbour / "IMG_7.jpg").write_bytes(_picture())
    do_bringing(guide, plan_bringing(guide, read_for_draft(guide), [harbour / "IMG_7.jpg"]).plan)
    assert [(photo.id, photo.file) for photo in read_for_draft(guide).photos.values()] == [("img-7", "photos/img-7.jpg")]
