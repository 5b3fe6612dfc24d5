"""Sheets: right paper, right places, fronts and backs that meet, and the wish not to be scaled."""

from __future__ import annotations

import io
import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pdfplumber
import pytest
from PIL import Image
from pypdf import PdfReader

from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import Format, Paper, format_named, paper_named
from guidebuild.press.paper.imposition import Flip
from guidebuild.press.paper.layout import lay_out, write_pdf
from guidebuild.press.paper.room import NoRoomError, grid_for
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.sheet_marks import rule_place
from guidebuild.press.paper.sheets import CardSheets, make_booklet

A6 = format_named("a6")
needs_poppler = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler's pdftoppm is not installed")


def make_sheets(cards: Sequence[bytes], card_format: Format, paper: Paper, flip: Flip, bleed: float = 0.0) -> bytes:
    sheets = CardSheets(card_format, paper, flip, bleed)
    for card in cards:
        sheets.add(card)
    return sheets.finished()


def sheets(cards: tuple[CardResult, ...], paper: str = "a4", flip: Flip = Flip.LONG) -> PdfReader:
    return PdfReader(io.BytesIO(make_sheets([card.pdf for card in cards], A6, paper_named(paper), flip)))


@pytest.mark.parametrize(("paper", "size"), [("a4", (595.276, 841.890)), ("letter", (612, 792))])
def test_the_page_is_the_chosen_paper(cards: tuple[CardResult, ...], paper: str, size: tuple[float, float]) -> None:
    for page in sheets(cards, paper).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(size, abs=0.01)


@pytest.mark.parametrize(("flip", "wish"), [(Flip.LONG, "/DuplexFlipLongEdge"), (Flip.SHORT, "/DuplexFlipShortEdge")])
def test_viewers_are_asked_not_to_scale_and_how_to_flip(cards: tuple[CardResult, ...], flip: Flip, wish: str) -> None:
    preferences = sheets(cards, flip=flip).trailer["/Root"]["/ViewerPreferences"]
    assert preferences["/PrintScaling"] == "/None"
    assert preferences["/Duplex"] == wish


@pytest.mark.parametrize("flip", list(Flip))
def test_each_back_lies_behind_its_own_front(cards: tuple[CardResult, ...], flip: Flip, tmp_path: Path) -> None:
    """The name on a front and the same name on its back, seen through the paper, stand in the same quarter."""
    data = make_sheets([card.pdf for card in cards], A6, paper_named("a4"), flip)
    with pdfplumber.open(io.BytesIO(data)) as opened:
        front, back = opened.pages
        width, height = float(front.width), float(front.height)
        for name in ("Parent", "Birch", "Juniper"):
            at, behind = largest(front, name), middle(back, f"{name} {'Bug' if name == 'Parent' else 'Shieldbug'}")
            seen_through = (width - behind[0], behind[1]) if flip is Flip.LONG else (behind[0], height - behind[1])
            assert quarter(at, width, height) == quarter(seen_through, width, height), name


def largest(page: pdfplumber.page.Page, word: str) -> tuple[float, float]:
    found = max((w for w in page.extract_words(extra_attrs=["size"]) if w["text"] == word), key=lambda w: w["size"])
    return (found["x0"] + found["x1"]) / 2, (found["top"] + found["bottom"]) / 2


def middle(page: pdfplumber.page.Page, word: str) -> tuple[float, float]:
    letters = "".join(c["text"] for c in page.chars)
    start = letters.find(word)
    assert start >= 0, word
    first = page.chars[start]
    return (first["x0"] + first["x1"]) / 2, (first["top"] + first["bottom"]) / 2


def quarter(point: tuple[float, float], width: float, height: float) -> tuple[bool, bool]:
    return point[0] > width / 2, point[1] > height / 2


def test_pictures_and_type_are_carried_over_not_redrawn(cards: tuple[CardResult, ...]) -> None:
    text = sheets(cards).pages[0].extract_text()
    assert "dark spot on the scutellum" in text


def test_a_set_for_eight_people_carries_each_card_once(cards: tuple[CardResult, ...]) -> None:
    one, eight = (len(make_sheets([cards[0].pdf] * n, A6, paper_named("a4"), Flip.LONG)) for n in (1, 8))
    assert eight < 1.1 * one


def test_a_card_that_does_not_fit_on_the_paper_says_so(cards: tuple[CardResult, ...]) -> None:
    tiny = Paper("tiny", "a small sheet", format_named("a7").size)
    with pytest.raises(NoRoomError, match="Pocket card A6 with 0 mm bleed does not fit on a small sheet"):
        make_sheets([cards[0].pdf], A6, tiny, Flip.LONG)


def test_pages_of_the_wrong_size_are_refused(cards: tuple[CardResult, ...]) -> None:
    with pytest.raises(ValueError, match="where 209\\.8 × 297\\.6 pt was expected"):
        make_sheets([cards[0].pdf], format_named("a7"), paper_named("a4"), Flip.LONG)


