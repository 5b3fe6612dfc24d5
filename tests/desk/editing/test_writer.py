"""Writing: whole or not at all, never over what others wrote, and back again."""

from __future__ import annotations

import errno
import os
import random
import shutil
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Any

import pytest

from guidebuild import former_texts
from guidebuild.desk.editing import writer as writing
from guidebuild.desk.editing.wanted import AddItem, RefusedError, SetValue
from guidebuild.desk.editing.writer import CannotKeepError, ConflictError, Writer
from guidebuild.guide.guide import Guide
from guidebuild.press.engine import durable
from guidebuild.reading.whole import read_guide
from tests.guide_files import write_files
from tests.press.engine.forgetful_disk import ForgetfulDisk

FILE = "accounts/sanderling.md"
TEXT = "---\nname: Calidris alba\nstatus: common  # a remark\nsize: 20–21 cm\nseasons:\n  adult: August – May\n---\n## In brief\n\nRuns.\n"
FILES = {"guide.yaml": "title: Waders\nhemisphere: north\ngroup: bird\n", FILE: TEXT, "plants.yaml": "lyme:\n  vernacular: Lyme-grass\n"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_files(tmp_path / "waders", FILES)


@pytest.fixture
def guide(folder: Path) -> Guide | None:
    return read_guide(folder).guide


def set_status(folder: Path, guide: Guide | None, status: str) -> None:
    one = Writer(folder)
    one.change(FILE, one.read(FILE).digest, [SetValue(("status",), status)], guide)


def status_of(folder: Path) -> Any:
    return Writer(folder).read(FILE).values.get("status")


@pytest.mark.parametrize(
    ("path", "value", "told"),
    [
        (("size",), "big", "There is no measurement in 'big'. Write a range with its unit"),
        (("seasons", "adult"), "Juneish", "“Juneish” is not a word for a time of year. Did you mean “June”?"),
        (("sensitive",), "maybe", "Write no, low, medium, high or extreme."),
        (("statsu",), "rare", "Did you mean 'status'?"),
        (("name",), None, "The key 'name' is missing. Add the key."),
        (("reviewed",), {"by": "A", "on": "yesterday"}, "Write the date as year-month-day, such as 2026-05-02."),
        (("reviewed",), {"on": "2026-05-02"}, "The key 'by' is missing in 'reviewed'."),
        (("status",), ["a"], "For 'status' one text is wanted, not a list."),
        (("status", "x"), "a", "“common” stands where “x” should be a key."),
        (("seasons", "adult", 4), "June", "There is no item 5 in this list."),
        (("status",), "a\u202eb", "invisible sign that turns the reading direction"),
    ],
)
def test_what_the_reader_does_not_take_is_refused_in_its_words(
    folder: Path, guide: Guide | None, path: tuple[str | int, ...], value: Any, told: str
) -> None:
    one = Writer(folder)
    with pytest.raises(RefusedError) as refused:
        one.change(FILE, one.read(FILE).digest, [SetValue(("say",), "fine"), SetValue(path, value)], guide)
    assert told in str(refused.value)
    assert (folder / FILE).read_text("utf-8") == TEXT  # the first of the two neither
    assert one.list_undoable() == ()


def test_a_fault_that_stands_does_not_forbid_to_mend_another(folder: Path, guide: Guide | None) -> None:
    (folder / FILE).write_text(TEXT.replace("20–21 cm", "big").replace("common", "tall: very"), "utf-8")
    set_status(folder, guide, "rare")
    assert "size: big\n" in (folder / FILE).read_text("utf-8")
    assert status_of(folder) == "rare"


def test_a_new_record_is_named_as_ids_are(folder: Path, guide: Guide | None) -> None:
    one = Writer(folder)
    digest = one.read("plants.yaml").digest
    with pytest.raises(RefusedError, match=r"The id 'Sea Holly' has other signs than a–z, 0–9 and hyphens\. Rename it to sea-holly\."):
        one.change("plants.yaml", digest, [SetValue(("Sea Holly",), {"vernacular": "Sea Holly"})], guide)
    one.change("plants.yaml", digest, [SetValue(("sea-holly",), {"vernacular": "Sea Holly", "hazards": ["spines-and-thorns"]})], guide)
    added = "sea-holly:\n  vernacular: Sea Holly\n  hazards: [spines-and-thorns]\n"
    assert (folder / "plants.yaml").read_text("utf-8") == FILES["plants.yaml"] + added


def test_what_others_wrote_meanwhile_is_never_overwritten(folder: Path, guide: Guide | None) -> None:
    one = Writer(folder)
    seen = one.read(FILE).digest
    (folder / FILE).write_text(TEXT.replace("common", "scarce"), "utf-8")
    with pytest.raises(ConflictError) as conflict:
        one.change(FILE, seen, [SetValue(("status",), "rare")], guide)
    assert (conflict.value.theirs, conflict.value.yours) == ("scarce", "rare")
    assert "status: scarce  # a remark" in (folder / FILE).read_text("utf-8")
    one.change(FILE, conflict.value.digest, [SetValue(("status",), "rare")], guide)  # the author has chosen
    assert status_of(folder) == "rare"


def test_undo_goes_back_one_by_one_and_not_over_what_others_wrote(folder: Path, guide: Guide | None) -> None:
    for status in ("rare", "scarce"):
        set_status(folder, guide, status)
    one = Writer(folder)
    assert one.undo() is not None
    assert status_of(folder) == "rare"
    (folder / FILE).write_text(TEXT.replace("common", "local"), "utf-8")
    with pytest.raises(ConflictError):
        one.undo()
    assert status_of(folder) == "local"
    (folder / FILE).write_text(TEXT.replace("common", "rare"), "utf-8")
    assert one.undo() is not None
    assert (folder / FILE).read_text("utf-8") == TEXT
    assert one.undo() is None


def test_a_file_that_was_new_goes_when_it_is_undone(folder: Path, guide: Guide | None) -> None:
    one = Writer(folder)
    written = one.change("sources.yaml", "", [SetValue(("notes",), {"cite": "Notes"})], guide)
    assert (folder / "sources.yaml").read_text("utf-8") == "notes:\n  cite: Notes\n"
    with pytest.raises(ConflictError):
        one.change("sources.yaml", "", [SetValue(("more",), {"cite": "More"})], guide)
    assert one.read("sources.yaml").digest == written.digest
    undone = one.undo()
    assert undone is not None
    assert (undone.digest, (folder / "sources.yaml").exists()) == ("", False)


def test_the_last_fifty_are_kept(folder: Path, guide: Guide | None) -> None:
    for number in range(54):
        set_status(folder, guide, f"seen {number}")
    one = Writer(folder)
    assert len(one.list_undoable()) == former_texts.MOST_KEPT == 50
    while one.undo():
        pass
    assert status_of(folder) == "seen 3"


@pytest.mark.parametrize(
    "file",
    [
        "../x.md",
        "accounts/../../x.md",
        "/etc/passwd",
        "accounts/a/b.md",
        "photos/a.jpg",
        "published/a.md",
        "accounts/a.txt",
        ".guidebuild/x",
        "a\\b.md",
    ],
)
def test_only_files_of_the_guide_are_written(folder: Path, guide: Guide | None, file: str) -> None:
    with pytest.raises(RefusedError, match="is no file of this guide that the desk can change"):
        Writer(folder).change(file, "", [SetValue(("name",), "Bufo bufo")], guide)


def test_no_link_out_of_the_guide_is_followed(folder: Path, guide: Guide | None, tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text("lyme:\n  vernacular: L\n")
    (folder / "plants.yaml").unlink()
    (folder / "plants.yaml").symlink_to(tmp_path / "mine.yaml")
    with pytest.raises(RefusedError):
        Writer(folder).read("plants.yaml")
    (folder / ".guidebuild").symlink_to(tmp_path)
    with pytest.raises(CannotKeepError, match="leads out of the guide"):
        set_status(folder, guide, "rare")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["mine.yaml", "waders"]


def test_who_may_read_a_file_stays_so(folder: Path, guide: Guide | None) -> None:
    (folder / FILE).chmod(0o640)
    set_status(folder, guide, "rare")
    assert (folder / FILE).stat().st_mode & 0o777 == 0o640


@pytest.mark.parametrize("step", range(6))
def test_a_full_disk_is_one_line_and_nothing_is_lost(folder: Path, guide: Guide | None, step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    set_status(folder, guide, "scarce")
    before = (folder / FILE).read_bytes()
    calls = 0

    def refuse(handle: int) -> None:
        nonlocal calls
        calls += 1
        if calls > step:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(durable.os, "fsync", refuse)
    try:
        set_status(folder, guide, "rare")
    except CannotKeepError as error:
        assert "No space left on device. All stands as before." in str(error)
        assert step < 3
        assert (folder / FILE).read_bytes() == before
    else:
        assert step >= 3  # the last call only asks whether the new name is on the disk
    monkeypatch.undo()
    assert (folder / FILE).read_bytes() in (before, before.replace(b"scarce", b"rare"))
    assert [path.name for path in (folder / "accounts").iterdir()] == ["sanderling.md"]
    one = Writer(folder)
    assert one.undo() is not None
    assert status_of(folder) in ("scarce", "common")


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="notes what Linux does")
@pytest.mark.parametrize("whole", [True, False])
def test_after_a_power_cut_the_file_is_the_former_or_the_new_one(folder: Path, guide: Guide | None, tmp_path: Path, *, whole: bool) -> None:
    (folder / ".guidebuild" / "edited").mkdir(parents=True)
    start = tmp_path / "start"
    shutil.copytree(folder, start)
    disk = ForgetfulDisk(folder)
    with pytest.MonkeyPatch.context() as patch:
        disk.watch(patch, exchange=True, whole=whole)
        set_status(folder, guide, "rare")
    draw, seen = random.Random(20261128), set()
    for number in range(200):
        at = tmp_path / f"after-{number}"
        disk.after_a_cut(start, at, 1 + number % len(disk.steps), draw)
        stands = (at / FILE).read_text("utf-8")
        assert stands in (TEXT, TEXT.replace("common", "rare")), disk.steps
        seen.add(stands == TEXT)
        undone = Writer(at).undo()
        assert (undone is not None) == (stands != TEXT), (number, disk.steps)
        assert (at / FILE).read_text("utf-8") == TEXT
    assert seen == {False, True}


KILLED = """
import sys, itertools
from pathlib import Path
from guidebuild.desk.editing.wanted import SetValue
from guidebuild.desk.editing.writer import Writer
one, FILE = Writer(Path(sys.argv[1])), "accounts/sanderling.md"
print("ready", flush=True)
for number in itertools.count():
    one.change(FILE, one.read(FILE).digest, [SetValue(("status",), "seen " + "x" * (number % 50000))], None)
"""


def test_a_killed_desk_loses_nothing(folder: Path, guide: Guide | None) -> None:
    draw = 0
    for number in range(int(os.environ.get("GUIDEBUILD_KILLS", "6"))):
        process = subprocess.Popen([sys.executable, "-c", KILLED, str(folder)], stdout=subprocess.PIPE)
        assert process.stdout is not None
        assert process.stdout.readline() == b"ready\n"
        time.sleep(0.05 + (number * 37 % 100) / 300)
        process.kill()
        process.wait()
        process.stdout.close()
        text = (folder / FILE).read_text("utf-8")
        head, _, rest = text.partition("status: ")
        assert head == TEXT.partition("status: ")[0]
        assert rest.partition("  # a remark")[2] == TEXT.partition("  # a remark")[2]
        one = Writer(folder)
        one.change(FILE, one.read(FILE).digest, [SetValue(("say",), f"number {number}")], guide)  # its lock went with it
        assert one.undo() is not None
        assert (folder / FILE).read_text("utf-8") == text
        draw += text != TEXT
    assert draw > 0


def test_two_desks_write_one_after_the_other(folder: Path, guide: Guide | None) -> None:
    """Each reads, and adds an item: none of those that were answered with success is lost."""
    done: list[str] = []

    def add(who: int) -> None:
        one = Writer(folder)
        for number in range(8):
            while True:
                try:
                    one.change(FILE, one.read(FILE).digest, [AddItem(("also called",), f"bird {who} {number}")], guide)
                except ConflictError:
                    continue
                done.append(f"bird {who} {number}")
                break

    threads = [threading.Thread(target=add, args=(who,)) for who in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    said = Writer(folder).read(FILE).values["also called"]
    assert isinstance(said, list)
    assert sorted(map(str, said)) == sorted(done)
    assert len(done) == 24


def test_another_desk_that_does_not_end_is_told(folder: Path, guide: Guide | None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(writing, "_WAIT", 0.1)
    one = Writer(folder)
    with one._alone(), pytest.raises(CannotKeepError, match="Another desk has been writing in this guide"):
        set_status(folder, guide, "rare")
