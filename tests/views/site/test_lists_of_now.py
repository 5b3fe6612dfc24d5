"""Walks still to come before past ones, places with their year, credits by person and licence, pictures beside names that are found."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.records import Source
from guidebuild.session import read_unchecked
from guidebuild.views.pieces.citations import make_citation
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site import tell
from guidebuild.views.site.habitats import places_page
from guidebuild.views.site.lists import find_start, seasons_page
from guidebuild.views.site.page import SiteView
from guidebuild.views.site.reference import sources_page
from guidebuild.views.site.walk import walks_page
from guidebuild.words import words
from tests.conftest import SAMPLE


@pytest.fixture(scope="module")
def guide() -> Published:
    return make_published(read_unchecked(SAMPLE))


def test_the_next_walk_comes_first_and_the_latest_past_one_too(guide: Published) -> None:
    days = sorted(walk.date for walk in guide.walks.values())
    page = walks_page(make_pieces(guide), days[1])
    assert [walk.day for walk in page.coming] == days[1:]
    assert [walk.day for walk in page.past] == days[:1]
    over = walks_page(make_pieces(guide), days[-1] + dt.timedelta(1))
    assert over.coming == ()
    assert [walk.day for walk in over.past] == days[::-1]


def test_a_place_stands_with_its_picture_and_the_year_of_what_is_found_there(guide: Published) -> None:
    page = places_page(make_pieces(guide), divided=False)
    assert len(page.places) == len(guide.places) > 0
    bank = next(place for place in page.places if place.link.text == "Gorse Bank")
    assert bank.photo is not None
    assert bank.photo.id == "place-gorse-bank"
    assert bank.species == sum(1 for account in guide.accounts.values() if "gorse-bank" in account.places)
    assert max(bank.year) == 2
    assert all(0 <= cell <= 2 for cell in bank.year)
    nothing = replace(guide, accounts={})
    assert {sum(place.year) for place in places_page(make_pieces(nothing), divided=False).places} == {0}


def test_pictures_are_credited_once_a_person_and_licence(guide: Published) -> None:
    first, *others = guide.photos
    made = replace(guide.photos[first], credit="Another Hand", source="a drawing of her own")
    page = sources_page(make_pieces(replace(guide, photos={**guide.photos, first: made})))
    assert sorted(group.who for group in page.groups) == ["Another Hand", "Larkfold Hedge Group"]
    assert sum(len(group.credits) for group in page.groups) == len(others) + 1
    alone = next(group for group in page.groups if group.who == "Another Hand")
    assert alone.licence is not None
    assert [part.words for part in alone.credits[0].parts] == ["a drawing of her own"]


def test_a_book_is_cited_with_its_publisher_and_a_data_set_says_that_it_is_one() -> None:
    # ISO 690:2021 has the order creator, date, title, publication; from memory, the standard is not free to read.
    book = Source("b", "Reader 1959", author="A. Reader", year="1959", title="Bugs of the Vale", publisher="Vale Press")
    assert make_citation(book, words("en")).line == "A. Reader (1959). Bugs of the Vale. Vale Press."
    assert make_citation(replace(book, kind="data set"), words("en")).line.endswith("Vale Press. Data set.")


def test_names_are_found_with_pictures_unless_they_are_too_many(guide: Published, monkeypatch: pytest.MonkeyPatch) -> None:
    items = {item.link.text: item for item in tell.find_page(make_pieces(guide)).items}
    assert items["Parent Bug"].photo is not None
    assert items["Gorse Bank"].photo is not None
    assert "dark spot on the scutellum" in items["Parent Bug"].words
    monkeypatch.setattr(tell, "MOST_ENTRIES", 3)
    assert not [item for item in tell.find_page(make_pieces(guide)).items if item.photo]


@pytest.mark.parametrize(
    ("contact", "address"),
    [
        ("hello@larkfold.example", "mailto:hello@larkfold.example"),
        ("https://larkfold.example/write", "https://larkfold.example/write"),
        ("a b@c.example?subject=x", ""),
        ("javascript:alert(1)", ""),
        ("a@b.example,c@d.example", ""),
        ("01632 960001", ""),
    ],
)
def test_a_contact_leads_only_where_it_is_an_address(contact: str, address: str) -> None:
    assert SiteView("Bugs", "en", contact=contact).contact_address == address


@pytest.mark.parametrize(
    ("out", "starts"),
    [
        ({9, 10, 11}, 9),
        (set(range(31, 36)) | {0, 1, 2}, 31),
        (set(range(36)), 0),
        (set(), 0),
        ({3, 4, 20, 21}, 3),
        ({35}, 35),
        ({5, 6, 8}, 5),
    ],
)
def test_a_year_starts_after_its_longest_gap(out: set[int], starts: int) -> None:
    assert find_start([int(dekad in out) for dekad in range(36)]) == starts


def test_what_is_about_all_year_starts_when_it_is_most_seen() -> None:
    assert find_start([1] * 14 + [2] * 4 + [1] * 18) == 14
    assert find_start([2] + [1] * 34 + [2]) == 35


def test_the_year_stands_by_start_then_name_with_each_stage_alone(guide: Published) -> None:
    page = seasons_page(make_pieces(guide))
    order = [(row.starts, row.link.text.casefold()) for row in page.rows]
    assert order == sorted(order)
    assert set(page.families) == {account.family for account in guide.accounts.values()}
    for row in page.rows:
        assert [max(map(int, cells)) for cells in zip(*(digits for _, digits, _ in row.stages), strict=True)] == list(row.cells)
        assert all(start == find_start([int(digit) for digit in digits]) for _, digits, start in row.stages)
