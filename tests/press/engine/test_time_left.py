"""Time left: nothing until it can be known, then about right; what stands already tells nothing of how fast work goes."""

from __future__ import annotations

import io

import pytest
from rich.console import Console

from guidebuild.press.engine import progress, time_left
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.progress import progress_shown
from guidebuild.press.engine.time_left import TimeLeft, say_time_left
from guidebuild.press.table import OUTPUTS, SHARE_OF_LAST_LOOK

PICTURE, PAGE, CARD, LOOK = (
    Craft("picture", "pictures", 200.0), Craft("page", "pages", 4.0), Craft("card", "cards", 150.0), Craft("look", "looks", 3.0)
)  # fmt: skip
FONT, SHARE, PLATE, SHEET, SCRIPT, PACK = (Craft(name, f"{name}s", cost) for name, cost in (
    ("font", 800.0), ("share", 40.0), ("plate", 150.0), ("sheet", 1000.0), ("script", 400.0), ("pack", 300.0)))  # fmt: skip
LEAFLET, BOOKLET = Craft("leaflet", "leaflets", 400.0), Craft("booklet", "booklets", 1500.0)


class Clock:
    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


# A full make of the sample, recorded on 28 November 2026 on a machine with much else to do: seconds at which each part begins, and
# in it when pieces were asked for (+) and done (-).
RECORDED = (
    (0, [(11, PICTURE, 60), (22, PICTURE, -18), (33, PICTURE, -27), (41, PICTURE, -15), (41, FONT, 5), (41, PAGE, 229), (41, SHARE, 54),
         (51, FONT, -5), (51, PAGE, -229), (51, SHARE, -16), (57, SHARE, -38)]),
    (57, [(59, PICTURE, 18), (63, PICTURE, -18), (63, CARD, 18), (73, CARD, -12), (79, CARD, -6), (79, CARD, 2), (85, CARD, -2),
          (85, PICTURE, 12), (87, PICTURE, -12), (87, LEAFLET, 2), (96, LEAFLET, -2), (96, BOOKLET, 1), (96, BOOKLET, -1),
          (96, PICTURE, 18), (102, PICTURE, -18), (102, PLATE, 18), (125, PLATE, -14), (126, PLATE, -4), (126, BOOKLET, 1),
          (130, BOOKLET, -1), (130, PICTURE, 25), (135, PICTURE, -25), (135, SHEET, 6), (156, SHEET, -6)]),
    (156, [(157, PICTURE, 55), (159, PICTURE, -55), (159, SCRIPT, 36), (170, SCRIPT, -5), (180, SCRIPT, -10), (191, SCRIPT, -10),
           (200, SCRIPT, -11)]),
    (200, [(201, PICTURE, 18), (211, PICTURE, -18)]),
    (211, [(212, PACK, 2), (217, PACK, -2)]),
    (217, []),
    (217, [(218, LOOK, 1205), (228, LOOK, -260), (245, LOOK, -365), (256, LOOK, -370), (258, LOOK, -210)]),
)  # fmt: skip
ENDED = 258.0


def test_a_recorded_make_is_told_about_right_from_its_first_minute_on() -> None:
    clock = Clock()
    left = TimeLeft(clock)
    # When it was recorded there were no slides yet, and the site came first.
    made = sorted((output for output in OUTPUTS if output.name != "slides"), key=lambda output: output.name != "site")
    left.foresee([*(output.share for output in made), SHARE_OF_LAST_LOOK])
    told: list[tuple[float, float]] = []
    for begun, pieces in RECORDED:
        clock.now = 1000.0 + begun
        left.begin_part()
        for second, craft, count in pieces:
            clock.now = 1000.0 + second
            (left.expect if count > 0 else left.advance)(craft, abs(count))
            said = left.seconds()
            assert (said is None) == (second < 22), second
            if said is not None and second < 240:
                told.append((said, ENDED - second))
    assert len(told) > 40
    assert all(real / 2 < said < real * 2 for said, real in told), told


def test_work_of_one_kind_at_one_pace_is_told_exactly() -> None:
    clock = Clock()
    left = TimeLeft(clock)
    left.foresee([1.0, 3.0])
    left.begin_part()
    left.expect(CARD, 10)
    for _ in range(10):
        clock.now += 2
        left.advance(CARD, 1)
    assert left.seconds() == pytest.approx(60)  # three times what the first part took
    left.begin_part()
    clock.now += 15
    assert left.seconds() == pytest.approx(45)
    left.expect(CARD, 30)
    left.advance(CARD, 15)
    clock.now += 15
    assert left.seconds() == pytest.approx(30)


def test_nothing_is_said_before_it_can_be_known() -> None:
    clock = Clock()
    left = TimeLeft(clock)
    assert left.seconds() is None
    left.foresee([1.0, 1.0])
    left.begin_part()
    left.expect(CARD, 100)
    clock.now += 4
    left.advance(CARD, 50)
    assert left.seconds() is None  # four seconds
    clock.now += 2
    assert left.seconds() == pytest.approx(6 + 12)
    slow = TimeLeft(clock)
    slow.foresee([1.0])
    slow.begin_part()
    slow.expect(CARD, 100)
    clock.now += 60
    slow.advance(CARD, 14)
    assert slow.seconds() is None
    slow.advance(CARD, 1)
    assert slow.seconds() == pytest.approx(340)


def test_what_stands_already_tells_nothing_of_the_pace() -> None:
    clock = Clock()
    left = TimeLeft(clock)
    left.foresee([1.0])
    left.begin_part()
    left.advance(PAGE, 1000)
    left.expect(PAGE, 10)
    clock.now += 10
    left.advance(PAGE, 5)
    assert left.seconds() == pytest.approx(10)


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (None, ""), (0.0, "a few seconds left"), (9.9, "a few seconds left"), (14.0, "about 10 s left"), (36.0, "about 40 s left"),
        (53.0, "about 50 s left"), (55.0, "about 1 min left"), (89.0, "about 1 min left"), (91.0, "about 2 min left"),
        (1500.0, "about 25 min left"),
    ],
)  # fmt: skip
def test_time_left_is_said_as_roughly_as_it_is_known(seconds: float | None, words: str) -> None:
    assert say_time_left(seconds) == words


@pytest.mark.parametrize("is_terminal", [True, False])
def test_bars_and_lines_say_it(monkeypatch: pytest.MonkeyPatch, is_terminal: bool) -> None:
    clock = Clock()
    monkeypatch.setattr(time_left.TimeLeft.__init__, "__defaults__", (clock,))
    monkeypatch.setattr(progress, "_SECONDS_BETWEEN_LINES", 0.0)
    console = Console(file=io.StringIO(), force_terminal=is_terminal, width=100)
    with progress_shown(console) as shown:
        shown.foresee([1.0, 1.0])
        shown.begin_part()
        shown.expect(CARD, 4)
        shown.advance(CARD)
        clock.now += 30
        shown.advance(CARD)
    assert isinstance(console.file, io.StringIO)
    said = console.file.getvalue()
    assert "about 2 min left" in said if is_terminal else said == "1 of 4 cards\n2 of 4 cards, about 2 min left\nDone: 2 cards.\n"
