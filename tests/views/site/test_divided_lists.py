"""A list of more than 300 entries is divided, and each entry is reached from its first page. Everything here is invented."""

from __future__ import annotations

import datetime as dt
from collections import Counter

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import HostUse, Stated
from guidebuild.guide.records import Plant, Source, Term
from guidebuild.guide.text.inline import Inline
from guidebuild.views.pieces.links import site_map
from guidebuild.views.site import divided
from guidebuild.views.site.lists import ListPage
from guidebuild.views.site.page import PageView
from tests.fieldwork.invented import account, guide
from tests.views.whole_site import site_pages

NAMES = ("Alder", "ash", "Éveque's Rose", "Elder", "Ørsted Thyme", "9-leaved Grass", "Birch", "Ñandú Herb")


def make_pages(accounts: int, families: tuple[str, ...] = ("Pentatomidae", "Coreidae"), **more: object) -> dict[str, PageView]:
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
            **more,
        )
        for n in range(accounts)
    ]
    return {page.path: page for page in site_pages(make_published(guide(*made, plants=plants)), dt.date(2026, 11, 28))}


def listed(page: PageView) -> list[str]:
    assert isinstance(page.data, ListPage)
    return [entry.link.text for group in page.data.groups for entry in group.entries]


def run_of(pages: dict[str, PageView], path: str) -> list[PageView]:
    """All pages of a list, which each of them leads to."""
    runs = pages[path].runs
    assert all(pages[link.path].runs == runs for link in runs)
    return [pages[link.path] for link in runs]


def test_up_to_three_hundred_stand_on_one_page() -> None:
    pages = make_pages(300)
    for path in ("plants/index.html", "accounts/index.html"):
        assert len(listed(pages[path])) == 300
    assert len(pages["seasons/index.html"].data.rows) == 300  # type: ignore[attr-defined]
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
    assert [link.text for link in pages["families/coreidae.html"].runs] == ["1–100", "101–101"]
    reached += listed(pages["families/coreidae/2.html"]) + listed(pages["families/pentatomidae/2.html"])
    assert Counter(reached) == Counter(f"Bug {n}" for n in range(303))


def test_long_lists_stand_on_as_many_pages_as_they_take_and_lose_nothing() -> None:
    pages = make_pages(301)
    everyone = Counter(f"Bug {n}" for n in range(301))
    dekad = run_of(pages, "seasons/06-2.html")
    assert [page.path for page in dekad] == ["seasons/06-2.html", *(f"seasons/06-2/{n}.html" for n in (2, 3, 4))]
    assert [page.title for page in dekad[:2]] == ["Out in mid June", "Out in mid June, 101–200"]
    entries = [[entry.link.text for group in page.data.groups for entry in group.entries] for page in dekad]  # type: ignore[attr-defined]
    assert [len(one) for one in entries] == [100, 100, 100, 1]
    assert Counter(name for one in entries for name in one) == everyone
    year = run_of(pages, "seasons/index.html")
    assert Counter(row.link.text for page in year for row in page.data.rows) == everyone  # type: ignore[attr-defined]
    found = run_of(pages, "find.html")
    names = [item.link.text for page in found for item in page.data.items]  # type: ignore[attr-defined]
    assert not everyone - Counter(names)
    whole = pages["find/names.js"].data
    assert [item.link.text for item in whole.items] == names  # type: ignore[attr-defined]


def test_a_short_list_has_one_page_and_no_runs() -> None:
    assert not [page.path for page in make_pages(100).values() if page.runs]


def test_habitats_of_many_accounts_have_pages_of_their_own() -> None:
    pages = make_pages(150, habitat=Stated((Inline("wood edge"), Inline("heath")), said=True))
    first = pages["places/index.html"].data
    assert isinstance(first, ListPage) and not first.groups
    habitats = [link for link in first.links if link.note]
    assert [(link.text, link.note) for link in habitats] == [("heath", "150 species"), ("wood edge", "150 species")]
    for link in habitats:
        reached = [name for page in run_of(pages, link.path) for name in listed(page)]
        assert Counter(reached) == Counter(f"Bug {n}" for n in range(150))


def test_words_and_sources_are_led_to_on_the_page_where_they_stand() -> None:
    terms = {f"word-{n:03}": Term(f"word-{n:03}", f"word {n:03}", Inline("Some part.")) for n in range(310)}
    sources = {f"source-{n:03}": Source(f"source-{n:03}", f"Source {n:03}") for n in range(310)}
    sourced = account("bug", "Inventus primus", "Bug", {"adult": "June"}, sources=Stated(("source-305", "source-007"), said=True))
    public = make_published(guide(sourced, terms=terms, sources=sources))
    pages = {page.path: page for page in site_pages(public, dt.date(2026, 11, 28))}
    places = [source.page for source in pages["accounts/bug.html"].data.sources]  # type: ignore[attr-defined]
    assert places == ["sources/2.html#source-305", "sources.html#source-007"]
    assert "source-305" in [source.id for source in pages["sources/2.html"].data.sources]  # type: ignore[attr-defined]
    led = site_map(public, "en").target("term", "word-304")
    assert led and led.path == "glossary/2.html#word-304"
    assert "word-304" in [term.id for term in pages["glossary/2.html"].data.terms]  # type: ignore[attr-defined]


@pytest.mark.parametrize("most", [0, 2])
def test_every_page_that_is_led_to_is_there_in_both_languages(monkeypatch: pytest.MonkeyPatch, most: int) -> None:
    monkeypatch.setattr(divided, "MOST_IN_LIST", most)
    pages = make_pages(9)
    for page in pages.values():
        if isinstance(page.data, ListPage):
            assert all(link.path in pages for link in page.data.links)
    assert "es/plants/letters/a.html" in pages or not any(path.startswith("es/") for path in pages)
