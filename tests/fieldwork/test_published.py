"""Nothing secret can be reached from the published guide: not its name, id, position or dates, by whatever way it came in."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.leaks import leaks_in, secrets_of
from guidebuild.fieldwork.public_records import KeptBack, Locality, PublicRow
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.accounts import Account, FieldMark, HostUse, SimilarSpecies, StageSeason, StageText, Stated, Translation
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Episode, Photo, Place, Plant, Position, Section, Sensitivity, Source, Stop, Term, Walk
from guidebuild.guide.text.inline import Inline
from guidebuild.views.data.darwin_core import taxa_archive
from guidebuild.views.data.media import MediaFile
from guidebuild.views.data.occurrences import sightings_archive
from guidebuild.views.outdoors.phenology_table import phenology_rows
from guidebuild.views.posts.posts import post_views
from guidebuild.views.scripts.script import make_script_views
from tests.fieldwork.invented import BIRCH, PARENT, PHOTO, PLACES, RARE, SETTINGS, WALK, guide, season, tally
from tests.views.whole_site import site_pages

TODAY = dt.date(2026, 6, 20)
SECRET = {"Weir Pool", "weir-pool"}
TELLING = "It stands by the Weir Pool."
KEPT = "It is green."


def files_of(made: Published) -> dict[str, MediaFile]:
    """Where each picture that is shown could be fetched."""
    return {photo: MediaFile(f"photos/{photo}-720.jpg", "image/jpeg") for photo in made.photos}


def leaves(value: object) -> Iterator[object]:
    """Every text, number and date that can be reached from a value."""
    if isinstance(value, Mapping):
        for key, held in value.items():
            yield from (*leaves(key), *leaves(held))
    elif isinstance(value, (tuple, list, set, frozenset)):
        for held in value:
            yield from leaves(held)
    elif is_dataclass(value):
        for field in fields(value):
            yield from leaves(getattr(value, field.name))
    else:
        yield value


def texts(value: object) -> str:
    return "\n".join(leaf for leaf in leaves(value) if isinstance(leaf, str))


def assert_silent(made: Published, of: Guide, *words: str) -> None:
    """Not one leaf names the secret place, holds half of its position, or is found by the last look."""
    told = texts(made)
    assert not [word for word in (*SECRET, *words) if word.casefold() in told.casefold()]
    assert not {51.1278, -1.2846} & {leaf for leaf in leaves(made) if isinstance(leaf, float)}
    assert [str(leak) for leak in leaks_in(told, secrets_of(of))] == []
    assert "weir" not in repr(made).casefold().replace("weir bridge", "")


def parent(**changes: object) -> Guide:
    return guide(replace(PARENT, **changes), BIRCH, RARE)  # type: ignore[arg-type]


def inline(text: str) -> Inline:
    return Inline(f"{KEPT} {text}")


SPANISH = Translation(
    "es", "Chinche", marks=(Inline(TELLING),), stages=(StageText("adult", inline(TELLING)),), law=(Inline(TELLING),),
    similar_notes=(("birch-bug", Inline(TELLING)),), facts=(("prey", Inline(TELLING)),),
    sections=(Section("En breve", f"{KEPT} {TELLING}"),),
)  # fmt: skip

WAYS_IN: dict[str, Guide] = {
    "the place itself": guide(),
    "a place of an account": parent(places=("weir-pool", "north-hedge")),
    "an absence": parent(absent_from=("weir-pool",)),
    "a season at the place": parent(seasons=(*PARENT.seasons, StageSeason("adult", season("June"), "weir-pool"))),
    "a habitat": parent(habitat=(Inline("weir-pool"), Inline("hedge"))),
    "a section": parent(sections=(Section("Where to look", f"{KEPT} {TELLING}\n\n- On reeds\n- At the weir pool\n"),)),
    "a link": parent(sections=(Section("Where to look", f"{KEPT} [There](place:weir-pool) it is."),)),
    "a position in a section": parent(sections=(Section("Where to look", f"{KEPT} Stand at 51.1278, -1.2846."),)),
    "a grid reference": parent(sections=(Section("Where to look", f"{KEPT} Stand at SU 50159 36745."),)),
    "a map code": parent(sections=(Section("Where to look", f"{KEPT} The code is 9C3W4PH8+43."),)),
    "a name over two lines": parent(sections=(Section("Where to look", f"{KEPT} It stands by the Weir\nPool."),)),
    "a stage": parent(stages=(StageText("adult", inline(TELLING)),)),
    "a field mark": parent(diagnostics=(FieldMark(Inline(TELLING)), FieldMark(Inline("green")))),
    "a note on a look-alike": parent(similar=Stated((SimilarSpecies("birch-bug", note=inline(TELLING)),), said=True)),
    "a use of a host": parent(host_plants=Stated((HostUse("birch", Inline("leaves"), Inline(TELLING)),), said=True)),
    "texts of the facts": parent(**dict.fromkeys(("status", "recent", "prey", "voice", "caution"), inline(TELLING))),
    "a translation": parent(sections=(Section("In brief", KEPT),), diagnostics=(FieldMark(Inline("green")),), translations=(SPANISH,)),
    "a section in all languages": parent(sections=(Section("In brief", TELLING),), translations=(SPANISH,)),
    "a sighting": guide(sightings=(tally("parent-bug", "adult", "weir-pool", {"2024-06-18": 2}, loose=1, absences=3),)),
    "a file of sightings": guide(sightings=(tally("parent-bug", "", "meadow", {"2024-06-18": 2}, files=("sightings/weir-pool.csv",)),)),
    "the place of a photo": guide(photos={PHOTO.id: replace(PHOTO, place="weir-pool")}),
    "the words of a photo": guide(
        photos={PHOTO.id: replace(PHOTO, **dict.fromkeys(("caption", "alt", "title"), inline(TELLING)), shows=TELLING, source=TELLING)}
    ),
    "the id of a photo": guide(photos={"weir-pool-2": replace(PHOTO, id="weir-pool-2")}),
    "a photo of the place": guide(
        places={**PLACES, "weir-pool": replace(PLACES["weir-pool"], photo="view")},
        photos={"view": replace(PHOTO, id="view", account="", caption=Inline("The weir from the road"))},
    ),
    "a stop": guide(walks={WALK.id: replace(WALK, stops=(Stop("weir-pool", 10, note=inline(TELLING)), *WALK.stops))}),
    "the words of a walk": guide(walks={WALK.id: replace(WALK, meet="Weir Pool gate", note=inline(TELLING), bring=("Weir Pool map",))}),
    "the title of a walk": guide(walks={"spring": replace(WALK, id="spring", title="To the Weir Pool")}),
    "the address of a walk": guide(walks={"weir-pool": replace(WALK, id="weir-pool")}),
    "another place": guide(places={**PLACES, "meadow": replace(PLACES["meadow"], note=inline(TELLING), access=Inline("Past Weir Pool."))}),
    "a plant": guide(plants={"birch": Plant("birch", "Silver Birch", note=inline(TELLING), caution=Inline(TELLING))}),
    "the glossary": guide(terms={"weir": Term("wall", "wall", inline(TELLING))}),
    "a source": guide(sources={"notes": Source("notes", "Notes on Weir Pool, 1990.", title="Weir Pool")}),
    "a script": guide(episodes={"own": Episode("own", TELLING, "parent-bug", "short", None, (Section("Start", f"{KEPT}\n\n{TELLING}"),))}),
    "the guide's own words": guide(settings=replace(SETTINGS, description=f"{KEPT} {TELLING}", sign_off=TELLING, hashtags=("WeirPool",))),
    "a reason": guide(PARENT, replace(RARE, sensitivity=Sensitivity(2, f"{KEPT} {TELLING}"))),
    "the reason of the place": guide(
        places={**PLACES, "weir-pool": replace(PLACES["weir-pool"], sensitivity=Sensitivity(1, "Nests at Weir Pool"))}
    ),
}  # fmt: skip


@pytest.mark.parametrize("of", WAYS_IN.values(), ids=WAYS_IN)
def test_a_secret_place_is_not_reached(of: Guide) -> None:
    if "weir" in of.terms:
        of = replace(of, terms={"wall": of.terms["weir"]})
    assert_silent(make_published(of), of)


@pytest.mark.parametrize("of", WAYS_IN.values(), ids=WAYS_IN)
def test_no_view_says_it_either(of: Guide) -> None:
    made = make_published(of)
    shown = [site_pages(made, TODAY), post_views(made), make_script_views(made), phenology_rows(made)]
    told = repr([*map(list, shown), taxa_archive(made, files_of(made)), sightings_archive(made)])
    assert "weir" not in told.casefold().replace("glossary.html#wall", "")
    assert list(leaks_in(told, secrets_of(of))) == []


def test_a_name_parted_over_the_items_of_a_list_takes_the_list_and_no_more() -> None:
    section = Section("Where to look", f"{KEPT}\n\n- by the Weir\n  Pool\n- by day\n\nIn May.")
    assert make_published(parent(sections=(section,))).accounts["parent-bug"].sections[0].text == f"{KEPT}\n\nIn May."


def test_what_does_not_tell_stays() -> None:
    made = make_published(WAYS_IN["a section"]).accounts["parent-bug"]
    assert made.sections[0].text == f"{KEPT}\n\n- On reeds"
    assert make_published(WAYS_IN["a field mark"]).accounts["parent-bug"].diagnostics == (FieldMark(Inline("green")),)
    assert make_published(WAYS_IN["a reason"]).accounts["rare-bug"].kept_back == KeptBack(KEPT, 1)
    both = make_published(WAYS_IN["a section in all languages"]).accounts["parent-bug"]
    assert (both.sections, both.translations[0].sections) == ((), ())
    photo = make_published(WAYS_IN["the words of a photo"]).photos[PHOTO.id]
    assert (photo.caption, photo.alt) == (Inline(KEPT), Inline(KEPT))


# A sensitive species (category 2) at open places: none of them may be named with it.

RARE_OPEN = replace(RARE, places=("north-hedge", "meadow"), absent_from=("meadow",))
HEDGE = "It sits in the North Hedge."


def rare(**changes: object) -> Guide:
    return guide(PARENT, replace(RARE_OPEN, **changes))  # type: ignore[arg-type]


RARE_PHOTO = replace(PHOTO, id="rare-adult", account="rare-bug")

TELLING_PHOTO = replace(RARE_PHOTO, place="meadow", caption=inline(HEDGE), alt=Inline(HEDGE))
RARE_SCRIPT = Episode("own", "Rare", "Inventus rarus", "short", None, (Section("Start", f"{KEPT}\n{HEDGE}"),))

TIES: dict[str, Guide] = {
    "places and absences": rare(),
    "a season": rare(seasons=(*RARE.seasons, StageSeason("adult", season("June"), "meadow"))),
    "a habitat": rare(habitat=(Inline("meadow"), Inline("north-hedge"))),
    "a section": rare(sections=(Section("In brief", f"{KEPT} {HEDGE}"), Section("Where to look", f"{KEPT} [Here](place:meadow)."))),
    "a position": rare(sections=(Section("In brief", f"{KEPT} It is at 51.1034, -1.3121."),)),
    "facts": rare(prey=inline(HEDGE), caution=inline(HEDGE), diagnostics=(FieldMark(Inline(HEDGE)),)),
    "a sighting": replace(rare(), sightings=(tally("rare-bug", "adult", "north-hedge", {"2024-06-18": 2}),)),
    "a photo": replace(rare(photos=("rare-adult",)), photos={"rare-adult": TELLING_PHOTO}),
    "the id of a photo": replace(rare(photos=("north-hedge-1",)), photos={"north-hedge-1": replace(RARE_PHOTO, id="north-hedge-1")}),
    "a script": replace(rare(), episodes={"own": RARE_SCRIPT}),
    "a reason": rare(sensitivity=Sensitivity(2, "The North Hedge is small")),
}  # fmt: skip


def of_rare(made: Published) -> tuple[object, ...]:
    """All in the published guide that is of the sensitive species."""
    photos = tuple(photo for photo in made.photos.values() if photo.account == "rare-bug")
    return (
        made.accounts["rare-bug"],
        photos,
        tuple(t for t in made.sightings if t.account == "rare-bug"),
        tuple(e for e in made.episodes.values() if e.account == "Inventus rarus"),
    )


@pytest.mark.parametrize("of", TIES.values(), ids=TIES)
def test_a_sensitive_species_is_tied_to_no_place(of: Guide) -> None:
    made = make_published(of)
    told = texts(of_rare(made)).casefold()
    assert not [
        name for name in ("north hedge", "north-hedge", "long meadow", "place:meadow", "51.1034", "51.10", "1.3121") if name in told
    ]
    account = made.accounts["rare-bug"]
    assert (account.places, account.absent_from) == ((), ())
    assert not any(stated.place for stated in account.seasons)
    assert all(tally_.place == "" for tally_ in made.sightings if tally_.account == "rare-bug")
    assert "rare-bug" not in {account.id for place in made.places for account in made.accounts_at(place)}


@pytest.mark.parametrize("of", TIES.values(), ids=TIES)
def test_its_page_posts_scripts_and_data_name_none(of: Guide) -> None:
    made = make_published(of)
    page = next(page for page in site_pages(made, TODAY) if page.path == "accounts/rare-bug.html")
    rows = [
        row
        for archive in (taxa_archive(made, files_of(made)), sightings_archive(made))
        for t in archive.tables
        for row in t.rows
        if "rare-bug" in row
    ]
    posts = [post for post in post_views(made) if post.account == "rare-bug"]
    scripts = [script for script in make_script_views(made) if script.account == "rare-bug"]
    told = repr((page.data, rows, posts, scripts)).casefold()
    assert not [name for name in ("north hedge", "long meadow", "places/", "51.1034", "51.10") if name in told]
    assert "rare" in told


def test_the_habitat_of_a_sensitive_species_that_is_a_place_is_told_by_its_area() -> None:
    assert make_published(TIES["a habitat"]).accounts["rare-bug"].habitat == (Inline("Larkfold Vale"),)


def test_texts_of_places_and_walks_name_no_sensitive_species() -> None:
    named = Inline("Common plants. The Rare Bug is here. [This](account:rare-bug) too.")
    by_link = Inline("Common plants. [This one](account:rare-bug) is here.")
    made = make_published(
        guide(
            places={**PLACES, "meadow": replace(PLACES["meadow"], note=named, access=by_link, photo="rare-adult")},
            photos={"rare-adult": RARE_PHOTO},
            walks={WALK.id: replace(WALK, note=named, stops=(Stop("meadow", note=by_link),))},
        )
    )
    told = texts((made.places, made.walks))
    assert "Common plants." in told
    assert "rare" not in told.casefold()
    assert "inventus" not in told.casefold()


@pytest.mark.parametrize("record", [SETTINGS, PHOTO, PLACES["meadow"], WALK], ids=lambda record: type(record).__name__)
def test_every_text_of_a_record_is_looked_at_but_for_names(record: object) -> None:
    filled = {"str": TELLING, "Inline": Inline(TELLING), "tuple[str, ...]": (TELLING,), "tuple[Inline, ...]": (Inline(TELLING),)}
    names = {"id", "title", "name", "area", "region", "address", "publisher", "contact", "leader", "credit", "licence"}
    telling = {f.name: filled[str(f.type)] for f in fields(record) if str(f.type) in filled and f.name not in names}  # type: ignore[arg-type]
    assert telling
    changed: Any = replace(record, **telling)  # type: ignore[type-var]
    of = guide(photos={PHOTO.id: PHOTO}, places=PLACES, walks={WALK.id: WALK}, photo_files=frozenset({PHOTO.file}))
    of = replace(of, settings=changed) if isinstance(record, type(SETTINGS)) else of
    for key, kind in (("photos", Photo), ("places", Place), ("walks", Walk)):
        if isinstance(record, kind):
            of = replace(of, **{key: {**getattr(of, key), changed.id: changed}})
    assert "Weir" not in texts(make_published(of))


def test_hazards_of_a_secret_stop_stay_out_and_those_of_open_ones_in() -> None:
    places = {**PLACES, "weir-pool": replace(PLACES["weir-pool"], hazards=("deep-water",), plants=("birch",), caution=Inline("Deep."))}
    made = make_published(guide(places=places, walks={WALK.id: replace(WALK, stops=(Stop("weir-pool"), Stop("north-hedge")))}))
    told = repr(list(site_pages(made, TODAY)))
    assert "deep" not in told.casefold()
    assert "ticks" in told


def test_sightings_of_one_area_run_together() -> None:
    near = replace(PLACES["weir-pool"], id="hollow", name="Bat Hollow")
    seen = (
        tally("parent-bug", "adult", "weir-pool", {"2024-06-18": 2}, loose=1),
        tally("parent-bug", "adult", "hollow", {"2024-06-18": 1}),
    )
    made = make_published(guide(places={**PLACES, "hollow": near}, sightings=seen))
    assert [(t.place, t.locality.name, t.counts, t.periods) for t in made.sightings] == [("", "Upper Larkfold", (), ("2024-06",))]


@pytest.mark.parametrize(
    ("credit", "licence", "shown"), [("Bo", "CC0-1.0", True), ("", "CC0-1.0", False), ("Bo", " ", False), (" ", "x", False)]
)
def test_a_photo_is_published_only_with_credit_and_licence(credit: str, licence: str, shown: bool) -> None:
    photo = replace(PHOTO, credit=credit, licence=licence)
    made = make_published(guide(photos={photo.id: photo}, photo_files=frozenset({photo.file})))
    assert (photo.id in made.photos) is shown
    assert (photo.id in made.accounts["parent-bug"].photos) is shown
    told = repr((list(site_pages(made, TODAY)), taxa_archive(made, files_of(made)), list(post_views(made))))
    assert ("'StillImage'" in told) is shown


def test_who_publishes_and_whose_picture_it_is_are_said_even_where_they_hold_the_name() -> None:
    photo = replace(PHOTO, credit="Friends of the Weir Pool", caption=inline(TELLING))
    held = guide(photos={photo.id: photo}, photo_files=frozenset({photo.file}), settings=replace(SETTINGS, publisher="Weir Pool Press"))
    made = make_published(held)
    assert made.settings.publisher == "Weir Pool Press"
    assert made.photos[photo.id].credit == "Friends of the Weir Pool"
    assert "Weir" not in made.photos[photo.id].caption.text


def test_positions_that_are_told_are_those_that_rows_have_as_their_own() -> None:
    own, rounded = Locality("", "51.11", "-1.33"), Locality("Larkfold Vale", "51.1", "-1.3")
    rows = (PublicRow("parent-bug", "adult", "2024-06", own, exact=True), PublicRow("rare-bug", "adult", "2024-06", rounded))
    assert replace(make_published(guide()), rows=rows).told_positions() == {"51.11,-1.33"}


def test_a_guide_without_secrets_is_published_as_it_is() -> None:
    of = guide(PARENT, BIRCH, places={"north-hedge": PLACES["north-hedge"]}, photo_files=frozenset({PHOTO.file}))
    made = make_published(of)
    for account in of.accounts.values():
        shown = made.accounts[account.id]
        assert all(getattr(shown, f.name) == getattr(account, f.name) for f in fields(shown) if f.name not in ("localities", "kept_back"))
        assert shown.kept_back is None
    assert made.places["north-hedge"].position == PLACES["north-hedge"].position
    assert made.photos[PHOTO.id].file == PHOTO.file
    assert make_published(replace(of, photo_files=frozenset())).photos[PHOTO.id].file == ""


def test_no_public_record_has_a_field_for_what_is_secret() -> None:
    made = make_published(guide(sightings=(tally("rare-bug", "adult", "weir-pool", {"2024-06-18": 1}),)))
    records = [made, *made.accounts.values(), *made.places.values(), *made.photos.values(), *made.walks.values(), *made.sightings]
    records += [stop for walk in made.walks.values() for stop in walk.stops]
    held = {field.name for record in records for field in fields(record)}
    assert not held & {"sensitivity", "silenced", "taken", "first_rows", "files", "absences", "photo_files"}
    assert not any(isinstance(value, (Guide, Account, Place, Photo, Sensitivity)) for value in records)
    assert not hasattr(made, "guide")


NAMES = st.sampled_from(["Otter Holt", "The Long Withies", "Süd Köppel", "St Anne's Copse", "Bat Hollow"])
FILLER = st.sampled_from(["It is green.", "Seen in May. Warm days are best.", "", "- On reeds\n- On nettles"])
GLUE = st.sampled_from([" At {}, in June.", "\n\nGo to {}.", "\n\n- by {}\n- by day", "\n\n> {} it is", " See [it](place:{id})."])


DEGREES = st.integers(100_000, 999_999).filter(lambda n: n % 10).map(lambda n: n / 100_000)
"""Degrees that need all five of their decimals, and are more than the precision that is published beside them."""


@st.composite
def secret_guides(draw: st.DrawFn) -> tuple[Guide, Place]:
    name = draw(NAMES)
    ident = "hush-" + str(draw(st.integers(100, 999)))
    here = Position(draw(DEGREES) + 40, draw(DEGREES), 20)
    place = Place(ident, name, "the Vale", position=here, sensitivity=Sensitivity(draw(st.integers(0, 4))), at=At("places.yaml", 3))
    telling = draw(FILLER) + draw(GLUE).replace("{id}", ident).replace("{}", draw(st.sampled_from([name, name.upper(), name.lower()])))
    text, at = Inline(telling), [ident, "north-hedge"]
    account = replace(
        RARE, sensitivity=Sensitivity(draw(st.integers(0, 4))), places=tuple(draw(st.lists(st.sampled_from(at), unique=True))),
        absent_from=tuple(draw(st.lists(st.sampled_from(at), unique=True))), sections=(Section("In brief", telling),),
        stages=(StageText("adult", text),), diagnostics=(FieldMark(text, photo="p"),), prey=text, habitat=(Inline(ident), Inline("hedge")),
        seasons=(StageSeason("adult", season("June"), draw(st.sampled_from([*at, ""]))),), photos=("p",),
        similar=Stated((SimilarSpecies("birch-bug", note=text),), said=True),
        translations=(Translation("es", sections=(Section("x", telling),)),),
    )  # fmt: skip
    photo = Photo("p", "photos/p.jpg", account="rare-bug", place=ident, credit="Bo", licence="CC0-1.0", caption=text, alt=text, title=text)
    made = guide(
        account, BIRCH, places={ident: place, "north-hedge": replace(PLACES["north-hedge"], note=text)}, photos={"p": photo},
        walks={WALK.id: replace(WALK, stops=(Stop(ident, note=text), Stop("north-hedge")), note=text)},
        sightings=(tally("rare-bug", "adult", ident, {"2024-06-18": 1}), tally("birch-bug", "adult", ident, {"2024-06-19": 1})),
        terms={"t": Term("t", "word", text)}, plants={"birch": Plant("birch", "Birch", note=text)},
        episodes={"e": Episode("e", "Own", "rare-bug", "short", None, (Section("Start", telling),))},
    )  # fmt: skip
    return made, place


def squeezed(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter.isalnum())


@settings(max_examples=120, deadline=None)
@given(secret_guides())
def test_no_random_guide_gives_its_secret_away(drawn: tuple[Guide, Place]) -> None:
    of, place = drawn
    made = make_published(of)
    scope: object = made if place.sensitivity else of_rare(made)
    if not place.sensitivity and not of.accounts["rare-bug"].sensitivity:
        assert place.id in made.places
        return
    told, position = repr(scope), place.position
    assert position is not None
    assert squeezed(place.name.removeprefix("The ")) not in squeezed(told)
    assert place.id not in told
    numbers = {leaf for leaf in leaves(scope) if isinstance(leaf, float)}
    assert not {position.latitude, position.longitude} & numbers
    for half in (position.latitude, position.longitude):
        assert f"{half:.5f}" not in told
