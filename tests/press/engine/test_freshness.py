"""Nothing published is ever stale: whatever goes into a guide is changed in turn, and exactly what shows it changes.

What is made after a change, upon what was made before, must be what a make into an empty folder gives, byte for byte.
"""

from __future__ import annotations

import datetime as dt
import os
import shutil
from dataclasses import replace
from fnmatch import fnmatchcase
from pathlib import Path

import pytest

from guidebuild.press import publish as publishing
from guidebuild.press.engine import store, toolchain
from guidebuild.press.engine.digest import digest_bytes
from guidebuild.press.engine.progress import Silence
from guidebuild.press.engine.trees import MANIFEST
from guidebuild.press.outputs.site.page import make_page
from guidebuild.press.paper.output_profile import srgb_output
from guidebuild.press.paper.theme import read_theme
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import publish
from guidebuild.press.theme import fonts
from guidebuild.press.theme.sandbox import forget_templates
from guidebuild.reading.sightings import read_records
from guidebuild.session import open_session
from guidebuild.shipped import content, on_disk
from tests.hostile.small_guide import change, write_small
from tests.press.engine.changes_shown import CHAINS, ON_SITE, PROFILE, Change, draw

TODAY = dt.date(2026, 6, 1)


def make(guide: Path, *, high_contrast: bool = False) -> dict[str, str]:
    """Publish a guide, as a new process would; the digests of its published files."""
    forget_templates()
    read_theme.cache_clear()
    wishes = Wishes(workers=1, high_contrast=high_contrast)
    told = open_session(guide).publishable()
    told = replace(told, records=read_records(guide, told))
    made = publish(guide, told, today=TODAY, progress=Silence(), wishes=wishes)
    assert made.outcome
    assert [problem for problem in made.problems if problem.what in ("failed", "theme")] == []
    published = guide / "published"
    files = (path for path in published.rglob("*") if path.is_file() and path.name != MANIFEST)
    return {path.relative_to(published).as_posix(): digest_bytes(path.read_bytes()) for path in files}


def make_afresh(guide: Path, place: Path) -> dict[str, str]:
    """What a copy of the guide gives that was never published."""
    shutil.copytree(guide, place, ignore=shutil.ignore_patterns("published", ".guidebuild"))
    return make(place)


@pytest.fixture(autouse=True)
def quickly(monkeypatch: pytest.MonkeyPatch) -> None:
    """Photos are trusted at once, as if they had been written long ago; cutting typefaces down, which takes long, is left out."""
    monkeypatch.setattr(store, "_TOO_FRESH_NS", -1)
    monkeypatch.setattr(fonts, "subset_font", lambda face, signs: f"{face}{signs}".encode())
    # In processes of their own, where a guide's own theme would be filled in, typefaces would be cut down after all.
    monkeypatch.setattr(publishing, "has_own_theme", lambda folder: False)


@pytest.fixture(scope="module")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small guide, published."""
    guide = write_small(tmp_path_factory.mktemp("once") / "guide")
    draw(guide / "photos" / "seven-adult.jpg", "#c02818")
    (guide / PROFILE).write_bytes(srgb_output().data)
    change(guide, "guide.yaml", "level: sketch\n", f"level: sketch\nprints: [print shop]\nprint profile: {PROFILE}\n")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(fonts, "subset_font", lambda face, signs: f"{face}{signs}".encode())
        make(guide)
    return guide


@pytest.mark.slow
@pytest.mark.parametrize("chain", CHAINS, ids=lambda chain: ", ".join(change.what for change in chain))
def test_what_shows_a_change_is_made_anew_and_nothing_else(made_once: Path, tmp_path: Path, chain: tuple[Change, ...]) -> None:
    guide = tmp_path / "guide"
    shutil.copytree(made_once, guide)
    before = make(guide)
    for one in chain:
        one.apply(guide)
        after = make(guide)
        changed = {path for path in before.keys() | after.keys() if before.get(path) != after.get(path)}
        unmatched = {pattern for pattern in one.shown if not any(fnmatchcase(path, pattern) for path in changed)}
        more = {path for path in changed if not any(fnmatchcase(path, pattern) for pattern in one.shown)}
        assert (one.what, unmatched, more) == (one.what, set(), set())
        before = after
    assert before == make_afresh(guide, tmp_path / "fresh")


def test_another_look_for_the_sun_is_on_all_cards(made_once: Path, tmp_path: Path) -> None:
    guide = tmp_path / "guide"
    shutil.copytree(made_once, guide)
    before, after = make(guide), make(guide, high_contrast=True)
    changed = {path for path in before if before[path] != after.get(path)}
    assert {path.split("/")[0] for path in changed if not fnmatchcase(path, ON_SITE)} == {"cards"}
    assert {path for path in before if fnmatchcase(path, ON_SITE)} <= changed
    assert make(guide) == before


def shipped_files() -> list[str]:
    folder = on_disk(content())
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def test_every_shipped_list_counts_for_all_that_is_made_of_views(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(on_disk(content()), tmp_path / "content")
    monkeypatch.setattr(toolchain, "content", lambda: tmp_path / "content")
    monkeypatch.setattr(toolchain, "_installed", toolchain._installed.__wrapped__)
    monkeypatch.setattr(toolchain, "_shipped", toolchain._shipped.__wrapped__)
    monkeypatch.setattr(toolchain, "_tools_of", toolchain._tools_of.__wrapped__)
    marks = [(toolchain.digest_toolchain(), toolchain.digest_tools(make_page.__module__))]
    assert len(shipped_files()) > 20
    for name in shipped_files():
        file = tmp_path / "content" / name
        state = file.stat()
        file.write_bytes(file.read_bytes()[:-1] + b" ")
        os.utime(file, ns=(state.st_atime_ns, state.st_mtime_ns))
        marks.append((toolchain.digest_toolchain(), toolchain.digest_tools(make_page.__module__)))
    assert all(len(set(made)) == len(marks) for made in zip(*marks, strict=True))
