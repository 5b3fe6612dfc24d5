"""Spill on a last page: pulled back or filled by the smaller change, at most two layouts more, and told where nothing helps."""

from __future__ import annotations

import io
from collections.abc import Callable

import pdfplumber
import pytest

from guidebuild.press.paper.closer import set_closer
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.layout import Laid, document_of, lay_out
from guidebuild.press.paper.pdf import PdfSettings, html_to_pdf
from guidebuild.press.paper.spill import LEAST_FILL, fill_of, is_short, pull_back, tell_short

PAGE = '@page{size:100mm 100mm;margin:10mm 10mm 12mm;@bottom-left{content:counter(page);font:9pt "Guide Sans"}}'
CSS = PAGE + 'html{font:10pt/1.4 "Guide Sans"} body,p{margin:0} p{margin-bottom:2mm} .fixed{height:22mm;break-inside:avoid;margin:0}'


def lines(count: int) -> str:
    return "<!doctype html><html lang='en'><title>T</title><body>" + "".join(f"<p>Line {n}</p>" for n in range(count))


def layout(html: str, scales: list[float]) -> Callable[[float], Laid]:
    def lay(scale: float) -> Laid:
        scales.append(scale)
        return lay_out(html, set_closer(CSS, scale, 8.0), GuideFetcher())

    return lay


@pytest.mark.parametrize("count", range(8, 40))
def test_no_list_of_lines_ends_short(count: int) -> None:
    scales: list[float] = []
    lay = layout(lines(count), scales)
    before = lay(1.0).document
    document = pull_back(lay, document_of).document
    assert len(scales) <= 1 + 3
    assert len(document.pages) <= len(before.pages)
    if is_short(before):
        # With a page's worth of text before it, a change of an eighth in type always moves a third of a page.
        assert not is_short(document)
        assert fill_of(document) >= LEAST_FILL
    else:
        assert scales == [1.0, 1.0]


def test_what_stands_in_the_margins_fills_no_page() -> None:
    document = lay_out(lines(13), CSS, GuideFetcher()).document
    assert len(document.pages) == 2
    assert is_short(document)


def test_where_nothing_helps_all_stays_and_is_told() -> None:
    html = lines(1) + "<div class='fixed'></div>" * 4
    scales: list[float] = []
    document = pull_back(layout(html, scales), document_of).document
    assert len(document.pages) == 2
    (problem,) = tell_short(document, "list")
    assert (problem.what, problem.where) == ("short-page", "list")
    assert "page 2, the last," in problem.message
    assert len(scales) <= 3


def test_a_whole_pdf_is_pulled_back_where_type_may_shrink() -> None:
    def pages(settings: PdfSettings) -> int:
        files = {"own.css": CSS.encode()}
        html = lines(13).replace("<body>", "<link rel='stylesheet' href='own.css'><body>")
        with pdfplumber.open(io.BytesIO(html_to_pdf(html, fetcher=GuideFetcher(files=files), where="x", settings=settings).data)) as pdf:
            return len(pdf.pages)

    assert pages(PdfSettings()) == 2
    assert pages(PdfSettings(least_type=8.0)) == 1


@pytest.mark.parametrize(
    ("css", "closer"),
    [
        ("p{font:700 20pt/1.1 Serif}", "p{font:700 18pt/1.1 Serif}"),
        ("p{font-size:8.5pt}", "p{font-size:8.5pt}"),
        ("p{font-size:9.2pt}", "p{font-size:9pt}"),
        ("p{margin:10mm 4mm}", "p{margin:7.29mm 4mm}"),
        ("p{margin:10mm}", "p{margin:7.29mm 10mm}"),
        ("p{padding:10mm 1mm 10mm 3mm}", "p{padding:7.29mm 1mm 7.29mm 3mm}"),
        ("p{padding-left:4mm;text-indent:-4mm}", "p{padding-left:4mm;text-indent:-4mm}"),
        ("p{margin-top:-2mm}", "p{margin-top:-2mm}"),
        ("p{margin-top:1rem}", "p{margin-top:0.81rem}"),
        ("p{margin:calc(1mm + 2mm) 1mm}", "p{margin:calc(1mm + 2mm) 1mm}"),
        ("p{font-variant-numeric:lining-nums}", "p{font-variant-numeric:lining-nums}"),
        ("@media print{th{padding-block:10mm}}", "@media print{th{padding-block:7.29mm}}"),
        (".p img{display:block;width:10mm}", ".p img{display:block;width:8.1mm}"),
        (PAGE, PAGE),
    ],
)
def test_a_stylesheet_is_set_closer_in_height_alone(css: str, closer: str) -> None:
    assert set_closer(css, 0.9, 9.0).replace(": ", ":") == closer
    assert set_closer(css, 1.0, 9.0) == css
