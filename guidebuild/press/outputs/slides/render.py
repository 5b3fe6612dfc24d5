"""A set of slides in one shape: a picture of each, all of them as a PDF that can be searched, and their words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path

import pypdfium2
from PIL import Image

from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.slides.fitting import FittedSlide, Sheet, divide, fit_slide, settle_picture
from guidebuild.press.outputs.slides.shapes import PIXELS, SHAPES, Shape
from guidebuild.press.paper.formats import POINTS_PER_MM
from guidebuild.press.paper.layout import write_pdf
from guidebuild.press.photos.credit import Credit
from guidebuild.press.photos.encoding import write_picture
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.slides.codes import SLIDE_TOO_FULL
from guidebuild.views.slides.slide import SlideSet, describe_slide

_A_HAIR = 0.01


@dataclass(frozen=True, slots=True)
class SlidesWork:
    """What making a set in one shape needs; `pictures` by photo id."""

    slides: SlideSet
    shape: str
    pictures: tuple[tuple[str, Picture], ...]
    theme_folders: tuple[Path, ...]


def list_sheets(work: SlidesWork) -> tuple[Sheet, ...]:
    """The slides as they will stand in this shape: one that is too full is divided."""
    shape, given = SHAPES[work.shape], work.slides
    bare = Sheet(given.slides[0], shape, given.language, given.guide, 0, 0, dict(work.pictures), work.theme_folders)
    settled = [settle_picture(replace(bare, slide=slide)).slide for slide in given.slides]
    slides = [piece for slide in settled for piece in divide(slide, replace(bare, slide=slide))]
    return tuple(replace(bare, slide=slide, number=number, count=len(slides)) for number, slide in enumerate(slides, start=1))


def render_slides(work: SlidesWork) -> Made:
    """The pictures, then the PDF, then the words of all slides."""
    sheets = list_sheets(work)
    where = f"slides {work.slides.id}, {work.shape}"
    fitted = [fit_slide(sheet) for sheet in sheets]
    pages = [page for one in fitted for page in one.laid.document.pages[:1]]
    log = tuple(dict.fromkeys(line for one in fitted for line in one.laid.log))
    pdf, problems = write_pdf(replace(fitted[0].laid, document=fitted[0].laid.document.copy(pages), log=log), where)
    pictures = tuple(
        write_picture(drawn, "slide", _credit_of(sheet)) for drawn, sheet in zip(draw_pages(pdf, SHAPES[work.shape]), sheets, strict=True)
    )
    told = "\n\n".join(f"{sheet.number}. {describe_slide(sheet.slide)}" for sheet in sheets) + "\n"
    return Made((*pictures, pdf, told.encode()), (*problems, *_tell_too_full(sheets, fitted, where)))


def draw_pages(pdf: bytes, shape: Shape) -> Iterator[Image.Image]:
    """Each page of a PDF in the pixels of a shape."""
    with closing(pypdfium2.PdfDocument(pdf)) as document:
        for page in document:
            # pypdfium2 rounds up: a hair less gives the pixels that are wanted.
            scale = (PIXELS - _A_HAIR) / (shape.page.width * POINTS_PER_MM)
            drawn = page.render(scale=scale).to_pil().convert("RGB")
            yield drawn if drawn.size == (PIXELS, shape.down) else drawn.resize((PIXELS, shape.down), Image.Resampling.LANCZOS)


def _credit_of(sheet: Sheet) -> Credit | None:
    """What a picture's file says of its makers."""
    named = [(photo.credit, photo.licence) for photo in sheet.slide.photos if photo.credit]
    if not named:
        return None
    makers, licences = dict.fromkeys(maker for maker, _ in named), dict.fromkeys(licence for _, licence in named if licence)
    one = next(iter(licences), None) if len(licences) == 1 else None
    return Credit(", ".join(makers), ", ".join(licence.title for licence in licences), one.address if one else "")


def _tell_too_full(sheets: tuple[Sheet, ...], fitted: list[FittedSlide], where: str) -> Iterator[Problem]:
    for sheet, one in zip(sheets, fitted, strict=True):
        if one.over:
            message = f"slide {sheet.number} (“{sheet.slide.title}”) has more words than go onto it; shorten them, or leave this shape out"
            yield Problem(SLIDE_TOO_FULL.code, where, message)
