"""Films in finished files: pages, WebVTT, what other programs read, and what is kept without a network."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
import webvtt
from bs4 import BeautifulSoup

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.films import Film, FilmChapter, FilmCue
from guidebuild.guide.text.inline import Inline
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.problems import Problems
from guidebuild.press.engine.staging import Staging
from guidebuild.press.outputs.site.assets import site_assets
from guidebuild.press.outputs.site.film_files import caption_files, find_sizes, publish_films
from guidebuild.press.outputs.site.offline import MOST_OF_FILM, list_offline, paths_of_parts
from guidebuild.press.outputs.site.page import render_page
from guidebuild.views.site.page import PageView, note_page
from tests.press.outputs.site.test_site import THEME, picture_sets
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages

FILM = Film(
    "at-the-hedge",
    "At the <hedge>",
    file="films/hedge.webm",
    day=dt.date(2026, 6, 1),
    length=30.0,
    accounts=("parent-bug",),
    chapters=(FilmChapter(0, "Opening"), FilmChapter(12, "The spot --> here")),
    credit="Ada Example",
    licence="CC-BY-4.0",
    note=Inline("A *minute* by the hedge."),
    cues=(
        FilmCue(0.0, 4.0, "Here is Elasmucha grisea.", ("Elasmucha grisea",)),
        FilmCue(12.0, 14.5, "It has a dark spot\non the scutellum --> look."),
    ),
)
FAR = Film("far", "Far away", address="https://films.example/far?a=1&b=2", day=dt.date(2026, 5, 1), accounts=("birch-bug",))
SIZES = {"films/at-the-hedge.webm": 182_000}


@pytest.fixture(scope="module")
def guide() -> Published:
    films = {film.id: film for film in (FILM, FAR)}
    return make_published(replace(GUIDE, films=films, film_files=frozenset({"films/hedge.webm"})))


@pytest.fixture(scope="module")
def pages(guide: Published) -> dict[str, PageView]:
    return {page.path: page for page in site_pages(guide, TODAY)}


def draw(page: PageView, sizes: Mapping[str, int] = SIZES) -> BeautifulSoup:
    return BeautifulSoup(render_page(page, picture_sets(), THEME, sizes), "html.parser")


def test_film_plays_on_its_page_and_on_its_accounts(pages: dict[str, PageView]) -> None:
    for path, root in (("films/at-the-hedge.html", "../"), ("accounts/parent-bug.html", "../"), ("es/films/at-the-hedge.html", "../../")):
        soup = draw(pages[path])
        video = soup.find("video")
        assert video.source["src"] == f"{root}films/at-the-hedge.webm"
        assert [(track["kind"], track["src"], track["srclang"]) for track in video.find_all("track")] == [
            ("captions", f"{root}films/at-the-hedge.vtt", "en"),
            ("chapters", f"{root}films/at-the-hedge.chapters.vtt", "en"),
        ]
        assert [link["href"].rpartition("#")[2] for link in soup.select(".chapters a")] == ["t=0", "t=12"]
        assert soup.find("script", src=f"{root}assets/film.js")
        assert "182\xa0kB" in soup.select_one(".film .quiet").get_text()
        assert soup.select_one(".transcript i").get_text() == "Elasmucha grisea"


def test_a_film_elsewhere_is_a_link_and_nothing_of_its_host_is_loaded(pages: dict[str, PageView]) -> None:
    for path in ("films/far.html", "accounts/birch-bug.html", "films/index.html", "index.html"):
        soup = draw(pages[path])
        assert not soup.find("video"), path
        loaded = [tag[key] for tag in soup.find_all(True) for key in ("src", "srcset", "poster", "data") if tag.has_attr(key)]
        assert not [address for address in loaded if "films.example" in address]
    link = draw(pages["films/far.html"]).find("a", string=re.compile("Watch it at"))
    assert (link["href"], link.get_text()) == (FAR.address, "Watch it at films.example")


def test_a_film_whose_file_could_not_be_published_has_no_player(pages: dict[str, PageView]) -> None:
    soup = draw(pages["films/at-the-hedge.html"], {})
    assert not soup.find("video")
    assert not [link for link in soup.find_all("a", href=True) if ".webm" in link["href"]]
    assert "It has a dark spot" in soup.get_text()


def test_home_shows_the_newest_and_the_list_shows_all(pages: dict[str, PageView]) -> None:
    assert draw(pages["index.html"]).select_one(".newest b").get_text() == "At the <hedge>"
    assert [b.get_text() for b in draw(pages["films/index.html"]).select(".films b")] == ["At the <hedge>", "Far away"]
    assert "films/index.html" in {link.path for link in pages["index.html"].site.more}


def test_captions_and_chapters_are_web_video_text_tracks(guide: Published) -> None:
    files = {path: data.decode() for path, data in caption_files(guide).items()}
    assert set(files) == {"films/at-the-hedge.vtt", "films/at-the-hedge.chapters.vtt"}
    read = webvtt.from_string(files["films/at-the-hedge.vtt"])
    assert [(cue.start, cue.end) for cue in read] == [("00:00:00.000", "00:00:04.000"), ("00:00:12.000", "00:00:14.500")]
    assert "<i>Elasmucha grisea</i>" in files["films/at-the-hedge.vtt"]
    # WebVTT (W3C), "WebVTT cue text": it may not hold the arrow; chapter titles neither.
    for text in files.values():
        assert text.count("-->") == len(webvtt.from_string(text).captions)
    chapters = webvtt.from_string(files["films/at-the-hedge.chapters.vtt"])
    assert [(cue.start, cue.end) for cue in chapters] == [("00:00:00.000", "00:00:12.000"), ("00:00:12.000", "00:00:30.000")]


def test_captions_stand_beside_films_that_play_here_alone(guide: Published, tmp_path: Path) -> None:
    films = {film.id: film for film in (FILM, replace(FILM, id="elsewhere", file="", address=FAR.address))}
    shown = replace(guide, films=films)
    assert set(caption_files(shown)) == {"films/at-the-hedge.vtt", "films/at-the-hedge.chapters.vtt"}
    (tmp_path / "films").mkdir()
    (tmp_path / FILM.file).write_bytes(b"no film")
    problems = Problems()
    with Staging(tmp_path / "published") as staging:
        assert publish_films(shown, tmp_path, Files(staging, "site", problems), problems) == ()
        staging.publish()
    assert [problem.what for problem in problems.all] == ["media-refused"]
    assert not list((tmp_path / "published").rglob("*.vtt"))  # nor beside one that could not be cleaned


# schema.org/VideoObject, with what it has from MediaObject, CreativeWork and Thing; schema.org/Clip, and for its two times
# data/ext/pending/issue-2021.ttl of the repository schemaorg/schemaorg (domain Clip, range Number, seconds from the beginning).
VIDEO_TERMS = (
    {"transcript"}
    | {"uploadDate", "duration", "contentUrl", "encodingFormat"}
    | {"inLanguage", "creditText", "license", "about", "hasPart", "isPartOf", "thumbnailUrl"}
    | {"name", "description", "url", "sameAs"}
)
CLIP_TERMS = {"name", "url", "startOffset", "endOffset"}


def told_of(page: PageView, sizes: Mapping[str, int] = SIZES) -> dict[str, object]:
    found = draw(page, sizes).find("script", type="application/ld+json")
    data: dict[str, object] = json.loads(found.string)
    return data


def test_a_film_is_told_in_the_words_of_schema_org(pages: dict[str, PageView]) -> None:
    told = told_of(pages["films/at-the-hedge.html"])
    assert told.pop("@context") == "https://schema.org"
    assert told.pop("@type") == "VideoObject"
    assert set(told) <= VIDEO_TERMS
    assert told["contentUrl"] == "https://bugs.example/guide/films/at-the-hedge.webm"
    assert (told["uploadDate"], told["duration"], told["inLanguage"]) == ("2026-06-01", "PT30S", "en")
    assert told["license"] == "https://creativecommons.org/licenses/by/4.0/"
    assert told["transcript"] == "Here is Elasmucha grisea. It has a dark spot on the scutellum --> look."
    clips = told["hasPart"]
    assert isinstance(clips, list)
    assert [(clip["startOffset"], clip["endOffset"], clip["url"]) for clip in clips] == [
        (0, 12, "https://bugs.example/guide/films/at-the-hedge.html#t=0"),
        (12, 30, "https://bugs.example/guide/films/at-the-hedge.html#t=12"),
    ]
    assert all(clip.pop("@type") == "Clip" and set(clip) <= CLIP_TERMS for clip in clips)
    far = told_of(pages["films/far.html"])
    assert far["sameAs"] == FAR.address
    assert not {"contentUrl", "transcript", "license", "duration"} & set(far)


def test_other_programs_are_led_to_no_film_that_is_not_there(pages: dict[str, PageView]) -> None:
    told = told_of(pages["films/at-the-hedge.html"], {})
    assert not {"contentUrl", "encodingFormat"} & set(told)
    assert told["name"] == FILM.title


def test_the_place_that_a_clip_names_is_on_the_page(pages: dict[str, PageView]) -> None:
    soup = draw(pages["films/at-the-hedge.html"])
    assert soup.find(id="t=0") and soup.find(id="t=12")


def test_films_stand_in_the_feed_and_in_the_list_of_pages(pages: dict[str, PageView]) -> None:
    assets = site_assets(list(pages.values()), THEME, TODAY)
    atom = "{http://www.w3.org/2005/Atom}"
    entries = ET.fromstring(assets["changes.atom"]).findall(f"{atom}entry")
    titles = {entry.findtext(f"{atom}title"): entry.findtext(f"{atom}updated") for entry in entries}
    assert titles["At the <hedge>"] == "2026-06-01T00:00:00Z"
    # RFC 4287, 4.1.2: each entry has an id, a title and a day of its last change.
    assert all(entry.findtext(f"{atom}{name}") for entry in entries for name in ("id", "title", "updated"))
    assert b"<loc>https://bugs.example/guide/films/at-the-hedge.html</loc><lastmod>2026-06-01</lastmod>" in assets["sitemap.xml"]


def test_a_small_film_is_kept_with_its_species_and_a_large_one_is_not(pages: dict[str, PageView]) -> None:
    notes = [note_page(page) for page in pages.values()]
    for size, is_kept in ((MOST_OF_FILM, True), (MOST_OF_FILM + 1, False)):
        files = dict.fromkeys(pages, (10, "0" * 40)) | {"films/at-the-hedge.vtt": (9, "1" * 40)}
        files["films/at-the-hedge.webm"] = (size, "2" * 40)
        lists = list_offline(files, paths_of_parts(notes, {}), notes)
        (family,) = (json.loads(data) for path, data in lists.items() if path.startswith("offline/parts/families/"))
        kept = {path for path, *_ in family}
        assert {"films/at-the-hedge.html", "films/at-the-hedge.vtt"} <= kept
        assert ("films/at-the-hedge.webm" in kept) is is_kept


def test_a_page_knows_the_sizes_of_the_films_that_it_leads_to(pages: dict[str, PageView]) -> None:
    films = (("films/at-the-hedge.webm", 7), ("films/other.webm", 8))
    assert find_sizes(films, note_page(pages["es/accounts/parent-bug.html"])) == films[:1]
    assert find_sizes(films, note_page(pages["cautions.html"])) == ()
