"""A maker of invented guides of any size, for benchmarks: every name, place, plant, sighting and picture is made up.

Run `python -m tests.benchmarks.synthetic FOLDER ACCOUNTS` to look at one. The same number always gives the same guide.
Accounts come in fours that are taken for one another and agree in most characters, as look-alikes do; texts differ from
account to account, so that nothing is quicker here than in a real guide.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from PIL import Image, ImageDraw

GROUP = 4
"""Accounts in a set of look-alikes."""
PHOTOS = 2
"""Photos of each account."""
PIXELS = (1200, 900)
_SYLLABLES = tuple(f"{c}{v}" for c in "bdfglmnprstvz" for v in "aeio")
_COLOURS = ("russet", "pale", "dusky", "banded", "spotted", "plain", "bright", "ringed")
_STATES = ("first", "second", "third", "fourth")
_EASE = ("at a distance", "close up", "close up", "in the hand")
_STAGES = ("egg", "nymph", "adult")
_MONTHS = ("March", "April", "May", "June", "July", "August", "September", "October")
_VERBS = ("sits on", "walks along", "drops from", "hides under", "feeds on", "waits below", "climbs", "rests upon")
_THINGS = ("the upper leaves", "a dead stem", "the fence rail", "a flower head", "the mossy trunk", "the grass blades", "a sunlit bank")
_WHEN = ("in the morning", "after rain", "on still days", "late in the year", "when the sun comes out", "at dusk", "before the leaves fall")
_SECTIONS = ("In brief", "How to know it", "Where to look", "Life story", "In the field")


def word(number: int, length: int = 3) -> str:
    """An invented word; different numbers give different words."""
    signs = []
    for _ in range(length):
        number, left = divmod(number, len(_SYLLABLES))
        signs.append(_SYLLABLES[left])
    return "".join(signs) + (word(number, 1) if number else "")


@dataclass(frozen=True)
class Invented:
    """An invented guide of so many accounts, ready to be written."""

    accounts: int

    @property
    def plants(self) -> list[str]:
        """Ids of its plants: one for every ten accounts."""
        return [f"{word(n, 2)}-plant" for n in range(max(6, self.accounts // 10))]

    @property
    def places(self) -> list[str]:
        """Ids of its places: one for every fifty accounts."""
        return [f"{word(n, 2)}-bank" for n in range(max(4, self.accounts // 50))]

    def id(self, number: int) -> str:
        """The id of an account."""
        return f"{_COLOURS[number % GROUP]}-{word(number // GROUP)}"

    def vernacular(self, number: int) -> str:
        """The name people call it by."""
        return f"{_COLOURS[number % GROUP].title()} {word(number // GROUP).title()} Bug"

    def write(self, folder: Path, *, pixels: tuple[int, int] = PIXELS, pictures: int | None = None) -> None:
        """Write the guide. With fewer `pictures` than photos, accounts share them."""
        photos = min(pictures or PHOTOS * self.accounts, PHOTOS * self.accounts)
        (folder / "accounts").mkdir(parents=True)
        (folder / "guide.yaml").write_text(_GUIDE.format(count=self.accounts), encoding="utf-8")
        for name, lines in (
            ("characters.yaml", self._characters()),
            ("plants.yaml", self._plants()),
            ("places.yaml", self._places()),
            ("photos.yaml", self._photos(photos)),
        ):
            (folder / name).write_text("# Invented, for a benchmark.\n" + "\n".join(lines) + "\n", encoding="utf-8")
        (folder / "glossary.yaml").write_text(_TERMS, encoding="utf-8")
        (folder / "sources.yaml").write_text(_SOURCES, encoding="utf-8")
        for number in range(self.accounts):
            text = "\n".join((*self._facts(number, photos), *self._texts(number, photos)))
            (folder / "accounts" / f"{self.id(number)}.md").write_text(text + "\n", encoding="utf-8")
        self._write_sightings(folder / "sightings")
        self._write_pictures(folder / "photos", photos, pixels)

    def _characters(self) -> Iterator[str]:
        yield "body-length: {label: body length, kind: range, unit: mm, margin: 0.5 mm, stage: adult, ease: close up,"
        yield "  question: How long is it?}"
        for n in range(15):
            states = ", ".join(f"{state}: {state} kind of {word(n, 2)}" for state in _STATES)
            yield f"{word(n, 2)}-look: {{label: {word(n, 2)} look, kind: states, stage: adult, ease: {_EASE[n % 4]},"
            yield f"  question: Of which kind is the {word(n, 2)}?, states: {{{states}}}}}"

    def _plants(self) -> Iterator[str]:
        for n, plant in enumerate(self.plants):
            yield f"{plant}: {{name: Inventa {word(n)}a, vernacular: {word(n, 2).title()} Plant, note: Grows on the {word(n, 2)} bank.}}"

    def _places(self) -> Iterator[str]:
        for n, place in enumerate(self.places):
            yield f"{place}: {{name: {word(n, 2).title()} Bank, area: Inventshire, habitat: [hedgerow], plants: [{self.plants[n]}],"
            yield f'  position: "{51.5 + n / 1000:.4f}, -1.2000", uncertainty: 100 m}}'

    def _photos(self, photos: int) -> Iterator[str]:
        for n in range(photos):
            stage = ("adult", "nymph")[n % PHOTOS]
            owner = self.id(n // PHOTOS)
            yield f"photo-{n}: {{file: photo-{n}.jpg, shows: {stage} from above, account: {owner}, stage: {stage}, view: upperside,"
            yield f"  alt: An invented {stage} numbered {n}., credit: Nobody (invented), licence: CC-BY-4.0, taken: 2025-06-0{n % 9 + 1}}}"

    def _own(self, number: int, photos: int) -> list[str]:
        return [f"photo-{(number * PHOTOS + n) % photos}" for n in range(PHOTOS)]

    def _alike(self, number: int) -> list[int]:
        first = number - number % GROUP
        return [n for n in range(first, min(first + GROUP, self.accounts)) if n != number]

    def _facts(self, number: int, photos: int) -> Iterator[str]:
        draw, group, member = random.Random(number), random.Random(f"group {number // GROUP}"), number % GROUP
        low, own = 4 + number % 17, self._own(number, photos)
        yield f"---\nname: {word(number // 8).title()}us {word(number)}ensis\nauthority: (Nobody, {1800 + number % 200})"
        yield f"vernacular: {self.vernacular(number)}\nfamily: {word(number // 40).title()}idae\nsize: {low}–{low + 3} mm body length"
        yield "status: common\ndiagnostics:"
        for n in range(3):
            yield f"  - mark: {draw.choice(_COLOURS)} {word(number + n, 2)} on the {draw.choice(_THINGS).split()[-1]}\n    stage: adult"
            yield f"    view: upperside\n    photo: {own[0]}\n    at: {20 + 10 * n}.5, {30 + number % 40}.4"
        yield f"characters:\n  body length: {low}–{low + 3} mm"
        for n in range(15):
            shared = group.randrange(4)
            # Look-alikes differ in three characters, each in its own way, and agree in the rest.
            yield f"  {word(n, 2)} look: {_STATES[(shared + member) % 4 if n in (0, 1, 2) else shared]}"
        yield "similar:" + ("" if self._alike(number) else " none")
        for other in self._alike(number):
            yield f"  - account: {self.id(other)}\n    tell by: [{word(0, 2)}-look, {word(1, 2)}-look]"
            yield f"    note: The {self.vernacular(other)} has another kind of {word(0, 2)} and sits lower."
        plants = [self.plants[(number + n) % len(self.plants)] for n in range(2)]
        yield "host plants:" + "".join(f"\n  - {{plant: {p}, part: leaves, use: food of nymph and adult}}" for p in plants)
        start = number % 4
        months = _MONTHS[start : start + 5]
        yield f"habitat: [hedgerow, park]\nplaces: [{self.places[number % len(self.places)]}]\nseasons:\n  egg: {months[0]} – {months[1]}"
        yield f"  nymph: mid {months[1]} – {months[3]}\n  adult: {months[0]} – {months[4]}; most seen {months[2]}"
        yield "life stages:" + "".join(f"\n  {stage}: {self._sentence(draw)} {self._sentence(draw)}" for stage in _STAGES)
        yield f"photos: [{', '.join(own)}]\nhazards: none\nsensitive: no\nsources: [nobody-2025]"
        yield "reviewed: {by: Nobody, on: 2026-02-14}\n---"

    def _sentence(self, draw: random.Random) -> str:
        words = [draw.choice(choice) for choice in (_COLOURS, _VERBS, _THINGS, _WHEN)]
        return f"The {words[0]} one {words[1]} {words[2]} {words[3]}."

    def _texts(self, number: int, photos: int) -> Iterator[str]:
        draw = random.Random(f"text {number}")
        for heading in _SECTIONS:
            yield f"## {heading}\n"
            other, plant = (self._alike(number) or [number])[0], self.plants[number % len(self.plants)]
            links = (f"Compare the [{self.vernacular(other)}](account:{self.id(other)}).", f"Look on [its plant](plant:{plant}).")
            said = [self._sentence(draw) for _ in range(4)]
            said[draw.randrange(4)] += f" The [shell](term:shell) is {draw.randrange(3, 9)} mm long. *Look twice.*"
            yield "\n".join((*said, draw.choice(links))) + "\n"
        yield f"![The nymph](photo:{self._own(number, photos)[1]})"

    def _write_sightings(self, folder: Path) -> None:
        folder.mkdir()
        rows = ["occurrenceID,eventDate,scientificName,lifeStage,individualCount,locationID,recordedBy,basisOfRecord"]
        for n in range(0, self.accounts, 3):
            month = _MONTHS.index(_MONTHS[n % 4]) + 4
            name = f"{word(n // 8).title()}us {word(n)}ensis"
            place = self.places[n % len(self.places)]
            rows += [f"invented-{n}-{day},2025-{month:02}-{day:02},{name},adult,2,{place},Nobody,HumanObservation" for day in (5, 15, 25)]
        (folder / "invented.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")

    @staticmethod
    def _write_pictures(folder: Path, photos: int, pixels: tuple[int, int]) -> None:
        folder.mkdir()
        for n in range(photos):
            draw_picture(n, pixels).save(folder / f"photo-{n}.jpg", quality=88)


def draw_picture(number: int, pixels: tuple[int, int] = PIXELS) -> Image.Image:
    """An invented picture: a blurred ground with some grain, and a body with legs on it."""
    choose = random.Random(f"picture {number}")
    ground = Image.frombytes("RGB", (24, 18), choose.randbytes(24 * 18 * 3)).resize(pixels, Image.Resampling.BICUBIC)
    picture = Image.blend(ground, _grain(pixels), 0.12)
    pen = ImageDraw.Draw(picture)
    across, down = pixels[0] // 2, pixels[1] // 2
    for side in (-1, 1):
        for leg in range(3):
            end = (across + side * choose.randrange(200, 320), down + (leg - 1) * choose.randrange(120, 220))
            pen.line((across, down + (leg - 1) * 60, *end), fill=(40, 30, 20), width=9)
    wide, long = choose.randrange(110, 170), choose.randrange(180, 260)
    pen.ellipse((across - wide, down - long, across + wide, down + long), fill=tuple(choose.randbytes(3)), outline=(30, 20, 10), width=6)
    return picture


@cache
def _grain(pixels: tuple[int, int]) -> Image.Image:
    # Whole pixels of grain weigh as much as a camera's; one field of it serves all.
    bytes_of = random.Random("grain").randbytes(pixels[0] // 2 * (pixels[1] // 2))
    return Image.frombytes("L", (pixels[0] // 2, pixels[1] // 2), bytes_of).resize(pixels, Image.Resampling.BICUBIC).convert("RGB")


_GUIDE = """\
# Invented, for a benchmark of {count} accounts.
title: Bugs of Nowhere
region: Inventshire
description: An invented guide for measuring.
languages: [en]
address: https://nowhere.example/guide
publisher: Nobody
contact: nobody@nowhere.example
licence: CC-BY-4.0
group: true-bug
level: publishable
hemisphere: north
time zone: Europe/London
region box: 51.40, -1.30, 52.60, -1.10
dates: day first
review after: 36 months
"""
_TERMS = "# Invented.\nshell: {word: shell, meaning: The hard plate on the back., also: [shells]}\n"
_SOURCES = "# Invented.\nnobody-2025: {cite: Nobody 2025, author: Nobody (invented), year: 2025, title: Notes from nowhere}\n"


if __name__ == "__main__":
    Invented(int(sys.argv[2])).write(Path(sys.argv[1]))
