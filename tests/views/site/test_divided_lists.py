"""A list of more than 300 entries is divided, and each entry is reached from its first page. Everything here is invented."""

from __future__ import annotations

import datetime as dt
from collections import Counter

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import HostUse, Stated
from guidebuild.guide.records import Plant
from guidebuild.views.site import divided
from guidebuild.views.site.lists import ListPage
from guidebuild.views.site.page import PageView
from tests.fieldwork.invented import account, guide
from tests.views.whole_site import site_pages

NAMES = ("Alder", "ash", "Éveque's Rose", "Elder", "Ørsted Thyme", "9-leaved Grass", "Birch", "Ñandú Herb")


def make_pages(accounts: int, families: tuple[str, ...] = ("Pentatomidae", "Coreidae")) -> dict[str, PageView]:
    """The pages of a guide of so many accounts, each living on one of eight plants."""
    plants = {f"plant-{n}": Plant(f"plant-{n}", name) for n, name in enumerate(NAMES)}
    made = [
        account(
            f"bug-{n}",
            f"Inventus species{n}",
            f"Bug {n}",
            {"adult": "June"},
            family=families[n % len(families)],
            host_plants=Stated((HostUse(f"plant-{n % len(NAMES)}"),), said=True),
        )
        for n in range(accounts)
    ]
    return {page.path: page for page in site_pages(make_published(guide(*made, plants=plants)), dt.date(2026, 11, 28))}


def listed(page: PageView) -> list[str]:
    assert isinstance(page.data, ListPage)
    return [entry.link.text for group in page.data.groups for entry in group.entries]


def test_up_to_three_hundred_stand_on_one_page() -> None:
    pages = make_pages(300)
    for path in ("plants/index.html", "accounts/index.html"):
        assert len(listed(pages[path])) == 300
    assert not [path for path in pages if path.startswith("plants/letters/")]


def test_more_are_divided_and_nothing_is_lost() -> None:
    pages = make_pages(301)
    first = pages["plants/index.html"].data
    assert isinstance(first, ListPage) and not first.groups
    assert [(link.text, link.note) for link in first.links] == [
        ("9: 9-leaved Grass", "37 species"),
        ("A: Alder – ash", "76 species"),
        ("B: Birch", "37 species"),
        ("E: Elder – Éveque's Rose", "76 species"),
        ("N: Ñandú Herb", "37 species"),
        ("O: Ørsted Thyme", "38 species"),
    ]
    parts = [pages[link.path] for link in first.links]
    assert Counter(name for part in parts for name in listed(part)) == Counter(f"Bug {n}" for n in range(301))
    for part in parts:
        assert isinstance(part.data, ListPage) and [link.path for link in part.data.links] == ["plants/index.html"]


def test_many_accounts_are_reached_by_their_families_and_those_without_stand_by_themselves() -> None:
    pages = make_pages(303, ("Pentatomidae", "Coreidae", ""))
    first = pages["accounts/index.html"].data
    assert isinstance(first, ListPage)
    assert [(link.text, link.note) for link in first.links] == [("Coreidae", "101 species"), ("Pentatomidae", "101 species")]
    reached = [name for link in first.links for name in listed(pages[link.path])] + listed(pages["accounts/index.html"])
    assert Counter(reached) == Counter(f"Bug {n}" for n in range(303))


@pytest.mark.parametrize("most", [0, 2])
def test_every_page_that_is_led_to_is_there_in_both_languages(monkeypatch: pytest.MonkeyPatch, most: int) -> None:
    monkeypatch.setattr(divided, "MOST_IN_LIST", most)
    pages = make_pages(9)
    for page in pages.values():
        if isinstance(page.data, ListPage):
            assert all(link.path in pages for link in page.data.links)
    assert "es/plants/letters/a.html" in pages or not any(path.startswith("es/") for path in pages)
