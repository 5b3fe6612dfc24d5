"""The last look before publishing: whether any finished file gives a secret place away.

Texts are read as a reader would see them; pictures and PDFs are opened for all that travels inside them unseen. A position
or a small preview inside a picture is a leak in any guide, whether or not it has secrets: it was never meant to be there.
"""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path, PurePosixPath
from urllib.parse import unquote

import pikepdf
import pypdfium2
from PIL import ExifTags, Image, ImageFile, IptcImagePlugin

from guidebuild.fieldwork.hidden_words import BREAK, read_bytes, read_value
from guidebuild.fieldwork.leaks import Leak, Secrets, leaks_in, names_in, names_in_bytes
from guidebuild.fieldwork.name_finder import NameFinder
from guidebuild.later import imported_when_used
from guidebuild.press.engine.digest import digest_bytes
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.media.cleaning import Remark, find_container, read_remarks
from guidebuild.press.media.positions import find_pictures, find_position
from guidebuild.press.photos.info import FORMATS, UNREADABLE
from guidebuild.press.picture_pieces import carried_pieces
from guidebuild.press.unpack import DEEPEST, CannotUnpackError, is_packed, unpack

with imported_when_used():  # geometry and projections
    from guidebuild.fieldwork import drawn_maps

MARK = 'data-map="'
CODE = "leak"
_PICTURES = {".jpg", ".jpeg", ".png", ".webp", ".avif", ".gif", ".tif", ".tiff", ".heic", ".bmp"}
_PICTURE_HEADS = (b"\xff\xd8\xff", b"\x89PNG\r\n", b"GIF8", b"II*\x00", b"MM\x00*")
_FONT_HEADS = (b"wOFF", b"wOF2", b"OTTO", b"ttcf", b"true", b"\x00\x01\x00\x00")  # packaged with the tool, not made from the guide
_EMBEDDED = re.compile(r"data:[\w/+.-]*(?:;[\w=.-]+)*;base64,([\w+/=\s%-]+)")
_MEND = "Mend the text or picture it comes from; nothing was published."
_ALLOW = 'Take it out, or write - "{}" under “public positions:” in guide.yaml if all may know it; nothing was published.'
_PICTURE_BRANDS = {b"avif", b"avis", b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}
_THUMBNAIL_OFFSET = 0x0201


@dataclass(frozen=True, slots=True)
class LeakWork:
    """A file to be published under a name, and what it must not tell."""

    name: str
    file: Path
    secrets: Secrets


def file_leaks(name: str, content: bytes, secrets: Secrets) -> Iterator[Problem]:
    """The leaks of one file: its name, its text, and what travels inside it. Depends on nothing but its arguments."""
    yield from _leaks_of(name, content, secrets, 0)


def _leaks_of(name: str, content: bytes, secrets: Secrets, depth: int) -> Iterator[Problem]:
    yield from (_problem(name, leak, "") for leak in names_in(name.replace("/", " / "), secrets))
    if content.startswith(_FONT_HEADS):
        return
    if PurePosixPath(name).suffix.lower() in _PICTURES or content.startswith(_PICTURE_HEADS) or _is_boxed_picture(content):
        yield from _picture(name, content, secrets)
    elif content.startswith(b"%PDF"):
        yield from _pdf(name, content, secrets, depth)
    elif find_container(content) and not isinstance(remarks := read_remarks(content, ""), Problem):
        yield from _media(name, content, remarks, secrets)
    elif is_packed(content):
        yield from _archive(name, content, secrets, depth)
    else:
        text = _decoded(content)
        yield from _text(name, text, secrets)
        yield from _embedded(name, text, secrets, depth)


def _is_boxed_picture(content: bytes) -> bool:
    return (content[:4] == b"RIFF" and content[8:12] == b"WEBP") or (content[4:8] == b"ftyp" and content[8:12] in _PICTURE_BRANDS)


def _embedded(name: str, text: str, secrets: Secrets, depth: int) -> Iterator[Problem]:
    """Files that stand in a text themselves, as addresses that begin with `data:`."""
    if ";base64," not in text or depth >= DEEPEST:
        return
    for number, held in enumerate(_EMBEDDED.finditer(text), 1):
        try:
            content = base64.b64decode(unquote(held[1]), validate=False)
        except ValueError:
            continue
        yield from _leaks_of(f"{name}/embedded-{number}", content, secrets, depth + 1)


def look_through(work: LeakWork) -> Made:
    """The leaks of one file, as a job."""
    return Made((), tuple(file_leaks(work.name, work.file.read_bytes(), work.secrets)))


def _problem(name: str, leak: Leak, part: str) -> Problem:
    line = f"line {leak.line + 1}" if leak.line and not part else ""
    where = ", ".join(piece for piece in (name, part, line) if piece)
    return Problem(CODE, where, f"{leak}. {_MEND if leak.place else _ALLOW.format(leak.where)}")


def _text(name: str, text: str, secrets: Secrets, part: str = "") -> Iterator[Problem]:
    yield from (_problem(name, leak, part) for leak in leaks_in(text, secrets))
    if MARK in text:
        yield from (_problem(name, leak, part) for leak in drawn_maps.find_map_leaks(text, secrets))


def _decoded(content: bytes) -> str:
    """Text of whatever encoding; of bytes that are no text, such as a recording, the words that stand in them."""
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return content.decode("utf-16", errors="replace")
    if b"\x00" in content:
        return read_bytes(content)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("latin-1")


