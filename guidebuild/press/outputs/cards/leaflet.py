"""A leaflet: one sheet, eight panels, folded and slit once into a small book.

All panels stand in one page in reading order, so the file is tagged as it is read; they are moved to their places on the
sheet only when drawn.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from markupsafe import Markup

from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.face import Face, Room, draw_face
from guidebuild.press.outputs.cards.leaflet_cover import COVER_LEAST, cover_words, first_plate, list_cover_pieces, map_on_cover
from guidebuild.press.outputs.cards.leaving_out import rank_pieces, tell_left_out
from guidebuild.press.outputs.cards.map_room import FaceMap
from guidebuild.press.outputs.cards.shown import IN_FULL, shown_cautions, shown_seasons
from guidebuild.press.outputs.cards.words import front_words
from guidebuild.press.paper import drawing
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.giving_way import Giving, Setting, too_long
from guidebuild.press.paper.imposition import Line, Placed, eight_panel_lines, eight_panels
from guidebuild.press.paper.layout import Laid, Side, lay_out, write_pdf
from guidebuild.press.paper.measuring import size_line_type
from guidebuild.press.paper.setup import CardResult, Setup, make_setup
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import CardView
from guidebuild.views.cards.printed import LeafletView

COVER, SPECIES, NOTES, LAST = "cover", "species", "notes", "last"
_MOST_LAYOUTS = 8
_CODE = 16.0
_PLATE_LEAST, _PLATE_MOST = 0.3, 0.52
_SEASON_LINES = 1.25
_NOTES_HEADING = 8.0
"""Millimetres."""
_LAST_PIECES = {"rule": 6.2, "code": _CODE + 1.6}
"""Millimetres that pieces of the last panel take."""


@dataclass(frozen=True, slots=True)
class Panel:
    """How one panel is set."""

    name: str
    kind: str
    place: Placed
    setting: Setting
    card: CardView | None = None


@dataclass(frozen=True, slots=True)
class PanelFace:
    """A panel as its template prints it."""

    name: str
    kind: str
    style: Markup
    points: float
    left_out: frozenset[str]
    face: Face | None = None
    map: FaceMap | None = None


@dataclass(frozen=True, slots=True)
class Sheet:
    """All that stays the same while a leaflet is fitted."""

    view: LeafletView
    setup: Setup

    @property
    def format(self) -> Format:
        """The sheet, lying on its side."""
        return self.setup.format

    @property
    def room(self) -> Area:
        """What is inside the margins of a panel."""
        panel = eight_panels(self.format.size)[0].size
        return panel.grown(-self.format.margin)


def render_leaflet(
    view: LeafletView, pictures: Pictures, leaflet_format: Format, theme_folders: Sequence[Path], *, contrast: bool = False
) -> CardResult:
    """Print a leaflet as one page, tagged in reading order; no `pdf` where a panel is over."""
    sheet = Sheet(view, make_setup(pictures, leaflet_format, theme_folders, contrast=contrast))
    panels, laid, count = _fit(sheet)
    where, over = f"leaflet {view.id}", _find_over(laid)
    told = tuple(_tell_left_out(sheet, where, panels))
    if over:
        problems = tuple(_over(where, panel, over[panel.name]) for panel in panels if panel.name in over)
        return CardResult(view.id, b"", (*told, *problems), count)
    pdf, logged = write_pdf(laid, where)
    return CardResult(view.id, pdf, (*told, *logged), count)


def _fit(sheet: Sheet) -> tuple[tuple[Panel, ...], Laid, int]:
    """All panels as they fit, or as small as they get; each has room of its own, so only those that change are laid out again."""
    panels = tuple(_panels(sheet))
    laid, count = _laid(sheet, panels), 1
    while count < _MOST_LAYOUTS:
        sides = {side.name: side for side in laid.sides}
        after = tuple(_change(sheet, panel, sides[panel.name]) if panel.name in sides else panel for panel in panels)
        changed = frozenset(panel.name for panel, before in zip(after, panels, strict=True) if panel != before)
        if not changed:
            break
        panels, count = after, count + 1
        laid = _laid(sheet, panels, only=changed)
    over = _find_over(laid)
    given_up = (replace(panel.setting, out=panel.setting.out.give_up()) if panel.name in over else panel.setting for panel in panels)
    panels = tuple(replace(panel, setting=setting) for panel, setting in zip(panels, given_up, strict=True))
    return panels, laid if count == 1 else _laid(sheet, panels), count


def _find_over(laid: Laid) -> dict[str, Side]:
    """The panels that are over, by name."""
    return {side.name: side for side in laid.sides if side.over and side.name != "page"}


def _tell_left_out(sheet: Sheet, where: str, panels: Sequence[Panel]) -> Iterator[Problem]:
    for panel in panels:
        if panel.setting.left_out:
            pieces = _giving(sheet, panel).pieces
            told = (
                tell_left_out(panel.card, pieces, panel.setting.left_out)
                if panel.card and panel.kind == SPECIES
                else ", ".join(piece for piece in pieces if piece in panel.setting.left_out)
            )
            yield Problem("left-out", where, f"to make room at {panel.setting.points:g} pt {_name(panel)} leaves out: {told}")


def leaflet_pixels(leaflet_format: Format) -> tuple[int, int]:
    """The largest width and height, in pixels, that a picture in a leaflet can use at 300 pixels an inch."""
    panel = eight_panels(leaflet_format.size)[0].size
    return round(panel.width / 25.4 * 300), round(panel.height * 0.6 / 25.4 * 300)


def _panels(sheet: Sheet) -> Iterator[Panel]:
    places, largest = eight_panels(sheet.format.size), sheet.setup.sizes[0]
    cover = replace(sheet.view.cards[0], plate=sheet.view.cover, marks=()) if sheet.view.cards else None
    yield Panel("panel 1", COVER, places[0], Setting(largest, _cover_plate(sheet, cover) if cover else 0.0), cover)
    for number, (place, card) in enumerate(zip(places[1:], sheet.view.cards, strict=False), start=2):
        yield Panel(f"panel {number}", SPECIES, place, _first_guess(sheet, card), card)
    for number in range(2 + len(sheet.view.cards), len(places)):  # none is left white
        yield Panel(f"panel {number}", NOTES, places[number - 1], Setting(largest, 0.0))
    yield Panel("panel 8", LAST, places[7], Setting(largest, 0.0))


def _cover_plate(sheet: Sheet, cover: CardView) -> float:
    return min(_plate_most(sheet, cover), first_plate(sheet.view, sheet.room))


def _first_guess(sheet: Sheet, card: CardView) -> Setting:
    room = sheet.room
    free = [(s, room.height - _words(card, s, room.width)) for s in sheet.setup.sizes]
    points, plate = next((f for f in free if f[1] >= room.height * 0.4), free[-1])
    return Setting(points, min(max(plate, room.height * _PLATE_LEAST), _plate_most(sheet, card)))


def _plate_most(sheet: Sheet, card: CardView) -> float:
    """As high as the picture is at the width of the panel, so that no tone stands above and below it, or the most there is."""
    picture = sheet.setup.pictures.get(card.plate.id) if card.plate else None
    most = sheet.room.height * _PLATE_MOST
    return min(most, sheet.room.width * picture.height / picture.width) if picture else most


def _words(card: CardView, points: float, width: float, left_out: frozenset[str] = frozenset()) -> float:
    rows = len(shown_seasons(card, left_out)) if "season" not in left_out else 0
    season = (rows + 1) * _SEASON_LINES * points * 25.4 / 72 + 1 if rows else 0.0
    return front_words(card, points, width, left_out) + season


def _laid(sheet: Sheet, panels: Sequence[Panel], *, only: Collection[str] = ()) -> Laid:
    faces = [_face(sheet, panel) for panel in panels if not only or panel.name in only]
    html = sheet.setup.theme.page(
        "leaflet.html",
        view=sheet.view,
        panels=faces,
        room=sheet.room.height,
        language=sheet.view.language,
        title=sheet.view.title,
        contrast=sheet.setup.contrast,
        code=drawing.draw_code(sheet.view.address, _CODE) if sheet.view.address else None,
        rule=drawing.edge_rule(50, sheet.setup.inks, sheet.view.words.card.fifty),
        lines=drawing.draw_lines(sheet.room.width, sheet.room.height - _NOTES_HEADING, sheet.view.words.notes, sheet.setup.inks),
        credits=_credits(sheet.view),
        cautions=shown_cautions(sheet.view.cautions, panels[-1].setting.left_out),
        caution_mark=drawing.caution_mark(sheet.view.words.card.caution),
    )
    return lay_out(html, _css(sheet), sheet.setup.fetcher)


def _face(sheet: Sheet, panel: Panel) -> PanelFace:
    room, place, paper = sheet.room, panel.place, sheet.format.size
    margin = sheet.format.margin
    top = paper.height - place.y - place.size.height
    turned = place.turn == 180
    x, y = (place.x + place.size.width, top + place.size.height) if turned else (place.x, top)
    style = Markup("width:{:.3f}mm;height:{:.3f}mm;padding:{:.3f}mm;transform:translate({:.4f}mm,{:.4f}mm) rotate({}deg)").format(
        room.width, room.height, margin, x, y, place.turn
    )
    drawn = None
    if panel.card is not None:
        measures = Room(
            plate=Area(room.width, panel.setting.plate),
            size_line=room.width,
            least_line=room.width,
            code=0.0,
            points=size_line_type(panel.setting.points, fine=True),
            season=room.width,
            season_points=panel.setting.points,
            rule=0,
            left_out=panel.setting.left_out,
        )
        drawn = draw_face(panel.card, sheet.setup.pictures, measures, sheet.setup.inks)
    mapped = map_on_cover(sheet.view, panel.setting.left_out, sheet.setup.inks) if panel.kind == COVER else None
    return PanelFace(panel.name, panel.kind, style, panel.setting.points, panel.setting.left_out, drawn, mapped)


def _change(sheet: Sheet, panel: Panel, side: Side) -> Panel:
    """A panel that is over with a lower plate, smaller type or less in it; one that has room again with more."""
    giving = _giving(sheet, panel)
    setting = giving.give_way(panel.setting, side) if side.over else giving.bring_back(panel.setting, side)
    return panel if setting == panel.setting else replace(panel, setting=setting)


def _giving(sheet: Sheet, panel: Panel) -> Giving:
    """By what a panel may give way."""
    ranks, card = sheet.setup.theme.left_out, panel.card
    if panel.kind == COVER:
        return Giving(sheet.setup.sizes, sheet.room.height * COVER_LEAST, list_cover_pieces(sheet.view), cover_words)
    if card is None or panel.kind != SPECIES:
        ranked, height = tuple(_last_pieces(sheet, ranks)), _last_words
    else:
        ranked, height = rank_pieces(card, ranks["leaflet"]), partial(_panel_words, card, sheet.room.width)
    return Giving(sheet.setup.sizes, sheet.room.height * _PLATE_LEAST, ranked, height)


def _last_pieces(sheet: Sheet, ranks: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    """What of the last panel may go: only what stands on it."""
    stands = {"code": bool(sheet.view.address), IN_FULL: any(caution.short for caution in sheet.view.cautions)}
    return (piece for piece in ranks.get("last panel", ()) if stands.get(piece, True))


def _panel_words(card: CardView, width: float, points: float, left_out: frozenset[str]) -> float:
    return _words(card, points, width, left_out)


def _last_words(_: float, left_out: frozenset[str]) -> float:
    """How much lower the last panel is without some of its pieces: more than a panel where that is not known, so that others may stay."""
    return -sum(_LAST_PIECES.get(piece, 1000.0) for piece in left_out)


def _name(panel: Panel) -> str:
    return panel.name + (f" ({panel.card.name.short})" if panel.card and panel.kind == SPECIES else "")


def _over(where: str, panel: Panel, side: Side) -> Problem:
    return too_long(where, _name(panel), side, panel.setting.points)


def _credits(view: LeafletView) -> str:
    lines: Mapping[str, None] = dict.fromkeys(c.plate.credit_line for c in view.cards if c.plate and c.plate.credit_line)
    return view.words.card.picture.format(credit="; ".join(lines)) if lines else ""


def _css(sheet: Sheet) -> str:
    size = sheet.format.size
    picture = b64encode(_folds(size).encode("utf-8")).decode("ascii")
    return (
        f"@page{{size:{size.width}mm {size.height}mm;margin:0;background:url(data:image/svg+xml;base64,{picture}) 0 0/100% 100% no-repeat}}"
        + sheet.setup.theme.css("card.css")
    )


def _folds(size: Area) -> str:
    """Short ticks where the folds meet the paper's edges, and the slit as dashes; panels themselves fold in the white."""
    folds, slit = eight_panel_lines(size)
    ticks = "".join(_ticks(fold) for fold in folds)
    dashes = _stroke(slit, "#6b7a6f", 'stroke-dasharray="2 1.4"')
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size.width}mm" height="{size.height}mm" viewBox="0 0 {size.width} {size.height}">'
        f"{ticks}{dashes}</svg>"
    )


def _ticks(fold: Line) -> str:
    length = 3.0
    dx, dy = (0.0, length) if fold.x1 == fold.x2 else (length, 0.0)
    ends = (Line(fold.x1, fold.y1, fold.x1 + dx, fold.y1 + dy), Line(fold.x2 - dx, fold.y2 - dy, fold.x2, fold.y2))
    return "".join(_stroke(end, "#6b7a6f") for end in ends)


def _stroke(line: Line, colour: str, more: str = "") -> str:
    return f'<line x1="{line.x1}" y1="{line.y1}" x2="{line.x2}" y2="{line.y2}" stroke="{colour}" stroke-width="0.12" {more}/>'
