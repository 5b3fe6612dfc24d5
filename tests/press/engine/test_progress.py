"""Progress: bars for people, lines for logs, silence when asked for."""

import io

import pytest
from rich.console import Console

from guidebuild.press.engine import progress
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.progress import progress_shown

PAGE = Craft("page", "pages")


def told(console: Console, count: int = 3) -> str:
    with progress_shown(console) as shown:
        shown.expect(PAGE, count)
        for _ in range(count):
            shown.advance(PAGE)
        shown.advance(Craft("atlas", "atlases"), 2)
    file = console.file
    assert isinstance(file, io.StringIO)
    return file.getvalue()


def test_a_terminal_shows_bars_with_counts() -> None:
    shown = told(Console(file=io.StringIO(), force_terminal=True, width=100))
    assert "pages" in shown
    assert "3/3" in shown
    assert "2/2" in shown


def test_a_pipe_gets_one_line_and_no_control_signs() -> None:
    assert told(Console(file=io.StringIO())) == "Done: 2 atlases, 3 pages.\n"


def test_long_work_writes_a_line_now_and_then(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(progress, "_SECONDS_BETWEEN_LINES", 0.0)
    lines = told(Console(file=io.StringIO()), 2).splitlines()
    assert lines == ["1 of 2 pages", "2 of 2 pages", "2 of 2 atlases", "Done: 2 atlases, 2 pages."]


def test_one_thing_is_called_by_its_name() -> None:
    assert told(Console(file=io.StringIO()), 1) == "Done: 2 atlases, 1 page.\n"


def test_quiet_says_nothing() -> None:
    assert told(Console(file=io.StringIO(), quiet=True)) == ""


def test_no_work_says_nothing() -> None:
    console = Console(file=io.StringIO())
    with progress_shown(console):
        pass
    assert console.file.getvalue() == ""  # type: ignore[attr-defined]
