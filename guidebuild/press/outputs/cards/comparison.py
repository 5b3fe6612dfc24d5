"""Look-alikes side by side on paper, as a tagged PDF: pictures with their pointers, then the table of what separates them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from guidebuild.press.engine.made import Made
from guidebuild.press.outputs.cards.side import draw_side
from guidebuild.press.paper.closer import set_closer
from guidebuild.press.paper.drawing import HIGH_CONTRAST, PLAIN
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.layout import Laid, document_of, lay_out, write_pdf
from guidebuild.press.paper.size_bars import choose_scale, draw_size
from guidebuild.press.paper.spill import pull_back, tell_short
from guidebuild.press.photos.copies import print_width
from guidebuild.press.photos.print_copy import Picture
from guidebuild.press.theme.prose import write_words
from guidebuild.press.theme.sandbox import fill_template, theme_file
from guidebuild.views.telling.compare_sheet import CompareSheet

_FOLDER = "cards"
_MARGIN = 12.0
_LEAST_TYPE = 9.0
_LABELS = 36.0
"""Width of the column of characters, millimetres."""
_GAP = 4.0
_UPRIGHT = 3
"""More species than this want the paper on its side."""
_PICTURES = (0.36, 0.24, 0.14)
"""Of the sheet's height: the most that pictures take, and what they give way to where that saves a page."""

_FURTHER = 0.6
"""What pictures of a further stage take, of those of the first."""
_CUT = 1.7
"""How many times as wide as its frame a picture may be drawn."""


@dataclass(frozen=True, slots=True)
class CompareWork:
    """What printing one sheet needs; `pictures` by photo id, `paper` as it is turned."""

    sheet: CompareSheet
    pictures: tuple[tuple[str, Picture], ...]
    paper: Area
    theme_folders: tuple[Path, ...]
    contrast: bool = False


def sheet_area(sheet: CompareSheet, paper: Area) -> Area:
    """The paper as this sheet lies on it: upright for two or three species, on its side for more."""
    wide = len(sheet.compared.taxa) > _UPRIGHT
    return Area(max(paper.width, paper.height), min(paper.width, paper.height)) if wide else paper


def picture_pixels(sheet: CompareSheet, paper: Area) -> tuple[int, int]:
    """The largest width and height that a picture can use at 300 pixels an inch; a frame shows only a part of it."""
    box = _box(sheet, sheet_area(sheet, paper))
    return print_width(box.width * _CUT), print_width(box.height * _CUT)


def compare_html(work: CompareWork, picture: float = _PICTURES[0]) -> str:
    """The sheet as one HTML document; the pictures of its first stage take so much of its height, those of others less."""
    pictures, inks, box = dict(work.pictures), HIGH_CONTRAST if work.contrast else PLAIN, _box(work.sheet, work.paper, picture)
    boxes = (box, Area(box.width, box.height * _FURTHER))
    stages = work.sheet.compared.stages
    sides = [draw_side(stage.pictures, pictures, boxes[min(number, 1)], inks, f"stage-{number}") for number, stage in enumerate(stages)]
    scale = choose_scale(work.sheet.sizes, box.width)
    bars = [draw_size(size, scale, f"{size.typed}, {scale.said}", inks) if size and scale else None for size in work.sheet.each]
    drawn = {"sides": sides, "bars": bars, "scale": scale, "wide": len(bars) > _UPRIGHT, "contrast": work.contrast}
    return fill_template(work.theme_folders, f"{_FOLDER}/compare.html", work.sheet.language, d=work.sheet, said=write_words, **drawn)


def render_sheet(work: CompareWork) -> Made:
    """The sheet as a tagged PDF."""
    css = theme_file(work.theme_folders, f"{_FOLDER}/compare.css").decode()
    laid = pull_back(partial(_laid, work, css), document_of)
    data, problems = write_pdf(laid, f"comparison {work.sheet.id}")
    return Made((data,), (*problems, *tell_short(laid.document, f"comparison {work.sheet.id}")))


def _laid(work: CompareWork, css: str, scale: float) -> Laid:
    """The sheet with pictures as large as they can be without a page more than with the smallest."""
    page = f"@page{{size:{work.paper.width}mm {work.paper.height}mm;margin:{_MARGIN}mm}}.labels{{width:{_LABELS}mm}}"
    styles = page + set_closer(css, scale, _LEAST_TYPE)
    fetcher = GuideFetcher(pictures=(picture for _, picture in work.pictures))
    largest, *smaller = _PICTURES
    laid = lay_out(compare_html(work, largest), styles, fetcher)
    for picture in smaller if scale <= 1.0 else ():  # set wider for the sake of its last page, it is to have one
        if len(laid.document.pages) == 1:
            break
        tried = lay_out(compare_html(work, picture), styles, fetcher)
        laid = min(laid, tried, key=lambda each: len(each.document.pages))  # of two with as many pages, the one with larger pictures
    return laid


def _box(sheet: CompareSheet, paper: Area, picture: float = _PICTURES[0]) -> Area:
    count = len(sheet.compared.taxa)
    return Area((paper.width - 2 * _MARGIN - _LABELS) / count - _GAP, (paper.height - 2 * _MARGIN) * picture)
