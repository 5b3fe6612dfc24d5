"""Look-alikes side by side on paper, as a tagged PDF: pictures with their pointers, then the table of what separates them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain
from pathlib import Path

from markupsafe import Markup

from guidebuild.press.engine.made import Made
from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import HIGH_CONTRAST, PLAIN, Inks
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.layout import lay_out, write_pdf
from guidebuild.press.paper.plates import draw_plate
from guidebuild.press.paper.size_bars import choose_scale, draw_size
from guidebuild.press.photos.copies import print_width
from guidebuild.press.photos.print_copy import Picture
from guidebuild.press.theme.prose import write_words
from guidebuild.press.theme.sandbox import fill_template, theme_file
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.telling.compare_sheet import CompareSheet

_FOLDER = "cards"
_MARGIN = 12.0
_LABELS = 36.0
"""Width of the column of characters, millimetres."""
_GAP = 4.0
_UPRIGHT = 3
"""More species than this want the paper on its side."""
_PICTURES = (0.36, 0.24, 0.16, 0.12)
"""Of the sheet's height: the most that pictures take, and what they give way to where that brings all on one page."""


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
    """The largest width and height that a picture can use at 300 pixels an inch."""
    box = _box(sheet, sheet_area(sheet, paper))
    return print_width(box.width), print_width(box.height)


def compare_html(work: CompareWork, picture: float = _PICTURES[0]) -> str:
    """The sheet as one HTML document; its pictures take so much of its height."""
    pictures, inks, box = dict(work.pictures), HIGH_CONTRAST if work.contrast else PLAIN, _box(work.sheet, work.paper, picture)
    used = [_drawn_height(box, pictures.get(t.plate.id)) for t in work.sheet.compared.taxa if t.plate]
    box = Area(box.width, max(used, default=0.0))
    faces = tuple(_face(taxon.plate, pictures, box, inks) for taxon in work.sheet.compared.taxa)
    scale = choose_scale(work.sheet.sizes, box.width)
    bars = [draw_size(size, scale, f"{size.typed}, {scale.said}", inks) if size and scale else None for size in work.sheet.each]
    drawn = {"faces": faces, "bars": bars, "scale": scale, "wide": len(faces) > _UPRIGHT, "contrast": work.contrast}
    return fill_template(work.theme_folders, f"{_FOLDER}/compare.html", work.sheet.language, d=work.sheet, said=write_words, **drawn)


def render_sheet(work: CompareWork) -> Made:
    """The sheet as a tagged PDF."""
    css = theme_file(work.theme_folders, f"{_FOLDER}/compare.css").decode()
    page = f"@page{{size:{work.paper.width}mm {work.paper.height}mm;margin:{_MARGIN}mm}}.labels{{width:{_LABELS}mm}}"
    fetcher = GuideFetcher(pictures=(picture for _, picture in work.pictures))
    tries = (lay_out(compare_html(work, picture), page + css, fetcher) for picture in _PICTURES)
    first = next(tries)
    laid = next((each for each in chain((first,), tries) if len(each.document.pages) == 1), first)
    data, problems = write_pdf(laid, f"comparison {work.sheet.id}")
    return Made((data,), problems)


def _box(sheet: CompareSheet, paper: Area, picture: float = _PICTURES[0]) -> Area:
    count = len(sheet.compared.taxa)
    return Area((paper.width - 2 * _MARGIN - _LABELS) / count - _GAP, (paper.height - 2 * _MARGIN) * picture)


def _drawn_height(box: Area, picture: Picture | None) -> float:
    return drawing.fit_picture(box, (picture.width, picture.height)).height if picture else 0.0


def _face(plate: PhotoView | None, pictures: dict[str, Picture], box: Area, inks: Inks) -> Markup:
    picture = pictures.get(plate.id) if plate else None
    if plate is None or picture is None:
        return Markup("")
    spot = drawing.fit_picture(box, (picture.width, picture.height))
    return draw_plate(picture.address, box, spot, plate.marks, plate.alt, inks, measured=plate.measured)
