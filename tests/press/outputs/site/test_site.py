"""Pages as bytes: links that lead somewhere, marks that find each other, nothing inline, nothing from elsewhere."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from bs4 import BeautifulSoup

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.guide.text.inline import Inline
from guidebuild.press.calendars import site_calendars
from guidebuild.press.data_files import data_files
from guidebuild.press.outputs.site.assets import site_assets
from guidebuild.press.outputs.site.page import POLICY, render_page
from guidebuild.press.outputs.site.plate import Pictures, bar_path, draw_plate
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.press.theme.typefaces import WEB_FACES
from guidebuild.shipped import on_disk, themes
from guidebuild.views.pieces.common import MarkView, PhotoView
from guidebuild.views.site.likeliest import NOW_MARK
from guidebuild.views.site.page import PIECE, PageView
from tests.views.invented_site import GUIDE, PARENT, TODAY
from tests.views.whole_site import html_pages, site_pages, unwrap_piece

THEME = (on_disk(themes()) / "plate",)


def picture_sets() -> dict[str, PictureSet]:
    """Invented copies of all pictures of the invented guide."""
    return {
        photo: PictureSet(
            720,
            540,
            tuple(
                Variant(kind, width, f"photos/{photo}-{width}.{kind}", width * 3 // 4) for kind in ("webp", "jpeg") for width in (360, 720)
            ),
            "data:image/webp;base64,AAAA",
        )
        for photo in GUIDE.photos
    }


@pytest.fixture(scope="module")
def site() -> dict[str, BeautifulSoup]:
    return {
        page.path: BeautifulSoup(render_page(page, picture_sets(), THEME), "html.parser")
        for page in html_pages(make_published(GUIDE), TODAY)
    }


@pytest.fixture(scope="module")
def pieces() -> dict[str, BeautifulSoup]:
    pieces = (page for page in site_pages(make_published(GUIDE), TODAY) if page.template == NOW_MARK)
    return {page.path: _read_piece(page, picture_sets()) for page in pieces}


def _read_piece(page: PageView, pictures: Pictures, parser: str = "html.parser") -> BeautifulSoup:
    return BeautifulSoup(unwrap_piece(render_page(page, pictures, THEME)).replace("%root%", page.root), parser)


@pytest.fixture(scope="module")
def account(site: dict[str, BeautifulSoup]) -> BeautifulSoup:
    return site["accounts/parent-bug.html"]


def _files() -> set[str]:
    pages = tuple(site_pages(make_published(GUIDE), TODAY))
    fonts = {f"assets/{face[0]}.woff2" for face in WEB_FACES}
    pictures = {variant.path for copies in picture_sets().values() for variant in copies.variants}
    beside = {*site_assets(pages, THEME, TODAY), *site_calendars(make_published(GUIDE), {}.get, TODAY), "offline.js"}
    offered = {f"data/{name}" for name in data_files(make_published(GUIDE), picture_sets())}
    return {page.path for page in pages} | fonts | pictures | beside | offered


def test_every_link_on_every_page_leads_to_a_file_and_a_place_in_it(
    site: dict[str, BeautifulSoup], pieces: dict[str, BeautifulSoup]
) -> None:
    assert len(pieces) == 2
    files = _files()
    places = {path: {tag["id"] for tag in soup.find_all(id=True)} for path, soup in site.items()}
    checked = 0
    for path, soup in (*site.items(), *pieces.items()):
        for tag, name in [(t, n) for n in ("href", "src") for t in soup.find_all(attrs={n: True})]:
            address = urlsplit(tag[name])
            if address.scheme:
                continue
            here = address.path.removeprefix("/guide/") if path == "404.html" else address.path  # a host shows it at any depth
            target = unquote((Path("/") / Path(path).parent / here).resolve().as_posix().lstrip("/")) if here else path
            assert target in files, (path, tag[name])
            if address.fragment:
                assert address.fragment in places[target], (path, tag[name])
            checked += 1
    assert checked > 1000


def test_ids_on_a_page_are_unique(site: dict[str, BeautifulSoup]) -> None:
    for path, soup in site.items():
        ids = [tag["id"] for tag in soup.find_all(id=True)]
        assert len(ids) == len(set(ids)), path


def test_nothing_is_inline_and_nothing_comes_from_elsewhere(site: dict[str, BeautifulSoup]) -> None:
    for path, soup in site.items():
        assert soup.find("meta", attrs={"http-equiv": "Content-Security-Policy"})["content"] == POLICY
        assert not soup.find_all("style")
        assert not soup.find_all(style=True), path
        assert all(tag.get("src") or tag["type"] in ("application/ld+json", "application/json") for tag in soup.find_all("script"))
        assert not [name for tag in soup.find_all(True) for name in tag.attrs if name.startswith("on")]
        for tag in soup.find_all(["script", "img", "source", "link"], src=True):
            assert not urlsplit(tag["src"]).netloc


def test_first_words_of_every_page_wait_for_one_file(site: dict[str, BeautifulSoup]) -> None:
    for path, soup in site.items():
        styles = soup.head.find_all("link", rel="stylesheet")
        assert [tag["href"].rsplit("/", 1)[-1] for tag in styles] == ["first.css"], path
        assert not soup.find_all("link", rel=["preload", "modulepreload", "preconnect"])
        # Scripts wait for style that stands before them, and pages wait for scripts that are neither `async` nor `defer`.
        assert all(tag.has_attr("async") or tag.has_attr("defer") for tag in soup.find_all("script", src=True)), path
        assert [tag["src"].rsplit("/", 1)[-1] for tag in soup.head.find_all("script", src=True)] == ["look.js"], path
        later = [tag["href"].rsplit("/", 1)[-1] for tag in soup.body.find_all("link", rel="stylesheet")]
        assert later[0] == "guide.css" and later[1:] in ([], ["telling.css"], ["asking.css"], ["seen.css"]), path


def test_rest_of_the_style_comes_after_the_answer_to_is_it_this_one(account: BeautifulSoup) -> None:
    # A style sheet in the body holds up only what follows it (HTML, 4.6.7: it is allowed there).
    main = account.main
    order = [tag.get("class", [tag.name])[0] for tag in main.find_all(["h1", "ol", "section", "link"])]
    assert order.index("h1") < order.index("marks") < order.index("link") < order.index("not")


def test_every_picture_has_its_size_and_its_words(account: BeautifulSoup) -> None:
    for image in account.find_all("img"):
        assert image.has_attr("alt")
        assert int(image["width"]) and int(image["height"])
    plate = account.select_one(".plate picture img")
    assert plate["alt"] == "A adult on a birch leaf"
    assert not plate.has_attr("loading")
    assert all(image.get("loading") == "lazy" for image in (*account.select("picture img")[1:], *account.select(".thumb img")))


def test_picture_in_a_list_offers_phones_its_narrowest_copy_alone(site: dict[str, BeautifulSoup]) -> None:
    # Lists of hundreds are opened on phones: a choice by width would have a sharp screen fetch the wide ones.
    thumbs = [image for soup in site.values() for image in soup.select(".thumb img")]
    assert len(thumbs) > 50
    assert not any(soup.select(".thumb source") for soup in site.values())
    for image in thumbs:
        assert image["src"].endswith("-360.webp")
        assert image.get("sizes", "1px").split(", ")[-1] == "1px"
        assert (image["width"], image["height"], image["loading"]) == ("360", "270", "lazy")


def test_pointers_and_marks_find_each_other(account: BeautifulSoup) -> None:
    points = account.select(".pointers a.point")
    assert [point["href"] for point in points] == ["#mark-1", "#mark-2"]
    for point in points:
        mark = account.select_one(point["href"])
        assert mark.select_one(f'a.number[href="#{point["id"]}"]') is not None
        assert mark.select_one(".words").get_text(" ", strip=True).startswith(point["aria-label"].split(": ", 1)[1])


def test_page_answers_in_its_order(account: BeautifulSoup) -> None:
    headings = [h.text for h in account.find_all("h2")]
    wanted = ["Is it this one?", "Not to be taken for", "When and where", "Its life", "How to know it", "In the field", "Sources"]
    assert [h for h in headings if h in wanted] == wanted


def test_only_the_name_is_italic(account: BeautifulSoup) -> None:
    # Case A09.
    full = account.select_one(".names .full")
    assert [i.text for i in full.find_all("i")] == ["Elasmucha", " grisea"] or full.i.text == "Elasmucha grisea"
    assert full.select_one(".authority").text == "(Linnaeus, 1758)"
    assert full.select_one(".scientific")["lang"] == "la"


@pytest.mark.parametrize(
    ("typed", "authority", "italic", "upright"),
    [
        ("Aus bus", "Müller, 1776", ["Aus", "bus"], []),
        ("Primula veris subsp. fictilis", "", ["Primula", "veris", "fictilis"], ["subsp."]),
        ("Motacilla alba yarrellii", "", ["Motacilla", "alba", "yarrellii"], []),
        ("Rana x fictilis", "", ["Rana", "fictilis"], ["×"]),
    ],
)
def test_italics_follow_the_codes(typed: str, authority: str, italic: list[str], upright: list[str]) -> None:
    # Cases A08 and A09: hybrid sign and rank words upright, the author byte for byte.
    name = parse_name(typed, authority)
    assert isinstance(name, ScientificName)
    guide = replace(GUIDE, accounts={"parent-bug": replace(PARENT, name=name)})
    page = next(p for p in site_pages(make_published(guide), TODAY) if p.path == "accounts/parent-bug.html")
    full = BeautifulSoup(render_page(page, {}, THEME), "html.parser").select_one(".names .full")
    assert " ".join(i.text for i in full.find_all("i")).split() == italic
    plain = "".join(t for t in full.select_one(".scientific").find_all(string=True, recursive=False)).split()
    assert plain == upright
    if authority:
        assert full.select_one(".authority").text == authority


def test_season_is_said_in_words_beside_its_bar(account: BeautifulSoup) -> None:
    rows = {row.b.text: row.select_one(".when").text for row in account.select(".year .rows li")}
    assert rows["egg"] == "June"
    assert rows["adult"] == "all year; most seen mid May to mid June"


def test_caution_has_a_sign_and_the_word(account: BeautifulSoup) -> None:
    caution = account.select_one(".caution")
    assert caution.find("svg") is not None
    assert caution.h3.text == "Caution: Smell"
    assert "Look, do not handle." in caution.text


def test_cautions_of_a_walk_stand_before_its_stops_a_line_each() -> None:
    short = replace(GUIDE.cautions["stink"], short="Do not squeeze it.")
    place = replace(GUIDE.places["long-hedge"], hazards=("stink",), caution=Inline("The gate bites."))
    guide = replace(GUIDE, cautions={**GUIDE.cautions, "stink": short}, places={**GUIDE.places, "long-hedge": place})
    page = next(page for page in site_pages(make_published(guide), TODAY) if page.path == "walks/june.html")
    main = BeautifulSoup(render_page(page, {}, THEME), "html.parser").main
    (care,) = main.select(".cares details")
    assert care.summary.get_text(" ", strip=True) == "Smell Parent Bug: Do not squeeze it."
    assert [p.text for p in care.find_all("p")] == ["Parent Bug: It can squirt a smelly fluid.", "Look, do not handle."]
    assert [tag.get("class", [tag.name])[0] for tag in main.select(".cares, .stops")] == ["caution", "stops"]
    # What was written of one place stands at its stop.
    assert main.select_one(".stops > li .caution p").text == "The gate bites."


def test_what_its_author_wrote_in_english_says_so_on_spanish_pages(site: dict[str, BeautifulSoup]) -> None:
    walk = site["es/walks/june.html"]
    for words in ("A June walk", "The gate", "Look at "):
        said = next(text for text in walk.main.find_all(string=True) if text.startswith(words))
        assert next(tag["lang"] for tag in said.parents if tag.get("lang")) == "en", words
    entry = next(e for e in site["es/accounts/index.html"].select(".entry") if "Birch Bug" in e.text)
    assert entry.select_one(".mark")["lang"] == "en"
    assert entry.find_parents(lang=True)[-1]["lang"] == "es"


def test_languages_are_marked(site: dict[str, BeautifulSoup]) -> None:
    spanish = site["es/accounts/parent-bug.html"]
    assert spanish.html["lang"] == "es"
    assert spanish.select_one("h1").text == "Chinche madre"
    told = spanish.select(".told > section > div")
    assert [div.get("lang") for div in told] == ["en", "en"]
    assert site["es/accounts/birch-bug.html"].select_one(".notice") is not None
    assert spanish.select_one(".facts dd")["lang"] == "en"


def test_former_address_leads_on_without_javascript(site: dict[str, BeautifulSoup]) -> None:
    moved = site["accounts/mothering-bug.html"]
    assert moved.find("meta", attrs={"http-equiv": "refresh"})["content"] == "0; url=parent-bug.html"
    assert moved.select_one('main a[href="../accounts/parent-bug.html"]') is not None
    assert moved.find("link", rel="canonical") is None


def test_page_says_what_it_is_to_other_programs(account: BeautifulSoup) -> None:
    # Open Graph protocol (ogp.me) property names; schema.org Taxon and ImageObject.
    facts = {meta["property"]: meta["content"] for meta in account.find_all("meta", property=True)}
    assert facts["og:url"] == account.find("link", rel="canonical")["href"] == "https://bugs.example/guide/accounts/parent-bug.html"
    assert facts["og:image"] == "https://bugs.example/guide/share/accounts-parent-bug.jpg"
    assert (facts["og:image:width"], facts["og:image:height"]) == ("1200", "630")
    data = json.loads(account.find("script", type="application/ld+json").string)
    assert (data["@type"], data["name"], data["alternateName"]) == ("Taxon", "Elasmucha grisea", "Parent Bug")
    assert data["image"]["license"] == "https://creativecommons.org/licenses/by/4.0/"


def test_without_an_address_nothing_pretends_to_have_one() -> None:
    guide = replace(GUIDE, settings=replace(GUIDE.settings, address=""))
    pages = tuple(site_pages(make_published(guide), TODAY))
    page = next(p for p in pages if p.kind == "account")
    soup = BeautifulSoup(render_page(page, picture_sets(), THEME), "html.parser")
    assert soup.find("link", rel="canonical") is None
    assert soup.find("meta", property="og:image") is None
    assert not {"changes.atom", "sitemap.xml"} & set(site_assets(pages, THEME, TODAY))


def test_text_of_a_guide_cannot_break_out_of_its_place() -> None:
    evil = '</script><script>alert(1)</script>"><img src=x onerror=alert(1)>'
    mark = replace(PARENT.diagnostics[0], mark=Inline(evil))
    account = replace(PARENT, vernacular=evil, diagnostics=(mark,), habitat=(Inline(evil),), status=Inline(evil))
    guide = replace(GUIDE, accounts={"parent-bug": account}, settings=replace(GUIDE.settings, title=evil, description=evil))
    for page in site_pages(make_published(guide), TODAY):
        if page.path.startswith("seen-"):  # data of seen.js, which puts them in as texts
            assert "HTML" not in (THEME[0] / "static/seen.js").read_text(encoding="utf-8")
            continue
        if page.kind == PIECE:
            soup = _read_piece(page, picture_sets(), "html5lib")
        else:
            soup = BeautifulSoup(render_page(page, picture_sets(), THEME), "html5lib")
        assert all("alert" not in (tag.string or "") or tag["type"].endswith("json") for tag in soup.find_all("script"))
        assert not soup.find_all("img", onerror=True), page.path


def test_page_without_a_published_picture_is_a_page_all_the_same() -> None:
    for page in site_pages(make_published(GUIDE), TODAY):
        if page.kind == PIECE:
            assert not _read_piece(page, {}).select("picture"), page.path
            continue
        soup = BeautifulSoup(render_page(page, {}, THEME), "html.parser")
        assert not soup.select("picture"), page.path
        assert soup.h1.text.strip()


def test_same_page_same_bytes() -> None:
    one, two = (tuple(render_page(p, picture_sets(), THEME) for p in site_pages(make_published(GUIDE), TODAY)) for _ in range(2))
    assert one == two


def test_guides_own_template_wins(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "moved.html").write_text('{% extends "site/base.html" %}{% block main %}<h1>Own words</h1>{% endblock %}')
    page = next(p for p in site_pages(make_published(GUIDE), TODAY) if p.kind == "moved")
    assert b"Own words" in render_page(page, {}, (tmp_path, *THEME))


def test_scale_bar_is_a_round_length_in_the_pictures_own_measure() -> None:
    # 8 mm take 80 % of a height that is 3/4 of the width: the picture is 13.33 mm wide, and a quarter of it holds 2 mm.
    photo = PhotoView("p", "p.jpg", "", length=8, measured=(50, 10, 50, 90))
    plate = draw_plate(photo, {"p": PictureSet(400, 300, (Variant("jpeg", 400, "p.jpg"),))})
    assert plate is not None and plate.bar is not None
    assert plate.bar.words == "2 mm"
    assert plate.bar.path == "M0.0 0v2M0.0 1h15.00M15.00 0v2"


def test_plate_with_marks_keeps_room_for_their_numbers() -> None:
    photo = PhotoView("p", "p.jpg", "", marks=(MarkView(1, "spot", (50, 50)),))
    plate = draw_plate(photo, {"p": PictureSet(400, 300, (Variant("jpeg", 400, "p.jpg"),))})
    assert plate is not None and plate.layout is not None
    assert plate.height == 2 + 84 * 0.75 + 2
    pointer = plate.layout.pointers[0]
    assert (pointer.x, pointer.y) == (50, 2 + 84 * 0.375)


def test_season_bar_says_present_and_most_seen_by_height() -> None:
    cells = [0] * 36
    cells[0] = cells[35] = 1
    cells[4:6] = [2, 2]
    assert bar_path(cells, 1) == "M0 6h1v2h-1zM4 6h2v2h-2zM35 6h1v2h-1z"
    assert bar_path(cells, 2) == "M4 0h2v8h-2z"


def test_an_account_that_says_little_has_no_empty_headings() -> None:
    bare = Account("bare", parse_named("Aus bus"), "Bare Bug", At("accounts/bare.md", 1), sections=PARENT.sections[:1])
    said = make_published(replace(GUIDE, accounts={"bare": bare}))
    pages = {page.path: BeautifulSoup(render_page(page, {}, THEME), "html.parser") for page in site_pages(said, TODAY)}
    page = pages["accounts/bare.html"]
    assert [h.get_text() for h in page.select("article h2")] == ["Is it this one?"]
    silent = Account("bare", parse_named("Aus bus"), "Bare Bug", At("accounts/bare.md", 1))
    (page,) = [p for p in site_pages(make_published(replace(GUIDE, accounts={"bare": silent})), TODAY) if p.path == "accounts/bare.html"]
    assert BeautifulSoup(render_page(page, {}, THEME), "html.parser").select("article h2") == []


def parse_named(typed: str) -> ScientificName:
    name = parse_name(typed)
    assert isinstance(name, ScientificName)
    return name


@pytest.mark.parametrize(("title", "times"), [("Adult on birch", 1), ("A quiet guard", 1), ("", 0)])
def test_a_title_that_is_the_caption_is_said_once(title: str, times: int) -> None:
    photos = {
        key: replace(photo, caption=Inline("Adult on birch"), title=Inline(title)) if photo.account == PARENT.id else photo
        for key, photo in GUIDE.photos.items()
    }
    pages = site_pages(make_published(replace(GUIDE, photos=photos)), TODAY)
    page = next(page for page in pages if page.path == "accounts/parent-bug.html")
    (line, *_) = BeautifulSoup(render_page(page, picture_sets(), THEME), "html.parser").find_all("figcaption")
    assert line.get_text().count("Adult on birch") == 1
    assert line.get_text().count(title or "“") == times
