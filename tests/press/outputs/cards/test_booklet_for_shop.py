"""A booklet for a print shop: as much bleed as the guide asks for, none without the shop's profile, one even where no sheets are."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest
from pypdf import PageObject, PdfReader

from guidebuild.guide.guide import Guide
from guidebuild.guide.records import PartPointer
from guidebuild.press.outputs.cards.booklet.binding import make_cover
from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.paper.formats import POINTS_PER_MM, format_named, paper_named
from guidebuild.press.paper.imposition import booklet_crops
from guidebuild.press.paper.sheets import SheetsNamed
from tests.outside.invented_presses import lightness_press
from tests.press.outputs.cards.test_out_cards import files, folder_with_photo, make, small
from tests.press.small_guide import drawn_picture

SHOP = ("booklet-a6", "print shop")
FILE = "print-shop/booklet-a6.pdf"


def test_without_a_readable_profile_the_shop_gets_no_booklet(tmp_path: Path) -> None:
    """As it gets no cards; why is told once, and the booklet for an office printer is made."""
    folder = folder_with_photo(tmp_path)
    (folder / "press.icc").write_bytes(b"no profile at all")
    made = make(folder, small(prints=SHOP, print_profile="press.icc"))
    assert [problem.what for problem in made.problems if problem.what not in {"left-out", "layout"}] == ["print-profile"]
    assert not [name for name in files(folder) if name.startswith("print-shop/")]
    assert {"booklet-a6.pdf", "booklet-a6-a4.pdf"} <= files(folder)


@pytest.mark.parametrize(("asked", "bleed"), [(0.0, 3.0), (2.0, 3.0), (5.0, 5.0), (9.525, 9.525)])
def test_tabs_reach_over_the_bleed_that_the_guide_asks_for(tmp_path: Path, asked: float, bleed: float) -> None:
    """It is 3 mm at the least (common practice, no source). Boxes: ISO 32000-1, 14.11.2."""
    folder = folder_with_photo(tmp_path)
    make(folder, small(prints=SHOP, bleed=asked))
    path = folder / "published" / "cards" / FILE
    for page in PdfReader(path).pages:
        assert _outside_trim(page) == pytest.approx([bleed * POINTS_PER_MM] * 4, abs=0.01)
    reach = set()
    with pdfplumber.open(path) as opened:
        for page in opened.pages:
            left, _, right, _ = page.trimbox
            reach |= {
                round(max(left - tab["x0"], tab["x1"] - right) / POINTS_PER_MM, 2)
                for tab in page.rects
                if tab["height"] > 50 > tab["width"] - 10
            }
    assert reach == {round(bleed, 2)}


def _outside_trim(page: PageObject) -> list[float]:
    return [abs(float(out) - float(edge)) for out, edge in zip(page.bleedbox, page.trimbox, strict=True)]


def test_a_flat_cover_has_that_bleed_too(tmp_path: Path) -> None:
    folder = folder_with_photo(tmp_path)
    make(folder, small(prints=SHOP, bleed=5.0, crop_marks=False))
    leaf = Leaf(format_named("booklet-a6"), 5.0)
    flat = make_cover((folder / "published" / "cards" / FILE).read_bytes(), leaf, 10.0, SheetsNamed("Bugs"))
    for page in PdfReader(io.BytesIO(flat)).pages:
        assert _outside_trim(page) == pytest.approx([5 * POINTS_PER_MM] * 4, abs=0.01)
        assert float(page.trimbox.width) / POINTS_PER_MM == pytest.approx(2 * 105 + 10, abs=0.1)


@pytest.mark.parametrize("bleed", [3.0, 5.0, 10.0])
def test_marks_on_sheets_stand_clear_of_the_bleed(bleed: float) -> None:
    leaf = format_named("booklet-a6").size
    marks = booklet_crops(paper_named("a4").size.turned, leaf, bleed)
    assert max(mark.y2 for mark in marks if mark.x1 == mark.x2 and mark.y2 < 31) == pytest.approx(31 - bleed)
    assert max(mark.x2 for mark in marks if mark.y1 == mark.y2 and mark.x2 < 43) == pytest.approx(43.5 - bleed)


def test_the_shop_gets_a_booklet_that_no_office_paper_has_room_for(tmp_path: Path) -> None:
    folder = folder_with_photo(tmp_path)
    made = make(folder, small(prints=("booklet", "print shop"), paper="a5"))
    assert [problem.message for problem in made.problems if problem.what == "no-room"] == [
        "two pages of the Stitched booklet A5 do not fit side by side on A5"
    ]
    assert {"booklet.pdf", "print-shop/booklet.pdf"} <= files(folder)
    assert "booklet-a5.pdf" not in files(folder)
    pages = PdfReader(folder / "published" / "cards" / "print-shop" / "booklet.pdf").pages
    assert len(pages) == len(PdfReader(folder / "published" / "cards" / "booklet.pdf").pages)


def with_diagram(guide: Guide) -> Guide:
    """The parts of the body, which stand inside the cover of a booklet and on no card."""
    parts = (PartPointer("scutellum", (52, 38)), PartPointer("abdomen", (50, 70)))
    body = replace(guide.photos["plate"], id="body", file="photos/body.jpg", account="", stage="", measured=None, length=None, parts=parts)
    return replace(guide, photos={**guide.photos, "body": body}, photo_files=guide.photo_files | {body.file})


@pytest.mark.parametrize(
    ("prints", "told"),
    [
        (SHOP, {"card parent: plate", "card birch: plate", "card juniper: plate", "booklet: body"}),
        (("print shop",), {"card parent: plate", "card birch: plate", "card juniper: plate"}),
        (("booklet-a6",), set()),
    ],
)
def test_ink_is_told_of_pictures_that_only_the_booklet_prints(tmp_path: Path, prints: tuple[str, ...], told: set[str]) -> None:
    """Of all others the cards for the shop tell it; nothing is told where the shop gets no files."""
    folder = folder_with_photo(tmp_path)
    (folder / "press.icc").write_bytes(lightness_press().data)
    drawn_picture(folder / "photos", name="body.jpg")
    made = make(folder, with_diagram(small(prints=prints, print_profile="press.icc", ink_limit=200)))
    wet = [problem for problem in made.problems if problem.what == "too-much-ink"]
    assert {f"{problem.where}: {problem.message.split('“')[1].split('”')[0]}" for problem in wet} == told
