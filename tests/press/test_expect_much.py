"""Helpers import what they need while a guide is read for the first time, and only where they will be needed."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest

from guidebuild.press import publish
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import expect_much


@pytest.fixture
def begun(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    asked: list[list[str]] = []

    def note(modules: Iterable[str]) -> None:
        asked.append(list(modules))

    monkeypatch.setattr(publish, "import_ahead", note)
    return asked


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "accounts").mkdir()
    for number in range(11):
        (tmp_path / "accounts" / f"bug-{number}.md").touch()
    return tmp_path


def test_a_first_make_of_many_accounts_imports_ahead(folder: Path, begun: list[list[str]]) -> None:
    expect_much(folder, Wishes(("cards", "data"), workers=2))
    assert begun == [["guidebuild.press.outputs.cards.output", "guidebuild.press.outputs.data.output"]]


def test_few_accounts_one_worker_or_a_later_make_import_nothing_ahead(folder: Path, begun: list[list[str]]) -> None:
    expect_much(folder, Wishes(workers=1))
    (folder / "accounts" / "bug-0.md").unlink()
    expect_much(folder, Wishes(workers=2))
    (folder / "accounts" / "bug-0.md").touch()
    (folder / "published").mkdir()
    expect_much(folder, Wishes(workers=2))
    assert begun == []


def test_a_folder_that_holds_no_guide_is_left_to_the_reader(tmp_path: Path, begun: list[list[str]]) -> None:
    expect_much(tmp_path / "nowhere", Wishes(workers=2))
    assert begun == []
