"""What stands before the spreads of a booklet and behind them: covers, keys, calendar, map, walks, sources, index."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from markupsafe import Markup

from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.outputs.cards.booklet.walk_pages import TRIES, WalkSetting, first_settings, give_up_walks, pull_back_walks
from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import PLAIN
from guidebuild.press.paper.formats import MM_PER_INCH, Area
from guidebuild.press.paper.layout import Laid, lay_out
from guidebuild.press.paper.measuring import count_lines
from guidebuild.press.paper.plates import draw_frame, draw_plate
from guidebuild.press.paper.setup import Setup
from guidebuild.press.theme.sandbox import fill_template
from guidebuild.views.booklet.book import BookletView
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.maps import MapView
from guidebuild.views.pieces.one_scale import frame_at_scale, measure_subject
from guidebuild.words import words

_COVER, _DIAGRAM, _LEAST_BODY = 0.58, 0.5, 0.25
"""Of the height inside the margins: the most that the pictures of cover and body take, and the least for the body."""
_CODE, _HEADING, _CALENDAR = 20.0, 9.0, 0.46
"""Millimetres of the code and of a heading; of the line, what the months of the calendar take."""
_ROW, _INITIALS = 2.3, 2.8
_KEY_GAP, _KEY_WORDS, _FLATTEST = 2.0, 8.2, 0.7
"""Between the small pictures of the key, for the words under each, and the least height of one over its width."""
_NARROW = 100.0
"""Millimetres of a line up to which three small pictures stand on it."""
_DROP = 0.44
"""Of the height, what stays white above the words of the back cover."""


@dataclass(frozen=True, slots=True)
class Ends:
    """What both ends are made with; `pages` are the plates of species by account."""

    view: BookletView
    setup: Setup
    leaf: Leaf
    pages: Mapping[str, int]
    theme_folders: tuple[Path, ...]

    def draw_map(self, view: MapView | None, **lettered: float) -> Markup | None:
        """A map as paper draws it; `letters` are the units that its letters are high."""
        if view is None:
            return None
        return Markup(fill_template(self.theme_folders, "cards/drawn_map.html", self.view.language, m=view, **lettered))  # noqa: S704 - a template escapes

    def lay_out(self, html: str, first: int) -> Laid:
        """Pages that follow one another from number `first` on."""
        theme = self.setup.theme
        return lay_out(html, self.leaf.run_css(first) + theme.css("card.css") + theme.css("booklet.css"), self.setup.fetcher)

    def fill(self, template: str, **values: object) -> str:
        """A template with what both ends know."""
        view = self.view
        return self.setup.theme.page(
            template,
            view=view,
            pages=self.pages,
            inner=self.leaf.inner,
            leaf=self.leaf,
            language=view.language,
            contrast=self.setup.contrast,
            caution_mark=drawing.caution_mark(words(view.language)("Caution")),
            _=words(view.language),
            **values,
        )

    def ruled(self) -> Markup:
        """Lines for notes on a page."""
        inner = self.leaf.inner
        return drawing.draw_lines(inner.width, inner.height - _HEADING, words(self.view.language)("Notes"), PLAIN)


def lay_out_front(ends: Ends, notes: int = 0) -> Laid:
    """The pages before the spreads."""
    return ends.lay_out(front_html(ends, notes), 1)


def lay_out_back(ends: Ends, first: int, notes: int = 0) -> Laid:
    """The pages behind the spreads, the first of them with this number; no walk has a page for the sake of a few lines, if that can be."""
    settings = start = _first_walks(ends)
    laid = ends.lay_out(back_html(ends, notes, settings), first)
    for _ in range(TRIES):
        after = pull_back_walks(settings, laid)
        if after == settings:
            break
        settings, laid = after, ends.lay_out(back_html(ends, notes, after), first)
    kept = give_up_walks(start, settings, laid)
    return laid if kept == settings else ends.lay_out(back_html(ends, notes, kept), first)


def _first_walks(ends: Ends) -> tuple[WalkSetting, ...]:
    return first_settings([walk.map for walk in ends.view.walks], ends.leaf.inner)


def front_html(ends: Ends, notes: int = 0) -> str:
    """Cover, body, key of pictures, calendar, cautions, and so many pages for notes."""
    inner, inks = ends.leaf.inner, ends.setup.inks
    view, cell = ends.view, _choose_cell(ends)
    return ends.fill(
        "booklet_front.html",
        cover=_draw_whole(ends, view.cover, Area(inner.width, inner.height * _COVER)),
        body=_draw_whole(ends, view.diagram.photo if view.diagram else None, Area(inner.width, _body_room(ends))),
        key=_draw_key(ends, cell.area),
        cell=cell,
        months=drawing.month_row(view.months, inner.width * _CALENDAR, _INITIALS, ", ".join(view.month_names), inks),
        years=[drawing.season_row(row.year, inner.width * _CALENDAR, _ROW, inks) if row.year else None for row in view.calendar],
        notes=notes,
        ruled=ends.ruled(),
    )


def back_html(ends: Ends, notes: int = 0, walks: Sequence[WalkSetting] = ()) -> str:
    """Map, walks as they are set, sources and credits, index, so many pages for notes, and the outer cover."""
    view, width = ends.view, int(ends.leaf.inner.width // 10) * 10
    settings = walks or _first_walks(ends)
    say = words(view.language)
    return ends.fill(
        "booklet_back.html",
        credits=list_credits(ends),
        map=ends.draw_map(view.map),
        maps=[ends.draw_map(one.view, letters=one.letters) for one in settings],
        settings=settings,
        notes=notes,
        ruled=ends.ruled(),
        drop=ends.leaf.inner.height * _DROP,
        code=drawing.draw_code(view.address, _CODE) if view.address else None,
        rule=drawing.edge_rule(width, PLAIN, say("{length} mm when printed at 100 %", length=width)),
    )


def notes_wanted(pages: int) -> int:
    """Pages to add so that whole sheets of four are filled."""
    return -pages % 4


def list_credits(ends: Ends) -> list[tuple[str, Sequence[int]]]:
    """Every picture's credit with the pages it stands on."""
    found: dict[str, list[int]] = {}
    view = ends.view
    if view.cover and view.cover.credit_line:
        found[view.cover.credit_line] = [1]
    if view.diagram and view.diagram.photo.credit_line:
        found.setdefault(view.diagram.photo.credit_line, []).append(2)
    for spread in view.species:
        for photo in spread.pictures:
            _add(found, photo, ends.pages.get(spread.id, 0))
    for alike in view.alikes:
        for one in alike.each:
            _add(found, one.plate.photo, ends.pages.get(alike.id, 0))
    for entry in view.key:
        _add(found, entry.photo, 3 if view.diagram else 2)
    return [(line, sorted(set(numbers))) for line, numbers in found.items()]


