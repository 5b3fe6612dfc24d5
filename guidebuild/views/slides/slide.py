"""One slide and a set of them as plain data, and the words that stand for each where it cannot be seen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from guidebuild.views.pieces.common import NO_WORDS, CautionView, MarkView, NameView, PhotoView, SeasonRow, Wording
from guidebuild.views.telling.side_by_side import SideBySide


class SlideKind(StrEnum):
    """What a slide is for; authors name these in `posts/`, as headings."""

    QUESTION = "question"
    PLATE = "plate"
    BESIDE = "alikes"
    WHEN = "when"
    CARE = "care"
    CREDITS = "credits"
    OWN = "own"


@dataclass(frozen=True, slots=True)
class Slide:
    """One slide. `about` is the small line over its title.

    `side` are species at one scale, with what is said of each in `told`; `note` is what stands under a picture. A picture that
    `may_go` is there where it has room.
    """

    kind: SlideKind
    title: str
    about: str = ""
    name: NameView | None = None
    lines: tuple[Wording, ...] = ()
    photo: PhotoView | None = None
    marks: tuple[MarkView, ...] = ()
    note: str = ""
    may_go: bool = False
    side: SideBySide | None = None
    told: tuple[Wording, ...] = ()
    months: tuple[str, ...] = ()
    seasons: tuple[SeasonRow, ...] = ()
    cautions: tuple[CautionView, ...] = ()
    credits: tuple[str, ...] = ()
    address: str = ""

    @property
    def photos(self) -> tuple[PhotoView, ...]:
        """Its pictures."""
        beside = tuple(plate.photo for plate in self.side.plates if plate.photo) if self.side else ()
        return (*((self.photo,) if self.photo else ()), *beside)

    @property
    def credit(self) -> str:
        """Who made its pictures, as short as their licences allow."""
        return "; ".join(dict.fromkeys(photo.credit_line for photo in self.photos if photo.credit_line))


@dataclass(frozen=True, slots=True)
class SlideSet:
    """Slides that are posted one after the other: of an account, of look-alikes, of a walk or of ten days.

    `accounts` are those of the guide that it speaks of; `shapes` are the ones its author asks for, none where the guide's are meant.
    """

    id: str
    title: str
    language: str
    guide: str
    slides: tuple[Slide, ...]
    accounts: tuple[str, ...] = ()
    shapes: tuple[str, ...] = ()

    @property
    def photos(self) -> tuple[str, ...]:
        """The ids of all its pictures, each once."""
        return tuple(dict.fromkeys(photo.id for slide in self.slides for photo in slide.photos))


def short_caution(caution: CautionView) -> Wording:
    """What a caution says on a slide: what to do in one sentence, else all of it; of the law, to look up what it says today."""
    if caution.short:
        return Wording(" ".join(filter(None, (caution.lead, caution.short))))
    return caution.whole.between(after=f" {caution.local}") if caution.is_law and caution.local else caution.whole


def describe_slide(slide: Slide) -> str:
    """The alt text: the words of a slide in the order in which they are read, then what is to be seen on its pictures."""
    return " ".join(_as_sentence(part) for part in _read(slide) if part)


def _read(slide: Slide) -> Iterator[str]:
    yield slide.about
    yield slide.title
    yield slide.name.plain if slide.name and slide.name.plain not in slide.title else ""
    yield from (line.words for line in slide.lines)
    yield from (f"{mark.number}: {mark.said.words}" if mark.number else mark.said.words for mark in slide.marks)
    if slide.side:
        for plate, told in zip(slide.side.plates, slide.told or (NO_WORDS,) * len(slide.side.plates), strict=True):
            yield f"{plate.link.text}: {told.words}" if told else plate.link.text
    yield from (f"{row.label}: {row.words}" for row in slide.seasons)
    for caution in slide.cautions:
        yield f"{caution.title}: {short_caution(caution)}" if short_caution(caution) else caution.title
    yield slide.note
    yield from (photo.alt for photo in slide.photos)
    yield from slide.credits
    yield slide.address


def _as_sentence(words: str) -> str:
    return words if words.endswith((".", "!", "?", "…")) else f"{words}."
