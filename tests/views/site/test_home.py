"""The first page: what is most likely met on the reader's day, what else is about, and the next walk."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.fieldwork.out import Chance, Out, Reason, out_on
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.seasons import DEKADS
from guidebuild.session import read_unchecked
from guidebuild.views.pieces.chances import say_why
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site import home
from guidebuild.views.site.likeliest import ANYWHERE, LIKELIEST, Likeliest, anywhere_piece, place_piece
from guidebuild.views.site.pages import SitePages
from guidebuild.words import words
from tests.conftest import SAMPLE
from tests.guides.whole_guides import HERE, NAMES


@pytest.fixture(scope="module")
def guide() -> Published:
    return make_published(read_unchecked(SAMPLE))


def names(shown: Likeliest, dekad: int) -> list[str]:
    return [shown.named[number][0].text for number, _ in shown.ranked[dekad]]


def test_the_likeliest_of_each_dekad_are_those_of_its_own_page(guide: Published) -> None:
    page = home.home_page(make_pieces(guide), dt.date(2026, 11, 28), ())
    entries = dict(page.now.entries)
    for dekad in range(DEKADS):
        found = out_on(guide, dt.date(2026, dekad // 3 + 1, dekad % 3 * 10 + 5))
        ranked = [*(out for out in found if out.most_seen), *(out for out in found if not out.most_seen)]
        assert names(page.now, dekad) == [guide.accounts[out.account].vernacular for out in ranked if out.stages]
        assert all(entries[number].year[dekad] for number, _ in page.now.ranked[dekad][:LIKELIEST])


@pytest.mark.parametrize("day", [dt.date(2026, 11, 28), dt.date(2026, 6, 12), dt.date(2027, 1, 1)])
def test_what_is_shown_without_scripts_is_right_on_the_day_it_was_made(guide: Published, day: dt.date) -> None:
    page = home.home_page(make_pieces(guide), day, ())
    now = page.now.ranked[page.dekad]
    assert [number for number, _ in now] == list(range(len(now)))
    shown = [(entry.chance, entry.why) for _, entry in page.now.entries if entry.out]
    assert shown == [page.now.whys[why] for _, why in now[:LIKELIEST]]
    assert [number for number, (_, named) in enumerate(page.now.named) if named] == list(range(LIKELIEST, len(now)))


@pytest.mark.parametrize("folder", [SAMPLE, *(HERE / name for name in NAMES)], ids=lambda folder: folder.name)
def test_every_rank_has_its_reason_which_is_the_season_where_nothing_else_speaks_for_it(folder: Path) -> None:
    told = make_published(read_unchecked(folder))
    make = make_pieces(told)
    ids = {account.vernacular: ident for ident, account in told.accounts.items()}
    alone = 0
    for place in (None, *told.places.values()):
        piece = place_piece(make, place) if place else anywhere_piece(make)
        for dekad in range(DEKADS):
            found = {
                out.account: out for out in out_on(told, dt.date(2026, dekad // 3 + 1, 10 * (dekad % 3) + 5), place.id if place else "")
            }
            for number, why in piece.ranked[dekad]:
                out, said = found[ids[piece.named[number][0].text]], piece.whys[why][1]
                more = out.years or out.most_seen or out.chance is not Chance.POSSIBLE or place
                assert said.startswith("its season alone speaks for it (") is not bool(more), (out, said)
                assert said
                alone += not more
    assert alone


def test_the_stages_of_a_season_that_stands_alone_are_said_in_the_readers_words() -> None:
    reasons = (Reason("in season: {stages}", (("stages", "nymph"),)), Reason("{stages} now", (("stages", "in flower"),)))
    out = Out("bug", ("nymph", "flower"), Chance.POSSIBLE, reasons, most_seen=False, years=0, rows=0)
    assert say_why(words("en"), out, "en") == "its season alone speaks for it (nymph and in flower)"
    assert say_why(words("es"), out, "en") == "solo su temporada habla a su favor (ninfa y en flor)"
    known = replace(out, reasons=(*reasons, Reason("seen here at another time")))
    assert say_why(words("en"), known, "en") == "seen here at another time"


def test_the_picture_is_of_a_stage_that_is_out(guide: Published) -> None:
    page = home.home_page(make_pieces(guide), dt.date(2026, 6, 25), ())
    stages = {photo.id: photo.stage for photo in guide.photos.values()}
    for number, _ in page.now.ranked[page.dekad][:LIKELIEST]:
        entry = dict(page.now.entries)[number]
        account = next(account for account in guide.accounts.values() if account.vernacular == entry.link.text)
        now = {season.stage for season in account.seasons if page.dekad in season.season.dekads}
        assert entry.photo is None or stages[entry.photo.id] in now | {""}


def test_what_is_out_as_a_nymph_alone_is_never_shown_as_an_adult(guide: Published) -> None:
    bug = guide.accounts["parent-bug"]
    young = replace(bug, seasons=tuple(season for season in bug.seasons if season.stage == "nymph"))
    make = make_pieces(replace(guide, accounts={bug.id: young}))
    for shown in (place_piece(make, guide.places["birch-clump"]), home.home_page(make, dt.date(2026, 12, 5), ()).now):
        [(_, entry)] = shown.entries
        assert [told.words.words for told in entry.told] == ["yellowish nymph with a black-banded edge"]
        assert entry.photo and entry.photo.id == "parent-nymph"


def test_a_dekad_with_few_has_few(guide: Published) -> None:
    few = replace(guide, accounts=dict(list(guide.accounts.items())[:2]))
    page = home.home_page(make_pieces(few), dt.date(2026, 6, 12), ())
    assert all(len(numbers) <= 2 for numbers in page.now.ranked)
    assert page.now.ranked_digits.count("|") == DEKADS - 1


def test_a_large_guide_holds_the_day_alone_and_fetches_the_rest(guide: Published, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(home, "WHOLE_YEAR_ON_HOME", 5)
    page = home.home_page(make_pieces(guide), dt.date(2026, 6, 12), ())
    assert [dekad for dekad, ranked in enumerate(page.now.ranked) if ranked] == [page.dekad]
    assert page.year == ANYWHERE
    piece = anywhere_piece(make_pieces(guide))
    assert names(piece, page.dekad) == names(page.now, page.dekad)
    assert ANYWHERE in {one.path for one in SitePages(guide, dt.date(2026, 6, 12)).list_all()}


def test_at_a_place_they_are_ranked_and_reasoned_as_out_there(guide: Published) -> None:
    make = make_pieces(guide)
    for place in guide.places.values():
        piece = place_piece(make, place)
        for dekad in range(DEKADS):
            here = out_on(guide, dt.date(2026, dekad // 3 + 1, dekad % 3 * 10 + 5), place.id)
            tied = [out for out in here if out.chance is not Chance.OUTSIDE and out.stages]
            assert names(piece, dekad) == [guide.accounts[out.account].vernacular for out in tied]
            assert [piece.whys[why] for _, why in piece.ranked[dekad]] == [
                (out.chance.words, say_why(make.words, out, "en")) for out in tied
            ]


def test_a_secret_place_is_not_offered_and_has_no_piece(guide: Published) -> None:
    whole = read_unchecked(SAMPLE)
    assert whole.places["withy-corner"].sensitivity
    page = home.home_page(make_pieces(guide), dt.date(2026, 5, 12), ())
    assert {choice.id for choice in page.places} == set(whole.places) - {"withy-corner"}
    assert not [one.path for one in SitePages(guide, dt.date(2026, 5, 12)).list_all() if "withy" in one.path]
    # The one species of that place is tied to no other by a sighting there.
    for place in guide.places.values():
        piece = place_piece(make_pieces(guide), place)
        assert "Scarlet Shieldbug" not in {link.text for link, _ in piece.named}


def test_the_next_walk_is_the_first_that_is_to_come(guide: Published) -> None:
    make = make_pieces(guide)
    days = sorted(walk.date for walk in guide.walks.values())
    for today in (days[0] - dt.timedelta(1), days[0], days[0] + dt.timedelta(1)):
        page = home.home_page(make, today, ())
        assert page.walks[page.next_walk].day == min(day for day in days if day >= today)
        assert page.walks[page.next_walk].meet
    assert home.home_page(make, days[-1] + dt.timedelta(1), ()).next_walk == -1
