"""The output `slides`: sets of slides in the shapes that the guide asks for, and a page to look through and take them from."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.maker import Maker, Piece
from guidebuild.press.engine.problems import Problems
from guidebuild.press.engine.told_by_views import problem_of
from guidebuild.press.outputs.slides.render import SlidesWork, list_sheets, render_slides
from guidebuild.press.outputs.slides.shapes import PIXELS, SHAPES
from guidebuild.press.paper.typesetter import HAS_TYPESETTER, tell_missing
from guidebuild.press.photos.maker import PictureMaker
from guidebuild.press.photos.print_copy import Picture
from guidebuild.press.theme.sandbox import fill_template
from guidebuild.press.working_pages import publish_beside
from guidebuild.views.slides.chosen import choose_sets
from guidebuild.views.slides.slide import SlideSet, describe_slide

SET = Craft("set of slides", "sets of slides", cost=1500.0)
PAGE = Craft("page", "pages", cost=10.0)
_ROOM = (PIXELS * 2, PIXELS * 2)
"""Pixels that a picture may need: a close frame shows half of its width."""


@dataclass(frozen=True, slots=True)
class ShownSlide:
    """One file of a set, with its words."""

    file: str
    alt: str


@dataclass(frozen=True, slots=True)
class ShownSet:
    """A set in one shape, as the page of all sets shows it; `across` and `down` are pixels."""

    id: str
    title: str
    shape: str
    across: int
    down: int
    slides: tuple[ShownSlide, ...]


@dataclass(frozen=True, slots=True)
class SlidesPageWork:
    """What the page of all sets needs."""

    guide: str
    language: str
    sets: tuple[ShownSet, ...]
    theme_folders: tuple[Path, ...]


def publish_slides(  # noqa: PLR0913 - what it depends on, each by its name
    guide: Published,
    files: Files,
    maker: Maker,
    pictures: PictureMaker,
    problems: Problems,
    *,
    theme: tuple[Path, ...],
    today: dt.date,
) -> None:
    """Everything under slides/."""
    if not HAS_TYPESETTER:
        problems.tell(*tell_missing())
        return
    sets, findings = choose_sets(guide, today)
    problems.tell(*map(problem_of, findings))
    prints = pictures.make_prints({photo: _ROOM for one in sets for photo in one.photos})
    works = tuple(_work(one, shape, prints, theme) for one in sets for shape in one.shapes or guide.settings.slide_shapes)
    shown = tuple(map(_show, works))
    # The largest first: at the end no helper has much still to do while the others have nothing.
    largest_first = sorted(zip(works, shown, strict=True), key=lambda made: len(made[1].slides), reverse=True)
    maker.make(_piece(maker, work, one) for work, one in largest_first)
    page = SlidesPageWork(guide.settings.title, guide.settings.language, shown, theme)
    maker.make([Piece(maker.job(PAGE, render_slides_page, page, where="page slides/index.html"), ("index.html",))])
    publish_beside(guide, files, maker, theme=theme, names=("slides/slides.css",))


def _work(one: SlideSet, shape: str, prints: Mapping[str, Picture], theme: tuple[Path, ...]) -> SlidesWork:
    return SlidesWork(one, shape, tuple((photo, prints[photo]) for photo in one.photos if photo in prints), theme)


def _show(work: SlidesWork) -> ShownSet:
    folder, shape = f"{work.slides.id}/", SHAPES[work.shape]
    slides = tuple(ShownSlide(f"{folder}{shape.name}-{sheet.number}.jpg", describe_slide(sheet.slide)) for sheet in list_sheets(work))
    return ShownSet(work.slides.id, work.slides.title, shape.name, PIXELS, shape.down, slides)


def _piece(maker: Maker, work: SlidesWork, shown: ShownSet) -> Piece:
    job = maker.job(SET, render_slides, work, where=f"slides {shown.id}, {shown.shape}")
    return Piece(job, tuple(_list_files(shown)))


def _list_files(shown: ShownSet) -> Iterator[str]:
    yield from (slide.file for slide in shown.slides)
    yield f"{shown.id}/{shown.shape}.pdf"
    yield f"{shown.id}/{shown.shape}.txt"


def render_slides_page(work: SlidesPageWork) -> Made:
    """The page of all sets."""
    values = {"sets": work.sets, "guide": work.guide}
    return Made((fill_template(work.theme_folders, "slides/index.html", work.language, **values).encode(),))
