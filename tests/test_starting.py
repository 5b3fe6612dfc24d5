"""New guides of every kind are right as they are written, and so is the copy of the sample."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from guidebuild.cli import exit_code
from guidebuild.cli.writing import KINDS
from guidebuild.starting import WORKFLOW, list_kinds
from tests.conftest import SAMPLE


@pytest.mark.parametrize("kind", KINDS)
def test_a_new_guide_of_every_kind_has_nothing_to_mend(kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["start", str(tmp_path / "new"), "--kind", kind]) == 0
    assert exit_code(["check", str(tmp_path / "new"), "--fail-on", "note"]) == 0
    assert f"group: {list_kinds()[kind]['group']}\n" in (tmp_path / "new/guide.yaml").read_text("utf-8")
    assert "0 errors, 0 warnings, 0 notes" in capsys.readouterr().out


def test_the_help_names_the_kinds_that_there_are() -> None:
    assert tuple(list_kinds()) == KINDS


def test_a_new_guide_in_another_language_says_so_and_has_no_english_account(tmp_path: Path) -> None:
    assert exit_code(["start", str(tmp_path / "new"), "--language", "es"]) == 0
    assert "languages: [es]\n" in (tmp_path / "new/guide.yaml").read_text("utf-8")
    assert not (tmp_path / "new/accounts").exists()
    assert exit_code(["check", str(tmp_path / "new")]) == 0


def test_what_is_no_language_is_refused_and_nothing_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["start", str(tmp_path / "new"), "--language", "no language"]) == 2
    assert "Write a code such as en" in capsys.readouterr().err
    assert not (tmp_path / "new").exists()


def test_the_sample_is_copied_without_what_is_made_of_it(tmp_path: Path) -> None:
    assert exit_code(["start", str(tmp_path / "play"), "--sample"]) == 0
    copied = {path.relative_to(tmp_path / "play").as_posix() for path in (tmp_path / "play").rglob("*.*") if ".schemas" not in path.parts}
    assert {"guide.yaml", "photos/parent-adult.jpg", "accounts/parent-bug.md", "walks/april-gorse.yaml"} <= copied
    assert not [name for name in copied if name.startswith(("published", ".guidebuild", "drawing"))]
    assert (tmp_path / "play/photos/parent-adult.jpg").read_bytes() == (SAMPLE / "photos/parent-adult.jpg").read_bytes()


def test_nothing_is_written_into_a_folder_that_holds_something(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    for options in (["--sample"], ["--kind", "birds"]):
        assert exit_code(["start", str(tmp_path), *options]) == 2
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


def test_the_sample_is_taken_as_it_is(tmp_path: Path) -> None:
    assert exit_code(["start", str(tmp_path / "new"), "--sample", "--kind", "birds"]) == 2
    assert not (tmp_path / "new").exists()


def test_the_file_for_a_git_host_says_the_commands_of_the_handbook(tmp_path: Path) -> None:
    assert exit_code(["start", str(tmp_path / "new"), "--with-ci"]) == 0
    steps = yaml.safe_load((tmp_path / "new" / WORKFLOW).read_text("utf-8"))["jobs"]["make"]["steps"]
    said = [step["run"] for step in steps if "run" in step]
    assert "guidebuild make site --quiet" in said
    assert next(step for step in steps if "with" in step and "path" in step["with"])["with"]["path"] == "published/site"
    assert exit_code(["check", str(tmp_path / "new"), "--fail-on", "note"]) == 0
