"""The files of an episode: filming page, prompter, PDF, Markdown, captions and the list; a changed fact changes them all."""

from __future__ import annotations

import datetime as dt
import io
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pdfplumber
import pytest
import srt
import webvtt
from bs4 import BeautifulSoup
from PIL import Image

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import EpisodeSlot, Guide
from guidebuild.guide.measures import Measure
from guidebuild.guide.records import Section
from guidebuild.press.engine.progress import Silence
from guidebuild.press.outputs.scripts.pages import ENDINGS, ScriptWork, render_script
from guidebuild.press.publication import Publication, Wishes
from guidebuild.press.publish import publish
from guidebuild.shipped import on_disk, themes
from guidebuild.speech.timing import Pace
from guidebuild.views.scripts.script import make_script_views
from tests.checks.invented import episode, guide, with_account

TODAY = dt.date(2026, 6, 1)


def small() -> Guide:
    settings = replace(guide().settings, greeting="Hello.", sign_off="Goodbye.", slots=(EpisodeSlot("short", 30, 60),))
    own = episode("See *Inventa rubra*. [show red-bug-adult 3 s]\nShe is {size} long. [pause 1 s]\n{season of adult} is her time.")
    return guide(settings=settings, episodes={own.id: replace(own, kind="long")})


def photos_of(folder: Path) -> None:
    """The guide's two photos: one picture, as when it is filed under two names."""
    (folder / "photos").mkdir(exist_ok=True)
    for name in ("red-bug-adult.jpg", "pale-bug-adult.jpg"):
        Image.new("RGB", (400, 300), (90, 140, 90)).save(folder / "photos" / name)


def published(folder: Path, base: Guide) -> Publication:
    return publish(folder, base, today=TODAY, progress=Silence(), wishes=Wishes(outputs=("scripts",), workers=1))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("scripts")
    photos_of(folder)
    result = published(folder, small())
    assert [problem for problem in result.problems if problem.what != "drafts-off-slot"] == []
    return folder


def page(folder: Path, name: str) -> BeautifulSoup:
    return BeautifulSoup((folder / "published/scripts" / name).read_text(encoding="utf-8"), "html.parser")


def test_every_script_has_all_its_files(made: Path) -> None:
    names = {p.name for p in (made / "published/scripts").iterdir() if p.is_file()}
    for script in ("red-bug-short", "pale-bug-short", "red-short"):
        assert {f"{script}{ending}" for ending in ENDINGS} <= names
    assert {"index.html", "script.css", "screen.css", "fonts.css", "prompter.js", "sans-400.woff2"} <= names


def test_the_filming_page_has_two_columns_with_times_pictures_and_sound(made: Path) -> None:
    soup = page(made, "red-short.html")
    assert [th.get_text() for th in soup.select(".lines thead th")] == ["Time", "Picture", "Sound"]
    rows = [[cell.get_text(" ", strip=True) for cell in row.select("td")] for row in soup.select(".lines tbody tr:not(.part)")]
    assert [row[2] for row in rows] == [
        "See Inventa rubra . Say: in-ven-ta ru-bra (syllables only)",
        "She is 6 to 9 millimetres long.",
        "June is her time.",
    ]
    assert rows[0][0] == "0:00"
    assert soup.select_one(".sound i[lang=la]").get_text() == "Inventa rubra"
    assert [img["src"] for img in soup.select(".lines img")] == ["pictures/red-bug-adult-240.jpg"]
    assert rows[0][1].startswith("Adult")


def test_a_picture_is_shown_once_and_named_after_that(made: Path) -> None:
    soup = page(made, "red-bug-short.html")
    sources = [img["src"] for img in soup.select(".lines img")]
    assert len(sources) == len(set(sources)) > 1
    assert soup.get_text().count("Close: dark spot on the back") == 2  # beside its line and in the list of shots


def test_the_list_of_shots_says_what_is_still_to_be_filmed(made: Path) -> None:
    soup = page(made, "red-bug-short.html")
    shots = {row.select("td")[1].get_text(): row.select("td")[2].get_text() for row in soup.select(".shots tbody tr")}
    assert shots["You, at the place"] == "to film"
    assert shots["Close: dark spot on the back"].startswith("red-bug-adult (")


@pytest.mark.parametrize("name", ["red-short.html", "red-short.prompter.html", "red-bug-short.html", "index.html"])
def test_a_page_can_be_read_by_everyone(made: Path, name: str) -> None:
    soup = page(made, name)
    assert soup.html["lang"] == "en"
    assert soup.title.get_text()
    assert len(soup.select("h1")) == 1
    assert len(soup.select("main")) == 1
    assert soup.select("[style], style, script:not([src])") == []
    assert [th for th in soup.select("th") if th.get("scope") not in ("col", "rowgroup", "row")] == []
    assert [img for img in soup.select("img") if not img.has_attr("alt")] == []
    assert [b for b in soup.select("button") if not b.get_text(strip=True) or b.get("type") != "button"] == []


