"""What cameras write into pictures: EXIF 2.32 (CIPA DC-008) and XMP (ISO 16684-1), tags from memory."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from PIL import ExifTags, Image

from guidebuild.bringing.picture_facts import PictureFacts, read_picture_facts

_XMP = """<?xpacket begin='' id='W5M0MpCehiHzreSzNTczkc9d'?><x:xmpmeta xmlns:x='adobe:ns:meta/'>
<rdf:RDF xmlns:rdf='http://www.w3.org/1999/02/22-rdf-syntax-ns#'><rdf:Description xmlns:dc='http://purl.org/dc/elements/1.1/'
 xmlns:xmpRights='http://ns.adobe.com/xap/1.0/rights/'>
<dc:creator><rdf:Seq><rdf:li>{creator}</rdf:li></rdf:Seq></dc:creator>
<xmpRights:WebStatement>{licence}</xmpRights:WebStatement>
</rdf:Description></rdf:RDF></x:xmpmeta><?xpacket end='w'?>"""


def _facts(tmp_path: Path, **given: object) -> PictureFacts:
    exif = Image.Exif()
    for tag, value in given.items():
        if tag in ("DateTimeOriginal", "DateTimeDigitized"):
            exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base[tag]] = value
        elif tag != "xmp":
            exif[ExifTags.Base[tag]] = value
    path = tmp_path / "picture.jpg"
    more = {"xmp": str(given["xmp"]).encode()} if "xmp" in given else {}
    Image.new("RGB", (60, 40)).save(path, exif=exif, **more)
    read = read_picture_facts(path, "picture.jpg")
    assert isinstance(read, PictureFacts)
    return read


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2026:05:03 10:11:12", dt.date(2026, 5, 3)),
        ("2026-05-03T10:11:12", dt.date(2026, 5, 3)),
        ("0000:00:00 00:00:00", None),
        ("1970:01:01 00:00:00", None),
        ("2026:13:40 00:00:00", None),
        ("    :  :     :  :  ", None),
        ("", None),
    ],
)
def test_the_day(tmp_path: Path, typed: str, day: dt.date | None) -> None:
    assert _facts(tmp_path, DateTimeOriginal=typed).taken == day


def test_the_day_of_a_scan_counts_where_there_is_no_other(tmp_path: Path) -> None:
    assert _facts(tmp_path, DateTimeDigitized="2026:05:03 10:11:12").taken == dt.date(2026, 5, 3)


@pytest.mark.parametrize(
    ("given", "credit", "licence"),
    [
        ({"Artist": "Ann Reed"}, "Ann Reed", ""),
        ({"Artist": "Zoë Łoś".encode()}, "Zoë Łoś", ""),
        ({"Copyright": "© 2026 Ann Reed".encode()}, "Ann Reed", ""),
        ({"Copyright": "Copyright (c) 2024 Ann Reed, CC BY 4.0"}, "Ann Reed", "CC-BY-4.0"),
        ({"Copyright": "© 2026 Zoë".encode("latin-1")}, "Zoë", ""),
        ({"Copyright": "Ann Reed. All rights reserved."}, "Ann Reed", ""),
        ({"Artist": "Ann Reed", "Copyright": "CC BY"}, "Ann Reed", ""),
        ({"Copyright": "CC0"}, "", "CC0-1.0"),
        ({"xmp": _XMP.format(creator="Bo Lund", licence="https://creativecommons.org/licenses/by-sa/4.0/")}, "Bo Lund", "CC-BY-SA-4.0"),
        ({"xmp": "<!DOCTYPE x [<!ENTITY a 'boo'>]><x:xmpmeta xmlns:x='adobe:ns:meta/'>&a;</x:xmpmeta>"}, "", ""),
        ({"xmp": "no xml at all <"}, "", ""),
        ({"Artist": "x" * 5000}, "", ""),
    ],
)
def test_who_made_it_and_under_which_licence(tmp_path: Path, given: dict[str, object], credit: str, licence: str) -> None:
    facts = _facts(tmp_path, **given)
    assert (facts.credit, facts.licence) == (credit, licence)


def test_a_file_is_called_by_what_it_is(tmp_path: Path) -> None:
    path = tmp_path / "really a png.jpg"
    Image.new("RGB", (6, 4)).save(path, "PNG")
    read = read_picture_facts(path, path.name)
    assert isinstance(read, PictureFacts)
    assert read.ending == ".png"
