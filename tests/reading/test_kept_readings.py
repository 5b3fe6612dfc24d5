"""What was read of a guide by an earlier command gives what reading afresh gives, and nothing that others wrote is looked into."""

from __future__ import annotations

import errno
import os
import pickle
import random
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild import session
from guidebuild.checks.registry import check_guide
from guidebuild.reading import kept_readings as kept_module
from guidebuild.reading import whole as whole_module
from guidebuild.reading.kept_readings import FILE, kept_readings
from guidebuild.reading.memory import NoMemory
from guidebuild.reading.whole import GuideReading, read_guide
from tests.guides.whole_guides import NAMES
from tests.reading.test_memory import EDITS, SEQUENCES, TODAY, copy_texts, edit, values_of


@pytest.fixture
def key(tmp_path: Path) -> Path:
    return tmp_path / "own settings" / "readings.key"


@pytest.fixture
def read_anew(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Accounts whose files were read, and not recalled."""
    read: list[str] = []
    real = whole_module._Reader._account

    def account(reader: whole_module._Reader, file: str, *given: object) -> object:
        read.append(file)
        return real(reader, file, *given)  # type: ignore[arg-type]

    monkeypatch.setattr(whole_module._Reader, "_account", account)
    return read


def read(folder: Path, key: Path, tool: str = "tool") -> GuideReading:
    """As one command reads it."""
    with kept_readings(folder, folder / ".guidebuild", key, tool) as memory:
        return read_guide(folder, as_of=TODAY, memory=memory)


@pytest.mark.parametrize("seed", range(max(SEQUENCES // 3, 1)))
def test_a_guide_that_was_kept_is_as_if_it_were_read_afresh(tmp_path: Path, key: Path, seed: int) -> None:
    chance = random.Random(seed)
    folder = copy_texts(NAMES[seed % len(NAMES)], tmp_path)
    read(folder, key)
    for _ in range(EDITS):
        done = [edit(folder, chance) for _ in range(chance.randint(1, 3))]
        known, fresh = read(folder, key), read_guide(folder, as_of=TODAY)
        assert known.findings == fresh.findings, done
        assert known.unread == fresh.unread, done
        assert values_of(known.guide) == values_of(fresh.guide), done
        if known.guide and fresh.guide:
            assert check_guide(known.guide) == check_guide(fresh.guide), done


def test_only_what_changed_is_read_anew(tmp_path: Path, key: Path, read_anew: list[str]) -> None:
    folder = copy_texts("estuary-waders", tmp_path)
    read(folder, key)
    every = list(read_anew)
    read_anew.clear()
    read(folder, key)
    assert read_anew == []
    dunlin = folder / "accounts/dunlin.md"
    dunlin.write_text(dunlin.read_text("utf-8") + "\nEdited.\n", "utf-8")
    read(folder, key)
    assert read_anew == ["accounts/dunlin.md"]
    for change in ("characters.yaml", "guide.yaml"):
        read_anew.clear()
        (folder / change).write_text((folder / change).read_text("utf-8") + "\n# edited\n", "utf-8")
        read(folder, key)
        assert read_anew == every
    read_anew.clear()
    read(folder, key, "another tool")
    assert read_anew == every
    dunlin.unlink()
    read(folder, key)
    assert "accounts/dunlin.md" not in kept_module._read_rows(folder / ".guidebuild" / FILE)


class _Trap:
    """A pickle that makes a file when it is looked into."""

    def __init__(self, file: Path) -> None:
        self._file = file

    def __reduce__(self) -> object:
        return Path.touch, (self._file,)


def test_what_others_have_sealed_is_not_looked_into(tmp_path: Path, key: Path, read_anew: list[str]) -> None:
    folder, sprung = copy_texts("estuary-waders", tmp_path), tmp_path / "sprung"
    read(folder, key)
    every = list(read_anew)
    rows = kept_module._read_rows(folder / ".guidebuild" / FILE)
    trap = pickle.dumps((_Trap(sprung), ()))
    kept_module._write_rows(folder / ".guidebuild" / FILE, {path: replace(row, value=trap) for path, row in rows.items()})
    read_anew.clear()
    read(folder, key)
    assert read_anew == every
    assert not sprung.exists()
    read_anew.clear()
    read(folder, tmp_path / "of another author" / "readings.key")
    assert read_anew == every


@pytest.mark.parametrize(
    "spoil", [lambda data: b"\0" * len(data), lambda data: data[:-9], lambda data: b'[["a"]]\n' + data, lambda data: b""]
)
def test_a_file_that_is_damaged_is_written_anew(tmp_path: Path, key: Path, read_anew: list[str], spoil: Callable[[bytes], bytes]) -> None:
    folder = copy_texts("estuary-waders", tmp_path)
    read(folder, key)
    file = folder / ".guidebuild" / FILE
    file.write_bytes(spoil(file.read_bytes()))
    fresh = values_of(read_guide(folder, as_of=TODAY).guide)
    assert values_of(read(folder, key).guide) == fresh
    read_anew.clear()
    assert values_of(read(folder, key).guide) == fresh
    assert read_anew == []


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps a user's own folder from others by itself")
def test_the_key_is_the_authors_alone_and_else_nothing_is_kept(tmp_path: Path, key: Path) -> None:
    folder = copy_texts("estuary-waders", tmp_path)
    read(folder, key)
    assert key.stat().st_mode & 0o777 == 0o600
    assert [path.name for path in key.parent.iterdir()] == [key.name]
    key.chmod(0o640)
    with kept_readings(folder, folder / ".guidebuild", key, "tool") as memory:
        assert isinstance(memory, NoMemory)
    key.chmod(0o600)
    key.write_bytes(b"short")
    with kept_readings(folder, folder / ".guidebuild", key, "tool") as memory:
        assert isinstance(memory, NoMemory)


def test_a_disk_that_refuses_is_no_hindrance(tmp_path: Path, key: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = copy_texts("estuary-waders", tmp_path)

    def refuse(*given: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(kept_module, "_write_rows", refuse)
    assert values_of(read(folder, key).guide) == values_of(read_guide(folder, as_of=TODAY).guide)


def test_links_of_a_guide_from_others_are_not_followed(tmp_path: Path, key: Path) -> None:
    folder, outside = copy_texts("estuary-waders", tmp_path), tmp_path / "outside"
    outside.mkdir()
    (outside / "notes").write_text("mine")
    workshop = folder / ".guidebuild"
    workshop.symlink_to(outside)
    read(folder, key)
    assert [path.name for path in outside.iterdir()] == ["notes"]
    workshop.unlink()
    workshop.mkdir()
    for name in (FILE, f"{FILE}.coming"):
        (workshop / name).symlink_to(outside / "notes")
    read(folder, key)
    assert (outside / "notes").read_text() == "mine"


def test_a_command_keeps_what_it_read_of_a_large_guide_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, read_anew: list[str]) -> None:
    folder = copy_texts("estuary-waders", tmp_path)
    monkeypatch.setattr("click.get_app_dir", lambda name: str(tmp_path / "own settings" / name))
    session.open_session(folder)
    assert not (folder / ".guidebuild").exists()
    monkeypatch.setattr("guidebuild.reading.memory.MANY", 1)
    first = session.open_session(folder)
    read_anew.clear()
    assert session.open_session(folder).report == first.report
    session.read_unchecked(folder)
    assert read_anew == []
    session.open_session(folder, anew=True)
    assert read_anew
