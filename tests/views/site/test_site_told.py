"""What tells a species in a part of the year: never the mark or the picture of a stage that is not out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import Account, FieldMark, StageSeason, StageText
from guidebuild.guide.guide import Guide
from guidebuild.guide.text.inline import Inline
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site.lists import ListEntry, make_entry
from guidebuild.views.site.told import told_through_the_year
from tests.views.invented_site import GUIDE, PARENT, TODAY, season
from tests.views.whole_site import site_pages

EGGS_THEN_ADULTS = replace(
    PARENT,
    seasons=(StageSeason("egg", season(12, 14)), StageSeason("nymph", season(14, 20)), StageSeason("adult", season(20, 26))),
    stages=(
        StageText("egg", Inline("A *batch* under a leaf. Laid in May.")),
        StageText("nymph", Inline("Stays with its mother at first.[^1]\n\n[^1]: Long.")),
    ),
)


def _guide(account: Account) -> Guide:
    return replace(GUIDE, accounts={account.id: account})


def _listed(account: Account, dekad: int, language: str = "en") -> ListEntry:
    return make_entry(make_pieces(make_published(_guide(account)), language), account, dekad=dekad)


@pytest.mark.parametrize(
    ("dekad", "stage", "words", "photo"),
    [
        (12, "egg", "A batch under a leaf.", "parent-adult"),  # there is no picture of its eggs
        (16, "nymph", "Stays with its mother at first.", "parent-nymph"),
        (20, "adult", "dark spot on the scutellum", "parent-adult"),
        (24, "", "dark spot on the scutellum", "parent-adult"),
    ],
)
def test_what_is_out_is_told_by_itself(dekad: int, stage: str, words: str, photo: str) -> None:
    listed = _listed(EGGS_THEN_ADULTS, dekad)
    assert [(told.stage, told.words.words) for told in listed.told] == [(stage, words)]
    assert not listed.mark
    assert listed.photo is not None
    assert listed.photo.id == photo


def test_a_mark_of_the_stage_or_of_any_stage_comes_before_its_life() -> None:
    young = FieldMark(Inline("red eyes"), ("nymph",))
    assert [t.words.words for t in _listed(replace(EGGS_THEN_ADULTS, diagnostics=(*PARENT.diagnostics, young)), 16).told] == ["red eyes"]
    flat = FieldMark(Inline("flat"), ())
    assert [t.words.words for t in _listed(replace(EGGS_THEN_ADULTS, diagnostics=(*PARENT.diagnostics, flat)), 12).told] == ["flat"]


def test_nothing_is_said_where_the_account_says_nothing() -> None:
    assert _listed(replace(EGGS_THEN_ADULTS, stages=()), 12).told == ()


def test_words_keep_their_language() -> None:
    egg, adult = _listed(EGGS_THEN_ADULTS, 12, "es").told[0], _listed(EGGS_THEN_ADULTS, 24, "es").told[0]
    assert (egg.words.language, adult.words.language) == ("en", "")  # the account has Spanish marks but no Spanish stages


def test_home_holds_what_tells_each_in_every_part_of_the_year() -> None:
    home = next(iter(site_pages(make_published(_guide(EGGS_THEN_ADULTS)), TODAY)))
    ((_, listed),) = home.data.now.entries  # type: ignore[attr-defined]
    mark = "dark spot on the scutellum"
    assert [(told.stage, told.words.words) for told in listed.told] == [
        ("nymph", "Stays with its mother at first."),
        ("adult", mark),  # while nymphs are still about, which do not have it
        ("", mark),
    ]
    # Eggs alone are not looked for, so the year begins with the nymph.
    assert [(t.dekads.index("1"), t.dekads.rindex("1")) for t in listed.told] == [(14, 19), (20, 20), (21, 26)]


def test_an_account_that_one_mark_tells_all_year_has_one() -> None:
    make = make_pieces(make_published(GUIDE))
    assert len(told_through_the_year(make, GUIDE.accounts["birch-bug"], [1] * 36)) == 1


def test_walk_shows_what_is_out_on_its_day() -> None:
    walk = next(page for page in site_pages(make_published(_guide(EGGS_THEN_ADULTS)), TODAY) if page.path == "walks/june.html")
    (met,) = walk.data.stops[0].entries  # type: ignore[attr-defined]
    assert [(told.stage, told.words.words) for told in met.told] == [("nymph", "Stays with its mother at first.")]
    assert met.photo.id == "parent-nymph"
