"""Print against ISO 14289-1 (PDF/UA-1), judged by two readers that know nothing of each other.

One is a checker of its own (PyPI: outloud), the other reads the tree by the machine checks of the Matterhorn Protocol
(`structure_rules.py`).

Clauses are those of the published PDF/UA-1 profile (veraPDF, PDFUA-1.xml).
"""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import outloud
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.booklet.bind import trim_pages
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.pdf import html_to_pdf
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import CardView, card_views
from guidebuild.views.cards.printed import leaflet_views
from tests.outside.structure_rules import RULES, judge_structure
from tests.press.outputs.cards.test_booklet import print_booklet
from tests.press.small_guide import THEME, drawn_picture, guide

# Cards of one set repeat short lines (headings, months, the guide's name) by their nature: these are no running heads.
REPEATED = {"PAG-001"}
GUESSES = {
    "LNK-010",  # an address in words that is no link: places of QR codes in drawings, and names of films
    "ORD-001",  # panels and columns are drawn in another order than they are read in, and tagged as they are read
    "TAG-020",  # boxes to tick are empty spans
    "TBL-010",  # each part of a script has a row of its own with its name
    "TBL-012",  # a checklist is to be filled in by hand
}
"""What the checker guesses at and does not take from the standard, and why it is so here."""


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
    return [f"{f.rule}: {f.message}" for f in result.findings if f.rule not in REPEATED] + judge_structure(path)


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


def test_a_booklet_passes_with_its_marks_drawn_over(pictures: Pictures, tmp_path: Path) -> None:
    _, made, _, _ = print_booklet(guide(), pictures)
    found = judged(trim_pages(made.pdf), tmp_path)
    assert [one for one in found if one.partition(":")[0] not in GUESSES] == []


@pytest.mark.slow
def test_every_document_of_the_sample_keeps_its_word(sample_published: Path) -> None:
    """Those that say that they are PDF/UA pass both readers; sheets for the printer do not say it, and say what they are."""
    documents = sorted((sample_published / "published").rglob("*.pdf"))
    declared = [path for path in documents if says_ua(path)]
    assert len(declared) > 60
    assert {path.name: found for path in declared if (found := judge_structure(path))} == {}
    for path in declared:
        result = outloud.check(str(path))
        assert [f"{f.rule}: {f.message}" for f in result.findings if f.rule not in REPEATED | GUESSES] == [], path.name
    sheets = {path.name: path for path in documents if path not in declared}
    assert sorted(sheets) == ["booklet-a4.pdf", "sheets-a4.pdf", "walk-april-gorse-a4.pdf", "walk-september-hedge-a4.pdf"]
    for path in sheets.values():
        with Pdf.open(path) as opened:
            assert str(opened.docinfo.Subject).startswith("Sheets to be printed")
            assert str(opened.Root.Lang) == "en"
            assert bool(opened.Root.ViewerPreferences.DisplayDocTitle)


@pytest.mark.slow
def test_every_document_of_the_sample_has_a_title(sample_published: Path) -> None:
    """In both places where it is looked for (ISO 32000-1, 14.3.3: document information; ISO 16684-1: `dc:title`), and no file's name."""
    titles = {}
    for path in sorted((sample_published / "published").rglob("*.pdf")):
        with Pdf.open(path) as opened, opened.open_metadata() as metadata:
            titles[path.relative_to(sample_published).as_posix()] = title = str(opened.docinfo.Title)
            assert metadata["dc:title"] == title, path
            assert len(title) > 3, path
            assert path.stem not in title, path
    assert len(titles) > 60


def says_ua(path: Path) -> bool:
    with Pdf.open(path) as opened, opened.open_metadata() as metadata:
        return "pdfuaid:part" in metadata


def elements(pdf: Pdf, kind: str) -> list[Dictionary]:
    return [thing for thing in pdf.objects if isinstance(thing, Dictionary) and thing.get("/S") == Name("/" + kind)]


def _make(kind: str, other: str) -> Callable[[Pdf], None]:
    """Call the first element of one kind by another name."""

    def change(pdf: Pdf) -> None:
        elements(pdf, kind)[0].S = Name("/" + other)

    return change


def _take(kind: str, key: str) -> Callable[[Pdf], None]:
    def change(pdf: Pdf) -> None:
        del elements(pdf, kind)[0][key]

    return change


def _with_headers(*headers: bytes) -> Callable[[Pdf], None]:
    def change(pdf: Pdf) -> None:
        elements(pdf, "TD")[0].A.Headers = Array([pikepdf.String(header) for header in headers])

    return change


def _without_fonts(key: str) -> Callable[[Pdf], None]:
    def change(pdf: Pdf) -> None:
        del next(thing for thing in pdf.objects if isinstance(thing, Dictionary) and key in thing)[key]

    return change


