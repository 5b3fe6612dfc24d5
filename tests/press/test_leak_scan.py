"""Finished files are opened and looked through before they are published (case A15)."""

from __future__ import annotations

import io
import zipfile

import pikepdf
import pytest
from PIL import Image, TiffImagePlugin
from PIL.ExifTags import GPS, IFD

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.press.leak_scan import file_leaks
from tests.fieldwork.invented import PLACES, guide

SECRETS = secrets_of(guide())
MEND = "Mend the text or picture it comes from; nothing was published."
GIVES_AWAY = f"“weir pool” gives away the secret place “Weir Pool”. {MEND}"


def leaks(name: str, content: bytes | str) -> list[str]:
    return [str(p) for p in file_leaks(name, content.encode() if isinstance(content, str) else content, SECRETS)]


def picture(kind: str = "JPEG", **more: object) -> bytes:
    made = io.BytesIO()
    Image.new("RGB", (60, 40), "green").save(made, kind, **more)
    return made.getvalue()


def test_a_text_is_told_with_its_line() -> None:
    assert leaks("site/a.html", "<p>one\n<p>the Weir Pool") == [f"site/a.html, line 2: The name {GIVES_AWAY}"]
    assert leaks("site/a.html", "<p>Upper Larkfold, 51.13, -1.28") == []


def test_a_file_name_is_a_leak() -> None:
    assert len(leaks("site/photos/weir-pool-1.css", "")) == 1


def test_a_position_in_a_picture_is_a_leak_in_any_guide() -> None:
    exif = Image.Exif()
    exif.get_ifd(IFD.GPSInfo)[GPS.GPSLatitudeRef] = "N"
    exif.get_ifd(IFD.GPSInfo)[GPS.GPSLatitude] = (
        TiffImagePlugin.IFDRational(51),
        TiffImagePlugin.IFDRational(7),
        TiffImagePlugin.IFDRational(40),
    )
    open_guide = secrets_of(guide(places={"north-hedge": PLACES["north-hedge"]}))
    for kind in ("JPEG", "PNG", "WEBP"):
        found = [str(p) for p in file_leaks(f"a.{kind.lower()}", picture(kind, exif=exif.tobytes()), open_guide)]
        assert found == [f"a.{kind.lower()}: The picture carries a position (EXIF GPS). {MEND}"]


def test_an_embedded_preview_is_a_leak() -> None:
    # Pillow does not write IFD1, so it is built by hand: a TIFF head, an empty IFD0, then IFD1 with offset and length.
    tiff = b"II*\x00\x08\x00\x00\x00" + b"\x00\x00" + (14).to_bytes(4, "little")
    ifd1 = (2).to_bytes(2, "little")
    for tag in (0x0201, 0x0202):
        ifd1 += tag.to_bytes(2, "little") + (4).to_bytes(2, "little") + (1).to_bytes(4, "little") + (44).to_bytes(4, "little")
    found = leaks("a.jpg", picture(exif=b"Exif\x00\x00" + tiff + ifd1 + b"\x00" * 60))
    assert found == [f"a.jpg: The picture carries a small preview of itself, perhaps uncropped. {MEND}"]


DESCRIBED = Image.Exif()
DESCRIBED[0x010E] = "nest by the Weir Pool"
IPTC = b"Photoshop 3.0\x008BIM\x04\x04\x00\x00\x00\x00\x00\x0e\x1c\x02\x5a\x00\x09Weir Pool"
XMP = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><photoshop:City>Weir Pool</photoshop:City></x:xmpmeta>'
CARRIED = {
    "exif": {"exif": DESCRIBED},
    "comment": {"comment": b"weir pool"},
    "xmp": {"xmp": XMP},
}


@pytest.mark.parametrize("carried", CARRIED.values(), ids=CARRIED)
def test_words_inside_a_picture_are_leaks(carried: dict[str, object]) -> None:
    assert leaks("a.jpg", picture(**carried)) == [f"a.jpg, inside the picture: The name {GIVES_AWAY}"]


def test_a_position_in_the_xmp_of_a_picture_is_a_leak() -> None:
    xmp = b'<rdf:Description exif:GPSLatitude="51,7.668N" exif:GPSLongitude="1,17.076W" note="51.1278, -1.2846"/>'
    assert any("The position" in leak for leak in leaks("a.webp", picture("WEBP", xmp=xmp)))


def test_iptc_words_in_a_picture_are_leaks() -> None:
    plain = picture()
    segment = b"\xff\xed" + (len(IPTC) + 2).to_bytes(2, "big") + IPTC
    assert leaks("a.jpg", plain[:2] + segment + plain[2:]) == [f"a.jpg, inside the picture: The name {GIVES_AWAY}"]


def test_a_clean_picture_is_silent_and_a_broken_one_is_held_back() -> None:
    assert leaks("a.jpg", picture()) == []
    assert leaks("a.jpg", b"no picture") == [
        f"a.jpg: The picture cannot be looked through (UnidentifiedImageError), so it is held back. {MEND}"
    ]


def pdf(**titles: str) -> pikepdf.Pdf:
    made = pikepdf.new()
    made.add_blank_page(page_size=(200, 200))
    for key, value in titles.items():
        made.docinfo[f"/{key}"] = value
    return made


def saved(made: pikepdf.Pdf) -> bytes:
    target = io.BytesIO()
    made.save(target, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return target.getvalue()


def test_a_pdf_is_looked_through() -> None:
    assert leaks("cards/a.pdf", saved(pdf(Title="Parent Bug"))) == []
    assert leaks("cards/a.pdf", saved(pdf(Title="The Weir Pool"))) == [f"cards/a.pdf, unseen text: The name {GIVES_AWAY}"]


def test_text_of_a_pdf_page_is_read() -> None:
    made = pdf()
    font = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)
    made.pages[0].Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F1=font))
    made.pages[0].Contents = made.make_stream(b"BT /F1 12 Tf 20 100 Td (by the Weir Pool) Tj ET")
    assert leaks("a.pdf", saved(made)) == [f"a.pdf, page 1: The name {GIVES_AWAY}"]


def test_a_picture_inside_a_pdf_is_looked_through() -> None:
    made = pdf()
    image = made.make_stream(picture(comment=b"weir pool"))
    image.Type, image.Subtype, image.Filter = pikepdf.Name.XObject, pikepdf.Name.Image, pikepdf.Name.DCTDecode
    made.pages[0].Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(Im0=image))
    assert leaks("a.pdf", saved(made)) == [f"a.pdf, a picture in it, inside the picture: The name {GIVES_AWAY}"]


def test_an_attachment_of_a_pdf_is_looked_through() -> None:
    made = pdf()
    made.attachments["notes.txt"] = pikepdf.AttachedFileSpec(made, b"the weir pool")
    assert leaks("a.pdf", saved(made)) == [f"a.pdf/notes.txt: The name {GIVES_AWAY}"]


def test_an_archive_is_opened() -> None:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        archive.writestr("occurrence.csv", "decimalLatitude,decimalLongitude\n51.1278,-1.2846\n")
    assert leaks("data/a.zip", made.getvalue()) == [
        f"data/a.zip/occurrence.csv, line 2: The position “51.1278,-1.2846” gives away the secret place “Weir Pool”. {MEND}"
    ]
