"""Changes as a page of the desk sends them, and what it is answered."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.desk.editing.writer import Writer
from tests.desk.opened import Opened, open_desk

FILE = "accounts/common-frog.md"


@pytest.fixture
def pond(tmp_path: Path) -> Path:
    assert exit_code(["start", str(tmp_path / "pond")]) == 0
    return tmp_path / "pond"


def digest_of(pond: Path) -> str:
    return Writer(pond).read(FILE).digest


def ask(desk: Opened, **asked: object) -> tuple[int, dict[str, object]]:
    answer = desk.change("/-desk/edit", {"file": FILE, "digest": digest_of(desk.folder), **asked})
    return answer.status, answer.told


def test_a_change_is_written_refused_met_with_another_and_taken_back(pond: Path) -> None:
    before = (pond / FILE).read_bytes()
    with open_desk(pond) as desk:
        seen = digest_of(pond)
        status, told = ask(desk, path=["size"], value="6–8 cm")
        assert (status, told) == (200, {"file": FILE, "digest": digest_of(pond)})
        assert "size: 6–8 cm" in (pond / FILE).read_text("utf-8")
        status, told = ask(desk, path=["size"], value="large")
        assert (status, "Write a range with its unit" in str(told["message"])) == (422, True)
        status, told = ask(desk, digest=seen, path=["size"], value="7 cm")
        assert (status, told["theirs"], told["yours"], told["digest"]) == (409, "6–8 cm", "7 cm", digest_of(pond))
        status, _ = ask(desk, changes=[{"path": ["also called"], "do": "add", "value": "Grass Frog"}, {"path": ["size"], "do": "remove"}])
        assert status == 200
        assert "size:" not in (pond / FILE).read_text("utf-8").partition("# ")[0]
        left = [desk.change("/-desk/undo", {}).told["left"] for _ in range(2)]
        assert left == [1, 0]
        assert (pond / FILE).read_bytes() == before
        assert desk.change("/-desk/undo", {}).told["message"] == "There is nothing to undo."


@pytest.mark.parametrize(
    "asked",
    [
        {"path": []},
        {"path": "size"},
        {"path": [True], "value": "x"},
        {"path": [-1], "value": "x"},
        {"path": [1.5], "value": "x"},
        {"path": ["size"], "value": 7},
        {"path": ["size"], "value": {"a": [None, 1]}},
        {"path": ["size"], "do": "fly", "value": "x"},
        {"path": ["photos", 0], "do": "move", "to": "up"},
        {"changes": []},
        {"changes": [1]},
        {"file": "../guide.yaml", "path": ["title"], "value": "x"},
        {"file": 3, "path": ["title"], "value": "x"},
        {"path": ["##"], "value": ["x"]},
    ],
)
def test_what_is_no_change_is_refused_in_one_line(pond: Path, asked: dict[str, object]) -> None:
    before = {path: path.read_bytes() for path in pond.rglob("*.md")}
    with open_desk(pond) as desk:
        status, told = ask(desk, **asked)
    assert (status, "\n" in str(told["message"]), bool(told["message"])) == (422, False, True)
    assert {path: path.read_bytes() for path in pond.rglob("*.md")} == before
