"""About how much room the words of a card take.

After the shipped stylesheet's line heights; with another theme the guess is worse and a card is laid out once more.
"""

from __future__ import annotations

from math import ceil

from guidebuild.press.outputs.cards.face import LONG_NAME
from guidebuild.press.outputs.cards.map_room import stand_beside
from guidebuild.press.outputs.cards.shown import (
    IN_FULL,
    shown_cautions,
    shown_facts,
    shown_hosts,
    shown_laws,
    shown_look,
    shown_look_alikes,
    shown_marks,
    shown_seasons,
    shown_stages,
    shown_thumbs,
)
from guidebuild.press.outputs.cards.small_pictures import THUMB_APART, thumb_place, thumbs_foot
from guidebuild.press.paper.measuring import FINE, count_lines, measure_width, size_line_type
from guidebuild.press.paper.size_bars import choose_scale, draw_height, draw_width
from guidebuild.views.cards.card import CardView, group_hosts

NONE: frozenset[str] = frozenset()
IMPRINT = 6.5
"""Points."""
_MM_A_POINT = 25.4 / 72
_BESIDE_GAP = 3.0


def name_words(card: CardView, points: float, room: float, left_out: frozenset[str] = NONE) -> float:
    """About how many millimetres the names on the front take."""
    size = 1.45 if len(card.name.short) > LONG_NAME else 1.9
    name = count_lines(card.name.short, points * size, room, bold=True, serif=True) * size * 1.05
    under = card.name.plain + ("" if "authority" in left_out else f" {card.name.authority}")
    return (name + count_lines(under, points * 1.1, room, serif=True) * 1.16 * 1.2 + 0.15) * points * _MM_A_POINT


def front_words(card: CardView, points: float, room: float, left_out: frozenset[str] = NONE) -> float:
    """The same for all words on the front of an upright card."""
    telling = tell_words(card, points, room, left_out, beside=beside_marks(card, room))
    scale = choose_scale(card.sizes, room)
    line = size_line_type(points, fine=points < FINE) * 1.35 * _MM_A_POINT
    size = max(line, size_words(card, points, room, room) - 1.1) if scale and scale.times < 1 else line
    return name_words(card, points, room, left_out) + telling + size + 7.6


def tell_words(card: CardView, points: float, room: float, left_out: frozenset[str] = NONE, *, beside: float = 0.0) -> float:
    """The same for marks and look-alikes; something stands `beside` the marks and takes so much of their lines."""
    em = points * _MM_A_POINT
    shown_alike = shown_look_alikes(card, left_out)
    scientific = "scientific names of look-alikes" not in left_out
    marks = sum(
        count_lines(m.said.words, points * 1.04, room - beside - 1.62 * em, bold=True) * 1.25 + 0.27 for m in shown_marks(card, left_out)
    )
    thumbs = shown_thumbs(card, left_out)
    wide, high = thumb_place(points)
    alike = 0.0
    for other in shown_alike:
        said = f"{card.words.not_this} {other.name.short} {other.name.plain if scientific else ''} {other.tell}"
        pictured = other.photo in thumbs
        lines = count_lines(said, points, room - (wide if pictured else em)) * 1.2 + 0.22
        alike += max(lines, (high + THUMB_APART) / em) if pictured else lines
    alike += 1.4 if len(shown_alike) < len(card.look_alikes) else 0.0
    return (marks + alike) * em + thumbs_foot(card, points, left_out)