def _archive(name: str, content: bytes, secrets: Secrets, depth: int) -> Iterator[Problem]:
    try:
        if depth >= DEEPEST:
            raise CannotUnpackError("too many archives in one another")
        for member, held in unpack(content):
            if member:
                yield from _leaks_of(f"{name}/{member}", held, secrets, depth + 1)
            else:
                yield from _text(name, _decoded(held), secrets, "comment")
    except CannotUnpackError as trouble:
        yield Problem(CODE, name, f"The archive cannot be looked through ({trouble}), so it is held back. {_MEND}")


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
    for leak in (
        *leaks_in(BREAK.join(texts), secrets),
        *(leak for piece in carried_pieces(content) for leak in names_in_bytes(piece, secrets)),
    ):
        if (leak.place, leak.found) not in reported:
            reported.add((leak.place, leak.found))
            yield _problem(name, leak, f"{part}, inside the picture".strip(", "))


def _media(name: str, content: bytes, remarks: tuple[Remark, ...], secrets: Secrets) -> Iterator[Problem]:
    """What a recording or film carries beside sound and picture: tags, chapters, pictures; and words that stand anywhere in it."""
    if told := find_position(remarks):
        yield Problem(CODE, name, f"The recording carries a position ({told[0]}). {_MEND}")
    words = BREAK.join(read_bytes(remark.held) for remark in remarks)
    reported = set()
    for leak in (*leaks_in(words, secrets), *names_in_bytes(content, secrets)):
        if (leak.place, leak.found) not in reported:
            reported.add((leak.place, leak.found))
            yield _problem(name, leak, "inside the recording")
    for remark in remarks:
        for picture in find_pictures(remark.held):
            yield from _picture(name, picture, secrets, "a picture in it")


def _words_of(picture: Image.Image, exif: Image.Exif) -> list[str]:
    """Every text inside a picture file."""
    values: list[object] = [*exif.values(), *exif.get_ifd(ExifTags.IFD.Exif).values(), *picture.info.values()]
    iptc = IptcImagePlugin.getiptcinfo(picture) if isinstance(picture, ImageFile.ImageFile) else None
    values += [piece for held in (iptc or {}).values() for piece in (held if isinstance(held, list) else [held])]
    held = (read_value(value) if isinstance(value, bytes) else [value] for value in values if isinstance(value, (bytes, str)))
    return [text for texts in held for text in texts]


def _pdf(name: str, content: bytes, secrets: Secrets, depth: int) -> Iterator[Problem]:
    """A PDF in all its pieces; words of its streams that no reader sees are told only where nothing else tells them."""
    try:
        with pikepdf.open(io.BytesIO(content)) as document:
            told = [*_pdf_objects(name, document, secrets, depth), *(_pdf_pages(name, content, secrets) if secrets else ())]
            yield from told
            known = {problem.message for problem in told}
            unseen = [_names_in_stream(_read_stream(thing), secrets) for thing in document.objects if secrets and _has_unseen_words(thing)]
    except (pikepdf.PdfError, *UNREADABLE) as trouble:
        yield Problem(CODE, name, f"The PDF cannot be looked through ({type(trouble).__name__}), so it is held back. {_MEND}")
        return
    if content.count(b"%%EOF") > 1:  # what was crossed out in a later version still stands in the file
        unseen.append(tuple(names_in_bytes(content, secrets)))
    for problem in (_problem(name, leak, "unseen words") for leaks in unseen for leak in leaks):
        if problem.message not in known:
            known.add(problem.message)
            yield problem


def _pdf_objects(name: str, document: pikepdf.Pdf, secrets: Secrets, depth: int) -> Iterator[Problem]:
    """Every string of every object (titles, bookmarks, links, descriptions), attachments, embedded pictures."""
    strings: list[str] = []
    for thing in document.objects:
        strings += _strings(thing)
        yield from _pdf_stream(name, thing, secrets)
    yield from _text(name, "\n".join(strings), secrets, "unseen text")
    for file, attached in document.attachments.items():
        yield from _leaks_of(f"{name}/{file}", attached.get_file().read_bytes(), secrets, depth + 1)


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


def _has_unseen_words(thing: pikepdf.Object) -> bool:
    """Whether an object is a stream that may hold words and is looked at in no other way: no picture, typeface, attachment or table."""
    if not isinstance(thing, pikepdf.Stream) or "/Length1" in thing:
        return False
    kinds = {str(thing.get("/Type")), str(thing.get("/Subtype"))}
    return not kinds & {"/Metadata", "/Image", "/Type1C", "/CIDFontType0C", "/OpenType", "/EmbeddedFile", "/ObjStm", "/XRef"}


@lru_cache(maxsize=64)
def _streams_without(_: NameFinder) -> set[str]:
    """Digests of streams in which these names were looked for in vain."""
    return set()


def _names_in_stream(content: bytes, secrets: Secrets) -> tuple[Leak, ...]:
    """Names in a stream, which is looked through once: a card's pages stand in its own file, in the deck and on the sheets."""
    known, mark = _streams_without(secrets.sieve.names), digest_bytes(content)
    leaks = () if mark in known else tuple(names_in_bytes(content, secrets))
    if not leaks:
        known.add(mark)
    return leaks


def _read_stream(stream: pikepdf.Object) -> bytes:
    try:
        return stream.read_bytes()
    except pikepdf.PdfError:  # packed in a way that is for pictures only
        return stream.read_raw_bytes()
