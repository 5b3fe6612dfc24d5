"""Seasons in words and in cells."""

from __future__ import annotations

import pytest

from guidebuild.guide.guide import Settings
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import Season
from guidebuild.views.pieces.season_words import fill_cells, season_bar, season_words
from guidebuild.words import words

EN, ES = words("en"), words("es")


def _read(text: str, hemisphere: str = "north") -> Season:
    season = parse_season(text, hemisphere)
    assert isinstance(season, Season)
    return season


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("Nov–Feb", "November to February"),  # case A12
        ("15 Dec – 10 Jan", "mid December to early January"),
        ("June", "June"),
        ("mid June – August", "mid June to August"),
        ("all year; most seen May–June", "all year; most seen May to June"),
        ("all year; most seen in May", "all year; most seen in May"),
        ("all year; most seen in early May, August", "all year; most seen in early May and August"),
        ("March–April, September", "March to April and September"),
    ],
)
def test_season_is_said_in_months(typed: str, said: str) -> None:
    assert season_words(_read(typed), EN) == said


def test_season_word_of_the_south_is_shown_in_its_months() -> None:
    # Case A13: every page that shows a season word also shows the months.
    assert season_words(_read("spring", "south"), EN) == "September to November"


def test_part_of_one_month() -> None:
    assert season_words(Season("", frozenset({15, 16})), EN) == "early June to mid June"
    assert season_words(Season("", frozenset({16})), EN) == "mid June"
    assert season_words(Season("", frozenset()), EN) == "not seen"


def test_spanish_months_come_from_cldr() -> None:
    assert season_words(_read("mid June – August"), ES) == "mediados de junio a agosto"


def test_bar_draws_a_winter_season_in_two_pieces() -> None:
    bar = season_bar([("adult", "adult", _read("Nov–Feb"))], EN, Settings("Invented"))
    assert bar.rows[0].spans(1) == ((0, 6), (30, 6))
    assert bar.months[0] == "J"


def test_cells_tell_present_from_most_seen() -> None:
    row = fill_cells(Season("", frozenset({0, 1, 2}), frozenset({1})))
    assert row[:4] == (1, 2, 1, 0)
    assert len(row) == 36
