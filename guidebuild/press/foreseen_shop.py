"""What a print shop would refuse and can be known before anything is printed: pictures with too few pixels, and too little bleed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Settings
from guidebuild.press.engine.problem_codes import PROBLEM_CODES
from guidebuild.press.outputs.cards.booklet.leaf import BLEED
from guidebuild.press.outputs.cards.page import plate_most
from guidebuild.press.paper.formats import MM_PER_INCH, Format, PrintKind, UnknownFormatError, card_formats_among, print_named
from guidebuild.press.photos.copies import PRINT_PPI, print_width
from guidebuild.press.photos.info import PictureInfo, picture_info
from guidebuild.views.cards.card import find_plate
from guidebuild.views.pieces.parts import make_pieces

LEAST_PPI = 200
"""Pixels an inch below which shops send a picture back (common practice, no source); they ask for 300."""
LEAST_BLEED = 3.0
"""Millimetres that shops ask for; those that measure in inches ask for an eighth (common practice, no source)."""
_CODES = {code.code: code for code in PROBLEM_CODES}


def find_refused_by_shop(folder: Path, guide: Published) -> Iterator[Finding]:
    """Findings for a guide that asks for files for a print shop."""
    yield from _short_bleed(guide.settings)
    yield from _few_pixels(folder, guide)


def _short_bleed(settings: Settings) -> Iterator[Finding]:
    code, at = _CODES["short-bleed"], settings.positions.get("bleed", settings.at)
    if 0 < settings.bleed < LEAST_BLEED:
        yield code.finding(f"A bleed of {settings.bleed:g} mm is less than the {LEAST_BLEED:g} mm that print shops ask for.", at)
    elif settings.bleed > BLEED and any(_is_booklet(wanted) for wanted in settings.prints):
        said = f"The pages of a booklet have a bleed of {BLEED:g} mm, not the {settings.bleed:g} mm that are asked for here."
        yield code.finding(said, at, mend=f"Ask the shop whether {BLEED:g} mm will do for the booklet.")


def _is_booklet(wanted: str) -> bool:
    try:
        return print_named(wanted).kind is PrintKind.BOOKLET
    except UnknownFormatError:
        return False


def _few_pixels(folder: Path, guide: Published) -> Iterator[Finding]:
    """Each plate that the largest card would print too coarsely, once."""
    make = make_pieces(guide)
    sizes = card_formats_among((guide.settings.card, *guide.settings.prints))
    plates = dict.fromkeys(plate.id for account in guide.accounts.values() if (plate := find_plate(make, account, ())))
    for photo in (guide.photos[ident] for ident in plates):
        info = picture_info(folder / photo.file, photo.file) if photo.file else None
        if not isinstance(info, PictureInfo) or not sizes:
            continue  # why it cannot be read is told elsewhere
        wide, card = max(((_printed_width(info, one), one) for one in sizes), key=lambda each: each[0])
        ppi = info.width * MM_PER_INCH / wide
        if ppi < LEAST_PPI:
            said = f"{photo.file} has {info.width} pixels for up to {wide:.0f} mm on the {card.title}: {ppi:.0f} ppi, where a print shop"
            mend = f"Give one {print_width(wide)} pixels wide, or leave the picture to smaller cards."
            yield _CODES["few-pixels"].finding(
                f"{said} asks for {PRINT_PPI} and sends back what is under {LEAST_PPI}.", photo.at, mend=mend
            )


def _printed_width(info: PictureInfo, card: Format) -> float:
    """How wide a picture is printed at most, millimetres."""
    box = plate_most(card)
    return min(box.width, box.height * info.width / info.height)
