"""Guides of ordinary words, times, measures and hashes are stopped by no secret name. All words of places are invented."""

from __future__ import annotations

import os
import random
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

from guidebuild.fieldwork.leaks import leaks_in, names_in, secrets_of
from guidebuild.fieldwork.names_kept import is_everyday
from guidebuild.fieldwork.published import make_published
from guidebuild.fieldwork.telling_texts import find_telling_texts
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Photo, Place, Section, Sensitivity
from guidebuild.guide.text.inline import Inline
from guidebuild.press.leak_scan import file_leaks
from tests.fieldwork.invented import BIRCH, PARENT, RARE, guide

ROOT = Path(__file__).parents[2]
GUIDES = int(os.environ.get("GUIDEBUILD_GUIDES", "25"))
"""Set it higher for a long run."""
GROUND = [
    "hollow",
    "bank",
    "copse",
    "mill",
    "fallow",
    "barton",
    "wick",
    "lode",
    "holm",
    "pit",
    "knapp",
    "spinney",
    "moor",
    "quarry",
    "pool",
]
EVERYDAY = [
    "field",
    "spot",
    "meadow",
    "wood",
    "pond",
    "old-oak",
    "wood-edge",
    "pond-2",
    "hedge",
    "lower-meadow",
    "marsh",
    "river",
    "card",
    "page",
    "photo",
    "leaf",
]


@cache
def ordinary_words() -> tuple[str, ...]:
    texts = [path.read_text("utf-8") for path in sorted((ROOT / "sample_guide/accounts").glob("*.md"))]
    return tuple(sorted(set(re.findall(r"\b[a-z]{2,12}\b", " ".join(texts)))))


@cache
def own_files() -> tuple[tuple[str, bytes], ...]:
    """Files of the tool that are published with every guide."""
    paths = [path for path in sorted((ROOT / "themes").rglob("*")) if path.suffix in {".css", ".js", ".html", ".svg"}]
    return tuple((path.relative_to(ROOT / "themes").as_posix(), path.read_bytes()) for path in paths)


def invent_name(chance: random.Random) -> str:
    letters = ("bcdfghklmnprstvw", "aeiou", "lnrst")
    word = "".join(chance.choice(kind) for _ in range(2) for kind in letters).title()
    return chance.choice((word, f"{word} {chance.choice(GROUND).title()}", f"The {word} {chance.choice(GROUND).title()}"))


def figures(chance: random.Random) -> str:
    """A caption's times, a hash, a measure, a number of a photo, a colour."""
    return " ".join((
        f"00:{chance.randrange(60):02}:{chance.randrange(60):02}.{chance.randrange(1000):03} --> 00:01:02.003",
        chance.randbytes(16).hex(), f"{chance.uniform(1, 90):.1f}–{chance.uniform(1, 90):.2f} mm", f"DSC_{chance.randrange(9999):04}.JPG",
        f"#{chance.randrange(16**6):06x}",
    ))  # fmt: skip


def random_guide(chance: random.Random) -> Guide:
    def sentence() -> str:
        words = [chance.choice(ordinary_words()) for _ in range(chance.randint(3, 14))]
        return " ".join((words[0].title(), *words[1:])) + chance.choice(".!?:")

    def text() -> str:
        return (
            " ".join(sentence() for _ in range(chance.randint(3, 30)))
            + f"\n\nIn the field: a dark spot, the old oak, wood edge. {figures(chance)}"
        )

    held = [replace(bug, sections=(Section("In brief", text()),), status=Inline(sentence())) for bug in (PARENT, BIRCH, RARE)]
    words = [word for word in ordinary_words() if any(f" {word} " in account.sections[0].text for account in held)]
    places = {}
    for _ in range(chance.randint(1, 6)):
        ident = chance.choice((chance.choice(EVERYDAY), chance.choice(words)))
        places[ident] = Place(ident, invent_name(chance), "Larkfold Vale", sensitivity=Sensitivity(3, "eggs"))
    shots = {
        key: Photo(key, f"photos/{key}.jpg", credit="A", licence="CC0-1.0") for key in (f"{chance.choice(EVERYDAY)}-{n}" for n in range(4))
    }
    return guide(*held, places=places, photos=shots)


def test_guides_of_ordinary_words_are_stopped_by_no_secret_name() -> None:
    for number in range(GUIDES):
        chance = random.Random(number)
        held = random_guide(chance)
        secrets = secrets_of(held)
        assert [str(found.leak) for found in find_telling_texts(held)] == [], number
        assert {account.id for account in make_published(held).accounts.values()} == {"parent-bug", "birch-bug", "rare-bug"}
        made = [
            ("site/a.vtt", figures(chance).encode()),
            (f"site/assets/{chance.randbytes(8).hex()}.css", b""),
            *chance.sample(own_files(), 6),
        ]
        assert [str(problem) for name, content in made for problem in file_leaks(name, content, secrets)] == [], number
        # And the search is not simply switched off.
        for place in held.places.values():
            assert is_everyday(place.name) or list(leaks_in(f"By {place.name}.", secrets)), place.name


def test_the_tools_own_files_hold_no_name_of_a_place_that_is_called_like_its_words() -> None:
    secrets = secrets_of(guide(places={key: Place(key, f"Brackenwick {key}", sensitivity=Sensitivity(3)) for key in EVERYDAY}))
    assert [str(problem) for name, content in own_files() for problem in file_leaks(name, content, secrets)] == []
    assert [leak.found for leak in names_in("brackenwick-spot.jpg", secrets)] == ["brackenwick-spot"]
