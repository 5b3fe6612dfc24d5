"""The plan of weeks: what is in season, what rested longest, what is soon over."""

from __future__ import annotations

import datetime as dt
import itertools
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import StageSeason
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Sensitivity, Stop, Walk
from guidebuild.guide.seasons import Season, dekad_of
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.whole import read_guide
from guidebuild.views.posts.week_plan import REST, PlannedWeek, week_plan
from tests.checks.invented import JUNE, guide, with_account

SAMPLE = Path(__file__).resolve().parents[3] / "sample_guide"
MONDAY = dt.date(2026, 6, 1)
ALL_YEAR = Season("all year", frozenset(range(36)))


def posted(base: Guide, day: dt.date | None, account: str = "red-bug") -> Guide:
    return with_account(base, account, posted=day)


def plan(base: Guide, today: dt.date = MONDAY, weeks: int = 1) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(week.monday.isoformat(), week.account, week.why) for week in week_plan(make_published(base), today, weeks).weeks]


def test_the_plan_starts_on_the_monday_on_or_after_the_day() -> None:
    for day in (dt.date(2026, 6, 2), dt.date(2026, 6, 7), dt.date(2026, 6, 8)):
        assert week_plan(make_published(guide()), day, 1).weeks[0].monday == dt.date(2026, 6, 8)


def test_only_what_is_in_season_is_planned() -> None:
    assert plan(guide(), dt.date(2026, 3, 2), weeks=2) == []
    assert [week[1] for week in plan(guide(), weeks=2)] == ["pale-bug", "red-bug"]


def test_a_stage_that_is_looked_for_counts_before_others() -> None:
    eggs_in_june = (StageSeason("egg", JUNE), StageSeason("adult", ALL_YEAR))
    base = with_account(guide(), "red-bug", seasons=eggs_in_june)
    reasons = {week[1]: week[2] for week in plan(base, weeks=2)}
    assert reasons == {
        "pale-bug": ("in season: adult until late June", "never posted"),
        "red-bug": ("in season: adult all year", "never posted"),
    }


def test_the_plan_says_of_every_stage_that_is_out_how_long() -> None:
    june = Season("June", frozenset(range(15, 18)))
    seasons = (StageSeason("nymph", june), StageSeason("adult", ALL_YEAR))
    sets = {"bug": replace(guide().stage_sets["bug"], sought=("nymph", "adult"))}
    made = replace(with_account(guide(), "red-bug", seasons=seasons), stage_sets=sets)
    reasons = {week[1]: week[2][0] for week in plan(made, weeks=2)}
    assert reasons["red-bug"] == "in season: nymph until late June, adult all year"


def test_what_was_posted_lately_rests() -> None:
    base = posted(guide(), dt.date(2026, 5, 4), "pale-bug")
    assert plan(base) == [("2026-06-01", "red-bug", ("in season: adult until late June", "never posted"))]
    ((_, account, why),) = plan(posted(base, dt.date(2026, 5, 25)))
    assert (account, why[1]) == ("pale-bug", "last posted 4 weeks before")


SEASONS = st.lists(st.integers(0, 35), min_size=1, max_size=36, unique=True).map(lambda dekads: Season("", frozenset(dekads)))
POSTED = st.none() | st.dates(MONDAY - dt.timedelta(weeks=60), MONDAY + dt.timedelta(weeks=30))
TO_POST = st.none() | st.dates(MONDAY - dt.timedelta(weeks=4), MONDAY + dt.timedelta(weeks=70))
TOLD = st.lists(st.tuples(SEASONS, POSTED, TO_POST), min_size=1, max_size=7)


