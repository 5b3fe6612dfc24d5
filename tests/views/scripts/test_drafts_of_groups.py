"""What a draft says of plants and fungi, which are looked at otherwise than animals."""

from __future__ import annotations

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.reading.whole import read_guide
from guidebuild.views.scripts.draft import draft_script
from tests.guides.whole_guides import HERE


def lines_of(name: str, ident: str, heading: str) -> list[tuple[str, str]]:
    guide = read_guide(HERE / name).guide
    assert guide
    published = make_published(guide)
    sections = draft_script(published, published.accounts[ident])
    return [(draft.line.text, draft.line.shot) for section in sections if section.heading == heading for draft in section.lines]


@pytest.mark.parametrize(
    ("name", "ident", "afar"),
    [("spring-flowers", "ramsons", False), ("wood-fungi", "deathcap", False), ("southern-frogs", "pobblebonk", True)],
)
def test_only_what_may_flee_is_filmed_from_a_distance(name: str, ident: str, afar: bool) -> None:
    shots = {shot for _, shot in lines_of(name, ident, "Photographing it")}
    assert shots == {"You, with the camera, at a distance" if afar else "You, with the camera"}


def test_how_often_it_grows_there_stands_before_what_one_looks_at() -> None:
    said = [line for line, _ in lines_of("wood-fungi", "funeral-bell", "Grows on or with")]
    assert said[-2:] == [
        "On Scots pine, look at the stumps and logs: food of the threads.",
        "It is rarely on beech: look at the stumps and logs.",
    ]
