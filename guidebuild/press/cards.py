"""Field cards: fitted to their format by laying them out, printed as PDF/UA-1.

A card starts at the format's largest type with a plate as high as a rough measure of the words leaves.  If the layout
says that it does not fit, in this order: the plate gives way down to its least height, the type steps down the theme's
sizes to the format's least, what the theme ranks least is left out; what is still over becomes a problem.  A card that
fits at once is laid out once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from guidebuild.press.card_face import Face, Pictures, Room, face
from guidebuild.press.card_page import (
    COLUMN_GAP,
    PLATE_LEAST,
    PLATE_MOST,
    WIDE_LEAST,
    WIDE_PLATE,
    card_css,
    code_side,
    foot,
    front_text,
    is_small,
)
from guidebuild.press.card_theme import Theme, theme
from guidebuild.press.card_words import back_words, front_words, has
from guidebuild.press.drawing import HIGH_CONTRAST, PLAIN, Inks
from guidebuild.press.fetching import GuideFetcher
from guidebuild.press.formats import Area, Format
from guidebuild.press.giving_way import REST, too_long
from guidebuild.press.layout import Laid, Side, lay_out, write
from guidebuild.press.pictures import PRINT_PPI, print_width
from guidebuild.press.problems import Problem
from guidebuild.views.card import CardView

FRONT, BACK = "front", "back"
_MOST_LAYOUTS = 9


@dataclass(frozen=True, slots=True)
class Fit:
    """How one side is set."""

    points: float
    left_out: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class CardResult:
    """One card as a two-page PDF, and what went wrong; a card that does not fit has no `pdf`."""

    id: str
    pdf: bytes
    problems: tuple[Problem, ...]
    layouts: int = 1


@dataclass(frozen=True, slots=True)
class Setting:
    """One try at setting a card: both sides and the height of the plate."""

    front: Fit
    back: Fit
    plate: float
    share: float = WIDE_PLATE
    """Of the width, for the plate of a card that lies on its side."""


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that stays the same while one card is fitted."""

    card: CardView
    pictures: Pictures
    format: Format
    theme: Theme
    inks: Inks
    contrast: bool
    bleed: float

    @property
    def where(self) -> str:
        """How a problem names the card."""
        return f"card {self.card.id}"

    @property
    def fetcher(self) -> GuideFetcher:
        """Serves this card's pictures and nothing else."""
        return GuideFetcher(files={f"pictures/{p.path.name}": p.path for p in self.pictures.values()})


def render_card(  # noqa: PLR0913 - four that every print needs, and named options
    card: CardView,
    pictures: Pictures,
    card_format: Format,
    theme_folders: Sequence[Path],
    *,
    contrast: bool = False,
    bleed: float = 0.0,
) -> CardResult:
    """Print one card, front and back, in its trimmed size with `bleed` millimetres round it."""
    inks = HIGH_CONTRAST if contrast else PLAIN
    job = Job(card, pictures, card_format, theme(tuple(theme_folders)), inks, contrast, bleed)
    setting, laid, drawn, layouts = fit(job)
    problems = [*_picture_problems(job, drawn), *_left_out_problems(job, setting)]
    over = [_over_problem(job, side, setting) for side in laid.sides if side.over or side.wide]
    if over:
        return CardResult(card.id, b"", (*problems, *over), layouts)
    pdf, logged = write(laid, job.where)
    return CardResult(card.id, pdf, (*problems, *_named(job, logged)), layouts)


def fit(job: Job) -> tuple[Setting, Laid, Face, int]:
    """Lay a card out until it fits or nothing more can give way."""
    setting, count = _first_setting(job), 0
    while True:
        html, drawn = card_html(job, setting)
        laid = lay_out(html, card_css(job.theme, job.format, job.bleed), job.fetcher, {BACK: foot(job.format)})
        count += 1
        after = _next_setting(job, setting, laid)
        if after is None or count == _MOST_LAYOUTS:
            return setting, laid, drawn, count
        setting = after


