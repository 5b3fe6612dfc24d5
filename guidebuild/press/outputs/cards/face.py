"""A card's view as the pieces that its template prints: drawings at true size, lists cut to what the fit leaves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from markupsafe import Markup, escape

from guidebuild.press.outputs.cards.map_room import FaceMap, shown_map
from guidebuild.press.outputs.cards.shown import (
    FORM,
    number_piece,
    shown_cautions,
    shown_facts,
    shown_hosts,
    shown_laws,
    shown_look,
    shown_look_alikes,
    shown_marks,
    shown_seasons,
    shown_small,
    shown_stages,
)
from guidebuild.press.outputs.cards.small_pictures import SmallStrip, Thumbs, draw_strip, draw_thumbs
from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import Inks, PictureSpot
from guidebuild.press.paper.formats import MM_PER_INCH, POINTS_PER_MM, Area
from guidebuild.press.paper.measuring import measure_width
from guidebuild.press.paper.plates import draw_plate
from guidebuild.press.paper.size_bars import choose_scale, draw_size, draw_width
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import CardFact, CardLookAlike, CardView, HostsOfUse, StageLine, group_hosts
from guidebuild.views.pieces.common import NO_WORDS, CautionView, MarkView, PhotoView, Wording
from guidebuild.views.pieces.pointers import number_marks

LONG_NAME = 36
"""Letters; the name of a card in the largest type has a line of about 25."""
_ENLARGED = 1.5
"""A picture that is larger than life by so much says how many times; of a smaller one the bar beside the size tells enough."""
_LIFE_GAPS, _SCALE_APART = 1.4, 3.0
"""Free in the line of the size, as card.css has it: so many ems round the bar of life size, and millimetres before that of the picture."""


@dataclass(frozen=True, slots=True)
class SeasonDrawing:
    """One row of the season bar."""

    label: str
    drawing: Markup


@dataclass(frozen=True, slots=True)
class Placing:
    """How the plate of a card came to stand on paper."""

    plate: Markup
    spot: PictureSpot
    pixels: int

    @property
    def ppi(self) -> float:
        """Pixels an inch as placed."""
        return self.pixels / self.spot.width * MM_PER_INCH


@dataclass(frozen=True, slots=True)
class LifeSize:
    """The drawing of a size with the words of its scale; `beside` the lines where it is higher than one."""

    drawing: Markup
    said: str
    beside: bool
    upright: bool


@dataclass(frozen=True, slots=True)
class Face:
    """All that a template prints of one card."""

    card: CardView
    plate: Markup | None = None
    plate_height: float = 0.0
    """Millimetres of the plate's box, for the words that stand in it where there is no picture."""
    placing: Placing | None = None
    scale: Markup | None = None
    life_size: LifeSize | None = None
    marks: tuple[MarkView, ...] = ()
    look_alikes: tuple[CardLookAlike, ...] = ()
    more_look_alikes: int = 0
    months: Markup | None = None
    season_rows: tuple[SeasonDrawing, ...] = ()
    hosts: tuple[HostsOfUse, ...] = ()
    """Host plants under their use."""
    more_hosts: int = 0
    facts: tuple[CardFact, ...] = ()
    habitat: Wording = NO_WORDS
    look: Wording = NO_WORDS
    stages: tuple[StageLine, ...] = ()
    map: FaceMap | None = None
    strip: SmallStrip | None = None
    thumbs: Thumbs | None = None
    credit: str = ""
    """Whose pictures they are."""
    more: str = ""
    """Where to find what was left out of the card."""
    code: Markup | None = None
    edge_rule: Markup | None = None
    cautions: tuple[CautionView, ...] = ()
    cautions_in_short: bool = False
    caution_mark: Markup | None = None

    @property
    def long_name(self) -> bool:
        """Whether the name is set smaller, so that it does not take the picture's room."""
        return len(self.card.name.short) > LONG_NAME


@dataclass(frozen=True, slots=True)
class Room:
    """The measures that a face is drawn to, millimetres and points."""

    plate: Area
    size_line: float
    """Width of the line of size and scale under the plate."""
    least_line: float
    """The same on the narrowest of all that are printed together: the scale of their bars is chosen for it."""
    code: float
    points: float
    """Type size of the line of size and scale."""
    season: float
    """Width of the season bars with their labels."""
    season_points: float
    front_points: float = 0.0
    rule: int = 50
    strip: Area = field(default_factory=lambda: Area(0.0, 0.0))
    """What the pictures of other stages and sexes have; none are shown where it is nothing."""
    left_out: frozenset[str] = field(default_factory=frozenset)