@given(TOLD, st.dates(MONDAY, MONDAY + dt.timedelta(days=365)))
@settings(max_examples=120, deadline=None)
def test_every_week_follows_the_rule_that_the_plan_gives(told: list[tuple[Season, dt.date | None, dt.date | None]], today: dt.date) -> None:
    """What its author chose stays in its week. Of all else, in season, what has rested and is soonest over; where nothing has, what was
    posted longest ago. Worked out anew for each week."""
    base = guide()
    account = replace(base.accounts["red-bug"], similar=type(base.accounts["red-bug"].similar)(()))
    made = [
        replace(account, id=f"bug-{number}", posted=day, to_post=wanted, seasons=(StageSeason("adult", season),))
        for number, (season, day, wanted) in enumerate(told)
    ]
    seasons = {a.id: a.seasons[0].season for a in made}
    plan = week_plan(make_published(replace(base, accounts={a.id: a for a in made})), today, weeks=30)
    first = next(day for n in range(7) if (day := today + dt.timedelta(n)).weekday() == 0)
    ahead = {a.id: [d - dt.timedelta(d.weekday()) for d in (a.to_post, a.posted) if d and d >= first] for a in made}
    chosen = {ident: weeks[0] for ident, weeks in ahead.items() if weeks}
    posted = {a.id: max((d for d in (a.posted, a.to_post) if d and d < first), default=None) for a in made}
    assert f"{REST} weeks" in plan.rule
    by_week = {monday: list(posts) for monday, posts in itertools.groupby(plan.weeks, key=lambda post: post.monday)}
    for monday in (first + dt.timedelta(weeks=n) for n in range(30)):
        posts = by_week.get(monday, [])
        theirs = sorted(ident for ident, week in chosen.items() if week == monday)
        out = {ident for ident, season in seasons.items() if season.on(monday)}
        assert all(post.is_out == (post.account in out) for post in posts)
        if theirs:
            assert [(post.account, post.chosen) for post in posts] == [(ident, True) for ident in theirs]
        else:
            free = {i for i in out if not (i in chosen and monday <= chosen[i] < monday + dt.timedelta(weeks=REST))}
            assert [post.chosen for post in posts] == [False] * bool(free)
            for post in posts:
                _follows_the_rule(post, free, posted, seasons)
        posted |= {post.account: monday for post in posts}


