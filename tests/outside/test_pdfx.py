"""Print-shop cards against ISO 15930-7 (PDF/X-4).

Judged by `pdf_oxide` from PyPI, the one checker of PDF/X-4 found in PyPI, npm and Debian that can be installed (`preflight` in
Debian's PDFBox knows PDF/A and PDF/X-1a only; npm has converters). It does not look at fonts, profiles and trapping: those are
read from the file with pikepdf, pypdf, poppler and LittleCMS. Rules of the standard are from memory, not seen; boxes as
ISO 32000-1, 14.11.2.
"""

from __future__ import annotations

import io
import shutil
import struct
import subprocess
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pdfplumber
import pikepdf
import pytest
from pdf_oxide import PdfDocument
from pikepdf import Name, Pdf
from PIL import Image, ImageCms
from pypdf import PdfReader

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.paper.formats import PrintKind, format_named, read_formats
from guidebuild.press.paper.output_profile import read_profile, srgb_output
from guidebuild.press.paper.print_shop import ShopWish, join_for_shop, to_print_shop
from guidebuild.views.cards.card import card_views
from tests.outside.invented_presses import plain_press
from tests.press.small_guide import THEME, drawn_picture, guide

POINTS = 72 / 25.4
PRESS = ShopWish(plain_press())


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    pictures = {"plate": drawn_picture(tmp_path_factory.mktemp("pictures"))}
    return render_card(card_views(make_published(guide()))[0], pictures, format_named("a6"), THEME, bleed=3.0).pdf


@pytest.fixture(scope="module")
def shop(plain: bytes) -> bytes:
    return to_print_shop(plain)


def judged(data: bytes) -> list[str]:
    """What an independent checker has against a file as PDF/X-4."""
    found = PdfDocument.from_bytes(data).validate_pdf_x("4")
    return [*found["errors"], *found["warnings"]]


def test_a_checker_that_is_not_ours_passes_it(shop: bytes) -> None:
    assert judged(shop) == []


def test_a_checker_passes_it_for_a_press_with_black_ink(plain: bytes) -> None:
    assert judged(to_print_shop(plain, PRESS)) == []


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda pdf: pdf.Root.__delitem__("/OutputIntents"), "OutputIntents array is required"),
        (lambda pdf: [page.obj.__delitem__("/TrimBox") for page in pdf.pages], "Either TrimBox or ArtBox is required"),
        (lambda pdf: pdf.Root.__delitem__("/Metadata"), "XMP metadata stream is required"),
        (
            lambda pdf: pdf.Root.__setitem__("/OpenAction", pikepdf.Dictionary(S=Name.JavaScript, JS="1")),
            "JavaScript actions are not allowed",
        ),
    ],
    ids=["no intent", "no trim", "no metadata", "a script"],
)
def test_the_checker_bites(shop: bytes, spoil: Callable[[Pdf], object], said: str) -> None:
    with Pdf.open(io.BytesIO(shop)) as opened:
        spoil(opened)
        written = io.BytesIO()
        opened.save(written)
    assert said in " ".join(judged(written.getvalue()))


def test_the_card_before_it_is_made_ready_for_print_does_not_pass(plain: bytes) -> None:
    assert len(judged(plain)) >= 4


def test_nothing_that_the_standard_forbids_is_in_it(shop: bytes) -> None:
    """No encryption, scripts, actions, embedded files, forms, PostScript, alternate pictures, transfer or halftone functions."""
    forbidden = {"/JS", "/AA", "/OPI", "/Alternates", "/TR", "/TR2", "/HTO", "/EmbeddedFiles", "/AcroForm", "/OpenAction", "/PresSteps"}
    with Pdf.open(io.BytesIO(shop)) as opened:
        assert not opened.is_encrypted
        assert opened.check_pdf_syntax() == []
        for thing in opened.objects:
            if isinstance(thing, pikepdf.Dictionary | pikepdf.Stream):
                assert not forbidden & set(thing.keys())
                assert thing.get("/Subtype") != Name.PS
                assert thing.get("/S") not in {Name.Launch, Name.JavaScript, Name.Movie, Name.Sound}
        assert {str(key) for key in opened.Root} <= {
            "/Type",
            "/Pages",
            "/Lang",
            "/Metadata",
            "/OutputIntents",
            "/ViewerPreferences",
            "/Outlines",
            "/Dests",
        }


