"""What a leader's pack says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.leaks import leaks_in, secrets_of
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import FieldMark
from guidebuild.guide.records import Stop
from guidebuild.guide.text.inline import Inline
from guidebuild.views.outdoors.walk import walk_pack_view, walk_pack_views
from tests.as_published import with_walk
from tests.fieldwork.invented import BIRCH, PARENT, PLACES, RARE, WALK, account, guide, tally

SEEN = (tally("parent-bug", "adult", "north-hedge", {"2024-06-18": 2, "2025-06-25": 1}),)
MARKED = replace(PARENT, diagnostics=(FieldMark(Inline("dark spot on the scutellum"), ("adult",)),))
GUIDE = guide(MARKED, BIRCH, RARE, sightings=SEEN)


def test_a_stop_says_what_may_be_met_and_why() -> None:
    stop = walk_pack_view(*with_walk(GUIDE, WALK)).stops[0]
    assert (stop.place.text, stop.arrive, stop.leave) == ("North Hedge", "18:30", "19:00")
    first = stop.met[0]
    assert (first.link.text, first.stages, first.chance) == ("Parent Bug", "nymph and adult", "likely")
    seen = "seen here around this date in 2 of 2 years, last in 2025"
    assert first.why == f"most seen now: adult; {seen}; its host plant is here: Silver Birch"
    assert [(claim.stages, claim.mark.words) for claim in first.sought] == [("nymph", ""), ("adult", "dark spot on the scutellum")]
    assert [(h.plant.text, [g.short for g in h.guests]) for h in stop.hosts] == [("Silver Birch", ["Parent Bug", "Birch Bug"])]


def test_a_stage_is_never_told_by_the_mark_of_another() -> None:
    young = account("leaf-bug", "Inventus folii", "Leaf Bug", {"nymph": "June", "adult": "August"}, places=("north-hedge",))
    of_both = replace(
        young,
        diagnostics=(FieldMark(Inline("winged"), ("adult",)), FieldMark(Inline("red eyes"), ("nymph",)), FieldMark(Inline("flat"), ())),
    )
    of_adults = replace(young, diagnostics=(FieldMark(Inline("winged"), ("adult",)),))
    for made, mark in ((of_both, "red eyes"), (of_adults, "")):
        (met,) = [m for m in walk_pack_view(*with_walk(guide(made), WALK)).stops[0].met if m.link.text == "Leaf Bug"]
        assert [(claim.stages, claim.mark.words) for claim in met.sought] == [("nymph", mark)]


def test_the_words_for_chances_are_explained() -> None:
    assert walk_pack_view(*with_walk(GUIDE, WALK)).chances == (
        ("likely", "in season, and seen at this place around this date in two years or more"),
        ("worth a look", "in season, and its habitat or a host plant is here"),
    )


def test_light_times_and_look_alikes() -> None:
    view = walk_pack_view(*with_walk(GUIDE, WALK))
    assert (view.starts, view.ends, view.when) == ("18:30", "20:00", "20 June 2026")
    assert view.light[:2] == (("Sunrise", "04:50"), ("Sunset", "21:23"))
    assert [(a.one.text, a.other.text, a.note.words) for a in view.alikes] == [("Parent Bug", "Birch Bug", "The Birch Bug is longer.")]


def test_without_a_note_the_first_marks_tell_look_alikes_apart() -> None:
    bare = replace(MARKED, similar=replace(MARKED.similar, values=(replace(MARKED.similar.values[0], note=Inline()),)))
    assert walk_pack_view(*with_walk(guide(bare, BIRCH), WALK)).alikes[0].note.words == "Parent Bug: dark spot on the scutellum"


STANDARD = ("first-aid kit", "charged telephone with the number for help", "water", "clothes for the weather")


@pytest.mark.parametrize(
    ("authors", "not_added"),
    [
        ((), ()),
        (("Water for all",), ("water",)),
        (("water", "a first-aid kit"), ("water", "first-aid kit")),
        (("Waterproof jacket", "repair kit"), ()),
        (("First-aid kit", "telephone", "Water", "Clothes for rain"), STANDARD),
    ],
)
def test_what_the_author_brings_is_named_once_and_nothing_else_is_lost(authors: tuple[str, ...], not_added: tuple[str, ...]) -> None:
    walk = replace(WALK, bring=authors)
    assert walk_pack_view(*with_walk(GUIDE, walk)).bring == (*authors, *(thing for thing in STANDARD if thing not in not_added))


def test_cautions_come_in_the_order_met_and_defer_to_the_law() -> None:
    view = walk_pack_view(*with_walk(GUIDE, WALK))
    assert [c.title for c in view.cautions] == ["Road walking", "Ticks", "Staining defence"]
    assert view.law == "Ask whoever owns the land, keep to local law, and handle nothing that is protected."


def test_a_pack_gives_no_secret_away() -> None:
    walk = replace(WALK, stops=(*WALK.stops, Stop("weir-pool", 10)))
    made = guide(
        MARKED,
        BIRCH,
        RARE,
        sightings=SEEN,
        places={**PLACES, "weir-pool": replace(PLACES["weir-pool"], access=Inline("By Weir Pool lane"))},
    )
    assert list(leaks_in(str(walk_pack_view(*with_walk(made, walk))), secrets_of(made))) == []


def test_packs_come_by_date() -> None:
    early = replace(WALK, id="may-walk", date=WALK.date.replace(month=5))
    assert [v.id for v in walk_pack_views(make_published(guide(walks={"june-walk": WALK, "may-walk": early})))] == ["may-walk", "june-walk"]
