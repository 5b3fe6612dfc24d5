"""What a print shop would refuse and can be known before anything is printed: too few pixels, too little bleed, too narrow a margin."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.guide.findings import At, Finding
from guidebuild.guide.guide import Settings
from guidebuild.press.engine.problem_codes import PROBLEM_CODES
from guidebuild.press.engine.trees import find_inside
from guidebuild.press.outputs.cards.page import plate_most
from guidebuild.press.paper.formats import LEAST_TO_TRIM, MM_PER_INCH, Format, card_formats_among
from guidebuild.press.photos.copies import PRINT_PPI, print_width
from guidebuild.press.photos.info import PictureInfo, picture_info
from guidebuild.press.theme.folders import find_theme
from guidebuild.views.cards.card import find_plate
from guidebuild.views.pieces.parts import make_pieces

LEAST_PPI = 200
"""Pixels an inch below which shops send a picture back (common practice, no source); they ask for 300."""
LEAST_BLEED = 3.0
"""Millimetres that shops ask for; those that measure in inches ask for an eighth (common practice, no source)."""
_STYLES = ("card.css", "booklet.css")
"""The theme's styles of what goes to a print shop."""
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_PAGE_RULE = re.compile(r"@page\b[^{}]*\{(?P<said>[^{}]*)")
_MARGIN = re.compile(r"(?<![\w-])margin(?:-(?:top|right|bottom|left))?\s*:(?P<lengths>[^;}]*)")
_LENGTH = re.compile(r"(?<![\w.-])(?P<figure>\d*\.?\d+)(?P<unit>mm|cm|q|in|pt|pc|px)?(?![\w.%-])", re.IGNORECASE)
_UNITS = {
    "mm": 1.0,
    "cm": 10.0,
    "q": 0.25,
    "in": MM_PER_INCH,
    "pt": MM_PER_INCH / 72,
    "pc": MM_PER_INCH / 6,
    "px": MM_PER_INCH / 96,
    "": 0.0,
}
"""Millimetres of a length (CSS Values and Units Level 4, section 6.2); a bare 0 has no unit."""
_CODES = {code.code: code for code in PROBLEM_CODES}


def find_refused_by_shop(folder: Path, guide: Published) -> Iterator[Finding]:
    """Findings for a guide that asks for files for a print shop."""
    yield from _short_bleed(guide.settings)
    yield from _few_pixels(folder, guide)
    yield from _narrow_margins(folder)


def _short_bleed(settings: Settings) -> Iterator[Finding]:
    code, at = _CODES["short-bleed"], settings.positions.get("bleed", settings.at)
    if 0 < settings.bleed < LEAST_BLEED:
        yield code.finding(f"A bleed of {settings.bleed:g} mm is less than the {LEAST_BLEED:g} mm that print shops ask for.", at)


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


def _narrow_margins(folder: Path) -> Iterator[Finding]:
    """Pages to which the guide's own theme gives margins in which type stands too near the trim."""
    for own in find_theme(folder)[:-1]:
        for name in _STYLES:
            path = f"cards/{name}"
            file = find_inside(own, path)
            if file is not None and file.is_file():
                yield from _narrow_in(file.read_text(encoding="utf-8", errors="replace"), f"theme/{path}")


def _narrow_in(style: str, where: str) -> Iterator[Finding]:
    plain = _COMMENT.sub(lambda found: "\n" * found.group().count("\n"), style)
    for page in _PAGE_RULE.finditer(plain):
        for margin in _MARGIN.finditer(page["said"]):
            lengths = [float(one["figure"]) * _UNITS[(one["unit"] or "").lower()] for one in _LENGTH.finditer(margin["lengths"])]
            if lengths and min(lengths) < LEAST_TO_TRIM:
                line = plain.count("\n", 0, page.start("said") + margin.start()) + 1
                said = f"{margin.group().strip()} lets type stand nearer to the edge that is cut than print shops want."
                yield _CODES["near-trim"].finding(said, At(where, line), mend=f"Write {LEAST_TO_TRIM:g}mm or more.")