@pytest.mark.skipif(shutil.which("pdffonts") is None, reason="poppler-utils are not installed")
def test_poppler_finds_every_font_embedded(shop: bytes, tmp_path: Path) -> None:
    (tmp_path / "card.pdf").write_bytes(shop)
    listed = subprocess.run(["pdffonts", str(tmp_path / "card.pdf")], capture_output=True, text=True, check=True).stdout
    fonts = listed.splitlines()[2:]
    assert fonts
    assert all(line.split()[-5:-2] == ["yes", "yes", "yes"] for line in fonts), listed


def test_boxes_nest_and_measure_what_they_should(shop: bytes) -> None:
    for page in PdfReader(io.BytesIO(shop)).pages:
        trim, bleed, media = page.trimbox, page.bleedbox, page.mediabox
        assert (float(trim.width), float(trim.height)) == pytest.approx((105 * POINTS, 148 * POINTS), abs=0.01)
        assert (float(bleed.width), float(bleed.height)) == pytest.approx((111 * POINTS, 154 * POINTS), abs=0.01)
        assert media.left <= bleed.left < trim.left
        assert trim.right < bleed.right <= media.right
        assert "/ArtBox" not in page
        assert "/Annots" not in page


def test_crop_marks_stand_outside_the_bleed_in_line_with_the_trim(shop: bytes) -> None:
    """Read by pdfplumber: two at each corner, 3 to 7 mm from the trim, none on the bleed, all on the paper (ISO 32000-1, 14.11.3)."""
    with pdfplumber.open(io.BytesIO(shop)) as opened:
        for page in opened.pages:
            left, top, right, foot = page.trimbox
            _, out, _, _ = page.bleedbox
            marks = [edge for edge in page.lines if edge["stroking_color"] in {1, (1,)} and edge["linewidth"] == 0.25]
            assert len(marks) == 8
            for mark in marks:
                across = mark["height"] < 0.01
                lined = (mark["top"], (top, foot)) if across else (mark["x0"], (left, right))
                assert min(abs(lined[0] - side) for side in lined[1]) < 0.05
                reach = sorted(
                    max(left - x, x - right) if across else max(top - y, y - foot)
                    for x, y in ((mark["x0"], mark["top"]), (mark["x1"], mark["bottom"]))
                )
                assert reach == pytest.approx([3 * POINTS, 7 * POINTS], abs=0.05)
                assert page.bbox[0] < mark["x0"] <= mark["x1"] < page.bbox[2]
                assert page.bbox[1] < mark["top"] <= mark["bottom"] < page.bbox[3]
            assert top - out == pytest.approx(3 * POINTS, abs=0.05)


@pytest.mark.parametrize("wish", [ShopWish(), PRESS], ids=["sRGB", "a press"])
def test_crop_marks_are_drawn_with_every_ink(plain: bytes, wish: ShopWish) -> None:
    """ISO 32000-1, 8.6.6.4: the colorant `All`."""
    with Pdf.open(io.BytesIO(to_print_shop(plain, wish))) as opened:
        for page in opened.pages:
            kind, ink, other, tint = page.obj.Resources.ColorSpace.RegistrationInk
            assert (kind, ink) == (Name.Separation, Name.All)
            assert other == (Name.DeviceCMYK if wish is PRESS else Name.DeviceRGB)
            assert [float(n) for n in tint.C1] == ([1] * 4 if wish is PRESS else [0] * 3)


def test_a_shop_that_wants_no_marks_gets_none(plain: bytes) -> None:
    bare = to_print_shop(plain, ShopWish(marks=False))
    assert judged(bare) == []
    for page in PdfReader(io.BytesIO(bare)).pages:
        assert page.mediabox == page.bleedbox
        assert "/RegistrationInk" not in page["/Resources"]["/ColorSpace"]


def test_marks_keep_off_a_wide_bleed(tmp_path: Path) -> None:
    wide = render_card(card_views(make_published(guide()))[0], {"plate": drawn_picture(tmp_path)}, format_named("a7"), THEME, bleed=5.0).pdf
    for page in PdfReader(io.BytesIO(to_print_shop(wide))).pages:
        assert page.trimbox.left - page.bleedbox.left == pytest.approx(5 * POINTS, abs=0.05)  # all of it, not the 10 pt of the typesetter
        assert page.bleedbox.left - page.mediabox.left == pytest.approx((4 + 1) * POINTS, abs=0.05)


