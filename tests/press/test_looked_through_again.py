"""What was looked through for secrets is looked through again when the looking is another, and for no other change of the tool."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

import guidebuild
from guidebuild.guide.guide import Guide
from guidebuild.press import leak_check
from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.imports import find_imports
from guidebuild.press.engine.progress import Silence
from guidebuild.press.engine.staging import Staging
from guidebuild.press.leak_check import find_leaks
from guidebuild.press.leak_scan import LeakWork, look_through
from tests.fieldwork.invented import guide

HOME = Path(guidebuild.__file__).parent


@pytest.fixture
def count_looks(monkeypatch: pytest.MonkeyPatch) -> Callable[[Path], list[str]]:
    """Publishes the same page once more; the files that were looked through for it."""
    seen: list[str] = []

    def look(work: LeakWork) -> object:
        seen.append(work.name)
        return look_through(work)

    look.__module__ = look_through.__module__
    monkeypatch.setattr(leak_check.leak_scan, "look_through", look)
    told: Guide = guide()

    def publish(folder: Path) -> list[str]:
        seen.clear()
        with Staging(folder / "published") as staging, Crew(1) as crew:
            if not staging.keep("site/index.html", "a key"):
                staging.add("site/index.html", b"<p>A hedge.</p>", "a key")
            assert find_leaks(told, folder, staging, crew, Silence()) == ()
            staging.publish()
        return list(seen)

    return publish


def test_a_kept_file_is_looked_through_again_only_where_the_looking_is_another(
    tmp_path: Path, count_looks: Callable[[Path], list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert count_looks(tmp_path) == ["site/index.html"]
    assert count_looks(tmp_path) == []
    monkeypatch.setattr(leak_check, "digest_tools", lambda module: f"of tomorrow: {module}")
    assert count_looks(tmp_path) == ["site/index.html"]
    assert count_looks(tmp_path) == []


def test_looking_depends_on_what_finds_secrets_and_opens_files_and_not_on_what_draws() -> None:
    imported = find_imports(leak_check.__name__)
    assert imported is not None
    found = {file.relative_to(HOME).as_posix() for file in imported.files}
    assert {"fieldwork/leaks.py", "fieldwork/name_finder.py", "press/leak_scan.py", "press/unpack.py"} <= found
    assert not [
        module for module in found if module.startswith(("views/", "press/outputs/", "checks/", "cli/", "reading/", "press/theme/"))
    ]
