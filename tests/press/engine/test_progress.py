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


def test_a_line_is_written_as_soon_as_the_time_is_up(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [100.0]
    monkeypatch.setattr(progress.time, "monotonic", lambda: now[0])
    console = Console(file=io.StringIO())
    with progress_shown(console) as shown:
        shown.expect(PAGE, 5)
        for seconds in (19.9, 0.1, 19.9, 0.1):
            now[0] = round(now[0] + seconds, 1)
            shown.advance(PAGE)
    assert isinstance(console.file, io.StringIO)
    assert console.file.getvalue() == "2 of 5 pages\n4 of 5 pages\nDone: 4 pages.\n"


def test_a_line_stays_whole_and_plain_whatever_it_names() -> None:
    console = Console(file=io.StringIO(), width=12, color_system="truecolor")
    with progress_shown(console) as shown:
        shown.advance(Craft("card", "cards [bold]for 2 purses"), 12)
    assert isinstance(console.file, io.StringIO)
    assert console.file.getvalue() == "Done: 12 cards [bold]for 2 purses.\n"


def test_bars_are_gone_when_all_is_done() -> None:
    shown = told(Console(file=io.StringIO(), force_terminal=True, width=100))
    erased = "\x1b[2K"  # ECMA-48, erase in line: all of it
    assert erased in shown[shown.rindex("2/2") :]


def test_one_thing_is_called_by_its_name() -> None:
    assert told(Console(file=io.StringIO()), 1) == "Done: 2 atlases, 1 page.\n"


def test_quiet_says_nothing() -> None:
    assert told(Console(file=io.StringIO(), quiet=True)) == ""


def test_no_work_says_nothing() -> None:
    console = Console(file=io.StringIO())
    with progress_shown(console):
        pass
    assert console.file.getvalue() == ""  # type: ignore[attr-defined]
