"""A name planted in each kind of file that an author may publish is found there, and pixels, sounds and hashes spell none."""

from __future__ import annotations

import base64
import bz2
import gzip
import io
import lzma
import random
import struct
import tarfile
import wave
import zipfile
import zlib
from dataclasses import replace

import pikepdf
import pytest
from PIL import Image, PngImagePlugin

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.press import unpack
from guidebuild.press.leak_scan import file_leaks
from tests.fieldwork.invented import PLACES, guide

SECRETS = secrets_of(guide())
NAME = "by the Weir Pool"
WORDS = NAME.encode()


def told(name: str, content: bytes) -> list[str]:
    return [str(problem) for problem in file_leaks(name, content, SECRETS)]


def zipped(**members: bytes) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name.replace("__", "/"), content)
    return made.getvalue()


def tarred(content: bytes) -> bytes:
    made = io.BytesIO()
    with tarfile.open(fileobj=made, mode="w") as archive:
        member = tarfile.TarInfo("notes.txt")
        member.size = len(content)
        archive.addfile(member, io.BytesIO(content))
    return made.getvalue()


def picture(kind: str = "JPEG", **more: object) -> bytes:
    made = io.BytesIO()
    Image.effect_noise((64, 48), 80).convert("RGB").save(made, kind, **more)
    return made.getvalue()


def exif(tag: int, value: bytes, *, inner: bool = False) -> bytes:
    held = Image.Exif()
    (held.get_ifd(0x8769) if inner else held)[tag] = value
    return picture(exif=held.tobytes())


def with_segments(marker: int, *payloads: bytes) -> bytes:
    plain = picture()
    segments = b"".join(b"\xff" + bytes([marker]) + (len(payload) + 2).to_bytes(2, "big") + payload for payload in payloads)
    return plain[:2] + segments + plain[2:]


def extended_xmp() -> bytes:
    """XMP Specification Part 3, 1.1.3.1: signature, digest of 32 signs, length of the whole, place of this piece."""
    whole = b"<rdf:Description><dc:title>" + b"x" * 20 + WORDS + b"</dc:title></rdf:Description>"
    cut = whole.index(b"Weir") + 2
    head = b"http://ns.adobe.com/xmp/extension/\x00" + b"A" * 32 + len(whole).to_bytes(4, "big")
    return with_segments(0xE1, head + cut.to_bytes(4, "big") + whole[cut:], head + bytes(4) + whole[:cut])


def app11() -> bytes:
    """JPEG XT (ISO 18477-3) boxes, as content credentials use them, from memory: `JP`, the box, the piece of it, its length and type."""
    whole = b'{"assertion": "' + WORDS + b'"}'
    cut = whole.index(b"Pool") + 2
    head = b"JP\x00\x01"
    box = (8 + len(whole)).to_bytes(4, "big") + b"jumb"
    return with_segments(0xEB, head + b"\x00\x00\x00\x01" + box + whole[:cut], head + b"\x00\x00\x00\x02" + box + whole[cut:])


def png(**more: str) -> bytes:
    texts = PngImagePlugin.PngInfo()
    texts.add_itxt("Comment", more["text"], zip=True)
    return picture("PNG", pnginfo=texts)


def sound(*chunks: tuple[bytes, bytes]) -> bytes:
    made = io.BytesIO()
    with wave.open(made, "wb") as recording:
        recording.setnchannels(1)
        recording.setsampwidth(2)
        recording.setframerate(8000)
        recording.writeframes(random.Random(1).randbytes(8000))
    content = made.getvalue() + b"".join(name + struct.pack("<I", len(held)) + held for name, held in chunks)
    return content[:4] + struct.pack("<I", len(content) - 8) + content[8:]


def mp3(text: bytes) -> bytes:
    """ID3v2.3 (id3.org, 1999): a title of one encoding byte and text."""
    frame = b"TIT2" + len(text).to_bytes(4, "big") + b"\x00\x00" + text
    return b"ID3\x03\x00\x00" + bytes([0, 0, 0, len(frame)]) + frame + b"\xff\xfb\x90\x00" + random.Random(2).randbytes(5000)


