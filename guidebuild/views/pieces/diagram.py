"""A labelled diagram of the body: a photo on which its author points at parts, beside questions that name them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicPhoto
from guidebuild.guide.asking import remember
from guidebuild.views.pieces.common import LinkView, MarkView, PhotoView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.state_pictures import StatePicture


@dataclass(frozen=True, slots=True)
class NamedPart:
    """A part of the body: its number on the diagram (0: it is not there); its word, a link where the glossary explains it; where it is."""

    number: int
    link: LinkView
    picture: StatePicture | None = None


@dataclass(frozen=True, slots=True)
class Diagram:
    """The photo, with a numbered pointer for each part, and the parts in that order."""

    photo: PhotoView
    parts: tuple[NamedPart, ...]

    def find(self, word: str) -> NamedPart | None:
        """A part by its word."""
        return next((part for part in self.parts if part.link.text.casefold() == word.casefold()), None)


def find_diagram(make: PieceMaker, stage: str) -> Diagram | None:
    """The first photo of a stage (or of none) on which parts are pointed at, the one with most of them before others."""
    drawn = [photo for photo in make.guide.photos.values() if photo.parts and photo.file and photo.stage in ("", stage)]
    photo = max(drawn, key=lambda photo: len(photo.parts), default=None)
    return _draw(make, photo) if photo else None


def _draw(make: PieceMaker, photo: PublicPhoto) -> Diagram:
    pointers = tuple(enumerate(photo.parts, 1))
    marks = tuple(MarkView(number, pointer.part, pointer.point, photo.id, language=make.foreign) for number, pointer in pointers)
    small = replace(make.small_photo(photo), measured=photo.measured)
    parts = (NamedPart(number, link_part(make, pointer.part), StatePicture(small, pointer.point)) for number, pointer in pointers)
    return Diagram(replace(make.photo(photo), marks=marks), tuple(parts))


def link_part(make: PieceMaker, part: str) -> LinkView:
    """A part's word, as a link to the glossary where one of its terms explains it."""
    term = _terms(make).get(part.casefold(), "")
    link = make.map.target("term", term) if term else None
    return LinkView(link.path if link else "", part)


def _terms(make: PieceMaker) -> dict[str, str]:
    return remember(make.kept, ("terms by word", ""), lambda: dict(_pairs(make)))


def _pairs(make: PieceMaker) -> Iterable[tuple[str, str]]:
    for term in make.guide.terms.values():
        yield from ((word.casefold(), term.id) for word in (*term.also, term.word))
