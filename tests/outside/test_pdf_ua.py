"""Print against ISO 14289-1 (PDF/UA-1), judged by a checker of its own (PyPI: outloud) and by reading the file.

Clauses are those of the published PDF/UA-1 profile (veraPDF, PDFUA-1.xml).
"""

from __future__ import annotations

import io
from pathlib import Path

import outloud
import pikepdf
import pytest
from pikepdf import Name, Pdf

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import CardView, card_views
from guidebuild.views.cards.printed import leaflet_views
from tests.press.small_guide import THEME, drawn_picture, guide

# Cards of one set repeat short lines (headings, months, the guide's name) by their nature: these are no running heads.
REPEATED = {"PAG-001"}


@pytest.fixture(scope="module")
def pictures(tmp_path_factory: pytest.TempPathFactory) -> Pictures:
    return {"plate": drawn_picture(tmp_path_factory.mktemp("pictures"))}


@pytest.fixture(scope="module")
def views() -> tuple[CardView, ...]:
    return card_views(make_published(guide()))


@pytest.fixture(scope="module")
def card(views: tuple[CardView, ...], pictures: Pictures) -> CardResult:
    return render_card(views[0], pictures, format_named("a6"), THEME)


def judged(data: bytes, folder: Path) -> list[str]:
    path = folder / "judged.pdf"
    path.write_bytes(data)
    result = outloud.check(str(path))
    assert result.error is None
    assert result.stats["tagged"]
    return [f"{f.rule}: {f.message}" for f in result.findings if f.rule not in REPEATED]


def test_a_card_passes(card: CardResult, tmp_path: Path) -> None:
    assert judged(card.pdf, tmp_path) == []


def test_a_joined_deck_passes(card: CardResult, views: tuple[CardView, ...], pictures: Pictures, tmp_path: Path) -> None:
    other = render_card(views[1], pictures, format_named("id-1"), THEME)
    assert judged(join_pdfs([("one", card.pdf), ("two", other.pdf), ("one again", card.pdf)], "Deck"), tmp_path) == []


def test_a_leaflet_passes(pictures: Pictures, tmp_path: Path) -> None:
    (view,) = leaflet_views(make_published(guide()))
    assert judged(render_leaflet(view, pictures, format_named("leaflet-a4"), THEME).pdf, tmp_path) == []


def test_a_plate_passes(views: tuple[CardView, ...], pictures: Pictures, tmp_path: Path) -> None:
    assert judged(render_plate(views[0], pictures, format_named("plate-a5"), THEME).pdf, tmp_path) == []


def test_the_judge_does_judge(card: CardResult, tmp_path: Path) -> None:
    """A card whose tags, language and alternative texts are taken away must fail."""
    with Pdf.open(io.BytesIO(card.pdf)) as broken:
        del broken.Root.Lang
        for thing in broken.objects:
            if isinstance(thing, pikepdf.Dictionary) and "/Alt" in thing:
                del thing["/Alt"]
        written = io.BytesIO()
        broken.save(written)
    rules = " ".join(judged(written.getvalue(), tmp_path))
    assert "FIG-001" in rules
    assert "DOC-013" in rules


def test_the_file_says_what_it_is(card: CardResult) -> None:
    """5: pdfuaid:part; 6.2: Marked; 7.1: title shown and a structure tree; 7.2: language."""
    with Pdf.open(io.BytesIO(card.pdf)) as opened:
        root = opened.Root
        assert bool(root.MarkInfo.Marked)
        assert bool(root.ViewerPreferences.DisplayDocTitle)
        assert str(root.Lang) == "en"
        assert "/StructTreeRoot" in root
        with opened.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
            assert metadata["dc:title"] == "Parent Bug – Bugs of an Invented Hedge"


def test_the_plate_carries_the_alternative_text_of_its_photo(card: CardResult) -> None:
    """A19, and 7.3: each figure has an alternative text; that of the plate is the photo's own."""
    with Pdf.open(io.BytesIO(card.pdf)) as opened:
        figures = [e for e in opened.objects if isinstance(e, pikepdf.Dictionary) and e.get("/S") == Name.Figure]
        texts = [str(figure.Alt) for figure in figures]
    assert "An oval brown bug from above with a dark spot in its middle." in texts
    assert "nymph: mid June to August; most seen July to early August" in texts
    assert all(texts)


def test_all_fonts_are_embedded_subsets(card: CardResult) -> None:
    """7.21.4.1; a subset's name begins with six capitals and a plus sign (PDF 32000-1, 9.6.4)."""
    with Pdf.open(io.BytesIO(card.pdf)) as opened:
        fonts = [d for d in opened.objects if isinstance(d, pikepdf.Dictionary) and d.get("/Type") == Name.FontDescriptor]
        assert fonts
        for font in fonts:
            assert {"/FontFile2", "/FontFile3"} & set(font.keys())
            assert str(font.FontName)[7:8] == "+"


def test_the_box_of_a_figure_is_where_the_picture_is(card: CardResult) -> None:
    """PDF 32000-1, table 380: in points from the lower left; the plate ends left and right at the 5 mm margins."""
    with Pdf.open(io.BytesIO(card.pdf)) as opened:
        plate = next(e for e in opened.objects if isinstance(e, pikepdf.Dictionary) and str(e.get("/Alt", "")).startswith("An oval"))
        left, low, right, high = (float(edge) / 72 * 25.4 for edge in plate.A.BBox)
    assert (left, right) == pytest.approx((5, 100), abs=0.05)
    assert 148 - 5 - 95 < low < high < 148 - 5
