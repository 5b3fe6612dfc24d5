"""Comparisons of the sample and of the birds' guide: the answer first, deciding marks alone, each stage under its own pictures."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.reading.whole import read_guide
from guidebuild.views.telling.compare import CompareView, compare_view, list_compared

ROOT = Path(__file__).resolve().parents[3]
GUIDES = {name: ROOT / "tests" / "guides" / name for name in ("estuary-waders", "southern-frogs", "spring-flowers", "wood-fungi")}
GUIDES["sample"] = ROOT / "sample_guide"
EVERY = [(name, ids) for name in GUIDES for ids in list_compared(make_published(read_guide(GUIDES[name]).guide))]
FIVE = ("birch-shieldbug", "hairy-shieldbug", "hawthorn-shieldbug", "juniper-shieldbug", "parent-bug")


@cache
def _published(name: str) -> Published:
    return make_published(read_guide(GUIDES[name]).guide)


@cache
def _view(name: str, ids: tuple[str, ...], language: str = "") -> CompareView:
    return compare_view(_published(name), ids, language)


def test_answers_name_what_no_other_shows() -> None:
    answers = [answer.words for answer in _view("sample", FIVE).answers]
    assert answers == [
        "wing pattern: red-brown bars beside the scutellum; shoulders: rounded",
        "antennae: ringed black and white",
        "shoulders: a short point",
        "wing pattern: pink curved marks, like a pair of boomerangs",
        "scutellum mark: a dark spot in the middle",
    ]


@pytest.mark.parametrize(("name", "ids"), EVERY)
def test_answer_tells_each_from_all_the_others(name: str, ids: tuple[str, ...]) -> None:
    """Each row that is named tells from some, and together they tell from all."""
    view = _view(name, ids)
    for place, answer in enumerate(view.answers):
        rows = [row for row in view.separating if row.values[place] and row.label in answer.words]
        named = [row for row in rows if f": {row.values[place]}" in answer.words]
        told = {other for row in named for pair in row.separates if place in pair for other in pair} - {place}
        assert told == set(range(len(ids))) - {place} or not answer


@pytest.mark.parametrize(("name", "ids"), EVERY)
def test_odd_one_out_is_told_from_every_other(name: str, ids: tuple[str, ...]) -> None:
    for row in _view(name, ids).separating:
        for place in range(len(ids)):
            others = {pair for pair in combinations(range(len(ids)), 2) if place in pair}
            assert (place in row.alone) is (others <= set(row.separates))


@pytest.mark.parametrize(("name", "ids"), EVERY)
def test_every_separating_row_stands_under_one_stage(name: str, ids: tuple[str, ...]) -> None:
    view = _view(name, ids)
    under = [row for stage in view.stages for row in stage.separating]
    assert sorted((r.label, r.where) for r in under) == sorted((r.label, r.where) for r in view.separating)


def test_nymph_colour_stands_under_pictures_of_nymphs() -> None:
    adults, nymphs = _view("sample", FIVE).stages
    assert (adults.pictures.heading, nymphs.pictures.heading) == ("adults", "nymphs")
    assert [row.label for row in nymphs.separating] == ["nymph colour"]
    published = _published("sample")
    shown = [plate.photo and published.photos[plate.photo.id].stage for plate in nymphs.pictures.plates]
    assert shown == ["nymph", "nymph", "nymph", None, "nymph"]  # no one has drawn the Juniper's


def test_breeding_plumage_stands_under_birds_in_breeding_plumage() -> None:
    stages = _view("estuary-waders", ("redshank", "spotted-redshank")).stages
    assert [stage.pictures.heading for stage in stages] == ["birds in winter plumage", "birds in breeding plumage", "juveniles"]
    assert [row.label for row in stages[1].separating] == ["underparts in breeding plumage"]


def test_one_stage_is_named_unless_it_is_understood() -> None:
    (fresh,) = _view("wood-fungi", ("blusher", "panthercap")).stages
    assert fresh.pictures.heading == "fresh fruit bodies"
    (stage,) = _view("sample", ("birch-shieldbug", "juniper-shieldbug")).stages
    assert stage.pictures.heading == ""


@pytest.mark.parametrize(("name", "ids"), EVERY)
def test_pictures_point_at_marks_that_are_said_under_them(name: str, ids: tuple[str, ...]) -> None:
    for stage in _view(name, ids).stages:
        for plate in stage.pictures.plates:
            pointed = [mark.number for mark in plate.photo.marks] if plate.photo else []
            assert pointed == [mark.number for mark in plate.marks if mark.point]
            assert len(plate.marks) <= 3


def test_mark_that_does_not_decide_is_not_pointed_at() -> None:
    """The Hawthorn Shieldbug's red edge tells it from neither of the two others that are compared here."""
    (stage,) = _view("sample", ("birch-shieldbug", "hawthorn-shieldbug")).stages
    hawthorn = stage.pictures.plates[1]
    assert hawthorn.photo
    assert [mark.words for mark in hawthorn.photo.marks] == ["red points to the shoulders"]
    assert len(_published("sample").accounts["hawthorn-shieldbug"].diagnostics) > 1


@pytest.mark.parametrize(("name", "ids"), EVERY)
def test_notes_speak_of_the_species_they_stand_under(name: str, ids: tuple[str, ...]) -> None:
    for taxon in _view(name, ids).taxa:
        for note in taxon.notes:
            assert taxon.link.text.removeprefix("Common ") in note.words.words
            assert note.beside.text != taxon.link.text
            assert note.beside.text in {other.link.text for other in _view(name, ids).taxa}


def test_months_are_those_of_the_stage_that_is_shown() -> None:
    adults, nymphs = _view("sample", FIVE).stages
    assert {plate.season.stage for plate in adults.pictures.plates if plate.season} == {"adult"}
    assert {plate.season.stage for plate in nymphs.pictures.plates if plate.season} == {"nymph"}
    assert adults.pictures.months == tuple("JFMAMJJASOND")


def test_sex_is_said_where_a_picture_shows_one() -> None:
    (winter, _) = _view("estuary-waders", ("bar-tailed-godwit", "curlew")).stages
    assert [plate.whose for plate in winter.pictures.plates] == ["female", "female"]


def test_answers_are_in_the_guides_language_and_say_so() -> None:
    view = _view("sample", FIVE, "es")
    assert {answer.language for answer in view.answers} == {"en"}
    assert not re.search(r"\bbug\b", " ".join(view.stages[0].pictures.heading.split()))
