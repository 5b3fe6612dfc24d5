"""What is told of a printed card: too few pixels, what was left out, what is over, signs without a glyph."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from guidebuild.counting import count_of
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.face import Face
from guidebuild.press.outputs.cards.fitting import BACK, FRONT, CardFitting, CardSetting
from guidebuild.press.outputs.cards.leaving_out import tell_left_out
from guidebuild.press.paper.formats import LEAST_TO_TRIM
from guidebuild.press.paper.giving_way import too_long
from guidebuild.press.paper.layout import Side
from guidebuild.press.paper.near_trim import NearTrim
from guidebuild.press.photos.copies import PRINT_PPI, print_width
from guidebuild.views.cards.card import CardView


def picture_problems(fitting: CardFitting, drawn: Face) -> tuple[Problem, ...]:
    """A picture that has fewer pixels than print wants where it stands."""
    placing, photo = drawn.placing, fitting.card.plate
    if photo is None or placing is None or placing.ppi >= PRINT_PPI - 1:
        return ()
    wanted = print_width(placing.spot.width)
    return (
        Problem(
            "few-pixels",
            fitting.where,
            f"the picture “{photo.id}” has {placing.pixels} pixels for {placing.spot.width:.0f} mm, {placing.ppi:.0f} dpi "
            f"where print wants {PRINT_PPI}; give one at least {wanted} pixels wide",
        ),
    )


def left_out_problems(fitting: CardFitting, setting: CardSetting) -> tuple[Problem, ...]:
    """What each side leaves out."""
    title = fitting.format.title
    return tuple(
        Problem(
            "left-out",
            fitting.where,
            f"to make room at {fit.points:g} pt the {name} of the {title} leaves out: "
            + tell_left_out(fitting.card, fitting.pieces(name), fit.left_out),
        )
        for name, fit in ((FRONT, setting.front), (BACK, setting.back))
        if fit.left_out
    )


def over_problem(fitting: CardFitting, side: Side, setting: CardSetting) -> Problem:
    """By how much a side is over, or the word that is too wide."""
    points = (setting.front if side.name == FRONT else setting.back).points
    title = fitting.format.title
    if side.wide and not side.over:
        return Problem(
            "too-wide",
            fitting.where,
            f"on the {side.name} of the {title}, “{side.wide[0]}” is wider than the card even at {points:g} pt; shorten it",
        )
    return too_long(fitting.where, f"the {side.name} of the {title}", side, points)


def near_problem(where: str, page: str, near: NearTrim, more: int = 0) -> Problem:
    """Type too near the edge that is cut on a `page`, named in words, and on so many more."""
    also = f", and so does type on {count_of(more, 'more page')}" if more else ""
    mend = f"give the pages a margin of {LEAST_TO_TRIM:g} mm or more in the guide's theme/cards/"
    return Problem("near-trim", where, f"{page} {near.said}, where print shops want {LEAST_TO_TRIM:g} mm{also}; {mend}")


def name_problems(card: CardView, logged: Sequence[Problem]) -> tuple[Problem, ...]:
    """A missing sign with the fields of the card that hold it."""
    return tuple(_with_field(card, problem) if problem.what == "missing-sign" else problem for problem in logged)


def _with_field(card: CardView, problem: Problem) -> Problem:
    sign = problem.message.split("“", 1)[1].split("”", 1)[0]
    fields = [name for name, text in card_texts(card).items() if sign in text]
    return replace(problem, message=f"{card.name.short}, {', '.join(fields) or 'some words'}: {problem.message}")


def card_texts(card: CardView) -> Mapping[str, str]:
    """The words of a card by the field of the account that they come from."""
    return {
        "vernacular": card.name.vernacular,
        "name": card.name.plain,
        "authority": card.name.authority,
        "diagnostics": " ".join(m.said.words for m in card.marks),
        "similar": " ".join(f"{a.name.short} {a.tell}" for a in card.look_alikes),
        "size": f"{card.size.typed} {card.size.what}" if card.size else "",
        "host plants": " ".join(f"{h.name.short} {h.use}" for h in card.hosts),
        **{fact.key: fact.text.words for fact in card.facts},
        "habitat": card.habitat.words,
        "Where to look": " ".join(sentence.words for sentence in card.look),
        "life stages": " ".join(f"{s.label} {sentence}" for s in card.stages for sentence in s.sentences),
        "caution": " ".join(f"{c.title} {c.whole} {c.local}" for c in card.cautions),
        "law": " ".join(f"{c.text} {c.deferred}" for c in card.laws),
        "status": card.status.words,
        "family": card.family,
        "credit": card.credit({photo.id for photo in card.photos}),
    }