def draw_face(card: CardView, pictures: Pictures, room: Room, inks: Inks) -> Face:
    """Draw a card's pieces to these measures."""
    out = room.left_out
    marks = number_marks(shown_marks(card, out), card.plate.id if card.plate and card.plate.id in pictures else "")
    alike = shown_look_alikes(card, out)
    hosts = shown_hosts(card, out)
    placing = _place(card.plate, pictures, room.plate, marks, inks)
    months, rows = _season(card, room, inks)
    life_size = _life_size(card, room, inks)
    cautions = (*shown_cautions(card.cautions, out), *shown_laws(card.laws, out))
    return Face(
        card=card,
        plate=placing.plate if placing else None,
        plate_height=room.plate.height,
        placing=placing,
        scale=_scale(card, placing, room, inks),
        life_size=life_size,
        marks=marks,
        look_alikes=alike,
        more_look_alikes=len(card.look_alikes) - len(alike),
        months=months,
        season_rows=rows,
        hosts=group_hosts(hosts),
        more_hosts=len(card.hosts) - len(hosts),
        facts=shown_facts(card, out),
        habitat=NO_WORDS if "habitat" in out else card.habitat,
        look=shown_look(card, out),
        stages=shown_stages(card, out),
        map=shown_map(card, out, inks),
        strip=draw_strip(card, pictures, room.strip, room.front_points, out) if room.strip.height else None,
        thumbs=draw_thumbs(card, pictures, room.front_points, out, inks),
        credit=card.credit(_small(card, room)),
        more=card.words.more_there if out else "",
        code=drawing.draw_code(card.address, room.code) if card.address and room.code else None,
        edge_rule=drawing.edge_rule(room.rule, inks, card.words.fifty) if room.rule else None,
        cautions=cautions,
        cautions_in_short=cautions != (*card.cautions, *card.laws),
        caution_mark=drawing.caution_mark(card.words.caution),
    )


def _small(card: CardView, room: Room) -> frozenset[str]:
    """The small pictures that are drawn in this room."""
    hidden = frozenset(number_piece(FORM, n) for n in range(1, len(card.forms) + 1)) if not room.strip.height else frozenset()
    return shown_small(card, room.left_out | hidden)


def _place(photo: PhotoView | None, pictures: Pictures, box: Area, marks: Sequence[MarkView], inks: Inks) -> Placing | None:
    picture = pictures.get(photo.id) if photo else None
    if photo is None or picture is None:
        return None
    pointed = [mark for mark in marks if mark.number]
    spot = drawing.fit_picture(box, (picture.width, picture.height))
    drawn = draw_plate(picture, box, spot, pointed, photo.alt or photo.caption, inks, measured=photo.measured, near=photo.may_be_cut)
    return Placing(drawn, spot, picture.width)


def _scale(card: CardView, placing: Placing | None, room: Room, inks: Inks) -> Markup | None:
    """How many times life size an enlarged picture is, with a bar of round length: as much as has room beside size and life-size bar."""
    photo = card.plate
    if photo is None or placing is None or not (photo.measured and photo.length):
        return None
    times = drawing.magnification_of(placing.spot, photo.measured, photo.length)
    said = card.words.enlarged.format(times=drawing.said_scale(times))
    left = room.size_line - _size_taken(card, room)
    if times < _ENLARGED or measure_width(said, room.points) > left:
        return None
    bar = drawing.scale_bar(times, room.size_line * 0.13, inks)
    if bar is None or bar[1] * times + measure_width(f"{said}:  {bar[1]:g} mm", room.points) > left:
        return escape(said)
    return Markup("{}: {} {:g}\u00a0mm").format(said, bar[0], bar[1])


def _size_taken(card: CardView, room: Room) -> float:
    """About how wide size and life-size bar stand in one line."""
    size, scale = card.size, choose_scale(card.sizes, room.least_line)
    if size is None:
        return 0.0
    said = f" {size.whole} {scale.said if scale else ''}"
    words = measure_width(card.words.size, room.points, bold=True) + measure_width(said, room.points)
    return words + (draw_width(size, scale) if scale else 0.0) + room.points * MM_PER_INCH / 72 * _LIFE_GAPS + _SCALE_APART


def _life_size(card: CardView, room: Room, inks: Inks) -> LifeSize | None:
    scale = choose_scale(card.sizes, room.least_line)
    if card.size is None or scale is None:
        return None
    drawn = draw_size(card.size, scale, f"{card.size.typed}, {scale.said}", inks)
    return LifeSize(drawn, scale.said, bool(scale.thing) or card.size.upright, card.size.upright) if drawn else None


def _season(card: CardView, room: Room, inks: Inks) -> tuple[Markup | None, tuple[SeasonDrawing, ...]]:
    season = card.season
    if season is None:
        return None, ()
    shown = shown_seasons(card, room.left_out)
    labels = max(measure_width(row.label, room.season_points) for row in shown) + 2.0
    reach = room.season - min(labels, room.season * 0.45)
    tall = room.season_points / POINTS_PER_MM * 0.92
    rows = tuple(SeasonDrawing(row.label, drawing.season_row(row, reach, tall, inks)) for row in shown)
    return drawing.month_row(season.months, reach, tall * 0.9, ", ".join(season.month_names), inks), rows
