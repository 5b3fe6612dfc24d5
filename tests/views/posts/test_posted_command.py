"""The command that notes posts: what it writes, into which files, and what it refuses."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.cli.options import FINE

SAMPLE = Path(__file__).resolve().parents[3] / "sample_guide"
JUNE = "1781006400"  # 9 June 2026
HEAD = "# What posts of the Dock Bug said; `guidebuild check` tells what has changed since. Written by: guidebuild posted\nposts:\n"


@pytest.fixture
def hedge(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", JUNE)
    # Pictures are asked for by their names alone, and rows of sightings not at all.
    skipped = shutil.ignore_patterns("published", "drawing", "sightings", "films", "films.yaml", ".guidebuild")
    shutil.copytree(SAMPLE, tmp_path / "hedge", ignore=skipped)
    return tmp_path / "hedge"


def posted(hedge: Path, *words: str) -> int:
    return exit_code(["posted", *words, "--in", str(hedge)])


def note(hedge: Path) -> str:
    return (hedge / "posts/dock-bug.said.yaml").read_text("utf-8")


def test_a_post_of_today_is_noted_beside_the_one_before_and_its_day_goes_into_the_account(hedge: Path) -> None:
    account = hedge / "accounts/dock-bug.md"
    before = account.read_text("utf-8").replace("posted: 2026-05-15", "posted: 2026-05-15\nto post: 2026-06-08")
    account.write_text(before, "utf-8")
    first = note(hedge).removeprefix(HEAD)
    assert posted(hedge, "Dock Bug", "--text", "short") == FINE
    assert note(hedge).startswith(f"{HEAD}{first}  - day: 2026-06-09\n    says:\n")
    assert note(hedge).count("size") == 2 and note(hedge).count("season of nymph") == 1
    assert account.read_text("utf-8") == before.replace("posted: 2026-05-15\nto post: 2026-06-08", "posted: 2026-06-09")
    again = note(hedge)
    assert posted(hedge, "dock-bug", "--text", "short") == FINE
    assert note(hedge) == again


def test_without_a_name_all_that_is_not_noted_is_each_on_its_day(hedge: Path, capsys: pytest.CaptureFixture[str]) -> None:
    was = note(hedge)
    (hedge / "posts/dock-bug.said.yaml").unlink()
    assert posted(hedge) == FINE
    assert note(hedge) == was
    assert "posts/dock-bug.said.yaml: 11 facts" in capsys.readouterr().out
    assert posted(hedge) == FINE
    assert "Of every post that has a day it is noted what it said" in capsys.readouterr().out


def test_a_correction_is_noted_once_and_none_where_nothing_has_changed(hedge: Path, capsys: pytest.CaptureFixture[str]) -> None:
    account, was = hedge / "accounts/dock-bug.md", note(hedge)
    assert posted(hedge, "dock-bug", "--correction") == FINE
    assert "All that was posted of dock-bug still stands" in capsys.readouterr().out
    assert note(hedge) == was
    account.write_text(account.read_text("utf-8").replace("size: 13–15 mm", "size: 12–15 mm"), "utf-8")
    assert posted(hedge, "dock-bug", "--correction") == FINE
    assert note(hedge) == f'{was}  - day: 2026-06-09\n    correction: yes\n    says:\n      - {{fact: "size", words: "12–15 mm"}}\n'
    assert "posted: 2026-05-15" in account.read_text("utf-8")
    assert posted(hedge, "dock-bug", "--correction") == FINE
    assert "still stands" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("dock-bgu",), "There is no account “dock-bgu”. Did you mean “dock-bug”?"),
        (("dock-bug", "--on", "2026-06-10"), "2026-06-10 is still to come. Note a post once it is out."),
        (
            ("dock-bug", "--text", "brief"),
            "There is no text “brief”. The texts are: short, medium, long, plain-words, to-be-heard, reply-with-",
        ),
        (("--correction",), "Name the account whose correction was posted."),
    ],
)
def test_what_cannot_be_noted_is_said_in_one_line(
    hedge: Path, words: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    was = note(hedge)
    assert posted(hedge, *words) != FINE
    told = " ".join(capsys.readouterr().err.split())
    assert said.replace(" ", "") in told.replace(" ", "")
    assert note(hedge) == was
