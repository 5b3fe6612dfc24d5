"""What others' programs are told of a page: territory, short name, signs, taxa."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from PIL import Image

from guidebuild.fieldwork.published import make_published
from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.outputs.site.assets import site_assets
from guidebuild.press.outputs.site.files import shorten_title
from guidebuild.press.outputs.site.page import render_page
from guidebuild.press.outputs.site.share_picture import ShareWork, draw_share, find_ratio
from guidebuild.press.outputs.site.sharing import add_territory, share_path
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.cuts import cut_to_animal
from guidebuild.views.site.page import UNLISTED
from tests.browser.built_site import THEME
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages

PAGES = {page.path: page for page in site_pages(make_published(GUIDE), TODAY)}


def _told(path: str) -> dict[str, object]:
    soup = BeautifulSoup(render_page(PAGES[path], {}, THEME), "html.parser")
    return dict(json.loads(soup.find("script", type="application/ld+json").string))


@pytest.mark.parametrize(
    ("language", "country", "locale"),
    [
        # Open Graph protocol (ogp.me): `language_TERRITORY`; likeliest territories after CLDR.
        ("en", "GB", "en_GB"),
        ("es", "GB", "es_ES"),
        ("en", "", "en_US"),
        ("pt-BR", "GB", "pt_BR"),
        ("fr", "CH", "fr_CH"),
        ("cy", "GB", "cy_GB"),
        ("xx", "GB", "xx"),
    ],
)
def test_a_locale_has_its_territory(language: str, country: str, locale: str) -> None:
    assert add_territory(language, country) == locale


@pytest.mark.parametrize(
    ("title", "short"),
    [
        ("Shieldbugs of Larkfold Hedge", "Shieldbugs of Larkfold"),
        ("Waders", "Waders"),
        ("Bugs of Example Hedge", "Bugs of Example Hedge"),
        ("Moths and Butterflies of the Great Fen", "Moths and Butterflies"),
        ("Spring flowers of the northern lanes", "Spring flowers"),
        ("Donaudampfschifffahrtsgesellschaften", "Donaudampfschifffahrtsgesellschaften"),
    ],
)
def test_a_short_name_is_of_whole_words(title: str, short: str) -> None:
    assert shorten_title(title) == short


def test_signs_for_first_screens_stand_where_they_are_named() -> None:
    assets = site_assets(tuple(PAGES.values()), THEME, TODAY)
    manifest = json.loads(assets["guide.webmanifest"])
    for icon in manifest["icons"]:
        assert icon["src"] in assets
    page = BeautifulSoup(render_page(PAGES["index.html"], {}, THEME), "html.parser")
    touch = page.find("link", rel="apple-touch-icon")["href"]
    assert Image.open(io.BytesIO(assets[touch])).size == (180, 180)
    assert Image.open(io.BytesIO(assets["assets/icon-512.png"])).size == (512, 512)


def test_every_page_has_a_picture_for_sharing() -> None:
    pages = [page for page in PAGES.values() if page.kind not in UNLISTED]
    assert len(pages) > 40
    for page in pages:
        soup = BeautifulSoup(render_page(page, {}, THEME), "html.parser")
        image = soup.find("meta", property="og:image")
        assert image is not None, page.path
        assert image["content"] == f"https://bugs.example/guide/{share_path(page)}"
        assert soup.find("meta", property="og:image:alt")["content"]
    assert share_path(PAGES["plants/silver-birch.html"]) == share_path(PAGES["index.html"])


def test_pages_share_one_drawing_of_each_photo(tmp_path: Path) -> None:
    red = Image.new("RGB", (1280, 960), "#dd2222")
    red.paste("#22dd22", (540, 240, 740, 720))
    red.save(tmp_path / "plate.webp", "WEBP", lossless=True)
    part = cut_to_animal(PhotoView("p", "", length=10, measured=(50, 25, 50, 75), reach=(10, 10)), 0.75, find_ratio(alone=True))
    assert part is not None
    work = ShareWork(KnownFile(tmp_path / "plate.webp", "p"), "Bugs", "Bo Example", part=(part.x, part.y, part.width))
    drawn = Image.open(io.BytesIO(draw_share(work).parts[0]))
    assert drawn.size == (1200, 630)
    green = [y for y in range(586) if drawn.getpixel((600, y))[1] > 150]  # type: ignore[index]
    assert len(green) >= 0.6 * 630
    assert drawn.getpixel((600, 610)) == (255, 255, 255)


def test_ring_on_the_shared_picture_leaves_its_mark_open(tmp_path: Path) -> None:
    Image.new("RGB", (1280, 960), "#336633").save(tmp_path / "plate.webp", "WEBP", lossless=True)
    plate = KnownFile(tmp_path / "plate.webp", "p")
    work = ShareWork(plate, "Bugs", "", "Bug", (("Bug", True),), "spot", (50, 50), 6, (20, 10, 60))
    drawn = Image.open(io.BytesIO(draw_share(work).parts[0])).convert("RGB")
    x, y = (50 - 20) * 640 / 60, (37.5 - 10) * 640 / 60
    reach = 6 / 200 * 1280 * 640 / (60 * 12.8)
    assert drawn.getpixel((round(x), round(y)))[0] < 90, "the mark itself"  # type: ignore[index]
    assert drawn.getpixel((round(x - reach * 0.8), round(y)))[0] < 90  # type: ignore[index]
    assert max(drawn.getpixel((round(x - reach * 1.15 - d), round(y)))[0] for d in range(5)) > 130  # type: ignore[index]


def test_taxa_name_one_another() -> None:
    account = _told("accounts/parent-bug.html")
    assert account["parentTaxon"] == {
        "@type": "Taxon",
        "name": "Acanthosomatidae",
        "url": "https://bugs.example/guide/families/acanthosomatidae.html",
        "taxonRank": "family",
    }
    family = _told("families/acanthosomatidae.html")
    assert (family["@type"], family["name"], family["taxonRank"]) == ("Taxon", "Acanthosomatidae", "family")
    listed = family["childTaxon"]
    assert isinstance(listed, list)
    assert {(one["name"], one["url"]) for one in listed} >= {("Elasmucha grisea", "https://bugs.example/guide/accounts/parent-bug.html")}


def test_guide_says_what_it_is() -> None:
    said = _told("index.html")
    assert (said["@type"], said["name"], said["inLanguage"]) == ("WebSite", "Bugs of Example Hedge", "en")
    assert said["license"] == "https://creativecommons.org/licenses/by/4.0/"
    assert isinstance(said["about"], list)
    assert [one["name"] for one in said["about"]] == ["Acanthosomatidae"]


def test_without_an_address_no_taxon_has_one() -> None:
    guide = replace(GUIDE, settings=replace(GUIDE.settings, address=""))
    for page in site_pages(make_published(guide), TODAY):
        if page.kind in ("account", "family"):
            soup = BeautifulSoup(render_page(page, {}, THEME), "html.parser")
            assert '"url"' not in soup.find("script", type="application/ld+json").string
