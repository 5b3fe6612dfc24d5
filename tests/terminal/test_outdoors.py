"""What is out, walks and the field list in windows of 80 and 120 columns, in the guide's language, with nothing secret named."""

from __future__ import annotations

import datetime as dt
import io
from dataclasses import replace

import pytest
from rich.console import Console

from guidebuild.guide.accounts import FieldMark
from guidebuild.guide.records import Stop
from guidebuild.guide.text.inline import Inline
from guidebuild.terminal.outdoors import print_bars, print_field_list, print_out, print_walk
from guidebuild.views.outdoors.field_list import field_list_view
from guidebuild.views.outdoors.season_page import out_page
from guidebuild.views.outdoors.walk import walk_pack_view
from guidebuild.words import words
from tests.as_published import with_walk
from tests.fieldwork.invented import BIRCH, PARENT, RARE, SETTINGS, WALK, guide, tally

DAY = dt.date(2026, 6, 20)
SEEN = (tally("parent-bug", "adult", "north-hedge", {"2024-06-18": 2, "2025-06-25": 1}),)
MARKED = replace(
    PARENT, diagnostics=(FieldMark(Inline("dark spot in the middle of the scutellum, larger in some than in others"), ("adult",)),)
)
SPANISH = replace(SETTINGS, languages=("es",))
NARROW, WIDE = 80, 120
LONG_NOTE = "Look along the underside of each leaf, one twig at a time, and let the children hold the twig, for they see what you do not."


def window(columns: int) -> Console:
    """A window of so many columns that keeps what is printed."""
    return Console(file=io.StringIO(), width=columns, markup=False, emoji=False, force_terminal=False)


def lines(console: Console) -> list[str]:
    assert isinstance(console.file, io.StringIO)
    return [line.rstrip() for line in console.file.getvalue().splitlines()]


@pytest.mark.parametrize("columns", [NARROW, WIDE])
def test_a_walk_fits_the_window_and_keeps_its_indent(columns: int) -> None:
    walk = replace(WALK, stops=(replace(WALK.stops[0], note=Inline(LONG_NOTE)), *WALK.stops[1:]))
    console = window(columns)
    print_walk(console, walk_pack_view(*with_walk(guide(MARKED, BIRCH, sightings=SEEN), walk)))
    printed = lines(console)
    assert max(map(len, printed)) <= columns
    start = next(n for n, line in enumerate(printed) if line.startswith("  Look along"))
    assert printed[start + 1].startswith("  ")
    assert " ".join(f"{printed[start]}{printed[start + 1]}".split()).startswith(LONG_NOTE[: columns - 5])


def test_a_walk_is_told_in_the_order_of_the_day() -> None:
    console = window(WIDE)
    print_walk(console, walk_pack_view(*with_walk(guide(MARKED, BIRCH, sightings=SEEN), WALK)))
    text = "\n".join(lines(console))
    told = ["A June evening on the hedge", "Saturday, 20 June 2026", "18:30–20:00", "Sunrise 04:50", "1. North Hedge, 18:30–19:00",
            "Silver Birch: Parent Bug, Birch Bug", "2. Long Meadow", "Taken for one another here", "Take care", "Bring", "  notebook",
            "likely: in season", "Nothing is promised"]  # fmt: skip
    places = [text.find(words) for words in told]
    assert -1 not in places
    assert places == sorted(places)


def test_a_walk_names_no_secret_place() -> None:
    console = window(WIDE)
    print_walk(console, walk_pack_view(*with_walk(guide(MARKED, RARE), replace(WALK, stops=(*WALK.stops, Stop("weir-pool", 10))))))
    text = "\n".join(lines(console))
    assert "3. Upper Larkfold" in text
    assert "Weir Pool" not in text


def test_bars_stand_under_their_months_with_the_words_beside() -> None:
    console = window(NARROW)
    print_bars(console, guide(PARENT), ["parent-bug"])
    printed = lines(console)
    assert max(map(len, printed)) <= NARROW
    head, nymph = printed[1], next(line for line in printed if "nymph" in line)
    assert head.strip() == "J  F  M  A  M  J  J  A  S  O  N  D"
    assert nymph.index("▄") == head.index("J", head.index("M  J")) + 1  # mid June is one dekad after the letter
    assert nymph.endswith("mid June to August")


def test_bars_are_plain_where_blocks_cannot_be_shown() -> None:
    file = io.TextIOWrapper(io.BytesIO(), encoding="ascii", write_through=True)
    print_bars(Console(file=file, width=NARROW, markup=False), guide(PARENT), ["parent-bug"])
    assert "................oooooooo............" in file.buffer.getvalue().decode("ascii")  # type: ignore[attr-defined]


def test_dates_and_headings_are_in_the_language_of_the_guide() -> None:
    made, say = guide(MARKED, BIRCH, sightings=SEEN, settings=SPANISH), words("es")
    console = window(WIDE)
    page = out_page(made, DAY)
    print_out(console, page, say=say, where="")
    print_bars(console, made, (row.id for row in page.rows))
    print_walk(console, walk_pack_view(*with_walk(made, WALK)))
    print_field_list(console, field_list_view(made, DAY), say=say)
    text = "\n".join(lines(console))
    assert "20 de junio de 2026" in text
    assert "sábado, 20 de junio de 2026" in text
    assert "mediados de junio a agosto" in text
    assert "hasta el 31 de agosto de 2026" in text
    assert "June" not in text.replace(WALK.title, "")


def test_what_is_out_at_a_secret_place_is_told_to_its_author_alone() -> None:
    made, console = guide(PARENT, RARE), window(WIDE)
    print_out(console, out_page(made, DAY, "weir-pool"), say=words("en"), where="Weir Pool")
    assert any("Rare Bug" in line for line in lines(console))


def test_nothing_out_and_nothing_wanted_are_said() -> None:
    made, console = replace(guide(), accounts={}), window(NARROW)
    print_out(console, out_page(made, DAY), say=words("en"), where="")
    print_field_list(console, field_list_view(made, DAY), say=words("en"))
    assert lines(console) == [
        "Out on 20 June 2026",
        "Nothing in the guide is in season.",
        "Nothing in season now lacks a photo, a sighting or a review.",
    ]
