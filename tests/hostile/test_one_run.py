"""What stands in the way of a whole run is one line, and what a run leaves behind stops no other."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.guide.field_declaration import OutputName
from guidebuild.press import publish as publishing
from guidebuild.press.engine.swap import only_one
from guidebuild.press.table import Order, Output
from tests.hostile.small_guide import change, write_small


def test_a_second_run_says_so_in_one_line_and_changes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    guide = write_small(tmp_path / "guide")
    with only_one(guide / ".guidebuild/published.lock", guide / "published"):
        assert exit_code(["make", str(guide), "data", "--quiet"]) == 2
    told = capsys.readouterr().err
    assert "another run is publishing" in told
    assert told.count("\n") == 1
    assert not (guide / "published").exists()
    assert exit_code(["make", str(guide), "data", "--quiet"]) == 0


def test_a_stop_is_said_in_a_word_and_leaves_what_was_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    guide = write_small(tmp_path / "guide")
    assert exit_code(["make", str(guide), "data", "--quiet"]) == 0
    before = (guide / "published/data/checklist.csv").read_bytes()
    change(guide, "accounts/two-spot.md", "vernacular: Two-spot", "vernacular: Two-spotted")

    def stopped(*what: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(publishing, "find_leaks", stopped)
    assert exit_code(["make", str(guide), "data", "--quiet"]) == 130
    assert capsys.readouterr().err.strip() == "Stopped."
    assert (guide / "published/data/checklist.csv").read_bytes() == before
    monkeypatch.undo()
    assert exit_code(["make", str(guide), "data", "--quiet"]) == 0
    assert b"Two-spotted" in (guide / "published/data/checklist.csv").read_bytes()


def test_a_fault_in_one_output_costs_only_that_output(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    guide = write_small(tmp_path / "guide")

    def broken(order: Order) -> None:
        raise ZeroDivisionError("invented")

    outputs = [Output(OutputName.WALKS, broken) if output.name == "walks" else output for output in publishing.OUTPUTS]
    monkeypatch.setattr(publishing, "OUTPUTS", outputs)
    assert exit_code(["make", str(guide), "walks", "data", "--quiet"]) == 1
    assert "walks: error: walks could not be made (ZeroDivisionError: invented)" in capsys.readouterr().err
    assert (guide / "published/data/checklist.csv").exists()


def test_two_files_of_one_name_cost_only_the_second(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    guide = write_small(tmp_path / "guide")

    def twice(order: Order) -> None:
        for name, data in (("a", b"1"), ("a", b"2"), ("../out", b"3"), ("b", b"4")):
            order.files.add(f"{name}.txt", data)

    monkeypatch.setattr(publishing, "OUTPUTS", [Output(OutputName.WALKS, twice)])
    assert exit_code(["make", str(guide), "--quiet"]) == 1
    assert "two things would be published as “walks/a.txt”" in capsys.readouterr().err
    assert {path.name for path in (guide / "published/walks").iterdir()} == {"a.txt", "b.txt"}
    assert (guide / "published/walks/a.txt").read_bytes() == b"1"
