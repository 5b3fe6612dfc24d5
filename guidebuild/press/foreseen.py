"""What `make` would refuse and can be known before anything is made: words for prints, papers too small, photos, the guide's own theme.

What shows only when pages are laid out or pictures are decoded is told by `make`; `tests/press/test_foreseen.py` lists which is which.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache, partial
from pathlib import Path
from typing import TypeVar

from guidebuild.guide.findings import At, Code, Finding
from guidebuild.guide.guide import Settings
from guidebuild.later import imported_when_used
from guidebuild.press.engine.problem_codes import PROBLEM_CODES
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.trees import files_below, find_inside
from guidebuild.press.paper.formats import PRINT_SHOP, PrintKind, UnknownFormatError, card_format_named, paper_named, print_named
from guidebuild.press.paper.room import NoRoomError, booklet_sheet, grid_for
from guidebuild.press.theme.folders import find_theme, leads_out

with imported_when_used():  # most guides have no theme, no recordings, and no photo that must be opened to be known
    from guidebuild.press.media import cleaning, positions
    from guidebuild.press.paper import output_profile
    from guidebuild.press.paper import theme as card_theme
    from guidebuild.press.photos import info
    from guidebuild.press.theme import sandbox

T = TypeVar("T")
_CODES = {code.code: code for code in PROBLEM_CODES}
_OPENS_FOR_SURE = (b"\xff\xd8\xff",)
"""How a JPEG begins."""
_SMALL = 1_000_000
"""A JPEG of so few bytes has fewer pixels than are too many (12 bits for each block of 256 pixels at the very least)."""


def find_refused(
    folder: Path,
    settings: Settings,
    cards: Iterable[tuple[str, At]],
    photos: Iterable[tuple[str, At]],
    media: Iterable[tuple[str, At]] = (),
) -> Iterator[Finding]:
    """All that can be foreseen. `cards` are formats that walks ask for, `photos` and `media` files, each with where it is named."""
    places = settings.positions
    yield from _refused_prints(folder, settings, lambda key: places.get(key, settings.at))
    for word, at in cards:
        yield from _tried(_CODES["unknown-format"], at, partial(card_format_named, word))[1]
    for file, at in photos:
        yield from _refused_photo(folder, file, at)
    for file, at in media:
        yield from _refused_media(folder, file, at)
    yield from _refused_theme(folder)


def is_for_shop(settings: Settings) -> bool:
    """Whether files for a print shop are asked for."""
    return any(wanted.casefold() == PRINT_SHOP for wanted in settings.prints)


def _tried(code: Code, at: At, ask: Callable[[], T]) -> tuple[T | None, list[Finding]]:
    """What an asking answers, or the finding for what it raises."""
    try:
        return ask(), []
    except (ValueError, OSError, UnknownFormatError, NoRoomError) as error:
        told = str(error)
        words, _, mend = told.partition("; ") if "; " in told else told.partition(". ")
        return None, [code.finding(_as_sentence(words), at, mend=_as_sentence(mend))]


def _as_sentence(words: str) -> str:
    is_file = "." in words.partition(" ")[0]  # its name stays as it is spelt
    return f"{words if is_file else words[:1].upper() + words[1:]}".rstrip(".") + "." if words else ""


def _refused_prints(folder: Path, settings: Settings, at: Callable[[str], At]) -> Iterator[Finding]:
    unknown, no_room = _CODES["unknown-format"], _CODES["no-room"]
    card, found = _tried(unknown, at("card"), partial(card_format_named, settings.card))
    yield from found
    paper, found = _tried(unknown, at("paper"), partial(paper_named, settings.paper))
    yield from found
    if card and paper:
        yield from _tried(no_room, at("paper"), partial(grid_for, card, paper, settings.bleed))[1]
    for wanted in dict.fromkeys(settings.prints):
        if wanted.casefold() == PRINT_SHOP:
            if settings.print_profile:
                ask = partial(output_profile.read_profile_of, folder, settings.print_profile)
                yield from _tried(_CODES["print-profile"], at("print profile"), ask)[1]
            continue
        printed, found = _tried(unknown, at("prints"), partial(print_named, wanted))
        yield from found
        if printed and paper and printed.kind is PrintKind.BOOKLET:
            yield from _tried(no_room, at("prints"), partial(booklet_sheet, printed, paper))[1]


def _opens_for_sure(path: Path) -> bool:
    """Whether a file is a JPEG of few bytes: asked of each photo, so with as few calls as there can be."""
    with path.open("rb", buffering=0) as opened:
        return opened.read(3) in _OPENS_FOR_SURE and os.fstat(opened.fileno()).st_size < _SMALL


def _refused_photo(folder: Path, file: str, at: At) -> Iterator[Finding]:
    path = folder / file
    try:
        if _opens_for_sure(path):
            return
        problem = info.picture_info(path, file)
    except OSError as error:
        yield _CODES["not-readable"].finding(f"{file} cannot be opened: {error.strerror}.", at)
        return
    if isinstance(problem, Problem):
        words, _, mend = problem.message.partition("; ")
        yield _CODES[problem.what].finding(f"{file}: {words}.", at, mend=_as_sentence(mend))


def _refused_media(folder: Path, file: str, at: At) -> Iterator[Finding]:
    """Recordings and films that cannot be cleaned, and those that say where they were made."""
    path = folder / file
    try:
        standing = path.stat()
        told = _look_into_media(path, file, standing.st_size, standing.st_mtime_ns)
    except OSError:
        told = _find_in_media(path, file)
    if isinstance(told, Problem):
        words, _, mend = told.message.partition("; ")
        yield _CODES[told.what].finding(f"{file}: {words}.", at, mend=_as_sentence(mend))
    elif told:
        what, words = told
        yield _CODES["media-position"].finding(f"{file} says where it was made: “{words}” in its {what}.", at)


@lru_cache(maxsize=2048)
def _look_into_media(path: Path, file: str, _size: int, _changed: int) -> Problem | tuple[str, str] | None:
    """As `_find_in_media`, kept as long as the file stays as it is: checks follow each edit under preview, and films are large."""
    return _find_in_media(path, file)


def _find_in_media(path: Path, file: str) -> Problem | tuple[str, str] | None:
    """Why a file cannot be cleaned, or what in it says where it was made, and in which words."""
    told = cleaning.read_remarks(path, file)
    return told if isinstance(told, Problem) else positions.find_position(told)


def _refused_theme(folder: Path) -> Iterator[Finding]:
    code = _CODES["theme"]
    if leads_out(folder):
        yield code.finding("The theme is a link that leads out of the guide's folder.", At("theme"), mend="Copy it into the guide.")
    for own in find_theme(folder)[:-1]:
        for path in sorted(files_below(own)):
            file = find_inside(own, path)
            if file is not None and path.endswith((".html", ".xml")):
                fault = sandbox.find_syntax_fault(file.read_bytes(), path)
                yield from [code.finding(fault[0], At(f"theme/{path}", fault[1]))] if fault else ()
        if (own / "cards" / "card.yaml").is_file():
            at = At("theme/cards/card.yaml")
            yield from _tried(code, at, partial(card_theme.make_theme, find_theme(folder)))[1]
