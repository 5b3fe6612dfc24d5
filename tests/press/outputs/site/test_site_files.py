"""What stands beside the pages: style, feed, list of pages, manifest, offline table, typefaces, share pictures."""

from __future__ import annotations

import datetime as dt
import gzip
import io
import json
import re
import xml.etree.ElementTree as etree
from pathlib import Path

import pytest
from PIL import Image

from guidebuild.fieldwork.published import make_published
from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.outputs.site.assets import look_assets, site_assets, squeeze_style
from guidebuild.press.outputs.site.files import site_list, write_feed
from guidebuild.press.outputs.site.share_picture import ShareWork, draw_share
from guidebuild.press.theme.font_cutting import make_font
from guidebuild.press.theme.typefaces import WEB_FACES, font_work, signs_of
from guidebuild.shipped import on_disk, themes
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages

THEME = (on_disk(themes()) / "plate",)
PAGES = tuple(site_pages(make_published(GUIDE), TODAY))
ATOM = "{http://www.w3.org/2005/Atom}"


def _contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (WCAG 2.2, definitions of contrast ratio and relative luminance)."""

    def luminance(colour: str) -> float:
        colour = colour.lstrip("#")
        colour = colour if len(colour) == 6 else "".join(c * 2 for c in colour)
        channels = [int(colour[i : i + 2], 16) / 255 for i in (0, 2, 4)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_computed_as_published() -> None:
    assert _contrast("#000", "#fff") == pytest.approx(21)
    assert _contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # case A31
    assert _contrast("#595959", "#ffffff") == pytest.approx(7.0, abs=0.01)


def test_all_text_colours_keep_seven_to_one() -> None:
    # Case A31, and more than WCAG 2.2 asks: read in the sun.
    css = "".join((THEME[0] / "static" / name).read_text(encoding="utf-8") for name in ("tokens.css", "first.css", "guide.css"))
    schemes = [dict(re.findall(r"--([\w-]+): (#\w+);", block)) for block in re.findall(r"\{([^{}]*--page:[^{}]*)\}", css)]
    schemes = [scheme for scheme in schemes if "page" in scheme]  # forced colours are the reader's own
    assert len(schemes) >= 5
    for scheme in schemes:
        for ground in ("page", "tone"):
            for ink in ("text", "quiet", "leaf", "haw"):
                assert _contrast(scheme[ink], scheme[ground]) >= 7, (ink, ground, scheme)
        if "warn" in scheme:
            assert _contrast(scheme["warn-text"], scheme["warn"]) >= 7


def test_style_fetches_nothing_from_elsewhere() -> None:
    assets = site_assets(PAGES, THEME, TODAY)
    css = "".join(data.decode() for path, data in assets.items() if path.endswith(".css"))
    assert set(re.findall(r'url\("([^"]+)"\)', css)) == {
        *(f"{face[0]}.woff2" for face in WEB_FACES),
        "signs.woff2",
    }
    assert "http" not in css


def test_a_browser_that_lacks_has_loses_no_other_rule() -> None:
    """Selectors Level 4, 3.9: one that a browser does not know makes its whole list invalid, but for those in `:is()` (4.2)."""
    for path, data in site_assets(PAGES, THEME, TODAY).items():
        for selectors in re.findall(r"([^{}]+)\{", data.decode()) if path.endswith(".css") else ():
            has = {":has(" in one for one in selectors.split(",")}
            assert len(has) == 1 or selectors.strip().startswith(":is("), (path, selectors)


def test_first_words_wait_for_little_style() -> None:
    # On the slow line of the benchmark a kilobyte costs 20 ms; rules for what stands further down belong into guide.css.
    assets = site_assets(PAGES, THEME, TODAY)
    assert len(gzip.compress(assets["assets/first.css"], 9)) <= 2_800
    assert b"font-display:optional" in assets["assets/first.css"]
    assert b"@font-face" not in assets["assets/guide.css"]


def test_colours_of_a_guides_own_theme_stand_in_the_first_style_and_in_no_file_of_their_own(tmp_path: Path) -> None:
    own = tmp_path / "theme"
    (own / "static").mkdir(parents=True)
    (own / "static" / "tokens.css").write_text(":root { --leaf: #123456; }", encoding="utf-8")
    shipped, changed = look_assets(THEME), look_assets((own, *THEME))
    assert b"--leaf:#123456" in changed["assets/first.css"]
    assert b"--leaf:#1f5a3c" in shipped["assets/first.css"] and b"--leaf:#1f5a3c" not in changed["assets/first.css"]
    assert changed["assets/first.css"].endswith(shipped["assets/first.css"].partition(b"*,::before")[2])
    assert shipped.keys() == changed.keys() and "assets/tokens.css" not in shipped


def test_squeezing_changes_no_meaning() -> None:
    assert squeeze_style("a { b : c }  /* x */\n@media (min-width: 1em) { .a > b { c: calc(1px + 2px); } }") == (
        "a{b :c}@media (min-width:1em){.a>b{c:calc(1px + 2px);}}"
    )


def test_feed_is_atom_with_what_the_standard_asks_for() -> None:
    # RFC 4287, sections 4.1.1 and 4.1.2: id, title, updated in feed and entries; an author.
    root = etree.fromstring(write_feed(PAGES, TODAY))
    assert root.tag == f"{ATOM}feed"
    assert root.find(f"{ATOM}author/{ATOM}name").text == "Example Group"
    entries = root.findall(f"{ATOM}entry")
    assert [entry.find(f"{ATOM}title").text for entry in entries] == [
        "Parent Bug, Elasmucha grisea",
        "Birch Bug, Elasmostethus interstinctus",
    ]
    for part in (root, *entries):
        assert all(part.find(f"{ATOM}{name}") is not None for name in ("id", "title", "updated"))
    assert entries[0].find(f"{ATOM}updated").text == "2026-05-02T00:00:00Z"


def test_feed_says_nothing_of_what_is_to_come() -> None:
    assert etree.fromstring(write_feed(PAGES, dt.date(2026, 1, 1))).findall(f"{ATOM}entry") == []


def test_site_list_names_every_page_but_former_addresses_and_the_one_without_a_network() -> None:
    # sitemaps.org protocol 0.9.
    root = etree.fromstring(site_list(PAGES))
    places = [loc.text for loc in root.iter("{http://www.sitemaps.org/schemas/sitemap/0.9}loc")]
    assert len(places) == len([page for page in PAGES if page.kind not in ("moved", "unkept", "absent", "piece", "own")])
    assert "https://bugs.example/guide/es/accounts/birch-bug.html" in places


def test_no_page_says_that_it_changed_on_a_day_to_come() -> None:
    # sitemaps.org protocol 0.9: `lastmod` is the day of the last change.
    pages, early = make_published(GUIDE), dt.date(2026, 3, 1)
    told = {page.path: page.changed for page in site_pages(pages, early)}
    assert any(page.changed and page.changed > early for page in PAGES)
    assert {day for day in told.values() if day and day > early} == set()
    assert b"<lastmod>2026-05" in site_list(PAGES)
    assert b"<lastmod>2026-05" not in site_list(tuple(site_pages(pages, early)))


def test_manifest_starts_at_home() -> None:
    told = json.loads(site_assets(PAGES, THEME, TODAY)["guide.webmanifest"])
    assert (told["name"], told["start_url"], told["scope"]) == ("Bugs of Example Hedge", "index.html", "./")


def test_typefaces_hold_the_guides_signs_within_their_budget() -> None:
    made = {work.name: make_font(work).parts[0] for work in font_work(signs_of(make_published(GUIDE)))}
    assert sum(map(len, made.values())) <= 90_000
    assert all(data.startswith(b"wOF2") for data in made.values())


def _share(folder: Path, **more: object) -> Image.Image:
    Image.new("RGB", (720, 540), "#336633").save(folder / "plate.jpg", "JPEG")
    facts = {
        "plate": KnownFile(folder / "plate.jpg", "invented"),
        "vernacular": "Parent Bug",
        "runs": (("Elasmucha grisea", True),),
        "mark": "dark spot on the scutellum",
        "guide": "Bugs",
        "credit": "Bo Example",
    } | more
    return Image.open(io.BytesIO(draw_share(ShareWork(**facts)).parts[0]))  # type: ignore[arg-type]


def test_share_picture_has_the_size_that_is_asked_for_and_no_metadata(tmp_path: Path) -> None:
    picture = _share(tmp_path)
    assert (picture.size, picture.format) == ((1200, 630), "JPEG")
    assert not picture.getexif()
    assert "comment" not in picture.info


@pytest.mark.parametrize(
    "text", ["A name of very many short words that will not fit on three lines of this size at all", "Unbreakably" * 6]
)
def test_long_names_leave_the_margins_of_the_share_picture_white(tmp_path: Path, text: str) -> None:
    picture = _share(tmp_path, vernacular=text[:120], mark=f"{text} {text}", guide="Bugs")
    assert picture.convert("L").crop((1165, 0, 1200, 630)).getextrema()[0] > 200
    assert picture.convert("L").crop((688, 622, 1200, 630)).getextrema()[0] > 200


def test_theme_files_of_the_guide_win(tmp_path: Path) -> None:
    (tmp_path / "static").mkdir()
    (tmp_path / "static" / "sign.svg").write_bytes(b"<svg/>")
    assert site_assets(PAGES, (tmp_path, *THEME), TODAY)["assets/sign.svg"] == b"<svg/>"
