"""A year that starts in July: months, bars, calendars and the page of the year in that order, and all that is asked by the day as ever."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.seasons import Season, turn_year
from guidebuild.session import open_session, read_unchecked
from guidebuild.speech.script import Spoken
from guidebuild.views.booklet.book import booklet_view
from guidebuild.views.data.checklist_table import checklist_rows
from guidebuild.views.pieces.facts import tell_facts
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.scripts.draft import draft_script
from guidebuild.views.scripts.filled import say_facts_in_sentences
from guidebuild.views.site.account import account_page
from guidebuild.views.site.home import home_page
from guidebuild.views.site.lists import dekad_page, seasons_page
from guidebuild.views.telling.side_by_side import Side, show_side_by_side
from tests.conftest import SAMPLE
from tests.guides.whole_guides import HERE

MONTHS = "JASONDJFMAMJ"


@pytest.fixture(scope="module")
def january() -> Published:
    return make_published(read_unchecked(SAMPLE))


@pytest.fixture(scope="module")
def july(january: Published) -> Published:
    return replace(january, settings=replace(january.settings, year_starts="july"))


def test_bars_and_months_are_turned_alike(january: Published, july: Published) -> None:
    account = july.accounts["parent-bug"]
    bar, usual = make_pieces(july).season_bar(account), make_pieces(january).season_bar(account)
    assert bar and usual
    assert "".join(bar.months) == MONTHS
    assert bar.month_names[0] == "July" and bar.month_names[-1] == "June"
    assert [row.cells for row in bar.rows] == [row.cells[18:] + row.cells[:18] for row in usual.rows]
    turned = ("May to June and August to September", "August to September and May to June")
    assert [row.words for row in bar.rows] == [row.words.replace(*turned) for row in usual.rows]
    assert bar != usual


def test_the_year_stands_in_its_order_and_leads_where_it_did(january: Published, july: Published) -> None:
    page, usual = seasons_page(make_pieces(july)), seasons_page(make_pieces(january))
    assert "".join(page.months) == MONTHS
    assert page.dekads[0][0] == 18 and page.dekads[0][2] == "seasons/07-1.html"
    assert sorted(page.dekads) == list(usual.dekads)
    rows = {row.link: row for row in usual.rows}
    for row in page.rows:
        assert row.cells == turn_year(rows[row.link].cells, 18)
    assert [row.starts for row in page.rows] == sorted(row.starts for row in page.rows)
    assert {row.starts for row in page.rows} != {row.starts for row in usual.rows}


def test_side_by_side_and_the_booklets_calendar_have_the_same_order(july: Published) -> None:
    accounts = [july.accounts["parent-bug"], july.accounts["birch-shieldbug"]]
    assert "".join(show_side_by_side(make_pieces(july), Side(accounts, "adult")).months) == MONTHS
    book = booklet_view(july)
    assert "".join(book.months) == MONTHS
    row = next(row for row in book.calendar if row.account == "parent-bug")
    bar = make_pieces(july).season_bar(july.accounts["parent-bug"])
    assert row.year and bar
    assert row.year.cells[0] == max(one.cells[0] for one in bar.rows if one.stage in {"adult", "nymph"})


def test_every_output_says_the_months_in_that_order(july: Published) -> None:
    account = july.accounts["parent-bug"]
    twice = replace(account.seasons[0], stage="adult", season=Season("", frozenset({3, 4, 5, 30, 31, 32})))
    account = replace(account, seasons=(twice,))
    guide = replace(july, accounts={**july.accounts, account.id: account})
    said, spoken = "November and February", "in November, and again in February"
    bar = make_pieces(guide).season_bar(account)
    assert bar and [row.words for row in bar.rows] == [said]  # cards, pages, slides and the booklet's calendar
    assert said in [stage.when for stage in account_page(make_pieces(guide), account).stages]
    assert tell_facts(guide, account)["season of adult"] == said  # posts
    assert any(said in cell for row in checklist_rows(guide) for cell in row)
    assert say_facts_in_sentences(guide, account)["season of adult"] == (Spoken(spoken),)
    lines = [str(draft.line) for section in draft_script(guide, account) for draft in section.lines]
    assert any(spoken in line for line in lines), lines


def test_what_is_out_on_a_day_is_what_it_was(january: Published, july: Published) -> None:
    day = dt.date(2026, 10, 5)
    assert home_page(make_pieces(july), day, ()) == home_page(make_pieces(january), day, ())
    assert dekad_page(make_pieces(july), 3) == dekad_page(make_pieces(january), 3)


def test_a_guide_says_it_by_the_months_name(tmp_path: Path) -> None:
    assert read_unchecked(HERE / "southern-frogs").settings.first_dekad == 18
    (tmp_path / "guide.yaml").write_text("title: Pond\nyear starts: 7th\n", "utf-8")
    [told] = [str(one) for one in open_session(tmp_path).report.findings if one.at.line == 2]
    assert told.startswith("guide.yaml:2:14: error: '7th' is not one of the words for this. Write january, february, march, ")