def box(name: bytes, held: bytes) -> bytes:
    return (8 + len(held)).to_bytes(4, "big") + name + held


def mp4(*boxes: bytes, sounds: bytes = b"") -> bytes:
    return (
        box(b"ftyp", b"isom\x00\x00\x02\x00mp42") + box(b"mdat", random.Random(3).randbytes(5000) + sounds) + box(b"moov", b"".join(boxes))
    )


def pdf(stream: bytes, **more: pikepdf.Object) -> bytes:
    made = pikepdf.new()
    made.add_blank_page(page_size=(200, 200))
    held = made.make_stream(stream)
    for key, value in more.items():
        held[f"/{key}"] = value
    made.Root["/Extra"] = made.make_indirect(held)
    target = io.BytesIO()
    made.save(target, compress_streams=True)
    return target.getvalue()


def rewritten_pdf() -> bytes:
    first = pdf(b"q Q")
    return first + b"\n9 0 obj\n(" + WORDS + b")\nendobj\n" + first[first.rindex(b"startxref") :]


DOCX = zipped(**{
    "[Content_Types].xml": b"<Types/>",
    "word__document.xml": b"<w:p><w:r><w:t>by the Weir</w:t></w:r><w:proofErr w:type='spellStart'/>"
    b"<w:r><w:t xml:space='preserve'> Pool</w:t></w:r></w:p>",
})  # fmt: skip
XLSX = zipped(xl__sharedStrings=b"<sst><si><t>North Hedge</t></si><si><r><t>Weir </t></r><r><t>Pool</t></r></si></sst>")
WIDE = NAME.encode("utf-16-le")
PLANTED = {
    "EXIF UserComment in Unicode.jpg": exif(0x9286, b"UNICODE\x00" + WIDE, inner=True),
    "EXIF UserComment in Unicode, the other way round.jpg": exif(0x9286, b"UNICODE\x00" + NAME.encode("utf-16-be"), inner=True),
    "EXIF UserComment in ASCII.jpg": exif(0x9286, b"ASCII\x00\x00\x00" + WORDS, inner=True),
    "EXIF XPTitle.jpg": exif(0x9C9B, WIDE + b"\x00\x00"),
    "EXIF XPComment.jpg": exif(0x9C9C, WIDE + b"\x00\x00"),
    "EXIF XPKeywords.jpg": exif(0x9C9E, ("a;" + NAME).encode("utf-16-le")),
    "EXIF MakerNote.jpg": exif(0x927C, b"Maker\x00" + WORDS, inner=True),
    "extended XMP.jpg": extended_xmp(),
    "APP11.jpg": app11(),
    "APP13.jpg": with_segments(0xED, b"Photoshop 3.0\x00" + WORDS),
    "a comment.jpg": with_segments(0xFE, WORDS),
    "a comment in UTF-16.jpg": with_segments(0xFE, WIDE),
    "behind the picture.jpg": picture() + WORDS,
    "packed text.png": png(text=NAME),
    "an unknown chunk.png": picture("PNG")[:33] + struct.pack(">I", len(WORDS)) + b"abCd" + WORDS
    + struct.pack(">I", zlib.crc32(b"abCd" + WORDS)) + picture("PNG")[33:],
    "XMP.webp": picture("WEBP", xmp=b"<x>" + WORDS + b"</x>"),
    "a picture under another name.dat": exif(0x9C9B, WIDE + b"\x00\x00"),
    "a recording with a note.wav": sound((b"LIST", b"INFOICMT" + struct.pack("<I", len(WORDS)) + WORDS)),
    "a recording with bext.wav": sound((b"bext", WORDS.ljust(602, b"\x00"))),
    "a sound.mp3": mp3(b"\x00" + WORDS),
    "a sound, in UTF-16.mp3": mp3(b"\x01\xff\xfe" + WIDE),
    "a film's title.mp4": mp4(box(b"\xa9nam", b"\x00\x00\x00\x00" + WORDS)),
    "a film's subtitle.mp4": mp4(sounds=len(WORDS).to_bytes(2, "big") + WORDS),
    "a film's XMP.mp4": mp4() + box(b"uuid", bytes(16) + b"<x>Weir Pool</x>"),
    "packed.gz": gzip.compress(WORDS),
    "packed.svgz": gzip.compress(b"<svg><text>Weir<tspan> Pool</tspan></text></svg>"),
    "packed.bz2": bz2.compress(WORDS),
    "packed.xz": lzma.compress(WORDS),
    "packed.tar": tarred(WORDS),
    "packed.tar.gz": gzip.compress(tarred(WORDS)),
    "an archive.zip": zipped(a=WORDS),
    "an archive in an archive.zip": zipped(**{"inner.zip": zipped(a=gzip.compress(WORDS))}),
    "a name of a file in an archive.zip": zipped(weir_pool=b""),
    "a picture in an archive.zip": zipped(**{"a.jpg": exif(0x9C9B, WIDE + b"\x00\x00")}),
    "a text.docx": DOCX,
    "a table.xlsx": XLSX,
    "a stream.pdf": pdf(WORDS),
    "an earlier version.pdf": rewritten_pdf(),
    "a picture in a page.html": b'<img src="data:image/jpeg;base64,' + base64.b64encode(exif(0x9C9B, WIDE + b"\x00\x00")) + b'">',
    "UTF-16.txt": "\ufeff".encode("utf-16-le") + WIDE,
    "UTF-16 without its mark.txt": WIDE,
    "an old text.txt": "Höhe 3 m, by the Weir Pool".encode("latin-1"),
    "no typeface.ttf": WORDS,
}  # fmt: skip


