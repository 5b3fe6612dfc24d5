"""The page of a walk, and chances on the pages of the year, in the reader's language."""

from __future__ import annotations

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.views.site.page import PageView
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages


@pytest.fixture(scope="module")
def pages() -> dict[str, PageView]:
    return {page.path: page for page in site_pages(make_published(GUIDE), TODAY)}


def test_walk_says_when_one_is_where_and_what_may_be_met(pages: dict[str, PageView]) -> None:
    walk = pages["walks/june.html"].data
    assert (walk.pack.calendar, walk.pack.starts) == ("june.ics", "14:00")
    # 100 m at the pace of a group that looks about, 2.5 km/h, is 2.4 min (common practice, no source).
    assert walk.stops[0].pack.arrive == "14:02"
    (met,) = walk.stops[0].entries
    assert (met.link.text, met.chance) == ("Parent Bug", "possible")
    assert "known from this place" in met.why
    assert dict(walk.pack.chances)["possible"] == "in season, and known from this place"


def test_walk_in_spanish_says_what_its_author_wrote_in_english(pages: dict[str, PageView]) -> None:
    walk = pages["es/walks/june.html"].data
    (met,) = walk.stops[0].entries
    assert met.chance == "posible"
    assert "conocida en este lugar" in met.why
    assert walk.stops[0].note.language == "en"
    assert met.told[0].words.language == ""  # this account has Spanish marks


def test_third_of_a_month_gives_chances_with_their_meaning(pages: dict[str, PageView]) -> None:
    june = pages["seasons/06-2.html"].data
    said = {entry.link.text: entry.chance for group in june.groups for entry in group.entries}
    assert said == {"Parent Bug": "possible", "Birch Bug": "possible"}
    assert june.chances == (("possible", "in season"),)
    assert june.promise.startswith("Nothing is promised")
    assert pages["es/seasons/06-2.html"].data.chances == (("posible", "en temporada"),)


def test_untranslated_marks_keep_their_language(pages: dict[str, PageView]) -> None:
    assert {mark.language for mark in pages["es/accounts/birch-bug.html"].data.marks} == {"en"}
    assert {mark.language for mark in pages["es/accounts/parent-bug.html"].data.marks} == {""}
    similar = pages["es/accounts/birch-bug.html"].data.similar
    assert [one.language for one in similar if one.note] == ["en"] * len([one for one in similar if one.note])
