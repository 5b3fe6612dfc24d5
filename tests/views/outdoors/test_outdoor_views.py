"""What is out, and the author's field list, as plain data."""

from __future__ import annotations

import datetime as dt

from guidebuild.views.outdoors.field_list import field_list_view
from guidebuild.views.outdoors.season_page import out_page
from tests.fieldwork.invented import guide, tally

JUNE_20 = dt.date(2026, 6, 20)
SEEN = (tally("parent-bug", "adult", "north-hedge", {"2024-06-18": 2, "2025-06-25": 1}),)


def test_out_in_the_region() -> None:
    page = out_page(guide(sightings=SEEN), JUNE_20)
    assert (page.day, page.when, page.dekad, page.place) == ("20 June 2026", "mid June", 16, None)
    assert [(r.link.text, r.chance, r.stages) for r in page.rows] == [
        ("Parent Bug", "likely", "nymph and adult"),
        ("Birch Bug", "possible", "adult"),
        ("Rare Bug", "possible", "adult"),
    ]
    assert page.chances[0] == ("likely", "in season, and seen in the region around this date in two years or more")
    assert page.promise.startswith("Nothing is promised")


def test_out_at_a_place_leaves_out_what_nothing_ties_to_it() -> None:
    assert [r.link.text for r in out_page(guide(sightings=SEEN), JUNE_20, "meadow").rows] == []


def test_the_authors_terminal_may_name_a_secret_place_and_a_page_may_not() -> None:
    own, shown = out_page(guide(), JUNE_20, "weir-pool", published=False), out_page(guide(), JUNE_20, "weir-pool")
    assert own.place is not None
    assert shown.place is not None
    assert (own.place.text, [r.link.text for r in own.rows]) == ("Weir Pool", ["Rare Bug"])
    assert (shown.place.text, shown.rows) == ("Upper Larkfold", ())


def test_the_field_list_says_until_when_and_where() -> None:
    view = field_list_view(guide(), JUNE_20)
    first = view.rows[0]
    assert (first.name.short, first.stage, first.want, first.until) == ("Rare Bug", "", "a review", "until 31 July 2026 (42 days)")
    assert first.places == ("Weir Pool",)
    assert view.rows[-1].until == "all year"


def test_other_languages_have_their_months() -> None:
    assert out_page(guide(), JUNE_20, language="es").day == "20 de junio de 2026"
    bar = next(row.bar for row in out_page(guide(), JUNE_20, language="nb").rows if row.link.text == "Birch Bug")
    assert bar is not None
    assert bar.rows[-1].words == "april – oktober"  # no catalogue for Norwegian, so its months come from the CLDR alone
