"""What tests of publishing share: a place, and disks of several kinds."""

import errno
import os
from pathlib import Path

import pytest

from guidebuild.press.engine import swap


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "guide" / "published"


@pytest.fixture(params=["exchange", "rename"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Both ways of putting a folder in place: one step where the system has it, two renames elsewhere."""
    if request.param == "rename":
        monkeypatch.setattr(swap, "exchange_folders", lambda one, other: False)
    return str(request.param)


@pytest.fixture
def no_links(monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that knows no hard links, such as a memory card."""

    def refuse(*arguments: object, **options: object) -> None:
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
