"""What the published guide keeps back: each guard by itself, so that taking it away is noticed."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from guidebuild.fieldwork.decisions import Decisions, decide_secrets
from guidebuild.fieldwork.out import out_on, sought_stages
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.fieldwork.secrecy import round_position
from guidebuild.guide.accounts import Account, StageSeason
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Photo, Place, Plant, Position, Section, Sensitivity, Stop
from guidebuild.guide.text.inline import Inline
from tests.fieldwork.invented import BIRCH, PARENT, PLACES, RARE, WALK, guide, season, tally

SHOT = Photo("shot", "photos/s.jpg", credit="A. Leader", licence="CC-BY-4.0")


def published(*accounts: Account, **more: object) -> Published:
    return make_published(guide(*accounts, **more))


def photos(*held: Photo, **more: object) -> set[str]:
    return set(published(photos={photo.id: photo for photo in held}, **more).photos)


def test_a_species_is_tied_to_open_places_only_and_a_sensitive_one_to_none() -> None:
    everywhere = tuple(PLACES)
    own = tuple(StageSeason("adult", season("June"), place) for place in ("", *everywhere))
    tied = replace(PARENT, places=everywhere, absent_from=everywhere, seasons=own)
    made = published(tied, replace(tied, id="rare-bug", sensitivity=RARE.sensitivity))
    shown, hidden = made.accounts["parent-bug"], made.accounts["rare-bug"]
    assert shown.places == shown.absent_from == ("north-hedge", "meadow")
    assert [s.place for s in shown.seasons] == ["", "north-hedge", "meadow"]
    assert hidden.places == hidden.absent_from == ()
    assert [s.place for s in hidden.seasons] == [""]
    assert shown.kept_back is None
    assert hidden.kept_back is not None
    assert hidden.kept_back.reason == "collecting"
    assert {where.name for where in shown.localities} == {"North Hedge", "Long Meadow", "Upper Larkfold"}
    assert {where.name for where in hidden.localities} == {"Larkfold Vale", "Upper Larkfold"}
    assert all(len(where.latitude) <= len("51.1") for where in hidden.localities)


def test_a_place_that_is_not_known_ties_nothing() -> None:
    made = decide_secrets(guide())
    assert not made.may_tie(PARENT, "nowhere")
    assert made.may_tie(PARENT, "meadow")
    assert made.locality(PARENT, "nowhere").name == "Larkfold Vale"
    assert published(replace(PARENT, places=("nowhere",))).accounts["parent-bug"].localities == ()


def test_a_secret_place_is_no_place_of_the_published_guide_and_nothing_is_out_there() -> None:
    made = published()
    assert set(made.places) == {"north-hedge", "meadow"}
    assert list(made.accounts_at("weir-pool")) == []
    assert [a.id for a in made.accounts_at("meadow")] == ["parent-bug", "birch-bug"]
    assert "rare-bug" not in {out.account for out in out_on(made, WALK.date, "meadow")}


@pytest.mark.parametrize(
    ("photo", "is_shown"),
    [
        (SHOT, True),
        (replace(SHOT, credit=" "), False),
        (replace(SHOT, licence=""), False),
        (replace(SHOT, place="weir-pool"), False),
        (replace(SHOT, place="meadow"), True),
        (replace(SHOT, place="weir-pool", account="parent-bug"), True),  # of a bug: its place is not told
        (replace(SHOT, id="weir-pool-2"), False),
        (replace(SHOT, id="meadow-2", account="rare-bug"), True),  # an ordinary word
        (replace(SHOT, id="north-hedge-2", account="rare-bug"), False),
    ],
)
def test_a_picture_is_shown_only_with_credit_and_licence_and_where_it_gives_nothing_away(photo: Photo, *, is_shown: bool) -> None:
    assert photos(photo) == ({photo.id} if is_shown else set())


def test_the_picture_of_a_secret_place_is_not_shown() -> None:
    secret = {**PLACES, "weir-pool": replace(PLACES["weir-pool"], photo="shot")}
    assert photos(SHOT, places=secret) == set()


def test_a_place_shows_no_picture_of_a_sensitive_species() -> None:
    pictured = {**PLACES, "meadow": replace(PLACES["meadow"], photo="shot")}
    assert published(places=pictured, photos={"shot": SHOT}).places["meadow"].photo == "shot"
    assert published(places=pictured, photos={"shot": replace(SHOT, account="rare-bug")}).places["meadow"].photo == ""
    listed = replace(RARE, photos=("shot",))
    assert published(PARENT, listed, places=pictured, photos={"shot": SHOT}).places["meadow"].photo == ""


def test_beside_a_picture_no_more_is_told_than_of_the_most_sensitive_species_on_it() -> None:
    words = Inline("At North Hedge in June.")
    shot = replace(SHOT, caption=words, title=words, alt=words, account="parent-bug")
    assert published(photos={"shot": shot}).photos["shot"].caption == words
    both = published(PARENT, replace(RARE, photos=("shot",)), photos={"shot": shot}).photos["shot"]
    assert (both.caption.text, both.title.text, both.alt.text) == ("", "", "Parent Bug")


def test_of_two_sensitive_species_on_a_picture_the_more_sensitive_decides() -> None:
    shot = replace(SHOT, caption=Inline("At 51.10, -1.31."))  # to 0.01°, as category 3 allows and category 2 does not
    slightly = replace(RARE, id="shy-bug", sensitivity=Sensitivity(3, "collecting"), photos=("shot",))
    assert published(PARENT, slightly, photos={"shot": shot}).photos["shot"].caption == shot.caption
    both = published(PARENT, slightly, replace(RARE, photos=("shot",)), photos={"shot": shot})
    assert both.photos["shot"].caption.text == ""


def texts_of(account: Account, text: str, **more: object) -> str:
    held = replace(account, status=Inline(text), sections=(Section("In brief", text),))
    made = (
        published(PARENT, BIRCH, held, **more).accounts[account.id]
        if account is RARE
        else published(held, RARE, **more).accounts[account.id]
    )
    return f"{made.status.text}|{' '.join(s.text if isinstance(s.text, str) else s.text.text for s in made.sections)}"


@pytest.mark.parametrize(
    ("account", "text", "left"),
    [
        (PARENT, "Rare. Known from the Weir Pool. It is large.", "Rare."),
        (PARENT, "Rare. Known from North Hedge.", "Rare. Known from North Hedge."),
        (RARE, "Rare. Known from North Hedge.", "Rare."),
        (RARE, "Rare. At 51.1034, -1.3121.", "Rare."),
        (RARE, "Rare. At [a place](place:meadow).", "Rare."),
    ],
)
def test_sentences_that_give_a_place_away_are_left_out_with_what_follows_them(account: Account, text: str, left: str) -> None:
    assert texts_of(account, text) == f"{left}|{left}"


def test_texts_of_places_name_no_sensitive_species() -> None:
    noted = {**PLACES, "meadow": replace(PLACES["meadow"], note=Inline("Rich in bugs. Home of the Rare Bug."))}
    assert published(places=noted).places["meadow"].note.text == "Rich in bugs."
    assert published(PARENT, BIRCH, places=noted).places["meadow"].note.text == "Rich in bugs. Home of the Rare Bug."


def test_a_walk_calls_a_stop_at_a_secret_place_by_its_area() -> None:
    walk = replace(WALK, stops=(Stop("weir-pool", 10), Stop("meadow", 20, 300), Stop("the stile", 5)))
    (made,) = published(walks={"june-walk": walk}).walks.values()
    assert [(s.name, s.place, s.minutes, s.metres) for s in made.stops] == [
        ("Upper Larkfold", "", 10, 0),
        ("Long Meadow", "meadow", 20, 0),  # how far it is from the secret place would tell where that is
        ("the stile", "", 5, 0),
    ]


def test_a_walk_that_is_named_after_a_secret_place_is_not_published() -> None:
    assert published(walks={"weir-pool-walk": replace(WALK, id="weir-pool-walk")}).walks == {}
    assert published(walks={"june-walk": replace(WALK, title="To the Weir Pool")}).walks == {}
    assert set(published(walks={"june-walk": WALK}).walks) == {"june-walk"}


def test_sightings_at_places_that_may_not_be_named_run_together_by_area() -> None:
    seen = (
        tally("rare-bug", "adult", "north-hedge", {"2024-06-18": 1}),
        tally("rare-bug", "adult", "meadow", {"2024-06-18": 2, "2025-06-18": 1}, loose=3),
        tally("parent-bug", "adult", "meadow", {"2024-06-18": 1}),
        tally("gone-bug", "adult", "meadow", {"2024-06-18": 1}),
    )
    made = published(sightings=seen)
    assert [(t.account, t.place, t.counts, t.periods, t.loose) for t in made.sightings] == [
        ("parent-bug", "meadow", (1,), (), 0),
        ("rare-bug", "", (), ("2024-06", "2025-06"), 2),
    ]


def test_sightings_at_places_that_are_not_known_run_together_day_by_day() -> None:
    seen = (
        tally("parent-bug", "adult", "nowhere", {"2024-06-19": 2, "2024-06-18": 1}, loose=1),
        tally("parent-bug", "adult", "", {"2024-06-18": 4, "2023-05-01": 1}, loose=2),
        tally("parent-bug", "nymph", "", {"2024-06-18": 7}),
    )
    made = published(sightings=seen)
    assert [(t.stage, t.place, t.counts, t.loose) for t in made.sightings] == [("adult", "", (1, 5, 2), 3), ("nymph", "", (7,), 0)]
    days = [dt.date(2023, 5, 1), dt.date(2024, 6, 18), dt.date(2024, 6, 19)]
    assert made.sightings[0].days == tuple(day.toordinal() for day in days)


def test_where_all_that_was_seen_is_loose_that_it_was_seen_is_told() -> None:
    made = published(sightings=(tally("rare-bug", "adult", "meadow", {}, loose=3), tally("rare-bug", "egg", "meadow", {})))
    assert [(t.stage, t.periods, t.loose) for t in made.sightings] == [("adult", (), 1), ("egg", (), 0)]


def test_one_loose_row_among_places_that_run_together_is_enough() -> None:
    seen = (tally("rare-bug", "adult", "meadow", {}, loose=3), tally("rare-bug", "adult", "north-hedge", {}))
    assert [(t.stage, t.periods, t.loose) for t in published(sightings=seen).sightings] == [("adult", (), 1)]


def test_what_is_hidden_comes_by_account_and_stage_whatever_the_order_of_the_places() -> None:
    seen = [tally(account, stage, "weir-pool", {"2024-06-18": 1}) for account in ("rare-bug", "parent-bug") for stage in ("nymph", "adult")]
    orders = {tuple((t.account, t.stage) for t in published(sightings=tuple(order)).sightings) for order in (seen, seen[::-1])}
    assert orders == {(("parent-bug", "adult"), ("parent-bug", "nymph"), ("rare-bug", "adult"), ("rare-bug", "nymph"))}


def habitats(account: Account, habitat: str) -> list[str]:
    made = published(replace(account, habitat=(Inline(habitat),)), *(a for a in (PARENT, RARE) if a.id != account.id))
    return [h.text for h in made.accounts[account.id].habitat]


def test_a_habitat_that_is_a_place_is_called_by_its_area_where_it_may_not_be_named() -> None:
    assert habitats(BIRCH, "meadow") == ["meadow"]
    assert habitats(BIRCH, "weir-pool") == ["Upper Larkfold"]
    assert habitats(replace(RARE, id="rarer-bug"), "north-hedge") == ["Larkfold Vale"]
    assert habitats(BIRCH, "wet heath") == ["wet heath"]


def test_an_area_that_is_not_given_or_tells_a_secret_itself_is_not_said_as_habitat() -> None:
    def of_place(area: str) -> tuple[Inline, ...]:
        pool = replace(PLACES["weir-pool"], id="marsh", area=area)
        holt = Place(
            "otter-holt", "Otter Holt", "Upper Larkfold", position=Position(51.13, -1.25, 50), sensitivity=Sensitivity(3, "nesting")
        )
        places = {**PLACES, "marsh": pool, "otter-holt": holt}
        return published(replace(BIRCH, habitat=(Inline("marsh"),)), places=places).accounts["birch-bug"].habitat

    assert of_place("") == ()
    assert [habitat.text for habitat in of_place("Upper Larkfold")] == ["Upper Larkfold"]
    assert not any("Holt" in habitat.text for habitat in of_place("Below the Otter Holt"))


def test_the_strictest_reason_is_given_and_says_no_secret_itself() -> None:
    kept: Decisions = decide_secrets(guide())
    assert "the place is sensitive (nesting)" in kept.locality(PARENT, "weir-pool").withheld
    assert "the species is sensitive (collecting)" in kept.locality(RARE, "weir-pool").withheld  # 2 is stricter than 3
    tells = replace(PLACES["weir-pool"], sensitivity=Sensitivity(3, "otters at the Weir Pool"))
    assert "Weir Pool" not in decide_secrets(guide(places={**PLACES, "weir-pool": tells})).locality(PARENT, "weir-pool").withheld


def test_where_nothing_is_secret_nothing_is_taken_out() -> None:
    text = Inline("At the Weir Pool, 51.1278, -1.2846.")
    open_guide: Guide = guide(
        replace(PARENT, status=text),
        places={i: replace(p, sensitivity=Sensitivity(0)) for i, p in PLACES.items()},
        plants={"birch": Plant("birch", "Silver Birch", photo="none-such")},
    )
    made = make_published(open_guide)
    assert made.accounts["parent-bug"].status == text
    assert set(made.places) == set(PLACES)
    assert made.plants["birch"].photo == "none-such"


def test_a_place_without_area_is_called_by_the_region() -> None:
    bare = Place("weir-pool", "Weir Pool", position=Position(51.1278, -1.2846, 50), sensitivity=Sensitivity(3))
    assert decide_secrets(guide(places={"weir-pool": bare})).locality(PARENT, "weir-pool").name == "Larkfold Vale"


@pytest.mark.parametrize("text", ["W%65ir P%6Fol", "&#87;eir &#80;ool", "\\u0057eir \\u0050ool", "Weir Pool"])
def test_a_name_is_known_however_its_letters_are_written(text: str) -> None:
    assert decide_secrets(guide()).anywhere.tells(text)


def test_of_many_paragraphs_only_the_one_that_tells_is_left_out() -> None:
    text = "One.\n\nAt the Weir Pool.\n\nThree.\n\nFour.\n\nFive."
    assert decide_secrets(guide()).anywhere.without(text) == "One.\n\nThree.\n\nFour.\n\nFive."


def test_the_hosts_of_a_plant_are_the_accounts_that_use_it() -> None:
    made = published()
    assert [account.id for account in made.host_of("birch")] == ["parent-bug", "birch-bug"]
    assert made.host_of("alder") == ()


def test_a_group_that_names_no_stage_to_look_for_is_looked_for_in_all_of_them() -> None:
    named = published()
    bare = replace(named, stage_sets={"true-bug": replace(named.stage_sets["true-bug"], sought=())})
    none = replace(named, stage_sets={})
    assert sought_stages(named, PARENT) == ("nymph", "adult")
    assert sought_stages(bare, PARENT) == ("egg", "nymph", "adult")
    assert sought_stages(none, PARENT) == ("nymph", "adult")  # those with a season


def test_a_latitude_of_nought_is_shown_without_a_minus() -> None:
    assert round_position(Position(-0.004, 0.004), 1) == ("0.0", "0.0")
    assert round_position(Position(-0.06, 0.06), 1) == ("-0.1", "0.1")
