"""Finished slides: the right pixels, all words on them and in the safe zone, type and contrast for the sun, a PDF for the leak scan."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.guide import SLIDE_SHAPES, Guide
from guidebuild.press.engine.made import Made
from guidebuild.press.leak_scan import LeakWork, look_through
from guidebuild.press.outputs.slides.drawn import INKS
from guidebuild.press.outputs.slides.render import SlidesWork, list_sheets, render_slides
from guidebuild.press.outputs.slides.shapes import PIXELS, SHAPES
from guidebuild.press.photos.print_copy import Picture
from guidebuild.press.theme.folders import find_theme
from guidebuild.reading.whole import read_guide
from guidebuild.shipped import on_disk, themes
from guidebuild.views.pieces.common import CautionView
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.slides.sets import account_set, pair_set, walk_set
from guidebuild.views.slides.slide import SlideSet
from tests.guides.whole_guides import copy_guide
from tests.sample.drawings import SAMPLE

LEAST_PIXELS = 34
_WORD = re.compile(r"\w+")


@cache
def sample() -> tuple[Guide, Published]:
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    return guide, make_published(guide)


def work_of(folder: Path, guide: Published, one: SlideSet, shape: str) -> SlidesWork:
    """As the output makes it, with the photos as they are."""
    pictures = []
    for photo in one.photos:
        path = folder / guide.photos[photo].file
        with Image.open(path) as opened:
            pictures.append((photo, Picture(path, *opened.size)))
    return SlidesWork(one, shape, tuple(pictures), find_theme(folder))


def hold(work: SlidesWork, made: Made) -> None:
    """Everything that must be true of a finished set."""
    shape, sheets = SHAPES[work.shape], list_sheets(work)
    assert made.problems == ()
    *pictures, pdf, told = made.parts
    assert len(pictures) == len(sheets)
    for data in pictures:
        with Image.open(io.BytesIO(data)) as picture:
            assert (picture.format, picture.size) == ("JPEG", (PIXELS, shape.down))
    assert [line.partition(".")[0] for line in told.decode().split("\n\n")] == [f"{sheet.number}" for sheet in sheets]
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        assert len(document.pages) == len(sheets)
        for page, sheet in zip(document.pages, sheets, strict=True):
            times = PIXELS / float(page.width)
            low, high = shape.top * float(page.height), (1 - shape.foot) * float(page.height)
            for sign in page.chars:
                assert sign["size"] * times >= LEAST_PIXELS - 0.1, (sheet.slide.title, sign["text"], sign["size"] * times)
                assert sign["x0"] >= 0 and sign["x1"] <= float(page.width), (sheet.slide.title, sign["text"])
                assert low <= sign["top"] and sign["bottom"] <= high + 0.5, (sheet.slide.title, sign["text"])
            seen = " ".join(_WORD.findall(page.extract_text()))
            for caution in sheet.slide.cautions:
                assert all(word in seen for word in _WORD.findall(caution.title)), (sheet.slide.title, caution.title)
            for word in (*_WORD.findall(sheet.slide.title), *(w for mark in sheet.slide.marks[:1] for w in _WORD.findall(mark.words))):
                assert word in seen or not sheet.is_titled, (sheet.slide.title, word)


@pytest.mark.parametrize("shape", SLIDE_SHAPES)
def test_a_pair_and_a_walk_go_onto_every_shape_whole(shape: str) -> None:
    _, guide = sample()
    make = make_pieces(guide)
    for one in (
        pair_set(make, guide.accounts["parent-bug"], guide.accounts["birch-shieldbug"]),
        walk_set(make, guide.walks["april-gorse"]),
    ):
        work = work_of(SAMPLE, guide, one, shape)
        hold(work, render_slides(work))


@pytest.mark.parametrize(("name", "account"), [("estuary-waders", "dunlin"), ("wood-fungi", "blusher")])
def test_a_bird_and_a_fungus_go_onto_slides(tmp_path: Path, name: str, account: str) -> None:
    folder = copy_guide(name, tmp_path)
    read = read_guide(folder).guide
    assert read is not None
    guide = make_published(read)
    work = work_of(folder, guide, account_set(make_pieces(guide), guide.accounts[account]), "portrait")
    hold(work, render_slides(work))


def test_the_scan_reads_what_stands_on_a_slide(tmp_path: Path) -> None:
    """Should a secret name ever come onto a slide, the last look finds it in the set's PDF and in its words."""
    base, guide = sample()
    secret = next(place for place in base.places.values() if place.sensitivity)
    one = account_set(make_pieces(guide), guide.accounts["parent-bug"])
    slipped = replace(one, slides=(replace(one.slides[-1], title=f"Seen at {secret.name}"),))
    *_, pdf, told = render_slides(work_of(SAMPLE, guide, slipped, "square")).parts
    for name, data in (("slides/a/square.pdf", pdf), ("slides/a/square.txt", told)):
        file = tmp_path / Path(name).name
        file.write_bytes(data)
        found = look_through(LeakWork(name, file, secrets_of(base))).problems
        assert any(secret.name in problem.message for problem in found), name


def test_words_that_do_not_go_onto_a_slide_are_told_and_kept() -> None:
    _, guide = sample()
    one = account_set(make_pieces(guide), guide.accounts["parent-bug"])
    long = CautionView("Caution", " ".join(["Keep well away from it at all times."] * 40), id="own")
    made = render_slides(work_of(SAMPLE, guide, replace(one, slides=(replace(one.slides[-2], photo=None, cautions=(long,)),)), "wide"))
    (problem,) = made.problems
    assert problem.what == "slide-too-full"
    assert problem.where == "slides parent-bug, wide"
    assert problem.message == "slide 2 (“Look without harm”) has more words than go onto it; shorten them, or leave this shape out"


def _luminance(colour: str) -> float:
    """WCAG 2.2, relative luminance."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_every_colour_of_words_stands_out_seven_to_one() -> None:
    style = (on_disk(themes()) / "plate/slides/slide.css").read_text(encoding="utf-8")
    inks = {*re.findall(r"(?<![\w-])color: (#[0-9a-f]{6})", style), INKS.text, INKS.leaf, INKS.haw}
    grounds = {"#ffffff"}
    assert len(inks) >= 4
    for ink in inks:
        for ground in grounds:
            light, dark = sorted((_luminance(ink), _luminance(ground)), reverse=True)
            assert (light + 0.05) / (dark + 0.05) >= 7, (ink, ground)
    # Cautions: text on their yellow (WCAG 2.2, contrast ratio).
    assert (_luminance("#ffe9a8") + 0.05) / (_luminance(INKS.text) + 0.05) >= 7