def size_words(card: CardView, points: float, room: float, least_line: float) -> float:
    """The same for the line of size and scale under the plate; `least_line` as for the scale of its bar."""
    size, scale, fine = card.size, choose_scale(card.sizes, least_line), points < FINE
    small = size_line_type(points, fine=fine)
    em, beside = small * _MM_A_POINT, small if fine else small * 0.9
    drawn = scale if size and size.high else None
    said, bar = f"{card.words.size} {size.whole}" if size else "", draw_width(size, drawn) if size and drawn else 0.0
    if size and drawn and (drawn.thing or size.upright):
        left = room - bar - _BESIDE_GAP
        lines = count_lines(said, small, left) + count_lines(drawn.said, beside, left) * beside / small
        return max(lines * em * 1.3, 0.0 if size.upright and room == least_line else draw_height(size, drawn)) + 1.1
    wide = measure_width(f"{said} {drawn.said if drawn else ''}", small) + bar
    lines = max(1, ceil(wide / room))
    return (lines + (1 if wide / lines + measure_width(" × 0.00", points) > room else 0)) * em * 1.3 + 1.1


def beside_marks(card: CardView, room: float) -> float:
    """How much of the line an upright drawing of the size takes from the marks that stand beside it."""
    scale = choose_scale(card.sizes, room) if card.size and card.size.upright else None
    return draw_width(card.size, scale) + _BESIDE_GAP if card.size and scale else 0.0


def imprint_words(card: CardView, room: float, small: frozenset[str] = NONE) -> float:
    """The same for address, credit and date at the foot, which are in the least type; `small` are the small pictures that are shown."""
    credit = card.credit(small)
    picture = card.words.picture.format(credit=credit) if credit else ""
    told = (card.address, picture, f"{card.guide} · {card.words.facts_on.format(date=card.facts_on)}")
    return sum(count_lines(text, IMPRINT, room) for text in told if text.strip()) * IMPRINT * 1.2 * _MM_A_POINT


def back_words(card: CardView, points: float, room: float, left_out: frozenset[str] = NONE, *, small: bool = False) -> float:
    """The same for the words on the back; on a `small` card headings run in with their text."""
    em, say = points * _MM_A_POINT, card.words
    paragraphs = (
        (say.hosts, _plants(card, left_out)),
        *((fact.label, fact.text.words) for fact in shown_facts(card, left_out)),
        (say.where, f"{'' if 'habitat' in left_out else card.habitat} {shown_look(card, left_out)}".strip()),
    )
    facts = [(heading, text) for heading, text in paragraphs if text]
    stages = tuple(" ".join((line.label, *(one.words for one in line.sentences))) for line in shown_stages(card, left_out))
    cautions = (*shown_cautions(card.cautions, left_out), *shown_laws(card.laws, left_out))
    warned = [(f"W {c.title}", f"{c.whole} {c.deferred}") for c in cautions]
    season = len(shown_seasons(card, left_out)) * 1.22 + 1.0 if card.season else 0.0
    if small:
        running = [*facts, *([(say.life, " ".join(stages))] if stages else [])]
        told = sum(count_lines(f"{heading} {words}", points, room) for heading, words in running)
        text = told + (stand_beside(card, told * 1.2 * em, room, left_out) / (1.2 * em) if card.map else 0.0)
        boxes = [" ".join(f"{heading} {words}" for heading, words in warned)] if IN_FULL in left_out else [" ".join(w) for w in warned]
        text += sum(count_lines(words, points, room - 2.4) for words in boxes if words)
        return (1.2 + text * 1.2 + season) * em + 0.95 * (len(running) + 1) + 2.4 * len([words for words in boxes if words]) + 0.6
    high = sum(count_lines(words, points, room) * 1.22 + 1.2 for _, words in facts)
    high += sum(count_lines(words, points, room - 0.9 * em) * 1.2 + 0.15 for words in stages) + (1.2 if stages else 0.0)
    high += stand_beside(card, high * em, room, left_out) / em if card.map else 0.0
    high += sum(count_lines(words, points, room - 4) * 1.2 + 1.2 for _, words in warned)
    return (1.2 + high + season) * em + 1.5 * (len(facts) + 2) + 3.6 * len(warned) + 1.5


def _plants(card: CardView, left_out: frozenset[str]) -> str:
    hosts = shown_hosts(card, left_out)
    return "; ".join(", ".join(name.short for name in names) + (f" ({use})" if use else "") for use, names in group_hosts(hosts))
