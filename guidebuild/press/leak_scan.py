"""The last look before publishing: whether any finished file gives a secret place away.

Texts are read as a reader would see them; pictures and PDFs are opened for all that travels inside them unseen. A position
or a small preview inside a picture is a leak in any guide, whether or not it has secrets: it was never meant to be there.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

import pikepdf
import pypdfium2
from PIL import ExifTags, Image, ImageFile, IptcImagePlugin

from guidebuild.fieldwork.leaks import Leak, Secrets, leaks_in, names_in, names_in_bytes
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.store import Made
from guidebuild.press.photos.info import FORMATS, UNREADABLE

CODE = "leak"
_PICTURES = {".jpg", ".jpeg", ".png", ".webp", ".avif", ".gif", ".tif", ".tiff", ".heic", ".bmp"}
_FONTS = {".woff", ".woff2", ".ttf", ".otf"}  # packaged with the tool, not made from the guide
_MEND = "Mend the text or picture it comes from; nothing was published."
_THUMBNAIL_OFFSET = 0x0201


@dataclass(frozen=True, slots=True)
class LeakWork:
    """A file to be published under a name, and what it must not tell."""

    name: str
    file: Path
    secrets: Secrets


def file_leaks(name: str, content: bytes, secrets: Secrets) -> Iterator[Problem]:
    """The leaks of one file: its name, its text, and what travels inside it. Depends on nothing but its arguments."""
    yield from (_problem(name, leak, "") for leak in names_in(name.replace("/", " / "), secrets))
    suffix = PurePosixPath(name).suffix.lower()
    if suffix in _FONTS:
        return
    if suffix in _PICTURES:
        yield from _picture(name, content, secrets)
    elif content.startswith(b"%PDF"):
        yield from _pdf(name, content, secrets)
    elif zipfile.is_zipfile(io.BytesIO(content)):
        yield from _archive(name, content, secrets)
    else:
        yield from _text(name, _decoded(content), secrets)


def look_through(work: LeakWork) -> Made:
    """The leaks of one file, as a job."""
    return Made((), tuple(file_leaks(work.name, work.file.read_bytes(), work.secrets)))


def _problem(name: str, leak: Leak, part: str) -> Problem:
    line = f"line {leak.line + 1}" if leak.line and not part else ""
    where = ", ".join(piece for piece in (name, part, line) if piece)
    return Problem(CODE, where, f"{leak}. {_MEND}")


def _text(name: str, text: str, secrets: Secrets, part: str = "") -> Iterator[Problem]:
    yield from (_problem(name, leak, part) for leak in leaks_in(text, secrets))


def _decoded(content: bytes) -> str:
    """Text of whatever encoding; bytes that are no text still show names written in plain letters."""
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return content.decode("utf-16", errors="replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("latin-1")


def _archive(name: str, content: bytes, secrets: Secrets) -> Iterator[Problem]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        yield from _text(name, _decoded(archive.comment), secrets, "comment")
        for member in archive.infolist():
            yield from file_leaks(f"{name}/{member.filename}", archive.read(member), secrets)


def _picture(name: str, content: bytes, secrets: Secrets, part: str = "") -> Iterator[Problem]:
    """What a picture carries beside its pixels: EXIF, GPS, previews, XMP, IPTC, comments, texts."""
    where = f"{name}, {part}" if part else name
    try:
        with Image.open(io.BytesIO(content), formats=FORMATS) as picture:
            if picture.format == "PNG":
                picture.load()  # its texts may stand behind the pixels; other formats tell all in their head
            exif = picture.getexif()
            if exif.get_ifd(ExifTags.IFD.GPSInfo):
                yield Problem(CODE, where, f"The picture carries a position (EXIF GPS). {_MEND}")
            if exif.get_ifd(ExifTags.IFD.IFD1).get(_THUMBNAIL_OFFSET):
                yield Problem(CODE, where, f"The picture carries a small preview of itself, perhaps uncropped. {_MEND}")
            texts = _words_of(picture, exif)
    except UNREADABLE as trouble:
        yield Problem(CODE, where, f"The picture cannot be looked through ({type(trouble).__name__}), so it is held back. {_MEND}")
        return
    reported = set()
    for leak in (*leaks_in("\n".join(texts), secrets), *names_in_bytes(content, secrets)):
        if (leak.place, leak.found) not in reported:
            reported.add((leak.place, leak.found))
            yield _problem(name, leak, f"{part}, inside the picture".strip(", "))


def _words_of(picture: Image.Image, exif: Image.Exif) -> list[str]:
    """Every text inside a picture file."""
    values: list[object] = [*exif.values(), *exif.get_ifd(ExifTags.IFD.Exif).values(), *picture.info.values()]
    iptc = IptcImagePlugin.getiptcinfo(picture) if isinstance(picture, ImageFile.ImageFile) else None
    values += [piece for held in (iptc or {}).values() for piece in (held if isinstance(held, list) else [held])]
    return [_decoded(value) if isinstance(value, bytes) else value for value in values if isinstance(value, (bytes, str))]


def _pdf(name: str, content: bytes, secrets: Secrets) -> Iterator[Problem]:
    """Every string of every object (titles, bookmarks, links, descriptions), attachments, page text, embedded pictures."""
    try:
        with pikepdf.open(io.BytesIO(content)) as document:
            strings: list[str] = []
            for thing in document.objects:
                strings += _strings(thing)
                yield from _pdf_stream(name, thing, secrets)
            yield from _text(name, "\n".join(strings), secrets, "unseen text")
            for file, attached in document.attachments.items():
                yield from file_leaks(f"{name}/{file}", attached.get_file().read_bytes(), secrets)
        if secrets:
            yield from _pdf_pages(name, content, secrets)
    except (pikepdf.PdfError, *UNREADABLE) as trouble:
        yield Problem(CODE, name, f"The PDF cannot be looked through ({type(trouble).__name__}), so it is held back. {_MEND}")


def _pdf_pages(name: str, content: bytes, secrets: Secrets) -> Iterator[Problem]:
    """The text that a reader of the pages sees."""
    with closing(pypdfium2.PdfDocument(content)) as document:
        for number, page in enumerate(document, 1):
            yield from _text(name, page.get_textpage().get_text_range(), secrets, f"page {number}")


def _strings(thing: pikepdf.Object) -> Iterator[str]:
    """The strings inside one object; what it points at is an object of its own."""
    if isinstance(thing, pikepdf.String):
        yield str(thing)
    elif isinstance(thing, pikepdf.Array):
        for piece in thing:
            yield from _strings_below(piece)
    elif isinstance(thing, pikepdf.Dictionary | pikepdf.Stream):
        for _, piece in thing.items():
            yield from _strings_below(piece)


def _strings_below(piece: object) -> Iterator[str]:
    if isinstance(piece, pikepdf.Object) and not piece.is_indirect:
        yield from _strings(piece)


def _pdf_stream(name: str, thing: pikepdf.Object, secrets: Secrets) -> Iterator[Problem]:
    """XMP metadata and JPEG pictures as they lie in the file."""
    if not isinstance(thing, pikepdf.Stream):
        return
    if thing.get("/Type") == "/Metadata":
        yield from _text(name, _decoded(thing.read_bytes()), secrets, "metadata")
    if thing.get("/Subtype") == "/Image" and "/DCTDecode" in repr(thing.get("/Filter")):
        yield from _picture(name, thing.read_raw_bytes(), secrets, "a picture in it")