@pytest.mark.parametrize("name", PLANTED)
def test_a_name_planted_in_a_file_is_found(name: str) -> None:
    assert any("“Weir Pool”" in problem for problem in told(name.replace(" ", "-"), PLANTED[name])), told(name, PLANTED[name])


@pytest.mark.parametrize("name", PLANTED)
def test_the_same_file_with_other_words_is_silent(name: str) -> None:
    others = PLANTED[name]
    for one, other in (
        (b"Weir", b"Long"),
        ("Weir".encode("utf-16-le"), "Long".encode("utf-16-le")),
        ("Weir".encode("utf-16-be"), "Long".encode("utf-16-be")),
    ):
        others = others.replace(one, other)
    if others != PLANTED[name] and not name.endswith(("png", "zip", "xz")):  # these have sums
        assert told("a" + name[name.rindex(".") :], others) == []


def test_what_cannot_be_opened_is_held_back(monkeypatch: pytest.MonkeyPatch) -> None:
    closed = "The archive cannot be looked through ({}), so it is held back. Mend the text or picture it comes from; nothing was published."
    assert told("a.7z", b"7z\xbc\xaf\x27\x1c" + bytes(40)) == [f"a.7z: {closed.format('a 7z archive')}"]
    assert told("a.gz", gzip.compress(b"x" * 1000)[:-12]) == [f"a.gz: {closed.format('EOFError')}"]
    deep = WORDS
    for _ in range(8):
        deep = gzip.compress(deep)
    assert "too many archives in one another" in told("a.gz", deep)[0]
    monkeypatch.setattr(unpack, "LARGEST", 500)
    assert told("a.gz", gzip.compress(b"x" * 1000)) == [f"a.gz: {closed.format('it is too large once it is unpacked')}"]
    assert told("a.zip", zipped(a=b"x" * 400, b=b"x" * 400)) == [f"a.zip: {closed.format('it is too large once it is unpacked')}"]


def test_pixels_sounds_and_random_bytes_spell_no_name() -> None:
    chance = random.Random(4)
    bead = replace(PLACES["weir-pool"], id="bead", name="Bead")  # four letters that are figures to the base of sixteen too
    short = secrets_of(guide(places={"bead": bead}))
    for number in range(30):
        content = chance.randbytes(200_000)
        for name in ("a.bin", "a.mp3", "a.mp4"):
            assert [str(p) for p in file_leaks(name, b"\x00" + content, short)] == [], number
    assert [str(p) for p in file_leaks("a.jpg", picture(quality=100), short)] == []
