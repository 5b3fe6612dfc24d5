"""Italics and links in the facts are italics and links on the pages, and never stars or brackets."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from bs4 import BeautifulSoup

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.findings import At
from guidebuild.guide.text.inline import Inline
from guidebuild.press.outputs.site.page import render_page
from tests.press.outputs.site.test_site import THEME, picture_sets
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages

PLANTED = "see *Aus bus* and **b**, [x](account:birch-bug), ~5 mm, _u_ on 2*3*4, a_b_c and 5 * 3"
WORDS = "see Aus bus and b, x, ~5 mm, u on 2*3*4, a_b_c and 5 * 3"


def plant(value: Any) -> Any:
    """A value with the planted text at the end of every text in Markdown that stands in the facts."""
    if isinstance(value, Inline):
        return replace(value, text=f"{value.text}, {PLANTED}") if value else value
    if isinstance(value, tuple):
        return tuple(map(plant, value))
    if isinstance(value, dict):
        return {key: plant(inner) for key, inner in value.items()}
    if is_dataclass(value) and not isinstance(value, (type, At)):
        return replace(value, **{field.name: plant(getattr(value, field.name)) for field in fields(value) if field.init})
    return value


@pytest.fixture(scope="module")
def pages() -> dict[str, BeautifulSoup]:
    # Habitats that are places are ids, and stay.
    accounts = {key: plant(replace(account, caution=Inline("Leave it be"))) for key, account in GUIDE.accounts.items()}
    photos = {key: plant(replace(photo, caption=Inline("On birch"))) for key, photo in GUIDE.photos.items()}
    guide = replace(GUIDE, accounts=accounts, photos=photos)
    guide = replace(guide, plants=plant(dict(GUIDE.plants)), terms=plant(dict(GUIDE.terms)), walks=plant(dict(GUIDE.walks)))
    published = make_published(guide)
    return {page.path: BeautifulSoup(render_page(page, picture_sets(), THEME), "html.parser") for page in site_pages(published, TODAY)}


def test_no_sign_of_markdown_is_on_any_page(pages: dict[str, BeautifulSoup]) -> None:
    assert len(pages) > 20
    for path, page in pages.items():
        left = [sign for sign in ("*Aus", "bus*", "**", "](", "[x", "_u_") if sign in str(page)]
        assert not left, path


@pytest.mark.parametrize(
    "place",
    [".marks .words", "p.tell", ".facts dd", ".facts .quiet", "figcaption .what", ".caution"],
)
def test_italics_and_links_stay_what_they_are(pages: dict[str, BeautifulSoup], place: str) -> None:
    shown = [found for found in pages["accounts/parent-bug.html"].select(place) if WORDS in " ".join(found.get_text().split())]
    assert shown
    for found in shown:
        assert {"Aus bus", "u"} <= {em.get_text() for em in found.find_all("em")}
        assert "b" in [strong.get_text() for strong in found.find_all("strong")]
        assert next(link["href"] for link in found.find_all("a") if link.get_text() == "x") == "../accounts/birch-bug.html"


def test_what_is_no_text_of_a_page_is_plain_words(pages: dict[str, BeautifulSoup]) -> None:
    alts = [picture["alt"] for picture in pages["accounts/parent-bug.html"].find_all("img") if "Aus bus" in picture["alt"]]
    assert alts
    assert all(WORDS in alt for alt in alts)
