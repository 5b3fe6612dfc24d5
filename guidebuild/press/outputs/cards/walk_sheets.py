"""Two sheets of a walk: pictures to find and tick for children, and the checklist's facts in large print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from guidebuild.press.engine.made import Made
from guidebuild.press.outputs.cards.jobs import Look
from guidebuild.press.paper import drawing
from guidebuild.press.paper.closer import set_closer
from guidebuild.press.paper.drawing import HIGH_CONTRAST, PLAIN, Inks
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.flow import used_of
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.layout import MM_PER_PIXEL, Laid, document_of, lay_out, write_pdf
from guidebuild.press.paper.plates import draw_cut
from guidebuild.press.paper.spill import pull_back, tell_short
from guidebuild.press.paper.theme import Theme, read_theme
from guidebuild.press.photos.copies import print_width
from guidebuild.press.photos.print_copy import Picture, Pictures
from guidebuild.views.cards.printed import ChecklistView
from guidebuild.views.cards.walk_sheets import Sought, SpottingView
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.cuts import cut_to_animal, show_whole

_GAP = 6.0
_ACROSS, _FEW = 3, 2
"""So many pictures stand beside one another; where there are no more than a few, these alone, and larger."""
_HIGH = 0.95
"""Height over width of a picture."""
_ENLARGED = 3.0
"""How many times as wide as its frame a picture may be drawn, to show an animal large."""
_TICK, _LARGE_TICK = 9.0, 8.0
"""Sides of boxes to tick, millimetres: for a child's pen, and beside large print."""
_LEAST_NOTE = 8.0
"""Points of the smallest type, which is that of the credits."""
_LEAST_HIGH, _STEP = 0.7, 0.05
"""What pictures give way to, and by how much each time, where that saves a page."""
_DRAWING, _AIR = 38.0, 2.0
"""Millimetres of the frame to draw in at the least, and what stays free below it when it is given all the room that is left."""


@dataclass(frozen=True, slots=True)
class SpottingWork:
    """What printing one children's sheet needs; `pictures` by photo id."""

    view: SpottingView
    pictures: tuple[tuple[str, Picture], ...]
    look: Look


@dataclass(frozen=True, slots=True)
class LargePrintWork:
    """What printing one sheet in large print needs."""

    view: ChecklistView
    look: Look


@dataclass(frozen=True, slots=True)
class SoughtFace:
    """One thing to find as it is printed."""

    sought: Sought
    picture: Markup
    width: float
    """Millimetres."""


def picture_pixels(page: Format) -> tuple[int, int]:
    """The largest width and height that a picture can use at 300 pixels an inch; a frame shows only a part of it."""
    width = _frame_width(page) * _ENLARGED
    return print_width(width), print_width(width)


def render_spotting(work: SpottingWork) -> Made:
    """The children's sheet; pictures as large as they can be with no page for a few of them."""
    look, pictures = read_theme(work.look.theme_folders), dict(work.pictures)
    high, laid = _HIGH, _lay_spotting(work, look, pictures, _HIGH)
    fewest = len(_lay_spotting(work, look, pictures, _LEAST_HIGH).document.pages) if len(laid.document.pages) > 1 else 1
    while len(laid.document.pages) > fewest and high > _LEAST_HIGH:
        high = max(high - _STEP, _LEAST_HIGH)
        laid = _lay_spotting(work, look, pictures, high)
    found = laid
    laid, scale = pull_back(
        lambda scale: (found if scale == 1.0 else _lay_spotting(work, look, pictures, high, scale), scale), lambda each: each[0].document
    )
    if (free := _find_free(laid) - _AIR) > 0:
        filled = _lay_spotting(work, look, pictures, high, scale, drawing_high=_DRAWING + free)
        laid = filled if len(filled.document.pages) == len(laid.document.pages) else laid
    return _write(laid, f"children's sheet {work.view.id}")


def _find_free(laid: Laid) -> float:
    """Millimetres that are left at the foot of the last page."""
    page = laid.document.pages[-1]._page_box
    return float(page.height - used_of(page)) * MM_PER_PIXEL


def render_large_print(work: LargePrintWork) -> Made:
    """What the checklist says, in large type on as many pages as it takes."""
    inks, look = HIGH_CONTRAST, read_theme(work.look.theme_folders)
    html = look.page(
        "large_print.html",
        view=work.view,
        words=work.view.words,
        language=work.view.language,
        box=_box(_LARGE_TICK, inks, f"{work.view.words.seen}?"),
        caution_mark=drawing.caution_mark(work.view.words.card.caution),
    )
    points = work.look.format.least_type
    css = f"{_page(work.look.format)}html{{font-size:{points}pt}}{look.css('walk_sheets.css')}"
    laid = pull_back(lambda scale: lay_out(html, set_closer(css, scale, points), GuideFetcher()), document_of)
    return _write(laid, f"large print {work.view.id}")


def _lay_spotting(  # noqa: PLR0913 - what it shows, how large, and how much room there is to draw
    work: SpottingWork, look: Theme, pictures: Pictures, high: float, scale: float = 1.0, *, drawing_high: float = _DRAWING
) -> Laid:
    inks = HIGH_CONTRAST if work.look.contrast else PLAIN
    html = look.page(
        "spotting.html",
        view=work.view,
        easy=_faces(work.view.easy, pictures, work.look.format, high),
        harder=_faces(work.view.harder, pictures, work.look.format, high),
        language=work.view.language,
        contrast=work.look.contrast,
        box=_box(_TICK, inks, f"{work.view.words.found}?"),
        caution_mark=drawing.caution_mark(work.view.words.caution),
        rule=drawing.edge_rule(50, inks, work.view.words.fifty),
    )
    css = set_closer(look.css("walk_sheets.css"), scale, _LEAST_NOTE)
    return lay_out(
        html, f"{_page(work.look.format)}{css}.drawing .paper{{height:{drawing_high:.2f}mm}}", GuideFetcher(pictures=pictures.values())
    )


def _faces(shown: Sequence[Sought], pictures: Pictures, page: Format, high: float) -> list[SoughtFace]:
    width = _frame_width(page, _FEW if len(shown) <= _FEW else _ACROSS)
    area = Area(width, width * high)
    return [SoughtFace(one, _draw(one.photo, pictures.get(one.photo.id), area), width) for one in shown]


def _draw(photo: PhotoView, picture: Picture | None, area: Area) -> Markup:
    if picture is None:
        return Markup("")
    shape, ratio = picture.height / picture.width, area.width / area.height
    return draw_cut(picture, cut_to_animal(photo, shape, ratio) or show_whole(shape, ratio), area, photo.alt, f"cut-{photo.id}")


def _frame_width(page: Format, across: int = _ACROSS) -> float:
    return (page.inner.width - _GAP * (across - 1)) / across


def _page(page: Format) -> str:
    return f"@page{{size:{page.size.width}mm {page.size.height}mm;margin:{page.margin}mm}}"


def _box(side: float, inks: Inks, words: str) -> Markup:
    line = 0.4
    at, edge = line / 2, side - line
    square = f'<rect x="{at}" y="{at}" width="{edge}" height="{edge}" rx="1" fill="#ffffff" stroke="{inks.text}" stroke-width="{line}"/>'
    return drawing.wrap_svg(Area(side, side), square, words, "tick-box")


def _write(laid: Laid, where: str) -> Made:
    pdf, logged = write_pdf(laid, where)
    return Made((pdf,), (*logged, *tell_short(laid.document, where)))
