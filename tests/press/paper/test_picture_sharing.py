"""A photo that stands in several sizes is embedded once, as large as the largest place needs it, and every page looks as before."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pikepdf
import pypdfium2
import pytest
from pikepdf import Name, Pdf
from PIL import ImageChops, ImageStat
from pypdf.generic import StreamObject

from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import POINTS_PER_MM, Area, PrintKind, format_named, paper_named
from guidebuild.press.paper.imposition import Flip
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.pdf import html_to_pdf
from guidebuild.press.paper.sheets import CardSheets
from guidebuild.press.photos.copies import print_width
from guidebuild.press.photos.print_copy import Part, Picture
from tests.press.small_guide import drawn_picture

PLACES = (30.0, 80.0, 55.0)
"""Millimetres across, page by page."""


@pytest.fixture(scope="module")
def picture(tmp_path_factory: pytest.TempPathFactory) -> Picture:
    return drawn_picture(tmp_path_factory.mktemp("pictures"))


def lay_page(picture: Picture, address: str, wide: float) -> bytes:
    drawn = f'<svg width="{wide}mm" height="{wide}mm" viewBox="0 0 1 1"><image href="{address}" width="1" height="1"/></svg>'
    html = f'<html lang="en"><title>page</title><style>@page{{size:100mm}}</style>{drawn}'
    return html_to_pdf(html, fetcher=GuideFetcher(pictures=[picture]), where="page").data


def list_pictures(data: bytes) -> list[int]:
    with Pdf.open(io.BytesIO(data)) as opened:
        return sorted(int(t.Width) for t in opened.objects if isinstance(t, pikepdf.Stream) and t.get("/Subtype") == Name.Image)


def test_the_largest_copy_serves_every_page(picture: Picture) -> None:
    parts = [(str(wide), lay_page(picture, picture.address(wide), wide)) for wide in PLACES]
    apart, shared = join_pdfs(parts, "Pages"), join_pdfs(parts, "Pages", [picture])
    assert list_pictures(apart) == sorted(print_width(wide) for wide in PLACES)
    assert list_pictures(shared) == [print_width(max(PLACES))]
    assert len(shared) < len(apart)
    for one, other in zip(pypdfium2.PdfDocument(apart), pypdfium2.PdfDocument(shared), strict=True):
        drawn = [page.render(scale=2).to_pil().convert("RGB") for page in (one, other)]
        assert max(ImageStat.Stat(ImageChops.difference(*drawn)).mean) < 1.5


def test_a_part_of_a_picture_is_not_taken_for_the_whole(picture: Picture) -> None:
    cut = picture.cut_address(Part(0.2, 0.2, 0.4, 0.4), 20)
    parts = [("cut", lay_page(picture, cut, 20)), ("whole", lay_page(picture, picture.address(60), 60))]
    assert len(list_pictures(join_pdfs(parts, "Pages", [picture]))) == 2


def test_two_photos_stay_two(picture: Picture, tmp_path: Path) -> None:
    other = Picture(tmp_path / "other.jpg", picture.width, picture.height)
    other.path.write_bytes(picture.read(900))
    parts = [("one", lay_page(picture, picture.address(30), 30)), ("other", lay_page(other, other.address(40), 40))]
    assert list_pictures(join_pdfs(parts, "Pages", [picture, other])) == [print_width(30), print_width(40)]


def test_sheets_hold_a_picture_once_while_cards_still_come(picture: Picture) -> None:
    """A thousand cards show the same look-alikes: what is shared only at the end has been in memory as often as it is shown."""
    size = replace(format_named("a6"), kind=PrintKind.PLATE, size=Area(100, 100))
    sheets = CardSheets(size, paper_named("a4"), Flip.LONG)
    parts = [lay_page(picture, picture.address(60), wide) for wide in (60.0, 55.0, 50.0)]
    for part in parts:
        sheets.add(part)
    held = [thing for thing in sheets._press.writer._objects if isinstance(thing, StreamObject) and thing.get("/Subtype") == "/Image"]
    assert len(held) == 1
    made = sheets.finished()
    assert list_pictures(made) == [print_width(60)]
    with pdfplumber.open(io.BytesIO(made)) as opened:
        assert [round(image["width"] / POINTS_PER_MM) for page in opened.pages for image in page.images] == [60, 55, 50]
