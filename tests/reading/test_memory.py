"""A guide that stays read is the guide as it stands: whatever is edited, reading with a memory gives what reading afresh gives."""

from __future__ import annotations

import datetime as dt
import os
import random
import shutil
from dataclasses import fields
from pathlib import Path

import pytest

from guidebuild.guide.guide import Guide
from guidebuild.reading import whole as whole_module
from guidebuild.reading.memory import Memory
from guidebuild.reading.whole import read_guide
from tests.guides.whole_guides import HERE, NAMES

TODAY = dt.date(2026, 6, 1)
SEQUENCES = int(os.environ.get("GUIDEBUILD_EDITS", "24"))
"""So many guides are edited; a thousand were on 28 November 2026, without a difference."""
EDITS = 6
_PIECES = ("", "sensitive: yes", "  - mark: short tail", "name: Aus bus", "*", "- [x](account:toad)", "\t", "habitat: [shore]", "---")


def copy_texts(name: str, into: Path) -> Path:
    folder = into / name
    shutil.copytree(HERE / name, folder, ignore=shutil.ignore_patterns("published", ".guidebuild"))
    return folder


def values_of(guide: Guide | None) -> dict[str, object]:
    return {} if guide is None else {field.name: getattr(guide, field.name) for field in fields(guide)}


def edit(folder: Path, chance: random.Random) -> str:
    """One edit, as people make them, and some that they make by accident; what was done."""
    files = sorted(path for path in folder.rglob("*") if path.suffix in (".md", ".yaml", ".csv"))
    file = chance.choice(files)
    way = chance.choice(("line", "line", "line", "swap", "cut", "copy", "drop", "rename", "bytes", "touch"))
    lines = file.read_bytes().decode("utf-8", "replace").split("\n")
    at = chance.randrange(len(lines))
    if way == "line":
        lines[at] = chance.choice((*_PIECES, lines[at] + "x", lines[at][1:]))
    elif way == "swap":
        other = chance.randrange(len(lines))
        lines[at], lines[other] = lines[other], lines[at]
    elif way == "cut":
        del lines[at:]
    elif way == "copy":
        shutil.copy(file, file.with_stem(f"{file.stem}-2"))
    elif way == "drop":
        file.unlink()
    elif way == "rename":
        file.rename(file.with_stem(f"{file.stem}-b"))
    elif way == "bytes":
        file.write_bytes(file.read_bytes()[:40] + b"\xff\xfe" + file.read_bytes()[40:])
    elif way == "touch":
        file.touch()
    if way in ("line", "swap", "cut"):
        file.write_text("\n".join(lines), "utf-8")
    return f"{way} {file.relative_to(folder)} line {at + 1}"


@pytest.mark.parametrize("seed", range(SEQUENCES))
def test_a_guide_that_stays_read_is_as_if_it_were_read_afresh(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    folder, memory = copy_texts(NAMES[seed % len(NAMES)], tmp_path), Memory()
    read_guide(folder, as_of=TODAY, memory=memory)
    for _ in range(EDITS):
        done = [edit(folder, chance) for _ in range(chance.randint(1, 3))]
        known, fresh = read_guide(folder, as_of=TODAY, memory=memory), read_guide(folder, as_of=TODAY)
        assert known.findings == fresh.findings, done
        assert known.unread == fresh.unread, done
        assert values_of(known.guide) == values_of(fresh.guide), done


def test_an_edit_reads_one_account_and_nothing_reads_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder, memory = copy_texts("estuary-waders", tmp_path), Memory()
    read_guide(folder, as_of=TODAY, memory=memory)
    read: list[str] = []
    text_of = whole_module.read_text
    monkeypatch.setattr(whole_module, "read_text", lambda path, file, notes: (read.append(file), text_of(path, file, notes))[1])
    read_guide(folder, as_of=TODAY, memory=memory)
    assert read == []
    account = folder / "accounts" / "dunlin.md"
    account.write_text(account.read_text("utf-8") + "\nMore.\n", "utf-8")
    read_guide(folder, as_of=TODAY, memory=memory)
    assert read == ["accounts/dunlin.md"]
    # Scores are read against the characters: when these change, so may all accounts.
    with (folder / "characters.yaml").open("a", encoding="utf-8") as file:
        file.write("\n# a comment\n")
    read.clear()
    read_guide(folder, as_of=TODAY, memory=memory)
    assert {"characters.yaml", "accounts/dunlin.md", "accounts/redshank.md"} <= set(read)
    assert "places.yaml" not in read