def _add(found: dict[str, list[int]], photo: PhotoView | None, page: int) -> None:
    if photo and photo.credit_line:
        found.setdefault(photo.credit_line, []).append(page)


def _draw_whole(ends: Ends, photo: PhotoView | None, box: Area) -> Markup | None:
    """A picture with its pointers, uncropped, in a box of its own shape."""
    picture = ends.setup.pictures.get(photo.id) if photo else None
    if photo is None or picture is None:
        return None
    spot = drawing.fit_picture(box, (picture.width, picture.height))
    fitted = Area(box.width, spot.height)
    spot = drawing.fit_picture(fitted, (picture.width, picture.height))
    return draw_plate(picture, fitted, spot, photo.marks, photo.alt, ends.setup.inks, near=photo.may_be_cut)


@dataclass(frozen=True, slots=True)
class _Cell:
    """The small pictures of the key: their size, and how many stand beside one another."""

    area: Area
    across: int


def _choose_cell(ends: Ends) -> _Cell:
    """The largest pictures of which all stand on one page; of very many, three or four beside one another."""
    inner, count = ends.leaf.inner, len(ends.view.key)
    fewest = 3 if inner.width < _NARROW else 4
    for across in range(fewest, fewest + 3):
        width = (inner.width - _KEY_GAP * (across - 1)) / across - 0.02
        high = (inner.height - _HEADING) / -(-count // across) - _KEY_WORDS
        if high >= width * _FLATTEST:
            return _Cell(Area(width, min(high, width)), across)
    width = (inner.width - _KEY_GAP * (fewest - 1)) / fewest - 0.02
    return _Cell(Area(width, width), fewest)


def _draw_key(ends: Ends, area: Area) -> list[Markup | None]:
    """The small pictures of the key, those with a length at one scale."""
    pictures, inks = ends.setup.pictures, ends.setup.inks
    shown = {
        entry.photo.id: (entry.photo, pictures[entry.photo.id]) for entry in ends.view.key if entry.photo and entry.photo.id in pictures
    }
    measured = {
        ident: one
        for ident, (photo, picture) in shown.items()
        if photo.may_be_cut and (one := measure_subject(photo, picture.height / picture.width))
    }
    shape = area.height / area.width
    across = max((max(one.subject.width, one.subject.height / shape) for one in measured.values()), default=1.0)
    drawn: list[Markup | None] = []
    for entry in ends.view.key:
        if entry.photo is None or entry.photo.id not in shown:
            drawn.append(None)
            continue
        photo, picture = shown[entry.photo.id]
        if one := measured.get(photo.id):
            drawn.append(draw_frame(picture.address, frame_at_scale(one, across, shape), area, inks, f"key-{photo.id}"))
        else:
            drawn.append(draw_plate(picture, area, drawing.fit_picture(area, (picture.width, picture.height)), (), photo.alt, inks))
    return drawn


def _body_room(ends: Ends) -> float:
    """The height that the words about the parts of the body leave to its picture."""
    inner, points = ends.leaf.inner, 9.0
    lines = sum(count_lines(f"00 {part.word}: {part.meaning}", points, inner.width - 6) for part in ends.view.parts) + 3
    free = inner.height - _HEADING - 4.0 - (lines * 1.2 * points + len(ends.view.parts)) * MM_PER_INCH / 72
    return min(max(free, inner.height * _LEAST_BODY), inner.height * _DIAGRAM)