def card_html(job: Job, setting: Setting) -> tuple[str, Face]:
    """The card as HTML, and the pieces that are in it."""
    inner = job.format.inner
    plate = Area(inner.width * setting.share if job.format.wide else inner.width, setting.plate)
    room = Room(
        plate=plate,
        text=inner.width,
        front_text=front_text(job.format, setting.share),
        code=code_side(job.format),
        back_points=setting.back.points,
        rule=0 if job.format.wide else 50,
        left_out=setting.front.left_out | setting.back.left_out,
    )
    drawn = face(job.card, job.pictures, room, job.inks)
    html = job.theme.page(
        "card.html",
        card=job.card,
        face=drawn,
        front=setting.front,
        back=setting.back,
        language=job.card.language,
        title=f"{job.card.name.short} – {job.card.guide}",
        shape="wide" if job.format.wide else "tall",
        small=is_small(job.format),
        contrast=job.contrast,
        plate_width=plate.width,
        column_gap=COLUMN_GAP,
    )
    return html, drawn


def _sizes(job: Job) -> tuple[float, ...]:
    return tuple(s for s in job.theme.sizes if job.format.least_type <= s <= job.format.largest_type)


def _first_setting(job: Job) -> Setting:
    sizes = _sizes(job)
    inner = job.format.inner
    if job.format.wide:
        fits = [s for s in sizes if front_words(job.card, s, front_text(job.format)) <= inner.height]
        return Setting(Fit(fits[0] if fits else sizes[-1]), _back_first(job), inner.height)
    wanted = _plate_wanted(job)
    fits = [s for s in sizes if inner.height - front_words(job.card, s, inner.width) >= wanted]
    points = fits[0] if fits else sizes[-1]
    plate = min(inner.height - front_words(job.card, points, inner.width), wanted)
    return Setting(Fit(points), _back_first(job), max(plate, inner.height * PLATE_LEAST))


def _plate_wanted(job: Job) -> float:
    """As high as the whole picture is at the width of the card, between the least and the most."""
    inner, photo = job.format.inner, job.card.plate
    picture = job.pictures.get(photo.id) if photo else None
    tall = inner.width * picture.height / picture.width if picture else 0.0
    return min(max(tall, inner.height * PLATE_LEAST), inner.height * PLATE_MOST)


def _back_first(job: Job) -> Fit:
    inner = job.format.inner
    room = inner.height - foot(job.format)
    sizes, least = _sizes(job), min(job.theme.comfortable, job.format.largest_type)
    whole = [s for s in sizes if s >= least and back_words(job.card, s, inner.width) <= room]
    if whole:
        return Fit(whole[0])
    fits = [s for s in sizes if back_words(job.card, s, inner.width, REST) <= room]
    return Fit(fits[0] if fits else sizes[-1], REST)


def _next_setting(job: Job, setting: Setting, laid: Laid) -> Setting | None:
    """What to give way next, or nothing when all fits or nothing can."""
    after = setting
    front, back = laid.side(FRONT), laid.side(BACK)
    if front.over:
        after = _front_after(job, after, front)
    if back.over:
        after = replace(after, back=_fit_after(job, after.back, back, BACK))
    return None if after == setting else after


def _front_after(job: Job, setting: Setting, side: Side) -> Setting:
    if job.format.wide:
        if setting.share > WIDE_LEAST:
            return replace(setting, share=max(setting.share - 0.06, WIDE_LEAST))
    else:
        least = job.format.inner.height * PLATE_LEAST
        if setting.plate - side.over - 0.3 >= least:
            return replace(setting, plate=setting.plate - side.over - 0.3)
        if setting.plate > least + 0.5:
            return replace(setting, plate=least)
    return replace(setting, front=_fit_after(job, setting.front, side, FRONT))


def _fit_after(job: Job, fit_now: Fit, side: Side, name: str) -> Fit:
    room = job.format.inner.height
    fixed = side.pieces.get("plate", 0.0) if name == FRONT else 0.0
    words = max(room - fixed, 1.0)
    if name == BACK and not fit_now.left_out >= REST:
        return replace(fit_now, left_out=fit_now.left_out | REST)
    # Words fill an area: their height goes with the square of the type size.
    wanted = fit_now.points * ((words / (words + side.over)) ** 0.5)
    smaller = [size for size in _sizes(job) if size < fit_now.points]
    if smaller:
        return replace(fit_now, points=next((s for s in smaller if s <= wanted + 0.25), smaller[-1]))
    return replace(fit_now, left_out=_more_left_out(job, fit_now, side.over, name))


