"""The plan of weeks: what is in season, what rested longest, what is soon over."""

from __future__ import annotations

import datetime as dt
import itertools
from dataclasses import replace
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import StageSeason
from guidebuild.guide.guide import Guide
from guidebuild.guide.seasons import Season, dekad_of
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
    ((_, _, why),) = plan(posted(posted(spanish, dt.date(2026, 5, 4), "pale-bug"), dt.date(2026, 5, 25)))
    assert why[1] == "publicada por última vez 4 semanas antes"
