"""A painted year: the words that it writes say the same again, and only its own line changes."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.desk.parts.seasons import ABOUT, MOST, NONE, SOMETIMES, paint_season, say_season, show_seasons, write_season
from guidebuild.errors import SaidInOneLineError
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import Season
from guidebuild.session import read_for_draft
from tests.desk.test_plate import desk_on, hedge

__all__ = ["hedge"]


@given(st.lists(st.integers(NONE, MOST), min_size=36, max_size=36))
@settings(max_examples=600, deadline=None)
def test_every_painted_year_writes_words_that_read_back_the_same(cells: list[int]) -> None:
    words = write_season(cells)
    if not any(cells):
        assert words == ""
        return
    read = parse_season(words)
    assert isinstance(read, Season), words
    for dekad, cell in enumerate(cells):
        assert (dekad in read.dekads) is (cell != NONE), words
        assert (dekad in read.uncertain) is (cell == SOMETIMES), words
    most = {dekad for dekad, cell in enumerate(cells) if cell == MOST}
    # Most seen whenever it is surely about says no more than that it is about.
    assert read.most_seen == (most if ABOUT in cells else set()), words


@pytest.mark.parametrize(
    ("painted", "words"),
    [
        ({13: ABOUT, 14: ABOUT, 15: ABOUT}, "mid May – early June"),
        ({12: ABOUT, 13: ABOUT, 14: ABOUT}, "May"),
        ({34: ABOUT, 35: ABOUT, 0: ABOUT, 1: MOST}, "mid December – mid January; most seen in mid January"),
        (dict.fromkeys(range(36), ABOUT) | {15: MOST, 16: MOST, 17: MOST}, "all year; most seen in June"),
        ({12: SOMETIMES}, "sometimes early May"),
        ({12: MOST, 13: MOST}, "early to mid May"),
    ],
)
def test_the_words_are_those_of_an_author(painted: dict[int, int], words: str) -> None:
    assert write_season([painted.get(dekad, NONE) for dekad in range(36)]) == words


def test_the_page_shows_the_year_over_what_was_seen(hedge: Path) -> None:
    with desk_on(hedge) as desk:
        view = show_seasons(desk, "parent-bug", {})
        assert view is not None
        assert show_seasons(desk, "nobody", {}) is None
        listed = show_seasons(desk, "", {})
    stages = {stage.id: stage for stage in view.stages}
    assert [cell for cell in stages["egg"].cells if cell] == [ABOUT] * 4
    assert stages["adult"].words == "all year; most seen May–June, August–September"
    assert stages["adult"].cells.count(MOST) == 12
    assert sum(stages["adult"].seen) > 10
    assert view.most_seen == max(max(stage.seen) for stage in view.stages)
    assert listed is not None
    assert len(listed.accounts) == 18


def _painted(*, until: int) -> list[int]:
    return [ABOUT if dekad <= until else NONE for dekad in range(36)]


def test_only_the_line_of_the_stage_changes(hedge: Path) -> None:
    file = hedge / "accounts/parent-bug.md"
    before = file.read_text("utf-8")
    with desk_on(hedge) as desk:
        view = show_seasons(desk, "parent-bug", {})
        assert view is not None
        cells = _painted(until=5)
        assert say_season(desk, {"cells": cells}) == {"words": "January–February"}
        answer = paint_season(desk, {"file": view.file, "digest": view.digest, "stage": "egg", "cells": cells})
    changed = [line for line in difflib.ndiff(before.splitlines(), file.read_text("utf-8").splitlines()) if line[:2] in ("- ", "+ ")]
    assert changed == ["-   egg: late May – June", "+   egg: January–February"]
    assert answer["words"] == "January–February"
    with desk_on(hedge) as desk:
        paint_season(desk, {"file": view.file, "digest": answer["digest"], "stage": "egg", "cells": [NONE] * 36})
    assert read_for_draft(hedge).accounts["parent-bug"].season_of("egg") is None


@pytest.mark.parametrize("cells", [None, [], [1] * 35, [1] * 35 + [4], ["1"] * 36, [1.5] * 36, "x" * 36])
def test_what_is_no_year_is_refused(hedge: Path, cells: object) -> None:
    file = hedge / "accounts/parent-bug.md"
    before = file.read_bytes()
    with desk_on(hedge) as desk:
        view = show_seasons(desk, "parent-bug", {})
        assert view is not None
        for stage, given_cells in (("egg", cells), ("larva", [1] * 36)):
            with pytest.raises(SaidInOneLineError):
                paint_season(desk, {"file": view.file, "digest": view.digest, "stage": stage, "cells": given_cells})
    assert file.read_bytes() == before


def test_what_paint_cannot_say_is_left_alone(hedge: Path) -> None:
    file = hedge / "accounts/parent-bug.md"
    text = file.read_text("utf-8")
    file.write_text(text.replace("  egg: late May – June", "  egg: 'not here: it lays farther south'"), "utf-8")
    with desk_on(hedge) as desk:
        view = show_seasons(desk, "parent-bug", {})
    assert view is not None
    assert [stage.id for stage in view.stages if stage.kept] == ["egg"]