def test_the_prompter_knows_when_each_line_is_said(made: Path) -> None:
    soup = page(made, "red-short.prompter.html")
    lines = soup.select("main p[data-start]")
    starts = [float(line["data-start"]) for line in lines]
    assert len(starts) == 3
    assert starts == sorted(starts)
    last = float(lines[-1]["data-start"]) + float(lines[-1]["data-seconds"])
    assert last <= float(soup.body["data-seconds"]) + 0.1
    assert "[" not in soup.main.get_text()


def test_captions_are_read_back_by_other_libraries(made: Path) -> None:
    folder = made / "published/scripts"
    cues = webvtt.read(str(folder / "red-short.vtt"))
    lines = list(srt.parse((folder / "red-short.srt").read_text(encoding="utf-8")))
    text = " ".join(cue.text.replace("\n", " ") for cue in cues)
    assert "See <i>Inventa rubra</i>." in text or "See Inventa rubra." in text
    assert "She is 6 to 9 millimetres long." in text
    assert "ru-bra" not in text  # a say-it line is for the speaker alone
    assert len(lines) == len(cues) >= 1
    chapters = webvtt.read(str(folder / "red-short.chapters.vtt"))
    assert [cue.text for cue in chapters] == ["Start"]


def test_the_chapters_to_paste_are_sections_of_the_script(tmp_path: Path) -> None:
    told = {"Hello": 1, "Meet *Inventa rubra*": 8, "Where to look": 7, "Its year": 9, "Bye": 1}
    sections = tuple(Section(heading, "She sits on the leaf in the sun. " * times) for heading, times in told.items())
    own = replace(episode(""), id="red-year", kind="year", sections=sections)
    base = guide(episodes={own.id: own})
    photos_of(tmp_path)
    published(tmp_path, base)
    lines = (tmp_path / "published/scripts/red-year.chapters.txt").read_text(encoding="utf-8").partition("\n\n")[0].splitlines()
    view = next(v for v in make_script_views(make_published(base)) if v.id == "red-year")
    assert [section.seconds < 10 for section in view.sections] == [True, False, False, False, True]
    assert [line.split(" ", 1)[1] for line in lines] == ["Meet Inventa rubra", "Where to look", "Its year"]
    # The first starts with the film, and each of the others with its section.
    starts = [60 * int(minutes) + int(seconds) for minutes, seconds in (line.split(" ")[0].split(":") for line in lines)]
    assert starts == [0, *(round(view.sections[number].start) for number in (2, 3))]
    # Pages that show chapters take none under ten seconds (common practice, no source).
    assert min(later - earlier for earlier, later in pairwise([*starts, int(view.seconds)])) >= 10
    marks = webvtt.read(str(tmp_path / "published/scripts/red-year.chapters.vtt"))
    assert [int(mark.start_in_seconds + 0.5) for mark in marks] == starts
    link = page(tmp_path, "red-year.html").select_one('nav a[href="red-year.chapters.txt"]')
    assert link is not None
    assert link.get_text() == "Chapters"


def test_captions_of_a_vertical_film_are_narrow(tmp_path: Path) -> None:
    base = small()
    slots = tuple(replace(slot, captions="vertical") for slot in base.settings.slots)
    photos_of(tmp_path)
    published(tmp_path, replace(base, settings=replace(base.settings, slots=slots)))
    folder = tmp_path / "published/scripts"
    captions = {name: webvtt.read(str(folder / name)) for name in ("red-bug-short.vtt", "pale-bug-short.vtt", "red-short.vtt")}
    lines = [cue.text.split("\n") for name in ("red-bug-short.vtt", "pale-bug-short.vtt") for cue in captions[name]]
    # BBC Subtitle Guidelines 3.1 and 3.3: on a 9:16 picture about 25 characters fit on a line, and there may be three lines.
    assert max(len(line) for cue in lines for line in cue) <= 25
    assert max(map(len, lines)) == 3
    subrip = (folder / "red-bug-short.srt").read_text(encoding="utf-8").replace("<i>", "").replace("</i>", "")
    assert [cue.content for cue in srt.parse(subrip)] == [cue.text for cue in captions["red-bug-short.vtt"]]
    # A script of another kind keeps the captions of streaming.
    assert max(len(line) for cue in captions["red-short.vtt"] for line in cue.text.split("\n")) > 25