def _follows_the_rule(post: PlannedWeek, free: set[str], posted: dict[str, dt.date | None], seasons: dict[str, Season]) -> None:
    days = {ident: (post.monday - day).days if (day := posted[ident]) else None for ident in free}
    ready = {ident for ident in free if (since := days[ident]) is None or since >= REST * 7}
    ends = {ident: next((n for n in range(1, 36) if (dekad_of(post.monday) + n) % 36 not in seasons[ident].dekads), 36) for ident in free}
    assert post.account in (ready or free)
    if ready:
        assert ends[post.account] == min(ends[ident] for ident in ready)
    else:
        weeks_ago = {ident: since // 7 for ident, since in days.items() if since is not None}
        assert weeks_ago[post.account] == max(weeks_ago.values())


def test_nothing_is_posted_two_weeks_running_while_another_waits() -> None:
    base = posted(posted(guide(), dt.date(2026, 5, 18), "pale-bug"), dt.date(2026, 5, 25))
    soon = with_account(base, "red-bug", seasons=(StageSeason("adult", Season("June", frozenset(range(15, 18)))),))
    late = with_account(soon, "pale-bug", seasons=(StageSeason("adult", ALL_YEAR),))
    assert [week[1] for week in plan(late, weeks=4)] == ["pale-bug", "red-bug", "pale-bug", "red-bug"]


WALK = Walk("may-walk", "A walk", dt.date(2026, 6, 6), dt.time(14, 0), "Europe/London", "the gate", stops=(Stop("bank", 30, 0),))


def with_walk(base: Guide, *days: dt.date, met: str = "pale-bug") -> Guide:
    """Walks on these days to a place at which one account is found."""
    base = with_account(base, met, places=("bank",))
    places = {**base.places, "bank": Place("bank", "Bank")}
    walks = {f"walk-{n}": replace(WALK, id=f"walk-{n}", date=day) for n, day in enumerate(days)}
    return replace(base, walks=walks, places=places)


def test_a_species_of_a_walk_within_seven_days_goes_first_and_the_plan_says_why() -> None:
    base = with_walk(posted(guide(), dt.date(2026, 5, 18), "pale-bug"), dt.date(2026, 6, 6))
    weeks = plan(base, weeks=2)
    assert weeks[0] == (
        "2026-06-01",
        "pale-bug",
        ("first because: walk on Saturday, 6 June 2026", "in season: adult until late June", "last posted 2 weeks before"),
    )
    assert weeks[1][1:] == ("red-bug", ("in season: adult until late June", "never posted"))
    # Without the walk, what was never posted goes first.
    assert plan(replace(base, walks={}))[0][1] == "red-bug"


def test_a_walk_has_one_post_in_the_week_before_it_and_none_once_it_is_over() -> None:
    base = with_walk(posted(guide(), dt.date(2026, 5, 18), "pale-bug"), dt.date(2026, 6, 8))
    assert [("walk" in why[0], account) for _, account, why in plan(base, weeks=2)] == [(True, "pale-bug"), (False, "red-bug")]
    later = with_walk(base, dt.date(2026, 6, 17))
    assert ["walk" in why[0] for _, _, why in plan(later, weeks=3)] == [False, False, True]
    over = with_walk(base, dt.date(2026, 5, 30))
    assert not any("walk" in why[0] for _, _, why in plan(over, weeks=2))


def test_a_walk_before_the_first_monday_is_posted_about_at_once() -> None:
    base = with_walk(guide(), dt.date(2026, 6, 6))
    thursday = dt.date(2026, 6, 4)
    assert [(day, account) for day, account, _ in plan(base, thursday, weeks=2)] == [("2026-06-01", "pale-bug"), ("2026-06-08", "red-bug")]
    assert len(plan(base, thursday, weeks=1)) == 1
    assert plan(with_account(base, "red-bug", to_post=dt.date(2026, 6, 8)), thursday, weeks=2)[1][2][0] == "chosen by you"
    assert plan(replace(base, walks={}), thursday)[0][0] == "2026-06-08"


def test_a_walk_on_which_nothing_in_season_is_met_changes_nothing() -> None:
    base = with_walk(with_account(guide(), "pale-bug", seasons=(StageSeason("adult", Season("May", frozenset((12, 13, 14)))),)), MONDAY)
    assert plan(base)[0][1:] == ("red-bug", ("in season: adult until late June", "never posted"))


def test_a_species_that_is_secret_goes_first_neither_for_a_walk_nor_as_a_rarity() -> None:
    late = (StageSeason("adult", ALL_YEAR),)
    base = with_account(guide(), "pale-bug", seasons=late, status=Inline("scarce"))
    walk = with_walk(base, dt.date(2026, 6, 6))
    assert plan(walk)[0][1:2] == plan(base)[0][1:2] == ("pale-bug",)
    for open_one in (walk, base):
        secret = with_account(open_one, "pale-bug", sensitivity=Sensitivity(2, "few are left"))
        assert plan(secret)[0][1:] == ("red-bug", ("in season: adult until late June", "never posted"))


def test_a_rarity_that_rested_goes_first_after_a_walk() -> None:
    base = with_account(guide(), "pale-bug", seasons=(StageSeason("adult", ALL_YEAR),), status=Inline("scarce, on chalk"))
    assert plan(base)[0] == (
        "2026-06-01",
        "pale-bug",
        ("first because: a rarity (scarce, on chalk)", "in season: adult all year", "never posted"),
    )
    assert plan(posted(base, dt.date(2026, 5, 4), "pale-bug"))[0][1] == "red-bug"
    both = with_walk(base, dt.date(2026, 6, 6), met="red-bug")
    assert [account for _, account, _ in plan(both, weeks=2)] == ["red-bug", "pale-bug"]


@pytest.mark.parametrize("status", ["common", "common, rare inland", "no longer rare", "not scarce", "once a rare vagrant", "", "local"])
def test_what_is_not_said_to_be_rare_first_of_all_is_no_rarity(status: str) -> None:
    base = with_account(guide(), "pale-bug", seasons=(StageSeason("adult", ALL_YEAR),), status=Inline(status))
    assert plan(base)[0][1] == "red-bug"


def test_a_post_whose_day_is_still_to_come_stands_in_its_week_and_not_before() -> None:
    base = posted(posted(guide(), dt.date(2026, 6, 17), "pale-bug"), dt.date(2026, 5, 25))
    assert [week[:2] for week in plan(base, weeks=3)] == [
        ("2026-06-01", "red-bug"), ("2026-06-08", "red-bug"), ("2026-06-15", "pale-bug"),
    ]  # fmt: skip
    ((monday, account, why),) = plan(with_account(base, "red-bug", seasons=()), weeks=3)
    assert (monday, account, why[0]) == ("2026-06-15", "pale-bug", "chosen by you")


def test_what_its_author_put_into_a_week_stays_there_and_the_rest_is_planned_round_it() -> None:
    base = with_account(guide(), "pale-bug", to_post=dt.date(2026, 6, 11))
    assert [week[:2] for week in plan(base, weeks=2)] == [("2026-06-01", "red-bug"), ("2026-06-08", "pale-bug")]
    both = with_account(base, "red-bug", to_post=dt.date(2026, 6, 8))
    assert [week[:2] for week in plan(both, weeks=2)] == [("2026-06-08", "pale-bug"), ("2026-06-08", "red-bug")]
    assert "What you have put into a week stays there." in week_plan(make_published(base), MONDAY).rule
    assert "What you have put" not in week_plan(make_published(guide()), MONDAY).rule


def test_a_week_out_of_season_is_allowed_and_told() -> None:
    winter = dt.date(2026, 12, 9)
    told = {week[1]: (week[0], week[2][1]) for week in plan(with_account(guide(), "red-bug", to_post=winter), winter, weeks=2)}
    assert told == {}, "on a Wednesday its week is past"
    later = plan(with_account(guide(), "red-bug", to_post=winter), dt.date(2026, 12, 5))
    assert later == [("2026-12-07", "red-bug", ("chosen by you", "no stage is out then", "never posted"))]
    ((_, _, why),) = plan(with_account(guide(), "red-bug", to_post=winter, seasons=()), dt.date(2026, 12, 5))
    assert why[1] == "its account gives no season", "what is unknown is not said to be out of season"


def test_what_was_to_be_posted_and_is_not_said_to_have_been_is_listed_and_taken_as_posted() -> None:
    base = with_account(guide(), "red-bug", to_post=dt.date(2026, 5, 21))
    made = week_plan(make_published(base), MONDAY, 1)
    assert [(post.monday.isoformat(), post.account) for post in made.past] == [("2026-05-18", "red-bug")]
    assert [post.account for post in made.weeks] == ["pale-bug"]
    done = week_plan(make_published(posted(base, dt.date(2026, 5, 19))), MONDAY, 1)
    assert done.past == ()
    assert [post.account for post in week_plan(make_published(posted(base, dt.date(2026, 5, 1))), MONDAY, 1).past] == ["red-bug"]


def test_a_post_that_is_not_ready_says_what_it_lacks() -> None:
    base = replace(guide(), photos={})
    ((_, _, why),) = plan(with_account(base, "pale-bug", photos=(), diagnostics=()))
    assert why == ("in season: adult until late June", "never posted", "still lacks a picture and a field mark")
    assert [len(why) for _, _, why in plan(guide(), weeks=2)] == [2, 2]


def test_what_is_soon_over_comes_before_what_stays() -> None:
    base = with_account(guide(), "pale-bug", seasons=(StageSeason("adult", ALL_YEAR),))
    assert plan(base)[0][1] == "red-bug"


def test_a_season_of_one_place_is_not_the_region_s() -> None:
    base = with_account(guide(), "pale-bug", seasons=(StageSeason("adult", ALL_YEAR, place="long-bank"),))
    assert [week[1] for week in plan(base, dt.date(2026, 9, 7), weeks=3)] == []


def test_other_accounts_that_would_do_are_named() -> None:
    (week,) = week_plan(make_published(guide()), MONDAY, 1).weeks
    assert [name.short for name in week.instead] == ["Red Bug"]


def test_a_quarter_of_the_sample_repeats_nothing_while_another_waits() -> None:
    base = read_guide(SAMPLE).guide
    assert base is not None
    fresh = replace(base, accounts={a.id: replace(a, posted=None) for a in base.accounts.values()})
    weeks = week_plan(make_published(fresh), MONDAY).weeks
    assert len(weeks) == 13
    assert [b.monday - a.monday for a, b in itertools.pairwise(weeks)] == [dt.timedelta(7)] * 12
    assert len({week.account for week in weeks}) == 13
    for week in weeks:
        account = fresh.accounts[week.account]
        assert any(s.season.on(week.monday) for s in account.seasons), week


def test_the_plan_of_a_day_is_always_the_same() -> None:
    base = read_guide(SAMPLE).guide
    assert base is not None
    assert week_plan(make_published(base), MONDAY) == week_plan(make_published(base), MONDAY)


def test_the_plan_speaks_the_guides_language() -> None:
    base = guide()
    spanish = replace(base, settings=replace(base.settings, languages=("es",)))
    assert plan(spanish)[0][2] == ("en temporada: adulto hasta finales de junio", "nunca publicada")
    walk = with_walk(spanish, dt.date(2026, 6, 6))
    assert plan(walk)[0][2][0] == "primero porque: salida el sábado, 6 de junio de 2026"
    rare = with_account(spanish, "pale-bug", status=Inline("muy escasa"))
    assert plan(rare)[0][2][0] == "primero porque: una rareza (muy escasa)"
    ((_, _, why),) = plan(posted(posted(spanish, dt.date(2026, 5, 4), "pale-bug"), dt.date(2026, 5, 25)))
    assert why[1] == "publicada por última vez 4 semanas antes"