def test_a_booklet_that_is_too_wide_is_refused(cards: tuple[CardResult, ...]) -> None:
    with pytest.raises(NoRoomError, match="do not fit side by side on A5"):
        make_booklet(cards[0].pdf, A6, Paper("a5", "A5", paper_named("a5").size.grown(-10)))


def test_bleed_leaves_a_gap_and_fills_it(bled: CardResult, tmp_path: Path) -> None:
    grid = grid_for(A6, paper_named("a4"), 3.0)
    assert grid.gap == 6.0
    page = PdfReader(io.BytesIO(bled.pdf)).pages[0]
    assert [round(float(edge) / 72 * 25.4, 2) for edge in (page.trimbox.width, page.trimbox.height)] == [105, 148]
    assert [round(float(edge) / 72 * 25.4, 2) for edge in (page.bleedbox.width, page.bleedbox.height)] == [111, 154]


@needs_poppler
def test_tone_reaches_the_end_of_the_bleed(bled: CardResult, tmp_path: Path) -> None:
    pixels = raster(bled.pdf, tmp_path, 150)[0]
    column = pixels[:, 2]
    assert (column < 250).any(), "no ink at the outer edge of the bleed"


@needs_poppler
def test_the_fifty_millimetre_rule_measures_fifty(bled: CardResult, tmp_path: Path) -> None:
    """At 600 dpi, 50 mm are 1181.1 pixels; within 0.2 mm."""
    data = make_sheets([bled.pdf], A6, paper_named("a4"), Flip.LONG, 3.0)
    x, y, _ = rule_place(grid_for(A6, paper_named("a4"), 3.0), 3.0)
    per_mm = 600 / 25.4
    pixels = raster(data, tmp_path, 600)[0]
    rows = pixels[round((297 - y - 0.5) * per_mm) : round((297 - y + 0.5) * per_mm), round((x - 5) * per_mm) : round((x + 60) * per_mm)]
    assert max(longest_run(row) for row in rows < 128) / per_mm == pytest.approx(50, abs=0.2)


def longest_run(dark: np.ndarray) -> int:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], dark.astype(np.int8), [0]))))
    return int((edges[1::2] - edges[::2]).max(initial=0))


@needs_poppler
@pytest.mark.parametrize("flip", list(Flip))
def test_a_printed_front_and_back_register_when_turned(cards: tuple[CardResult, ...], flip: Flip, tmp_path: Path) -> None:
    """Crop marks of the back, seen through the turned sheet, lie on those of the front."""
    data = make_sheets([card.pdf for card in cards], A6, paper_named("a4"), flip)
    front, back = raster(data, tmp_path, 150)
    turned = back[:, ::-1] if flip is Flip.LONG else back[::-1, :]
    strip = 20  # pixels along the edges, where there is nothing but marks
    for edge in (np.s_[:strip, :], np.s_[-strip:, :]):
        one, other = np.flatnonzero((front[edge] < 200).any(axis=0)), np.flatnonzero((turned[edge] < 200).any(axis=0))
        assert len(one)
        assert abs(one.mean() - other.mean()) <= 1.5


def raster(data: bytes, folder: Path, dpi: int) -> list[np.ndarray]:
    (folder / "sheet.pdf").write_bytes(data)
    subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", str(folder / "sheet.pdf"), str(folder / "sheet")], check=True)
    return [np.asarray(Image.open(path)) for path in sorted(folder.glob("sheet-*.pgm"))]


@needs_poppler
@pytest.mark.parametrize("thickness", [0.0, 0.5])
def test_a_ground_of_a_page_does_not_reach_over_the_fold(thickness: float, tmp_path: Path) -> None:
    """A theme's `@page` may have a ground, which reaches into the bleed: outwards it is kept, at the fold the other page begins."""
    size = A6.size
    page = f"size:{size.width}mm {size.height}mm;bleed:3mm;margin:9mm"
    css = f"@page:right{{{page};background:#000}}@page:left{{{page};background:#ccc}}p{{break-after:page}}"
    pages = write_pdf(lay_out(f'<html lang="en"><title>grounds</title><body>{"<p>-</p>" * 8}', css, GuideFetcher()), "grounds")[0]
    data = make_booklet(pages, A6, replace(paper_named("a4"), thickness=thickness), bleed=3)
    (tmp_path / "sheet.pdf").write_bytes(data)
    subprocess.run(["pdftoppm", "-r", "254", "-gray", str(tmp_path / "sheet.pdf"), str(tmp_path / "sheet")], check=True)
    grounds = set()
    for file in sorted(tmp_path.glob("sheet-*.pgm")):
        with Image.open(file) as side:
            row, fold, reach = np.asarray(side)[side.height // 2], side.width / 2, round((size.width + 2) * 10)
        left, right = row[round(fold) - 40 : round(fold) - 2], row[round(fold) + 2 : round(fold) + 40]
        assert len(set(left)) == len(set(right)) == 1, "one ground on each side of the fold"
        assert {row[round(fold) - reach], row[round(fold) + reach - 1]} == {left[0], right[0]}, "the bleed outside is kept"
        grounds.add((int(left[0]), int(right[0])))
    assert len(grounds) == 1 and len(set(grounds.pop())) == 2
