"""A set of slides in its author's own order and words: each heading is a slide, and what is not named is left out.

Cautions and credits always stand at the end, whether they are named or not.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from guidebuild.guide.records import OwnSlides, Section
from guidebuild.guide.slots import SLOT
from guidebuild.guide.text.inline import Inline
from guidebuild.views.pieces.facts import tell_facts
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.slides.pieces import name_makers, say_whose
from guidebuild.views.slides.slide import Slide, SlideKind, SlideSet

_KINDS = {"question": SlideKind.QUESTION, "plate": SlideKind.PLATE, "look alikes": SlideKind.BESIDE, "when": SlideKind.WHEN}
_KINDS |= {"care": SlideKind.CARE, "credits": SlideKind.CREDITS}
_PICTURE = re.compile(r"!\[[^\]]*\]\(photo:([^)\s]+)\)")
_PARAGRAPHS = re.compile(r"\n\s*\n")


def say_own_words(make: PieceMaker, drafted: SlideSet, own: OwnSlides) -> SlideSet:
    """The set as its author wants it."""
    facts = _facts(make, drafted)
    slides = [slide for section in own.sections if section.heading for slide in _slides(make, drafted, section, facts)]
    named = {slide.kind for slide in slides}
    for slide in drafted.slides:
        if slide.kind not in named and (slide.kind is SlideKind.CREDITS or (slide.kind is SlideKind.CARE and slide.cautions)):
            slides.append(slide)
    return replace(drafted, slides=tuple(_credit_all(make, slides)), shapes=own.shapes)


def _facts(make: PieceMaker, drafted: SlideSet) -> Mapping[str, str]:
    """What slots stand for: facts of the account that the set is of, or of the first of two."""
    first = next((make.guide.accounts[part] for part in drafted.id.split("--") if part in make.guide.accounts), None)
    return tell_facts(make.guide, first) if first else {}


def _slides(make: PieceMaker, drafted: SlideSet, section: Section, facts: Mapping[str, str]) -> Iterator[Slide]:
    """The drafted slides that a heading names, the first with the author's words; or one of the author's alone."""
    word, _, title = (part.strip() for part in section.heading.partition(":"))
    kind = _KINDS.get(word.casefold().replace("-", " "))
    filled = SLOT.sub(lambda slot: facts.get(" ".join(slot[1].split()), slot[0]), section.text)
    picture = next((make.guide.photos[found] for found in _PICTURE.findall(filled) if found in make.guide.photos), None)
    photo = make.photo(picture) if picture else None
    texts = (" ".join(text.split()) for text in _PARAGRAPHS.split(_PICTURE.sub("", filled)))
    lines = tuple(make.word(Inline(text)) for text in texts if text)
    note = say_whose(make, photo) if photo else ""
    named = [slide for slide in drafted.slides if slide.kind is kind]
    if not named:  # a slide of the author's own, or one that this set has none of: then only what its author says of it
        if kind is None or lines or photo:
            heading = title if kind and title else section.heading
            yield Slide(SlideKind.OWN, _fill(heading, facts), drafted.title, lines=lines, photo=photo, note=note)
        return
    for number, slide in enumerate(named):
        if number:
            yield slide
            continue
        said = replace(slide, lines=lines or slide.lines)
        if title:  # what was its title stands above it
            said = replace(said, title=_fill(title, facts), about=slide.title if slide.name else slide.about)
        yield replace(said, photo=photo, marks=(), note=note) if photo else said


def _fill(text: str, facts: Mapping[str, str]) -> str:
    filled = SLOT.sub(lambda slot: facts.get(" ".join(slot[1].split()), slot[0]), text)
    return Inline(filled).words


def _credit_all(make: PieceMaker, slides: Sequence[Slide]) -> Iterator[Slide]:
    """The slides, with the makers of all their pictures on the one of credits."""
    given = name_makers(make, slides)
    for slide in slides:
        yield replace(slide, credits=tuple(dict.fromkeys((*given, *slide.credits)))) if slide.kind is SlideKind.CREDITS else slide
