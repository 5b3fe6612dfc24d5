"""Prints that tell species apart, among the cards: the key, and a sheet for each set of look-alikes."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from guidebuild.press.engine.maker import Piece
from guidebuild.press.outputs.cards.comparison import CompareWork, picture_pixels, render_sheet, sheet_area
from guidebuild.press.outputs.cards.key import KeyWork, render_key
from guidebuild.press.outputs.cards.printing import SHEET, Printing
from guidebuild.press.paper.formats import Paper
from guidebuild.views.telling.compare_sheet import compare_sheets
from guidebuild.views.telling.key_sheet import key_sheet


def publish_telling(printing: Printing, paper: Paper, *, sheets_with: Printing) -> None:
    """The key where the guide's characters make one, and the comparison sheets, which may show fewer pictures."""
    printing.maker.make(chain(_key_pieces(printing, paper), _sheet_pieces(sheets_with, paper)))


def _key_pieces(printing: Printing, paper: Paper) -> Iterator[Piece]:
    sheet = key_sheet(printing.guide)
    if sheet.key.bracketed:
        work = KeyWork(sheet, paper.size, printing.theme)
        yield Piece(printing.maker.job(SHEET, render_key, work, where="key"), ("key.pdf",))


def _sheet_pieces(printing: Printing, paper: Paper) -> Iterator[Piece]:
    sheets = compare_sheets(printing.guide)
    boxes = {photo: picture_pixels(sheet, paper.size) for sheet in sheets for photo in sheet.photos}
    pictures = printing.pictures.make_prints(boxes)
    for sheet in sheets:
        shown = tuple((photo, pictures[photo]) for photo in sheet.photos if photo in pictures)
        work = CompareWork(sheet, shown, sheet_area(sheet, paper.size), printing.theme, printing.high_contrast)
        yield Piece(printing.maker.job(SHEET, render_sheet, work, where=f"comparison {sheet.id}"), (f"compare-{sheet.id}.pdf",))
