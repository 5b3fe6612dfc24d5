"""A run that finds nothing changed says so at once; whatever did change is always seen."""

from __future__ import annotations

import datetime as dt
import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from guidebuild.guide.field_declaration import OutputName
from guidebuild.press import publish as publish_module
from guidebuild.press.engine.progress import Silence
from guidebuild.press.engine.unchanged import Checked
from guidebuild.press.engine.workbench import Workbench
from guidebuild.press.publication import Publication, Wishes
from guidebuild.press.publish import Readiness, publish
from guidebuild.press.standing import find_unchanged
from guidebuild.press.table import Order, Output
from guidebuild.reading.whole import read_guide

TODAY = dt.date(2026, 6, 1)
LATER = 10_000_000_000
"""As if the run began ten seconds from now, so that files written a moment ago are old enough to be trusted."""

Make = Callable[..., Publication]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    guide = tmp_path / "guide"
    (guide / "accounts").mkdir(parents=True)
    (guide / "walks").mkdir()
    (guide / "guide.yaml").write_text("title: Invented\n", "utf-8")
    (guide / "accounts" / "parent-bug.md").write_text("---\nname: Inventus primus\n---\nA small brown bug.\n", "utf-8")
    (guide / "walks" / "april-gorse.yaml").write_text("title: Gorse\n", "utf-8")
    return guide


@pytest.fixture
def make(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Make:
    # One output that costs nothing: what is looked at here is only whether it is made.
    monkeypatch.setattr(publish_module, "OUTPUTS", (Output(OutputName.DATA, lambda order: order.files.add("checklist.csv", b"invented")),))

    def made(*outputs: str, today: dt.date = TODAY, begun: int | None = None, high_contrast: bool = False) -> Publication:
        checked = Checked(("Grey Bug",), 3, 2)
        wishes = Wishes(outputs or ("data",), 1, high_contrast, begun=time.time_ns() + LATER if begun is None else begun)
        stands = find_unchanged(folder, today=today, wishes=wishes)
        if stands:
            assert stands[1] == checked
            return stands[0]
        guide = read_guide(folder, as_of=today).guide
        assert guide is not None
        return publish(folder, guide, today=today, progress=Silence(), wishes=wishes, readiness=Readiness(checked))

    return made


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Outputs that were made, not only found to be there."""
    made: list[str] = []
    real = Workbench.close
    monkeypatch.setattr(Workbench, "close", lambda bench: (made.append("made"), real(bench))[1])
    return made


def test_a_second_run_makes_nothing(make: Make, opened: list[str]) -> None:
    first = make()
    second = make()
    assert opened == ["made"]
    assert first.outcome
    assert second.outcome
    assert (second.outcome.written, second.outcome.removed) == ((), ())
    assert second.outcome.kept == len(first.outcome.written)
    assert second.problems == first.problems


def _edit(folder: Path) -> None:
    path = folder / "accounts" / "parent-bug.md"
    path.write_text(path.read_text("utf-8").replace("small brown", "small grey"), "utf-8")


def _edit_unseen(folder: Path) -> None:
    """Same size and same modification time: only the time of the change of its entry tells."""
    path = folder / "accounts" / "parent-bug.md"
    state = path.stat()
    path.write_text(path.read_text("utf-8").replace("small brown", "small green"), "utf-8")
    os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))


def _add(folder: Path) -> None:
    (folder / "theme").mkdir()
    (folder / "theme" / "card.css").write_text("", "utf-8")


def _take_away(folder: Path) -> None:
    (folder / "walks" / "april-gorse.yaml").unlink()


def _touch_published(folder: Path) -> None:
    (folder / "published" / "data" / "checklist.csv").write_text("someone else's", "utf-8")


def _lose_published(folder: Path) -> None:
    (folder / "published" / "data" / "checklist.csv").unlink()


@pytest.mark.parametrize("change", [_edit, _edit_unseen, _add, _take_away, _touch_published, _lose_published])
def test_every_change_is_seen(make: Make, opened: list[str], folder: Path, change: Callable[[Path], None]) -> None:
    first = make()
    before = (folder / "published" / "data" / "checklist.csv").read_bytes()
    change(folder)
    make()
    assert first.outcome
    assert opened == ["made", "made"]
    assert (folder / "published" / "data" / "checklist.csv").read_bytes() == before


def test_another_day_or_another_wish_is_a_change(make: Make, opened: list[str]) -> None:
    make()
    make(today=TODAY + dt.timedelta(1))
    make(today=TODAY + dt.timedelta(1), high_contrast=True)
    assert opened == ["made"] * 3


def test_a_file_that_changed_while_it_was_read_is_not_trusted(make: Make, opened: list[str]) -> None:
    make(begun=time.time_ns())
    make(begun=time.time_ns())
    assert opened == ["made", "made"]


def test_a_run_in_which_something_failed_is_tried_again(make: Make, opened: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    fine = publish_module.OUTPUTS
    make()

    def fail(order: Order) -> None:
        raise MemoryError

    monkeypatch.setattr(publish_module, "OUTPUTS", (Output(OutputName.DATA, fail),))
    assert make(today=TODAY + dt.timedelta(1)).failed
    assert make(today=TODAY + dt.timedelta(1)).failed
    monkeypatch.setattr(publish_module, "OUTPUTS", fine)
    assert not make(today=TODAY + dt.timedelta(1)).failed
    assert opened == ["made"] * 4


def test_a_damaged_note_of_the_last_run_is_as_none(make: Make, opened: list[str], folder: Path) -> None:
    make()
    (folder / ".guidebuild" / "published-last-run.json").write_text('{"from": 1}', "utf-8")
    make()
    assert opened == ["made", "made"]
