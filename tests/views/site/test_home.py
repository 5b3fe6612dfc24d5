"""The first page: what is most likely met on the reader's day, what else is about, and the next walk."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from guidebuild.fieldwork.out import out_on
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.seasons import DEKADS
from guidebuild.session import read_unchecked
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site import home
from tests.conftest import SAMPLE


@pytest.fixture(scope="module")
def guide() -> Published:
    return make_published(read_unchecked(SAMPLE))


def names(page: home.HomePage, dekad: int) -> list[str]:
    return [page.out[number].link.text for number in page.likeliest[dekad]]


def test_the_likeliest_of_each_dekad_are_those_of_its_own_page(guide: Published) -> None:
    page = home.home_page(make_pieces(guide), dt.date(2026, 11, 28), ())
    for dekad in range(DEKADS):
        found = out_on(guide, dt.date(2026, dekad // 3 + 1, dekad % 3 * 10 + 5))
        ranked = [*(out for out in found if out.most_seen), *(out for out in found if not out.most_seen)]
        in_season = [guide.accounts[out.account].vernacular for out in ranked if out.stages]
        assert names(page, dekad) == in_season[: home.LIKELIEST]
        assert all(page.out[number].year[dekad] for number in page.likeliest[dekad])
    assert {len(numbers) for numbers in page.likeliest} == {home.LIKELIEST}


@pytest.mark.parametrize("day", [dt.date(2026, 11, 28), dt.date(2026, 6, 12), dt.date(2027, 1, 1)])
def test_what_is_shown_without_scripts_is_right_on_the_day_it_was_made(guide: Published, day: dt.date) -> None:
    page = home.home_page(make_pieces(guide), day, ())
    assert page.likeliest[page.dekad] == tuple(range(home.LIKELIEST))
    out = [entry.out for entry in page.out]
    assert out == sorted(out, reverse=True)
    assert len(page.out) == len(guide.accounts)


def test_the_picture_is_of_a_stage_that_is_out(guide: Published) -> None:
    page = home.home_page(make_pieces(guide), dt.date(2026, 6, 25), ())
    stages = {photo.id: photo.stage for photo in guide.photos.values()}
    for number in page.likeliest[page.dekad]:
        entry = page.out[number]
        account = next(account for account in guide.accounts.values() if account.vernacular == entry.link.text)
        now = {season.stage for season in account.seasons if page.dekad in season.season.dekads}
        assert entry.photo is None or stages[entry.photo.id] in now | {""}


def test_a_dekad_with_few_has_few(guide: Published) -> None:
    few = replace(guide, accounts=dict(list(guide.accounts.items())[:2]))
    page = home.home_page(make_pieces(few), dt.date(2026, 6, 12), ())
    assert all(len(numbers) <= 2 for numbers in page.likeliest)
    assert page.likeliest_digits.count("|") == DEKADS - 1


def test_the_next_walk_is_the_first_that_is_to_come(guide: Published) -> None:
    make = make_pieces(guide)
    days = sorted(walk.date for walk in guide.walks.values())
    for today in (days[0] - dt.timedelta(1), days[0], days[0] + dt.timedelta(1)):
        page = home.home_page(make, today, ())
        assert page.walks[page.next_walk].day == min(day for day in days if day >= today)
        assert page.walks[page.next_walk].meet
    assert home.home_page(make, days[-1] + dt.timedelta(1), ()).next_walk == -1
