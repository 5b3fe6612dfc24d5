"""What of a card is shown once some of its pieces are left out. A list or a text loses its items and sentences from the end."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from typing import TypeVar

from guidebuild.views.cards.card import CardFact, CardHost, CardLookAlike, CardView, StageLine
from guidebuild.views.pieces.common import NO_WORDS, CautionView, MarkView, PhotoView, SeasonRow, Wording, join_wordings

_Item = TypeVar("_Item")
LOOK, MARK, LOOK_ALIKE, PLANT, SEASON, STAGE = "where to look", "mark", "look-alike", "plant", "season", "stage"
"""What a numbered piece belongs to."""
MAP = "map"
FORM, ALIKE_PICTURES = "picture", "pictures of look-alikes"
"""Small pictures: of other stages and sexes, which are numbered, and of look-alikes, which come and go together."""
IN_FULL = "cautions in full"
"""What is left out where the short forms of cautions are printed."""
LAW_IN_FULL = "law in full"
"""What is left out where only the day of a note on the law is printed."""


def number_piece(of: str, number: int) -> str:
    """What one item of a list, or one sentence of a text, is called among all that may be left out; the first is 1."""
    return f"{of} {number}"


def keep_items(items: Sequence[_Item], of: str, out: frozenset[str]) -> tuple[_Item, ...]:
    """The items that are left."""
    return tuple(item for number, item in enumerate(items, 1) if number_piece(of, number) not in out)


def shown_marks(card: CardView, out: frozenset[str]) -> tuple[MarkView, ...]:
    """The marks that are left."""
    return keep_items(card.marks, MARK, out)


def shown_look_alikes(card: CardView, out: frozenset[str]) -> tuple[CardLookAlike, ...]:
    """The look-alikes that are left."""
    return keep_items(card.look_alikes, LOOK_ALIKE, out)


def shown_forms(card: CardView, out: frozenset[str]) -> tuple[PhotoView, ...]:
    """The small pictures of other stages and sexes that are left."""
    return keep_items(card.forms, FORM, out)


def shown_thumbs(card: CardView, out: frozenset[str]) -> tuple[PhotoView, ...]:
    """The pictures of look-alikes that are left."""
    return () if ALIKE_PICTURES in out else tuple(other.photo for other in shown_look_alikes(card, out) if other.photo)


def shown_small(card: CardView, out: frozenset[str]) -> frozenset[str]:
    """The ids of all small pictures that are left."""
    return frozenset(photo.id for photo in (*shown_forms(card, out), *shown_thumbs(card, out)))


def with_pictures(card: CardView, pictures: Collection[str]) -> CardView:
    """A card without the small pictures of which there is no file; `pictures` by the ids of their photos."""
    alike = tuple(replace(other, photo=other.photo if other.photo and other.photo.id in pictures else None) for other in card.look_alikes)
    forms = tuple(photo for photo in card.forms if photo.id in pictures)
    return replace(card, forms=forms, look_alikes=alike)


def shown_hosts(card: CardView, out: frozenset[str]) -> tuple[CardHost, ...]:
    """The host plants that are left, without their use where there is no room for it."""
    hosts = keep_items(card.hosts, PLANT, out)
    return tuple(replace(host, use=NO_WORDS) for host in hosts) if "use of plants" in out else hosts


def shown_facts(card: CardView, out: frozenset[str]) -> tuple[CardFact, ...]:
    """The lines of facts that are left."""
    return tuple(fact for fact in card.facts if fact.key not in out)


def shown_seasons(card: CardView, out: frozenset[str]) -> tuple[SeasonRow, ...]:
    """The rows of the year that are left."""
    return keep_items(card.season.rows, SEASON, out) if card.season else ()


def shown_look(card: CardView, out: frozenset[str]) -> Wording:
    """Where to look, as far as there is room."""
    return join_wordings(" ", keep_items(card.look, LOOK, out))


def shown_stages(card: CardView, out: frozenset[str]) -> tuple[StageLine, ...]:
    """The stages that are left, each with the sentences that are left of it."""
    lines = (replace(line, sentences=keep_items(line.sentences, stage_piece(line), out)) for line in card.stages)
    return tuple(line for line in lines if line.sentences)


def stage_piece(line: StageLine) -> str:
    """What the sentences of a stage belong to."""
    return f"{STAGE} {line.stage}"


def shown_cautions(cautions: Iterable[CautionView], out: frozenset[str]) -> tuple[CautionView, ...]:
    """All cautions: none is ever left out. In short where that is asked for and there is a short form; an author's own stay whole."""
    short = IN_FULL in out
    return tuple(replace(c, text=c.short, marked=None, local="") if short and c.short else c for c in cautions)


def shown_laws(laws: tuple[CautionView, ...], out: frozenset[str]) -> tuple[CautionView, ...]:
    """Notes on the law; where there is no room for their words, the day and to check the current law."""
    return tuple(replace(law, text="", address="") for law in laws) if LAW_IN_FULL in out else laws
