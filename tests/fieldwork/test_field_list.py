"""What still wants a photo, a sighting, a description or a review."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from guidebuild.fieldwork.field_list import Want, field_list, season_end
from guidebuild.guide.accounts import Review, StageSeason, StageText
from guidebuild.guide.text.inline import Inline
from tests.fieldwork.invented import BIRCH, PARENT, RARE, guide, season, tally

JUNE_20 = dt.date(2026, 6, 20)
REVIEWED = Review("A. Leader", dt.date(2026, 1, 1))
DONE = replace(PARENT, reviewed=REVIEWED, stages=(StageText("nymph", Inline("Small.")), StageText("adult", Inline("Spotted."))))


def told(*accounts: object, day: dt.date = JUNE_20, **more: object) -> list[tuple[str, str, str, str]]:
    made = guide(*accounts, **more)  # type: ignore[arg-type]
    return [(w.account, w.stage, w.want.value, str(w.ends)) for w in field_list(made, day)]


def test_only_what_is_in_season_is_listed_the_soonest_end_first() -> None:
    assert told(replace(RARE, reviewed=REVIEWED), DONE) == [
        ("rare-bug", "adult", "a description", "2026-07-31"),
        ("rare-bug", "adult", "a photo", "2026-07-31"),
        ("rare-bug", "adult", "a sighting", "2026-07-31"),
        ("parent-bug", "nymph", "a photo", "2026-08-31"),
        ("parent-bug", "nymph", "a sighting", "2026-08-31"),
        ("parent-bug", "adult", "a sighting", "None"),
    ]


def test_a_sighting_strikes_it_off() -> None:
    seen = (tally("parent-bug", "adult", "", {"2025-06-01": 1}), tally("parent-bug", "nymph", "", {}, loose=1))
    assert told(DONE, sightings=seen) == [("parent-bug", "nymph", "a photo", "2026-08-31")]


def test_an_old_review_is_wanted_while_something_is_out() -> None:
    old = replace(BIRCH, reviewed=Review("A. Leader", dt.date(2023, 6, 20)))
    found = field_list(guide(old), JUNE_20)
    assert [(w.want, w.stage, w.ends) for w in found if w.want is Want.REVIEW] == [(Want.REVIEW, "", dt.date(2026, 10, 31))]
    assert field_list(guide(old), dt.date(2026, 1, 5)) == ()


def test_places_say_where_to_go() -> None:
    found = [w for w in field_list(guide(DONE), JUNE_20) if w.stage == "nymph"]
    assert {w.places for w in found} == {("north-hedge",)}
    assert [w.stage for w in field_list(guide(DONE), JUNE_20, "meadow")] == []
    assert len(field_list(guide(DONE), JUNE_20, "north-hedge")) == 3


def test_the_authors_list_names_secret_places() -> None:
    assert {w.places for w in field_list(guide(RARE), JUNE_20)} == {("weir-pool",)}


def test_days_left_count_today() -> None:
    wanted = field_list(guide(RARE), dt.date(2026, 7, 31))[0]
    assert wanted.days_left(dt.date(2026, 7, 31)) == 1


def test_a_winter_season_ends_next_year() -> None:
    assert season_end(season("Nov–Feb"), dt.date(2027, 12, 5)) == dt.date(2028, 2, 29)
    assert season_end(season("Nov–Dec"), dt.date(2027, 12, 5)) == dt.date(2027, 12, 31)
    assert season_end(season("Nov–Feb"), dt.date(2027, 1, 5)) == dt.date(2027, 2, 28)
    assert season_end(season("May"), dt.date(2027, 12, 25)) == dt.date(2027, 12, 31)  # out of season: the end of that dekad
    assert season_end(season("all year"), JUNE_20) is None


def test_a_review_is_due_on_the_day_its_months_are_over() -> None:
    made = guide()
    months = made.settings.review_after_months
    years, rest = divmod(months, 12)
    assert rest == 0
    for on, due in ((dt.date(2026 - years, 6, 20), True), (dt.date(2026 - years, 6, 21), False)):
        reviewed = replace(BIRCH, reviewed=Review("A. Leader", on))
        assert (Want.REVIEW in {w.want for w in field_list(guide(reviewed), JUNE_20)}) is due


def test_only_places_where_it_is_in_season_are_gone_to() -> None:
    own = StageSeason("nymph", season("April"), "meadow")
    made = replace(DONE, places=("north-hedge", "meadow", "weir-pool"), absent_from=("weir-pool",), seasons=(*DONE.seasons, own))
    nymphs = {w.places for w in field_list(guide(made), JUNE_20) if w.stage == "nymph"}
    assert nymphs == {("north-hedge",)}
    assert {w.places for w in field_list(guide(made), dt.date(2026, 4, 5)) if w.stage == "nymph"} == {("meadow",)}


def test_a_review_has_no_end_where_something_is_out_all_year() -> None:
    old = replace(PARENT, reviewed=Review("A. Leader", dt.date(2020, 1, 1)))
    assert [w.ends for w in field_list(guide(old), JUNE_20) if w.want is Want.REVIEW] == [None]
    dated = replace(BIRCH, reviewed=Review("A. Leader", dt.date(2020, 1, 1)))
    assert [w.ends for w in field_list(guide(dated), dt.date(2026, 7, 5)) if w.want is Want.REVIEW] == [dt.date(2026, 10, 31)]
