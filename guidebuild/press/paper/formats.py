"""Print formats and papers, read from `content/`: what a card, leaflet or booklet measures and how small its type may get.

Sizes are trimmed sizes in millimetres.  The least type size keeps to what is usual for small print that is read at arm's
length: 8–10 pt for the general reader (Text Matters notes, 2001); pocket cards may go below that, none below 6.5 pt.
Clear print asks for 12 pt (RNIB Clear Print): the plate and the booklet come nearest, and say so in the guide's README.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources.abc import Traversable
from typing import Any, TypeVar

import yaml

from guidebuild.shipped import content

MM_PER_INCH = 25.4
POINTS_PER_MM = 72 / MM_PER_INCH
FLOOR = 6.5
"""Points; no format may set a smaller least type."""

LEAST_TO_TRIM = 3.0
"""Millimetres that print shops want between type and the edge that is cut (common practice, no source)."""
PRINT_SHOP = "print shop"
"""The word of `prints:` that asks for files for a print shop."""

T = TypeVar("T")

_UNITS = {"mm": 1.0, "in": MM_PER_INCH}


class PrintKind(StrEnum):
    """What is made of a format."""

    CARD = "card"
    PLATE = "plate"
    LEAFLET = "leaflet"
    BOOKLET = "booklet"
    CHECKLIST = "checklist"
    SPOTTING = "children's sheet"
    LARGE_PRINT = "large print"


@dataclass(frozen=True, slots=True)
class Area:
    """Width and height in millimetres."""

    width: float
    height: float

    @property
    def turned(self) -> Area:
        """The same, lying on its side."""
        return Area(self.height, self.width)

    @property
    def points(self) -> tuple[float, float]:
        """Width and height in PDF points (1/72 in)."""
        return self.width * POINTS_PER_MM, self.height * POINTS_PER_MM

    def grown(self, by: float) -> Area:
        """With `by` millimetres more on all four sides."""
        return Area(self.width + 2 * by, self.height + 2 * by)


@dataclass(frozen=True, slots=True)
class Format:
    """One thing that can be printed; `size` is the trimmed size, `margin` what stays clear inside it (mm)."""

    id: str
    title: str
    kind: PrintKind
    size: Area
    margin: float
    least_type: float
    largest_type: float
    source: str

    @property
    def sides(self) -> int:
        """Printed sides: two for a card, one for a plate or a leaflet."""
        return 2 if self.kind is PrintKind.CARD else 1

    @property
    def inner(self) -> Area:
        """What is inside the margins."""
        return self.size.grown(-self.margin)

    @property
    def wide(self) -> bool:
        """Whether it lies on its side."""
        return self.size.width > self.size.height


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet as the printer holds it, upright."""

    id: str
    title: str
    size: Area
    thickness: float = 0.0
    """Millimetres of one sheet."""


class UnknownFormatError(KeyError):
    """A format or paper that is not there; `mend` lists those that are."""

    def __init__(self, what: str, name: str, known: Mapping[str, object]) -> None:
        """`what` is “format” or “paper”."""
        self.mend = f"Write one of {', '.join(sorted(known))}."
        super().__init__(f"there is no {what} “{name}”")

    def __str__(self) -> str:
        """The sentence and what to write instead."""
        return f"{self.args[0]}. {self.mend}"


@cache
def read_formats() -> Mapping[str, Format]:
    """All shipped formats by id."""
    files = sorted(content().joinpath("formats").iterdir(), key=lambda file: file.name)
    return {name: _format(name, file) for file in files if (name := file.name.removesuffix(".yaml")) != file.name}


@cache
def read_papers() -> Mapping[str, Paper]:
    """All shipped papers by id."""
    rows = yaml.safe_load(content().joinpath("papers.yaml").read_text(encoding="utf-8"))
    return {name: Paper(name, row["title"], _area(row), float(row["thickness"])) for name, row in rows.items()}


def format_named(name: str) -> Format:
    """The format of that id; raises `UnknownFormatError`."""
    return _named("format", name, read_formats())


def card_format_named(name: str) -> Format:
    """The format of that id where it is one for cards; raises `UnknownFormatError`."""
    card_format = format_named(name)
    if card_format.kind is not PrintKind.CARD:
        raise UnknownFormatError("card format", name, {key: 0 for key, known in read_formats().items() if known.kind is PrintKind.CARD})
    return card_format


def card_formats_among(wanted: Iterable[str]) -> tuple[Format, ...]:
    """The formats for cards among these words of `prints:`, each once; other words are left to those who ask for them."""
    named = (read_formats().get(word.strip().casefold()) for word in wanted)
    return tuple(dict.fromkeys(one for one in named if one and one.kind is PrintKind.CARD))


def print_named(name: str) -> Format:
    """The format that a word of `prints:` asks for; raises `UnknownFormatError`."""
    try:
        return format_named(name)
    except UnknownFormatError:
        raise UnknownFormatError("print", name, {**read_formats(), PRINT_SHOP: None}) from None


def paper_named(name: str) -> Paper:
    """The paper of that id; raises `UnknownFormatError`."""
    return _named("paper", name, read_papers())


def _named(what: str, name: str, known: Mapping[str, T]) -> T:
    if (found := known.get(name.strip().casefold())) is None:
        raise UnknownFormatError(what, name, known)
    return found


def _format(name: str, file: Traversable) -> Format:
    row = yaml.safe_load(file.read_text(encoding="utf-8"))
    unit = _UNITS[row.get("unit", "mm")]
    least = float(row["least type"])
    if least < FLOOR:
        raise ValueError(f"{file.name}: the least type of {least} pt is below {FLOOR} pt")
    return Format(
        name, row["title"], PrintKind(row["kind"]), _area(row), row["margin"] * unit, least, float(row["largest type"]), row["source"]
    )


def _area(row: Mapping[str, Any]) -> Area:
    unit = _UNITS[row.get("unit", "mm")]
    width, height = row["size"]
    return Area(width * unit, height * unit)
