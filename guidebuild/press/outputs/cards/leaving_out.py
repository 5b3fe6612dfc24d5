"""Which pieces of a card may be left out, the least needed first, and how each is told.

A theme ranks kinds of pieces (`left out first` in card.yaml). On a card they go one by one: of a text its last sentence first, of a list
its last item. Small pictures, the map, then sentences after the first two of where to look and after the first of each
stage, go before all that a theme ranks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from guidebuild.press.outputs.cards.shown import (
    ALIKE_PICTURES,
    FORM,
    IN_FULL,
    LAW_IN_FULL,
    LOOK,
    LOOK_ALIKE,
    MAP,
    MARK,
    PLANT,
    SEASON,
    number_piece,
    stage_piece,
)
from guidebuild.views.cards.card import CardView, StageLine
from guidebuild.views.pieces.common import Wording

_FIRST_MARKS, _FIRST_LOOK_ALIKES, _FIRST_HOSTS, _FIRST_LOOK = 3, 3, 6, 2
_FEW = 3
"""So many plants are told one by one."""
_WORDS_TOLD = 5
"""So many words of a sentence are enough to find it again."""


def rank_sentences(card: CardView) -> tuple[str, ...]:
    """What goes before type gets smaller: the map, later sentences of where to look, then of the stages.

    Of these, what is said of the stages that one looks for goes last.
    """
    shown = (MAP,) if card.map else ()
    look = _from_end(LOOK, len(card.look), _FIRST_LOOK)
    stages = (piece for line in _least_sought(card) for piece in _from_end(stage_piece(line), len(line.sentences), 1))
    return (*shown, *look, *stages)


def rank_forms(card: CardView) -> tuple[str, ...]:
    """The small pictures of other stages and sexes, which go before anything else of the front gives way."""
    return tuple(_from_end(FORM, len(card.forms), 0))


def rank_small(card: CardView) -> tuple[str, ...]:
    """All small pictures: after those, the ones of look-alikes go together."""
    return (*rank_forms(card), *((ALIKE_PICTURES,) if any(other.photo for other in card.look_alikes) else ()))


def rank_pieces(card: CardView, ranked: Iterable[str]) -> tuple[str, ...]:
    """What a theme ranks as the pieces that this card has, one by one, the least needed first."""
    return tuple(piece for kind in ranked for piece in _spell_out(card, kind))


def _spell_out(card: CardView, kind: str) -> Iterable[str]:
    several, has = _SEVERAL.get(kind), _HAS.get(kind)
    if several:
        return several(card)
    shown = has(card) if has else any(fact.key == kind for fact in card.facts)
    return (kind,) if shown else ()


def _from_end(of: str, count: int, kept: int) -> Iterator[str]:
    return (number_piece(of, number) for number in range(count, kept, -1))


def _least_sought(card: CardView) -> Sequence[StageLine]:
    """The stages in their order, those that one looks for after all others: what grows last is met most."""
    return sorted(card.stages, key=lambda line: line.stage in card.sought)


def _stage_lines(card: CardView) -> Iterator[str]:
    return (number_piece(stage_piece(line), 1) for line in _least_sought(card))


def _other_seasons(card: CardView) -> Iterator[str]:
    """The rows of stages that one does not look for; all stay where there are no others."""
    rows = card.season.rows if card.season else ()
    if not any(row.stage in card.sought for row in rows):
        return iter(())
    return (number_piece(SEASON, number) for number in range(len(rows), 0, -1) if rows[number - 1].stage not in card.sought)


_SEVERAL: Mapping[str, Callable[[CardView], Iterable[str]]] = {
    "later marks": lambda card: _from_end(MARK, len(card.marks), _FIRST_MARKS),
    "marks after the second": lambda card: _from_end(MARK, min(len(card.marks), _FIRST_MARKS), 2),
    "later look-alikes": lambda card: _from_end(LOOK_ALIKE, len(card.look_alikes), _FIRST_LOOK_ALIKES),
    "look-alikes after the second": lambda card: _from_end(LOOK_ALIKE, min(len(card.look_alikes), _FIRST_LOOK_ALIKES), 2),
    "look-alikes after the first": lambda card: _from_end(LOOK_ALIKE, min(len(card.look_alikes), 2), 1),
    "later plants": lambda card: _from_end(PLANT, len(card.hosts), _FIRST_HOSTS),
    "where to look": lambda card: _from_end(LOOK, min(len(card.look), _FIRST_LOOK), 0),
    "stages": _stage_lines,
    "seasons of other stages": _other_seasons,
}
"""Kinds of which several pieces may go, one after the other."""

_HAS: Mapping[str, Callable[[CardView], bool]] = {
    "authority": lambda card: bool(card.name.authority and card.name.vernacular),
    "scientific names of look-alikes": lambda card: any(a.name.vernacular for a in card.look_alikes),
    "season": lambda card: card.season is not None,
    "habitat": lambda card: bool(card.habitat),
    "use of plants": lambda card: any(h.use for h in card.hosts),
    IN_FULL: lambda card: any(c.short for c in card.cautions),
    LAW_IN_FULL: lambda card: bool(card.laws),
}
"""Whether a card has a kind that goes as a whole."""


def tell_left_out(card: CardView, ranked: Sequence[str], out: frozenset[str]) -> str:
    """The pieces that are left out, as an author finds them again; the least needed first."""
    said = _said(card)
    plants = [number for number in range(1, len(card.hosts) + 1) if number_piece(PLANT, number) in out]
    if len(plants) > _FEW:
        together = f"{len(plants)} plants from {card.hosts[plants[0] - 1].name.short} on"
        said = {**said, **{number_piece(PLANT, number): together for number in plants}}
    return ", ".join(dict.fromkeys(said.get(piece, piece) for piece in ranked if piece in out))


def _said(card: CardView) -> Mapping[str, str]:
    rows = card.season.rows if card.season else ()
    return {
        MAP: "the map",
        **{number_piece(FORM, n): f"the picture “{photo.whose}”" for n, photo in enumerate(card.forms, 1)},
        ALIKE_PICTURES: "the pictures of look-alikes",
        **{number_piece(LOOK, n): f"“{_begin(text)}”" for n, text in enumerate(card.look, 1)},
        **{number_piece(stage_piece(s), n): f"“{_begin(t)}” ({s.label})" for s in card.stages for n, t in enumerate(s.sentences, 1)},
        **{number_piece(MARK, n): f"the mark “{mark.said.words}”" for n, mark in enumerate(card.marks, 1)},
        **{number_piece(LOOK_ALIKE, n): f"the look-alike {other.name.short}" for n, other in enumerate(card.look_alikes, 1)},
        **{number_piece(PLANT, n): f"the plant {host.name.short}" for n, host in enumerate(card.hosts, 1)},
        **{number_piece(SEASON, n): f"the season “{row.label}”" for n, row in enumerate(rows, 1)},
    }


def _begin(text: Wording) -> str:
    words = text.words.split()
    return text.words if len(words) <= _WORDS_TOLD else f"{' '.join(words[:_WORDS_TOLD])} …"