def test_a_fold_is_marked_by_dashes_above_and_below(plain: bytes) -> None:
    with pdfplumber.open(io.BytesIO(to_print_shop(plain, folds=(40.0,)))) as opened:
        for page in opened.pages:
            x = page.trimbox[0] + 40 * POINTS
            dashed = [edge for edge in page.lines if abs(edge["x0"] - x) < 0.05 and edge["stroking_color"] in {1, (1,)}]
            assert len(dashed) == 2
            assert all(edge["bottom"] < page.bleedbox[1] + 0.05 or edge["top"] > page.bleedbox[3] - 0.05 for edge in dashed)


@pytest.mark.parametrize("name", [name for name, one in read_formats().items() if one.kind is PrintKind.CARD])
def test_words_and_codes_keep_three_millimetres_from_the_knife(name: str, tmp_path: Path) -> None:
    """On every size of card (3 mm: common practice, no source). Boxes of letters reach a little below their ink."""
    pictures = {"plate": drawn_picture(tmp_path)}
    card = render_card(card_views(make_published(guide()))[0], pictures, format_named(name), THEME, bleed=3.0).pdf
    with pdfplumber.open(io.BytesIO(to_print_shop(card))) as opened:
        for page in opened.pages:
            left, top, right, foot = page.trimbox
            letters = [one for one in page.chars if one["text"].strip()]
            drawn = [one for one in (*page.rects, *page.curves) if one["x0"] > left and one["x1"] < right and one["bottom"] < foot]
            assert letters
            assert drawn
            for one in (*letters, *drawn):
                near = min(one["x0"] - left, right - one["x1"], one["top"] - top, foot - one["bottom"])
                assert near / POINTS >= 2.9, (page.page_number, one.get("text"))


def test_one_file_of_several_is_as_each_of_them(shop: bytes, tmp_path: Path) -> None:
    """The same pages in their order, one declaration, and pictures, typefaces and profiles once."""
    other = to_print_shop(
        render_card(card_views(make_published(guide()))[1], {"plate": drawn_picture(tmp_path)}, format_named("a6"), THEME, bleed=3.0).pdf
    )
    whole = join_for_shop([("one", shop), ("two", other), ("one again", shop)], "Cards of a Hedge")
    assert judged(whole) == []
    read = PdfReader(io.BytesIO(whole))
    assert [page.extract_text() for page in read.pages] == [
        page.extract_text() for data in (shop, other, shop) for page in PdfReader(io.BytesIO(data)).pages
    ]
    for page in read.pages:
        assert (float(page.trimbox.width), float(page.bleedbox.width)) == pytest.approx((105 * POINTS, 111 * POINTS), abs=0.01)
        assert page.mediabox.width > page.bleedbox.width
    assert len(whole) < len(shop) + len(other)
    with Pdf.open(io.BytesIO(whole)) as opened, opened.open_metadata() as metadata:
        streams = [t for t in opened.objects if isinstance(t, pikepdf.Stream)]
        assert len([t for t in streams if t.get("/Subtype") == Name.Image]) == 1
        assert sorted(int(t.N) for t in streams if "/N" in t and t.get("/Type") != Name.ObjStm) == [3, 3]  # sRGB, and the output's
        assert (str(opened.docinfo.Title), metadata["dc:title"]) == ("Cards of a Hedge", "Cards of a Hedge")
        assert metadata["{http://www.npes.org/pdfx/ns/id/}GTS_PDFXVersion"] == "PDF/X-4"
        assert len(opened.Root.OutputIntents) == 1


def test_the_file_declares_itself(shop: bytes) -> None:
    with Pdf.open(io.BytesIO(shop)) as opened:
        assert opened.pdf_version == "1.6"
        assert opened.docinfo["/Trapped"] == Name("/False")
        assert opened.docinfo["/GTS_PDFXVersion"] == "PDF/X-4"
        with opened.open_metadata() as metadata:
            assert metadata["{http://www.npes.org/pdfx/ns/id/}GTS_PDFXVersion"] == "PDF/X-4"
            for key in ("xmp:CreateDate", "xmp:ModifyDate", "xmp:MetadataDate", "xmpMM:DocumentID", "xmpMM:VersionID", "dc:title"):
                assert metadata[key]
        (intent,) = opened.Root.OutputIntents
        assert intent.S == Name.GTS_PDFX
        assert str(intent.OutputConditionIdentifier)
        assert opened.trailer.ID