def _more_left_out(job: Job, fit_now: Fit, over: float, name: str) -> frozenset[str]:
    """So many more of the ranked pieces that, at a guess, the excess is gone; at least one, while there is one."""
    words, room = (front_words, front_text(job.format, WIDE_LEAST)) if name == FRONT else (back_words, job.format.inner.width)
    out, before = fit_now.left_out, words(job.card, fit_now.points, room, fit_now.left_out)
    for piece in job.theme.left_out[name]:
        if piece in out or not has(job.card, piece):
            continue
        out |= {piece}
        if before - words(job.card, fit_now.points, room, out) >= over:
            break
    return out


def _picture_problems(job: Job, drawn: Face) -> tuple[Problem, ...]:
    placing, photo = drawn.placing, job.card.plate
    if photo is None or placing is None or placing.ppi >= PRINT_PPI - 1:
        return ()
    wanted = print_width(placing.spot.width)
    return (
        Problem(
            "few-pixels",
            job.where,
            f"the picture “{photo.id}” has {placing.pixels} pixels for {placing.spot.width:.0f} mm, {placing.ppi:.0f} dpi "
            f"where print wants {PRINT_PPI}; give one at least {wanted} pixels wide",
        ),
    )


def _left_out_problems(job: Job, setting: Setting) -> tuple[Problem, ...]:
    return tuple(
        Problem("left-out", job.where, f"to make room at {fit.points:g} pt the {name} leaves out: {', '.join(_in_rank(job, name, fit))}")
        for name, fit in ((FRONT, setting.front), (BACK, setting.back))
        if fit.left_out - REST
    )


def _in_rank(job: Job, name: str, fit: Fit) -> list[str]:
    return [piece for piece in job.theme.left_out[name] if piece in fit.left_out]


def _over_problem(job: Job, side: Side, setting: Setting) -> Problem:
    points = (setting.front if side.name == FRONT else setting.back).points
    title = job.format.title
    if side.wide and not side.over:
        return Problem(
            "too-wide",
            job.where,
            f"on the {side.name} of the {title}, “{side.wide[0]}” is wider than the card even at {points:g} pt; shorten it",
        )
    return too_long(job.where, f"the {side.name} of the {title}", side, points)


def _named(job: Job, logged: Sequence[Problem]) -> tuple[Problem, ...]:
    """A missing sign with the fields of the card that hold it."""
    return tuple(_with_field(job, problem) if problem.what == "missing-sign" else problem for problem in logged)


def _with_field(job: Job, problem: Problem) -> Problem:
    sign = problem.message.split("“", 1)[1].split("”", 1)[0]
    fields = [name for name, text in card_texts(job.card).items() if sign in text]
    return replace(problem, message=f"{job.card.name.short}, {', '.join(fields) or 'some words'}: {problem.message}")


def card_texts(card: CardView) -> Mapping[str, str]:
    """The words of a card by the field of the account that they come from."""
    return {
        "vernacular": card.name.vernacular,
        "name": card.name.plain,
        "authority": card.name.authority,
        "diagnostics": " ".join(m.words for m in card.marks),
        "similar": " ".join(f"{a.name.short} {a.tell}" for a in card.look_alikes),
        "size": f"{card.size.typed} {card.size.what}" if card.size else "",
        "host plants": " ".join(f"{h.name.short} {h.use}" for h in card.hosts) + card.hosts_reason,
        "prey": card.prey,
        "habitat": card.habitat,
        "Where to look": card.look,
        "life stages": " ".join(f"{s.label} {s.text}" for s in card.stages),
        "caution": " ".join(f"{c.title} {c.text} {c.local}" for c in card.cautions),
        "status": card.status,
        "family": card.family,
        "credit": card.plate.credit_line if card.plate else "",
    }
