"""A draft made one's own says what the draft said, and goes on saying what the account says."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from guidebuild.authoring import CannotWriteError, add_episode
from guidebuild.cli import exit_code
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.session import open_session
from guidebuild.views.scripts.script import ScriptView, make_script_views

SAMPLE = Path(__file__).resolve().parents[3] / "sample_guide"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("own") / "guide"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing"))
    return folder


def _published(folder: Path) -> Published:
    return make_published(open_session(folder).publishable())


def _said(view: ScriptView) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """What is said under each heading, and the photos that are seen, in their order."""
    for section in view.script.sections:
        heading = "".join(word.text for word in section.heading)
        text = " ".join(" ".join(line.text for line in section.lines).split())
        yield heading, text, tuple(dict.fromkeys(line.photo for line in section.lines if line.photo))


def test_each_draft_of_the_sample_says_the_same_as_ones_own(folder: Path) -> None:
    published = _published(folder)
    drafts = {view.id: view for view in make_script_views(published) if view.drafted}
    assert len(drafts) > 30
    for view in drafts.values():
        add_episode(folder, published, view.account, view.kind)
    session = open_session(folder)
    assert [finding for finding in session.report.findings if finding.at.file.startswith("episodes/")] == []
    own = {view.id: view for view in make_script_views(make_published(session.guide))}
    for key, draft in drafts.items():
        assert not own[key].drafted
        assert list(_said(own[key])) == list(_said(draft)), key
        assert own[key].kind == draft.kind
    slots = [(folder / f"episodes/{key}.md").read_text(encoding="utf-8").count("{") for key in drafts]
    assert min(slots) >= 3
    _shorten_the_season(folder)


def _shorten_the_season(folder: Path) -> None:
    """After the facts of an account have changed, its own episode says the new ones."""
    account = folder / "accounts/birch-shieldbug.md"
    text = account.read_text(encoding="utf-8")
    account.write_text(text.replace("status: common", "status: scarce and local"), encoding="utf-8")
    assert account.read_text(encoding="utf-8") != text
    own = next(view for view in make_script_views(_published(folder)) if view.id == "birch-shieldbug-full")
    assert "It is scarce and local." in " ".join(said for _, said, _ in _said(own))


def test_what_cannot_be_written_says_why(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    published = _published(folder)
    with pytest.raises(CannotWriteError, match=r"episodes/parent-bug-full\.md is your own already"):
        add_episode(folder, published, "parent-bug", "full")
    with pytest.raises(CannotWriteError, match=r"There is no script of the kind “tiny” of parent-bug\. The kinds are: short, full\."):
        add_episode(folder, published, "parent-bug", "tiny")
    assert exit_code(["episode", "Nobody", "--in", str(folder)]) == 2
    assert "There is no account “Nobody”." in capsys.readouterr().err


def test_the_command_writes_once_and_never_over(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = folder / "episodes/gorse-shieldbug-short.md"
    file.unlink(missing_ok=True)
    assert exit_code(["episode", "Gorse Shieldbug", "short", "--in", str(folder)]) == 0
    written = file.read_bytes()
    assert "gorse-shieldbug-short.md" in capsys.readouterr().out.replace("\n", "")
    assert exit_code(["episode", "gorse-shieldbug", "short", "--in", str(folder)]) == 2
    assert file.read_bytes() == written