def test_the_profile_is_one_of_an_output_device(shop: bytes) -> None:
    """Read by LittleCMS; white stays white, black black, and colours come back within 8 of 255."""
    with Pdf.open(io.BytesIO(shop)) as opened:
        data = opened.Root.OutputIntents[0].DestOutputProfile.read_bytes()
    profile = ImageCms.ImageCmsProfile(io.BytesIO(data))
    assert profile.profile.device_class == "prtr"
    colours = [(255, 255, 255), (0, 0, 0), (200, 120, 60), (31, 90, 60), (152, 31, 24)]
    there = ImageCms.buildTransform(ImageCms.createProfile("sRGB"), profile, "RGB", "RGB", ImageCms.Intent.RELATIVE_COLORIMETRIC)
    back = ImageCms.buildTransform(profile, ImageCms.createProfile("sRGB"), "RGB", "RGB", ImageCms.Intent.RELATIVE_COLORIMETRIC)
    for transform in (there, back):
        for colour in colours:
            found = ImageCms.applyTransform(Image.new("RGB", (1, 1), colour), transform)
            assert found is not None
            assert found.getpixel((0, 0)) == pytest.approx(colour, abs=8)


def test_every_colour_is_named(shop: bytes) -> None:
    """Wherever device RGB is used, a default RGB space says which RGB it is."""
    with Pdf.open(io.BytesIO(shop)) as opened:
        for page in opened.pages:
            space = page.obj.Resources.ColorSpace.DefaultRGB
            assert space[0] == Name.ICCBased
            assert space[1].N == 3


def test_pictures_have_three_hundred_pixels_an_inch(shop: bytes) -> None:
    """1,200 pixels on 95 mm would be 321 an inch: they are cut to the 300 that are asked."""
    with Pdf.open(io.BytesIO(shop)) as opened:
        pictures = [t for t in opened.objects if isinstance(t, pikepdf.Stream) and t.get("/Subtype") == Name.Image]
    assert {int(p.Width) for p in pictures} == {1122}
    assert pytest.approx(300, abs=0.5) == 1122 / 95 * 25.4


def test_all_fonts_are_embedded(shop: bytes) -> None:
    with Pdf.open(io.BytesIO(shop)) as opened:
        fonts = [d for d in opened.objects if isinstance(d, pikepdf.Dictionary) and d.get("/Type") == Name.FontDescriptor]
        assert fonts
        assert all({"/FontFile2", "/FontFile3"} & set(font.keys()) for font in fonts)


def test_black_is_black_ink_alone_where_the_press_has_it(plain: bytes) -> None:
    shop = to_print_shop(plain, PRESS)
    with Pdf.open(io.BytesIO(shop)) as opened:
        steps = [step for page in opened.pages for step in pikepdf.parse_content_stream(page)]
    inks = [[float(n) for n in step.operands] for step in steps if str(step.operator) == "k"]
    assert [0, 0, 0, 1] in inks
    assert not [s for s in steps if str(s.operator) in ("rg", "RG", "g", "G")]


def test_without_a_press_profile_black_stays_rgb(shop: bytes) -> None:
    with Pdf.open(io.BytesIO(shop)) as opened:
        assert not [s for page in opened.pages for s in pikepdf.parse_content_stream(page) if str(s.operator) in {"k", "K"}]


def test_the_same_card_gives_the_same_bytes(plain: bytes, shop: bytes) -> None:
    assert to_print_shop(plain) == shop
    assert to_print_shop(plain, made=datetime(2026, 5, 2, tzinfo=UTC)) != shop


def test_a_screen_profile_is_refused_in_words() -> None:
    screen = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    with pytest.raises(ValueError, match=r"press\.icc describes a mntr device, not a printer"):
        read_profile(screen, "press.icc")
    with pytest.raises(ValueError, match=r"press\.icc is not an ICC profile"):
        read_profile(b"no profile", "press.icc")


def test_a_print_shop_profile_is_read() -> None:
    assert read_profile(srgb_output().data, "press.icc").colorants == 3
    assert struct.unpack(">I", srgb_output().data[:4])[0] == len(srgb_output().data)
