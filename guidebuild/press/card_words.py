"""About how much room the words of a card take, and which pieces it has that may be left out.

After the shipped stylesheet's line heights; with another theme the guess is worse and a card is laid out once more.
"""

from __future__ import annotations

from guidebuild.press.card_face import FIRST_HOSTS, FIRST_LOOK_ALIKES, FIRST_MARKS, shown_look_alikes, shown_marks
from guidebuild.press.measuring import lines
from guidebuild.views.card import CardView

NONE: frozenset[str] = frozenset()
_MM_A_POINT = 25.4 / 72


def has(card: CardView, piece: str) -> bool:
    """Whether the card has such a piece at all."""
    return {
        "authority": bool(card.name.authority and card.name.vernacular),
        "scientific names of look-alikes": any(a.name.vernacular for a in card.look_alikes),
        "later marks": len(card.marks) > FIRST_MARKS,
        "later look-alikes": len(card.look_alikes) > FIRST_LOOK_ALIKES,
        "look-alikes after the first": len(card.look_alikes) > 1,
        "marks after the second": len(card.marks) > 2,
        "habitat": bool(card.habitat),
        "use of plants": any(h.use for h in card.hosts),
        "later plants": len(card.hosts) > FIRST_HOSTS,
        "where to look": bool(card.look),
        "stages": bool(card.stages),
    }.get(piece, False)


def front_words(card: CardView, points: float, room: float, left_out: frozenset[str] = NONE) -> float:
    """About how many millimetres the words on the front take."""
    em = points * _MM_A_POINT
    shown_alike = shown_look_alikes(card, left_out)
    scientific = "scientific names of look-alikes" not in left_out
    name = lines(card.name.short, points * 1.9, room, bold=True, serif=True) * 1.9 * 1.05
    under = card.name.plain + ("" if "authority" in left_out else f" {card.name.authority}")
    name += lines(under, points * 1.1, room, serif=True) * 1.16 * 1.2 + 0.15
    marks = sum(lines(m.words, points * 1.04, room - 1.62 * em, bold=True) * 1.25 + 0.27 for m in shown_marks(card, left_out))
    alike = sum(
        lines(f"{card.words.not_this} {a.name.short} {a.name.plain if scientific else ''} {a.tell}", points, room - em) * 1.2 + 0.22
        for a in shown_alike
    )
    alike += 1.4 if len(shown_alike) < len(card.look_alikes) else 0.0
    return (name + marks + alike + 0.92 * 1.35) * em + 7.6


def back_words(card: CardView, points: float, room: float, left_out: frozenset[str] = NONE) -> float:
    """The same for the words on the back."""
    em = points * _MM_A_POINT
    hosts = card.hosts[:FIRST_HOSTS] if "later plants" in left_out else card.hosts
    uses = "use of plants" not in left_out
    plants = ", ".join(f"{h.name.short} ({h.use})" if h.use and uses else h.name.short for h in hosts)
    rest = "the rest" not in left_out
    look = "" if "where to look" in left_out else f"{card.look} {card.look_rest if rest else ''}"
    facts = [
        text for text in (plants or card.hosts_reason, card.prey, f"{'' if 'habitat' in left_out else card.habitat} {look}") if text.strip()
    ]
    facts_lines = sum(lines(text, points, room) * 1.22 + 1.2 for text in facts)
    told = () if "stages" in left_out else card.stages
    stages = sum(lines(f"{s.label} {s.text} {s.rest if rest else ''}", points, room - 0.9 * em) * 1.2 + 0.15 for s in told)
    warned = sum(lines(f"{c.text} {c.local}", points, room - 4) * 1.2 + 1.2 for c in card.cautions)
    season = len(card.season.rows) * 1.22 + 1.0 if card.season else 0.0
    gaps = 1.5 * (len(facts) + 2) + 3.6 * len(card.cautions) + 1.5
    return (1.2 + facts_lines + stages + (1.2 if stages else 0.0) + warned + season) * em + gaps
