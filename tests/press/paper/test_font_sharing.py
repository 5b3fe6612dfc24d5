"""A typeface is embedded once in a deck or on sheets, and every letter stays as it was."""

from __future__ import annotations

import io
from contextlib import closing

import pikepdf
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from pikepdf import Dictionary, Name
from pypdfium2 import PdfDocument

from guidebuild.press.paper.font_sharing import lay_over, read_subset
from guidebuild.press.paper.formats import format_named, paper_named
from guidebuild.press.paper.imposition import Flip
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.sheets import CardSheets
from guidebuild.press.theme.fonts import SANS, find_face


def subset(letters: str, *, weight: int = 400) -> bytes:
    """The letters of a face, under the numbers that they have in it."""
    font = TTFont(find_face(SANS, weight=weight, italic=False).path)
    options = Options(retain_gids=True, notdef_outline=False, hinting=False, drop_tables=["GSUB", "GPOS", "GDEF", "DSIG"])
    subsetter = Subsetter(options)
    subsetter.populate(text=letters)
    subsetter.subset(font)
    written = io.BytesIO()
    font.save(written)
    return written.getvalue()


def test_subsets_laid_over_one_another_have_the_glyphs_of_all() -> None:
    one, two = subset("abc"), subset("xyzc m")
    whole = lay_over([one, two])
    assert whole is not None
    both, first, second = (read_subset(data) for data in (whole, one, two))
    assert both and first and second
    assert both.outlines == {**first.outlines, **second.outlines}
    assert both.advances == {**first.advances, **second.advances}
    assert len(first.outlines) < len(both.outlines)
    TTFont(io.BytesIO(whole))["glyf"][TTFont(io.BytesIO(two)).getBestCmap()[ord("x")]]


def test_the_most_that_a_glyph_needs_is_that_of_all() -> None:
    whole = lay_over([subset("i"), subset("@")])
    assert whole is not None
    limits = [TTFont(io.BytesIO(data))["maxp"].maxPoints for data in (whole, subset("@"))]
    assert limits[0] >= limits[1]


def test_what_has_another_glyph_under_a_number_stays_apart() -> None:
    assert lay_over([subset("abc"), subset("abc", weight=700)]) is None
    assert lay_over([subset("abc"), b"no font"]) is None


def programs_of(data: bytes) -> list[str]:
    """The faces of a document, once for each font program."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        described = [t for t in pdf.objects if isinstance(t, Dictionary) and t.get("/Type") == Name.FontDescriptor]
        return [name for name, _ in {(str(one.FontName).partition("+")[2], one.FontFile2.objgen) for one in described}]


def pixels_of(data: bytes, page: int) -> bytes:
    with closing(PdfDocument(data)) as opened:
        return bytes(opened[page].render(scale=2).to_numpy().tobytes())


def test_a_deck_and_its_sheets_carry_each_face_once(cards: tuple[CardResult, ...]) -> None:
    deck = join_pdfs([(card.id, card.pdf) for card in cards], "Deck")
    sheets = CardSheets(format_named("a6"), paper_named("a4"), Flip.LONG)
    for card in cards:
        sheets.add(card.pdf)
    for made in (deck, sheets.finished()):
        faces = programs_of(made)
        assert len(faces) >= 4
        assert len(faces) == len(set(faces))
    for number, card in enumerate(cards):
        assert [pixels_of(deck, 2 * number + side) for side in (0, 1)] == [pixels_of(card.pdf, side) for side in (0, 1)]


def test_the_same_parts_give_the_same_bytes(cards: tuple[CardResult, ...]) -> None:
    parts = [(card.id, card.pdf) for card in cards]
    assert join_pdfs(parts, "Deck") == join_pdfs(parts, "Deck")
