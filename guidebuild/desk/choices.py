"""What the fields of a guide's records may name, to choose from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place
from guidebuild.reading import shipped_lists
from guidebuild.words import Words


@dataclass(frozen=True, slots=True)
class Choice:
    """A word to choose, and what it stands for."""

    word: str
    label: str


def list_choices(guide: Guide, say: Words) -> Iterator[tuple[str, tuple[Choice, ...]]]:
    """What fields may name, by kind: ids of records and words of lists, each with what it stands for."""
    stages = chain.from_iterable(group.stages for group in guide.stage_sets.values())
    yield "account", tuple(Choice(a.id, call_account(a, say)) for a in guide.accounts.values())
    yield "term", tuple(Choice(term.id, term.word) for term in guide.terms.values())
    yield "plant", tuple(Choice(plant.id, plant.vernacular) for plant in guide.plants.values())
    yield "place", tuple(Choice(place.id, call_place(place, say)) for place in guide.places.values())
    yield "photo", tuple(Choice(photo.id, photo.shows) for photo in guide.photos.values())
    yield "source", tuple(Choice(source.id, source.cite) for source in guide.sources.values())
    yield "character", tuple(Choice(character.id, character.label) for character in guide.characters.values())
    yield "stage", tuple(Choice(stage, word) for stage, word in dict(stages).items())
    yield "view", tuple(Choice(word, "") for word in dict.fromkeys((*_views_of(guide), *shipped_lists.words("views"))))
    yield "hazards", tuple(Choice(caution.id, caution.title) for caution in guide.cautions.values())
    yield "licence", tuple(Choice(licence, kind.title) for licence, kind in guide.licences.items())
    yield "group", tuple(Choice(group.id, group.title) for group in guide.stage_sets.values())


def _views_of(guide: Guide) -> Iterator[str]:
    """The sides from which the guide's own groups are looked at."""
    for account in guide.accounts.values():
        yield from guide.stage_set(account).views


def call_place(place: Place, say: Words) -> str:
    """What a place is called where one chooses, and that it is kept secret, for no one to name it unawares."""
    return f"{place.name or place.id} ({say('kept secret')})" if place.sensitivity else place.name or place.id


def call_account(account: Account, say: Words) -> str:
    """The same of a species."""
    called = account.vernacular or account.name.plain
    return f"{called} ({say('kept secret')})" if account.sensitivity else called
