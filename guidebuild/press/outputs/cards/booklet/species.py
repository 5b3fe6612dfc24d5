"""The spread of a species: its pictures on the left page, its words on the right, fitted sentence by sentence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from guidebuild.counting import count_of
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.booklet.leaf import TEXT, Leaf
from guidebuild.press.outputs.cards.booklet.plates import PlateDrawn, draw_pictures
from guidebuild.press.outputs.cards.face import Face, Room, draw_face
from guidebuild.press.outputs.cards.leaving_out import rank_pieces, rank_sentences, tell_left_out
from guidebuild.press.outputs.cards.shown import LOOK_ALIKE, keep_items
from guidebuild.press.outputs.cards.words import back_words, imprint_words, name_words, size_words, tell_words
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.giving_way import WHOLE, Giving, Setting, too_long
from guidebuild.press.paper.layout import Laid, lay_out, write_pdf
from guidebuild.press.paper.measuring import size_line_type
from guidebuild.press.paper.setup import CardResult, Setup, make_setup
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.booklet.spreads import SpeciesSpread
from guidebuild.words import words

CAPTION = 4.2
"""Millimetres for the words under a picture."""
SCALE = 5.0
"""Millimetres for the scale at the foot of a plate."""
_USUAL = 9.0
"""Points: type is smaller only where all that may be left out has gone and words are still over."""
_MOST_LAYOUTS = 8
_AIR = 5.0
"""Millimetres between the pieces, at a guess."""


@dataclass(frozen=True, slots=True)
class Fitting:
    """All that stays the same while the words of a species are fitted; `pages` are those of its look-alikes, by account."""

    spread: SpeciesSpread
    setup: Setup
    leaf: Leaf
    plate: PlateDrawn
    pages: Mapping[str, int]

    def giving(self, sizes: tuple[float, ...]) -> Giving:
        """By what the page may give way at these sizes of type."""
        card = self.spread.card
        return Giving(
            sizes=sizes,
            least_plate=0.0,
            ranked=rank_pieces(card, self.setup.theme.left_out["booklet"]),
            height=self.guess,
            sentences=rank_sentences(card),
        )

    def guess(self, points: float, out: frozenset[str]) -> float:
        """About how many millimetres the words take."""
        card, wide = self.spread.card, self.leaf.inner.width
        told = tell_words(card, points, wide, out) + name_words(card, points, wide, out) + size_words(card, points, wide, wide)
        return (
            told
            + back_words(card, points, wide, out, small=self.leaf.is_small)
            + imprint_words(card, wide)
            + points * 25.4 / 72 * 1.5
            + _AIR
        )


def render_species(  # noqa: PLR0913, PLR0917 - what each spread needs
    spread: SpeciesSpread,
    pictures: Pictures,
    leaf: Leaf,
    theme_folders: tuple[Path, ...],
    pages: Mapping[str, int],
    contrast: bool = False,
) -> CardResult:
    """Print a species on two facing pages; no `pdf` where its words are over."""
    setup = make_setup(pictures, leaf.format, theme_folders, contrast=contrast)
    room = Area(leaf.inner.width, leaf.inner.height - SCALE)
    plate = draw_pictures(spread.pictures, pictures, room, setup.inks, words(spread.card.language), caption=CAPTION)
    fitting, where = Fitting(spread, setup, leaf, plate, pages), f"booklet {spread.id}"
    setting, laid, count = _fit(fitting)
    side = laid.side(TEXT)
    if side.over or len(laid.document.pages) != 2:
        return CardResult(spread.id, b"", (too_long(where, f"the {leaf.format.title}", side, setting.points),), count)
    pdf, logged = write_pdf(laid, where)
    return CardResult(spread.id, pdf, (*_tell(fitting, setting, where), *logged), count)


def _fit(fitting: Fitting) -> tuple[Setting, Laid, int]:
    """Lay a spread out until its words fit: at the usual sizes all that may go goes first, and only then is type smaller than that."""
    sizes = fitting.setup.sizes
    usual = tuple(size for size in sizes if size >= _USUAL) or sizes
    giving = fitting.giving(usual)
    setting, count = _guess_setting(fitting, giving), 0
    good: tuple[Setting, Laid] | None = None
    while True:
        laid = _lay_out(fitting, setting)
        side, count = laid.side(TEXT), count + 1
        if not side.over:
            good = setting, laid
        after = giving.give_way(setting, side) if side.over else giving.bring_back(setting, side)
        if after == setting and side.over and giving.sizes == usual and len(usual) < len(sizes):
            giving = fitting.giving(sizes)
            after = giving.give_way(setting, side)
        if after == setting or count == _MOST_LAYOUTS:
            return (*good, count) if good else (setting, laid, count)
        setting = after


def _guess_setting(fitting: Fitting, giving: Giving) -> Setting:
    """The largest type at which, at a guess, all words fit; where none does, what must go at the smallest, at a guess too."""
    room, least = fitting.leaf.inner.height, giving.sizes[-1]
    points = next((size for size in giving.sizes if fitting.guess(size, frozenset()) <= room), None)
    if points:
        return Setting(points, 0.0)
    over = fitting.guess(least, frozenset()) - room
    return Setting(least, 0.0, WHOLE.take_out(giving.pieces, lambda out: fitting.guess(least, out), over))


def _lay_out(fitting: Fitting, setting: Setting) -> Laid:
    spread, setup, inner = fitting.spread, fitting.setup, fitting.leaf.inner
    card = spread.card
    room = Room(
        plate=Area(inner.width, inner.width),
        size_line=inner.width,
        least_line=inner.width,
        code=0.0,
        points=size_line_type(setting.points, fine=False),
        season=inner.width,
        season_points=setting.points,
        rule=0,
        left_out=setting.left_out,
    )
    face: Face = replace(draw_face(card, setup.pictures, room, setup.inks), scale=None)
    numbers = keep_items([fitting.pages.get(account, 0) for account in spread.alike], LOOK_ALIKE, setting.left_out)
    html = setup.theme.page(
        "booklet_species.html",
        spread=spread,
        card=card,
        face=face,
        plate=fitting.plate,
        room=inner,
        caption=CAPTION,
        numbers=numbers,
        setting=setting,
        language=card.language,
        contrast=setup.contrast,
        small=fitting.leaf.is_small,
        _=words(card.language),
    )
    return lay_out(html, fitting.leaf.spread_css() + setup.theme.css("card.css") + setup.theme.css("booklet.css"), setup.fetcher)


def _tell(fitting: Fitting, setting: Setting, where: str) -> tuple[Problem, ...]:
    """What the spread does without."""
    told = []
    if setting.left_out:
        pieces = tell_left_out(fitting.spread.card, fitting.giving(fitting.setup.sizes).pieces, setting.left_out)
        told.append(f"to make room at {setting.points:g} pt the {fitting.leaf.format.title} leaves out: {pieces}")
    if fitting.spread.more_pictures:
        told.append(f"the plate has no room for {count_of(fitting.spread.more_pictures, 'more picture')}")
    return tuple(Problem("left-out", where, words) for words in told)