def test_captions_that_flash_by_are_told_on_the_filming_page(made: Path) -> None:
    own = episode("Incontrovertibly straightforward strengths.\n[pause 2 s]\nYes.", line=5)
    view = next(v for v in make_script_views(make_published(guide(episodes={own.id: own}))) if v.id == "red-short")
    job = ScriptWork(replace(view, pace=Pace(syllables=9)), (), (), (on_disk(themes().joinpath("plate")),))
    told = BeautifulSoup(render_script(job).parts[0], "html.parser").select_one(".captions")
    assert told is not None
    assert "characters a second; readers manage 17." in told.get_text()
    assert page(made, "red-short.html").select(".captions") == []


def test_the_pdf_has_its_lines_title_and_pages(made: Path) -> None:
    with pdfplumber.open(made / "published/scripts/red-bug-short.pdf") as pdf:
        text = "\n".join(p.extract_text() for p in pdf.pages)
        assert pdf.metadata["Title"].startswith("Red Bug, short")
        assert [round(side * 25.4 / 72) for side in (pdf.pages[0].width, pdf.pages[0].height)] == [210, 297]
        assert "All scripts" not in text
    assert "Look for a dark spot on the back." in text
    assert "It measures 6 to 9 millimetres." in text


def test_page_pdf_text_and_description_end_with_the_credits(made: Path) -> None:
    """Every file that people read; captions hold what is spoken, and so no credits."""
    folder, credit = made / "published/scripts", re.compile(r"Pictures\W+(?:“[^”]*” · )?A\. Maker · (?:own work · )?CC BY 4\.0")
    texts = [page(made, "red-bug-short.html").get_text(" ")]
    texts += [(folder / f"red-bug-short{ending}").read_text("utf-8") for ending in (".md", ".chapters.txt")]
    with pdfplumber.open(folder / "red-bug-short.pdf") as pdf:
        texts.append(" ".join(one.extract_text() for one in pdf.pages))
    assert [bool(credit.search(text)) for text in texts] == [True] * 4
    assert "A. Maker" not in (folder / "red-bug-short.vtt").read_text("utf-8")


def test_the_list_tells_lengths_and_what_is_to_film(made: Path) -> None:
    rows = {r.select("td")[0].get_text(): [c.get_text() for c in r.select("td")[1:]] for r in page(made, "index.html").select("tbody tr")}
    assert set(rows) == {"Red Bug, short", "Pale Bug, short", "Red"}
    assert rows["Red"][-1] == "own"
    assert rows["Red Bug, short"][1] == "0:30–1:00"
    assert rows["Red Bug, short"][-1] == "draft"


def test_names_stand_in_italics_in_headings_and_lines_and_stars_are_only_stars(tmp_path: Path) -> None:
    sections = (Section("Meet *Inventa rubra*", "Two * three is *Inventa rubra* to me."),)
    own = replace(episode(""), id="red-name", kind="name", sections=sections)
    photos_of(tmp_path)
    published(tmp_path, guide(episodes={own.id: own}))
    for name in ("red-name.html", "red-name.prompter.html"):
        main = page(tmp_path, name).main
        assert main is not None
        assert [i.get_text() for i in main.select("i[lang=la]") if i.find_parent(["tr", "section"])] == ["Inventa rubra"] * 2
        assert "Two * three is Inventa rubra to me." in main.get_text()
    folder = tmp_path / "published/scripts"
    assert "## Meet *Inventa rubra*\n" in (folder / "red-name.md").read_text(encoding="utf-8")
    assert "<i>Inventa rubra</i>" in (folder / "red-name.chapters.vtt").read_text(encoding="utf-8")


def test_a_changed_fact_changes_every_file_of_its_scripts_and_no_other(made: Path) -> None:
    folder = made / "published/scripts"
    before = {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file()}
    again = published(made, small())
    assert again.outcome is not None
    assert again.outcome.written == ()
    try:
        published(made, with_account(small(), "red-bug", size=Measure("10–12 mm", 10, 12)))
        after = {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file()}
    finally:
        published(made, small())
    changed = {name for name in after if after[name] != before[name]}
    told = {f"{script}{ending}" for script in ("red-bug-short", "red-short") for ending in ENDINGS if "chapters" not in ending}
    assert told <= changed
    assert not [name for name in changed if name.startswith("pale-bug")]
    assert b"10 to 12 millimetres" in after["red-short.vtt"]
    assert b"10 to 12" in after["red-bug-short.srt"]
    with pdfplumber.open(io.BytesIO(after["red-bug-short.pdf"])) as pdf:
        assert "10 to 12 millimetres" in "\n".join(p.extract_text() for p in pdf.pages)
