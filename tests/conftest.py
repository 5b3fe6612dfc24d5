"""What several rooms' tests share: the sample guide, published once a test run however many processes test; one browser."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from filelock import FileLock
from playwright.sync_api import Browser, sync_playwright

from guidebuild.cli import exit_code

ROOT = Path(__file__).resolve().parent.parent
SAMPLE = ROOT / "sample_guide"
NOT_COPIED = shutil.ignore_patterns("published", ".guidebuild", "drawing", "__pycache__")


@pytest.fixture(scope="session")
def sample_published(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """A copy of the sample guide with everything published: its folder. Treat it as read-only."""
    base = tmp_path_factory.getbasetemp()
    shared = base if worker_id == "master" else base.parent
    folder = shared / "sample_guide"
    with FileLock(shared / "sample_guide.lock"):
        if not (shared / "sample_guide.done").exists():
            shutil.copytree(SAMPLE, folder, ignore=NOT_COPIED)
            code = exit_code(["make", str(folder), "--quiet"])
            (shared / "sample_guide.done").write_text(str(code))
    return folder


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium, for all tests of a process: Playwright cannot be begun twice in one. Without Chromium they are skipped."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if not chromium:
        pytest.skip("needs Chromium")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture
def starter(tmp_path: Path) -> Iterator[Path]:
    """A fresh starter guide, small and without photos: its folder."""
    folder = tmp_path / "pond"
    assert exit_code(["start", str(folder)]) == 0
    yield folder
