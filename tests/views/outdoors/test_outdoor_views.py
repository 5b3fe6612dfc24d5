"""What is out, and the author's field list, as plain data."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from guidebuild.views.outdoors.field_list import field_list_view
from guidebuild.views.outdoors.season_page import out_page
from tests.fieldwork.invented import SETTINGS, guide, tally

JUNE_20 = dt.date(2026, 6, 20)
SEEN = (tally("parent-bug", "adult", "north-hedge", {"2024-06-18": 2, "2025-06-25": 1}),)


def test_out_in_the_region() -> None:
    page = out_page(guide(sightings=SEEN), JUNE_20)
    assert (page.day, page.place) == ("20 June 2026", "")
    assert [(r.name.short, r.chance, r.stages) for r in page.rows] == [
        ("Parent Bug", "likely", "nymph and adult"),
        ("Birch Bug", "possible", "adult"),
        ("Rare Bug", "possible", "adult"),
    ]
    assert page.rows[1].why == ("its season alone speaks for it (adult)",)
    assert page.chances[0] == ("likely", "in season, and seen in the region around this date in two years or more")
    assert page.promise.startswith("Nothing is promised")


def test_out_at_a_place_leaves_out_what_nothing_ties_to_it() -> None:
    assert [r.name.short for r in out_page(guide(sightings=SEEN), JUNE_20, "meadow").rows] == []


def test_the_author_is_told_of_secret_places() -> None:
    page = out_page(guide(), JUNE_20, "weir-pool")
    assert (page.place, [r.name.short for r in page.rows]) == ("Weir Pool", ["Rare Bug"])


def test_the_field_list_says_until_when_and_where() -> None:
    view = field_list_view(guide(), JUNE_20)
    first = view.rows[0]
    assert (first.name.short, first.stage, first.want, first.until) == ("Rare Bug", "", "a review", "until 31 July 2026 (42 days)")
    assert first.places == ("Weir Pool",)
    assert view.rows[-1].until == "all year"


def test_other_languages_have_their_months() -> None:
    spanish = guide(settings=replace(SETTINGS, languages=("es",)))
    assert out_page(spanish, JUNE_20).day == "20 de junio de 2026"