def _spoil_metadata(name: str, *, value: str = "") -> Callable[[Pdf], None]:
    """Take an entry of the file's metadata away, or give it another value."""

    def change(pdf: Pdf) -> None:
        with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
            if value:
                metadata[name] = value
            else:
                del metadata[name]

    return change


def _set_in_root(key: str, entry: str, *, value: bool | None) -> Callable[[Pdf], None]:
    """Set an entry of one of the catalogue's dictionaries; None: take the whole dictionary away."""

    def change(pdf: Pdf) -> None:
        if value is None:
            del pdf.Root[key]
        else:
            pdf.Root[key][entry] = value

    return change


def _drop_language(pdf: Pdf) -> None:
    del pdf.Root["/Lang"]


def _drop_scope(pdf: Pdf) -> None:
    del elements(pdf, "TH")[0].A["/Scope"]


def _no_tabs(pdf: Pdf) -> None:
    for page in pdf.pages:
        if "/Tabs" in page.obj:
            del page.obj["/Tabs"]


def _no_words_of_links(pdf: Pdf) -> None:
    for page in pdf.pages:
        for annotation in page.obj.get("/Annots", ()):
            del annotation["/Contents"]


def _empty_row(pdf: Pdf) -> None:
    elements(pdf, "TR")[0].K = Array([])


SPOILT: dict[str, tuple[str, Callable[[Pdf], None]]] = {
    "an unknown kind": ("02-001", _make("Sect", "Panel")),
    "no claim to be PDF/UA": ("06-002", _spoil_metadata("pdfuaid:part")),
    "a claim of another part": ("06-002", _spoil_metadata("pdfuaid:part", value="2")),
    "no title": ("06-003", _spoil_metadata("dc:title")),
    "a file name for a title": ("07-001", _set_in_root("/ViewerPreferences", "/DisplayDocTitle", value=False)),
    "no word on what is shown": ("07-001", _set_in_root("/ViewerPreferences", "/DisplayDocTitle", value=None)),
    "tags that are not said to be some": ("7.1", _set_in_root("/MarkInfo", "/Marked", value=False)),
    "no word on tags": ("7.1", _set_in_root("/MarkInfo", "/Marked", value=None)),
    "no language": ("11-006", _drop_language),
    "a cell outside a row": ("09-004", _make("TR", "Div")),
    "a row without cells": ("09-004", _empty_row),
    "a cell that is a paragraph": ("09-004", _make("TD", "P")),
    "an item outside a list": ("09-005", _make("L", "Div")),
    "a paragraph in a list": ("09-005", _make("LI", "P")),
    "an item without a body": ("09-005", _make("LBody", "Span")),
    "a drawing without words": ("13-004", _take("Figure", "/Alt")),
    "no first heading": ("14-002", _make("H1", "P")),
    "a level left out": ("14-003", _make("H2", "H3")),
    "no scope": ("15-003", _drop_scope),
    "empty headers": ("15-003", _with_headers()),
    "headers that are no cells": ("15-003", _with_headers(b"nowhere")),
    "no order of tabs": ("28-009", _no_tabs),
    "a link that is plain words": ("28-011", _make("Link", "Span")),
    "a link without words": ("28-011", _no_words_of_links),
    "a font that is not there": ("31-009", _without_fonts("/FontFile2")),
    "a font without Unicode": ("31-027", _without_fonts("/ToUnicode")),
}


@pytest.mark.parametrize("fault", SPOILT)
def test_each_rule_sees_its_fault(fault: str, card: CardResult, tmp_path: Path) -> None:
    rule, spoil = SPOILT[fault]
    with Pdf.open(io.BytesIO(card.pdf)) as broken:
        spoil(broken)
        broken.save(tmp_path / "broken.pdf")
    assert any(found.startswith(rule) for found in judge_structure(tmp_path / "broken.pdf")), judge_structure(tmp_path / "broken.pdf")


def test_each_rule_has_a_fault() -> None:
    assert {rule.split()[0] for rule in RULES} == {rule for rule, _ in SPOILT.values()}


def test_header_cells_say_what_they_head(card: CardResult, pictures: Pictures) -> None:
    """7.5: the words of a row head it; a checklist's heads are those of its columns."""
    with Pdf.open(io.BytesIO(card.pdf)) as opened:
        assert [str(cell.A.Scope) for cell in elements(opened, "TH")] == ["/Row"] * 4
    html = (
        '<html lang="en"><title>t</title><table><thead><tr><td></td><th scope="col">a</th></tr></thead>'
        '<tr><th scope="row">b</th><td>c</td></tr></table>'
    )
    with Pdf.open(io.BytesIO(html_to_pdf(html, fetcher=GuideFetcher(), where="t").data)) as opened:
        assert [str(cell.A.Scope) for cell in elements(opened, "TH")] == ["/Column", "/Row"]
        assert not any("/Headers" in cell.A or "/ID" in cell for cell in [*elements(opened, "TH"), *elements(opened, "TD")])


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
