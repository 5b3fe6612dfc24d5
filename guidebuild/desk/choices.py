"""What the fields of a guide's records may name, to choose from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from guidebuild.guide.guide import Guide
from guidebuild.reading import shipped_lists


@dataclass(frozen=True, slots=True)
class Choice:
    """A word to choose, and what it stands for."""

    word: str
    label: str


def list_choices(guide: Guide) -> Iterator[tuple[str, tuple[Choice, ...]]]:
    """What fields may name, by kind: ids of records and words of lists, each with what it stands for."""
    stages = chain.from_iterable(group.stages for group in guide.stage_sets.values())
    yield "account", tuple(Choice(a.id, a.vernacular or a.name.plain) for a in guide.accounts.values())
    yield "term", tuple(Choice(term.id, term.word) for term in guide.terms.values())
    yield "plant", tuple(Choice(plant.id, plant.vernacular) for plant in guide.plants.values())
    yield "place", tuple(Choice(place.id, place.name) for place in guide.places.values())
    yield "photo", tuple(Choice(photo.id, photo.shows) for photo in guide.photos.values())
    yield "source", tuple(Choice(source.id, source.cite) for source in guide.sources.values())
    yield "character", tuple(Choice(character.id, character.label) for character in guide.characters.values())
    yield "stage", tuple(Choice(stage, word) for stage, word in dict(stages).items())
    yield "view", tuple(Choice(word, "") for word in shipped_lists.words("views"))
    yield "hazards", tuple(Choice(caution.id, caution.title) for caution in guide.cautions.values())
    yield "licence", tuple(Choice(licence, kind.title) for licence, kind in guide.licences.items())
    yield "group", tuple(Choice(group.id, group.title) for group in guide.stage_sets.values())
