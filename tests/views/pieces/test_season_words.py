"""Seasons in words and in cells."""

from __future__ import annotations

import pytest

from guidebuild.guide.guide import Settings
from guidebuild.guide.season_text import parse_season
from guidebuild.guide.seasons import Season
from guidebuild.views.pieces.season_words import fill_cells, season_bar, season_words
from guidebuild.words import words

EN, ES = words("en"), words("es")
PLAIN, JULY = Settings("Invented"), Settings("Invented", year_starts="july")


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
    assert season_words(_read(typed), EN, PLAIN) == said


def test_season_word_of_the_south_is_shown_in_its_months() -> None:
    # Case A13: every page that shows a season word also shows the months.
    assert season_words(_read("spring", "south"), EN, PLAIN) == "September to November"


def test_part_of_one_month() -> None:
    assert season_words(Season("", frozenset({15, 16})), EN, PLAIN) == "early June to mid June"
    assert season_words(Season("", frozenset({16})), EN, PLAIN) == "mid June"
    assert season_words(Season("", frozenset()), EN, PLAIN) == "not seen"


def test_spanish_months_come_from_cldr() -> None:
    assert season_words(_read("mid June – August"), ES, PLAIN) == "mediados de junio a agosto"


@pytest.mark.parametrize(
    ("typed", "january", "july"),
    [
        ("January–March, October–December", "October to March", "October to March"),  # one summer, over New Year
        ("February–March, November", "February to March and November", "November and February to March"),
        ("late January; early September; April", "late January, April and early September", "early September, late January and April"),
        ("May–August, November", "May to August and November", "November and May to August"),  # July is midst of a run
        ("June, July", "June to July", "June to July"),
        (
            "all year; most seen in January and October",
            "all year; most seen in January and October",
            "all year; most seen in October and January",
        ),
        ("all year", "all year", "all year"),
    ],
)
def test_months_are_told_in_the_order_of_the_guides_year(typed: str, january: str, july: str) -> None:
    assert season_words(_read(typed), EN, PLAIN) == january
    assert season_words(_read(typed), EN, JULY) == july
    assert season_bar([("adult", "adult", _read(typed))], EN, JULY).rows[0].words == july


def test_the_guides_year_is_told_in_every_language() -> None:
    assert season_words(_read("February–March, November"), ES, JULY) == "noviembre y febrero a marzo"
    assert season_words(_read("February–March, November"), words("de"), JULY) == "November und Februar – März"  # words of CLDR alone
    assert season_words(_read("all year"), words("de"), JULY) == "Juli – Juni"


def test_bar_draws_a_winter_season_in_two_pieces() -> None:
    bar = season_bar([("adult", "adult", _read("Nov–Feb"))], EN, PLAIN)
    assert bar.rows[0].spans(1) == ((0, 6), (30, 6))
    assert bar.months[0] == "J"


def test_cells_tell_present_from_most_seen() -> None:
    row = fill_cells(Season("", frozenset({0, 1, 2}), frozenset({1})))
    assert row[:4] == (1, 2, 1, 0)
    assert len(row) == 36
