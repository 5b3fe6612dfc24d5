"""A hint names only what its picture shows: nothing of another stage, sex or side, no length, no sound and no smell."""

from __future__ import annotations

from functools import cache

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.characters import CharacterKind
from guidebuild.reading.whole import read_guide
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site.practice import WHOLE, practice_page
from tests.guides.whole_guides import HERE, NAMES


@cache
def whole(name: str) -> Published:
    return make_published(read_guide(HERE / name).guide)


def hints(name: str) -> dict[str, str]:
    questions = practice_page(make_pieces(whole(name))).questions
    return {next(choice.link.text for choice in q.choices if choice.right): q.hint.words for q in questions}


@pytest.mark.parametrize(
    ("guide", "account", "hint"),
    [
        ("estuary-waders", "Black-tailed Godwit", "Look at: spread wing"),  # in flight: no back in winter, no bill
        ("estuary-waders", "Redshank", "Look at: back in winter"),  # stands: the wing and the call that its author names are not there
        ("estuary-waders", "Curlew", "Look at: bill shape"),  # and no length
        ("southern-frogs", "Common Eastern Froglet", "Look at: belly"),  # from below
        ("southern-frogs", "Spotted Marsh Frog", "Look at: gland on the shin and back"),  # from above: no belly
        ("wood-fungi", "Blusher", "Look at: stem ring"),  # no flesh, which is seen in a cut
        ("spring-flowers", "Ramsons", "Look at: leaf stalks, flower shape and leaf shape"),  # a whole plant has leaves and flowers
    ],
)
def test_a_hint_is_at_what_the_picture_shows(guide: str, account: str, hint: str) -> None:
    assert hints(guide)[account] == hint


@pytest.mark.parametrize("name", NAMES)
def test_no_hint_asks_for_what_its_picture_cannot_show(name: str) -> None:
    guide = whole(name)
    labels = {character.label: character for character in guide.characters.values()}
    asked = [
        (guide.photos[q.photo.id], label) for q in practice_page(make_pieces(guide)).questions for label in labels if label in q.hint.words
    ]
    assert asked
    for photo, label in asked:
        character = labels[label]
        assert character.kind is not CharacterKind.RANGE
        assert not character.stages or photo.stage in character.stages
        assert not character.view or photo.view in (*WHOLE, "", character.view)
