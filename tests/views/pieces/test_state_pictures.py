"""A picture beside a state shows that state: found by marks and scores of the sample, or named by its author."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.characters import PictureOfState
from guidebuild.guide.guide import Guide
from guidebuild.guide.signs import SIGNS
from guidebuild.identify.readings import Scope, reading_in, score_sheet
from guidebuild.reading.whole import read_guide
from guidebuild.shipped import content
from guidebuild.views.pieces.diagram import find_diagram
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.pieces.state_pictures import StatePicture, find_state_pictures
from tests.conftest import SAMPLE

ADULT = Scope("adult")


@cache
def sample() -> Guide:
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    return guide


def pictures(guide: Published, scope: Scope = ADULT) -> dict[tuple[str, str], StatePicture]:
    return dict(find_state_pictures(make_pieces(guide), scope))


def with_pictures(character: str, *own: PictureOfState) -> Published:
    changed = replace(sample().characters[character], pictures=own)
    return make_published(replace(sample(), characters={**sample().characters, character: changed}))


@pytest.mark.parametrize("scope", [ADULT, Scope("nymph")])
def test_each_picture_is_of_a_species_that_shows_this_state_alone_in_this_stage(scope: Scope) -> None:
    guide = make_published(sample())
    found = pictures(guide, scope)
    assert len(found) >= (30 if scope == ADULT else 5)
    for (character, state), picture in found.items():
        assert picture.photo is not None
        photo = guide.photos[picture.photo.id]
        reading = reading_in(score_sheet(guide, photo.account)[character], scope)
        assert reading is not None
        assert (reading.usual, reading.rare) == (frozenset({state}), frozenset())
        assert photo.stage == scope.stage
        assert guide.characters[character].view in ("", photo.view)


# The points are those of the accounts' own marks, so they are read from the sample, not from here.
@pytest.mark.parametrize(
    ("character", "state", "account", "mark"),
    [
        ("scutellum-mark", "dark-spot", "parent-bug", "dark spot on the scutellum"),
        ("wing-pattern", "pink-curves", "juniper-shieldbug", "pink curved mark on each corium"),
        ("antennae", "orange-ringed", "bronze-shieldbug", "orange ring on the antenna"),
        ("rostrum", "stout", "bronze-shieldbug", "stout rostrum"),
    ],
)
def test_a_picture_is_cut_round_the_pointer_on_the_part_that_is_asked_about(character: str, state: str, account: str, mark: str) -> None:
    guide = make_published(sample())
    wanted = next(m for m in guide.accounts[account].diagnostics if m.mark.words == mark)
    picture = pictures(guide)[character, state]
    assert picture.photo is not None
    assert (picture.photo.id, picture.point) == (wanted.photo, wanted.point)


def test_a_mark_is_about_the_part_that_it_names_first() -> None:
    """Bars on the corium that follow the scutellum are no picture of a scutellum."""
    guide = make_published(sample())
    bars = next(m for m in guide.accounts["birch-shieldbug"].diagnostics if "bars" in m.mark.words)
    assert bars.mark.words.index("corium") < bars.mark.words.index("scutellum")
    found = pictures(guide)
    assert all(picture.point != bars.point for (character, _), picture in found.items() if character.startswith("scutellum"))


def test_the_whole_animal_shows_what_is_asked_of_the_whole() -> None:
    found = pictures(make_published(sample()))
    assert found["ground-colour", "blue"].photo is not None
    assert found["ground-colour", "blue"].point is None


def test_the_authors_own_goes_before_what_is_found() -> None:
    own = (PictureOfState("green", sign="green"), PictureOfState("brown", "hairy-adult", (40.0, 50.0)), PictureOfState("blue"))
    found = pictures(with_pictures("ground-colour", *own))
    assert found["ground-colour", "green"] == StatePicture(sign="green")
    brown = found["ground-colour", "brown"]
    assert brown.photo is not None
    assert (brown.photo.id, brown.point) == ("hairy-adult", (40.0, 50.0))
    assert ("ground-colour", "blue") not in found
    assert found["ground-colour", "red"].photo is not None


def test_what_is_heard_or_seen_under_a_lens_alone_has_no_found_picture() -> None:
    found = pictures(make_published(sample()))
    assert not [state for character, state in found if character == "shins"]
    heard = replace(sample().characters["ground-colour"], view="")
    assert not [
        state
        for character, state in pictures(make_published(replace(sample(), characters={**sample().characters, "ground-colour": heard})))
        if character == "ground-colour"
    ]


def test_a_photo_that_may_not_be_changed_is_never_cut() -> None:
    photos = {ident: replace(photo, licence="CC-BY-ND-4.0") for ident, photo in sample().photos.items()}
    assert pictures(make_published(replace(sample(), photos=photos))) == {}


def test_a_photo_that_is_not_published_is_no_picture_of_a_state() -> None:
    photos = {ident: replace(photo, credit="") if ident == "blue-adult" else photo for ident, photo in sample().photos.items()}
    found = pictures(make_published(replace(sample(), photos=photos)))
    assert all(picture.photo is None or picture.photo.id != "blue-adult" for picture in found.values())


def test_a_diagram_numbers_parts_and_leads_to_their_words() -> None:
    diagram = find_diagram(make_pieces(make_published(sample())), "adult")
    assert diagram is not None
    assert [mark.number for mark in diagram.photo.marks] == list(range(1, len(diagram.parts) + 1))
    scutellum = diagram.find("Scutellum")
    assert scutellum is not None
    assert scutellum.link.path == "glossary.html#scutellum"
    assert diagram.photo.marks[scutellum.number - 1].words == "scutellum"
    assert find_diagram(make_pieces(make_published(sample())), "nymph") is None


def test_every_sign_has_a_drawing_and_every_drawing_a_name() -> None:
    drawn = {file.name: file.read_text(encoding="utf-8") for file in content().joinpath("signs").iterdir()}
    assert set(drawn) == {f"{name}.svg" for name in SIGNS}
    assert all(text.startswith("<svg ") and "script" not in text and "style" not in text for text in drawn.values())
    assert len(set(drawn.values())) == len(drawn)
