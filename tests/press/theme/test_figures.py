"""Measurements and ranges stay on one line, on pages and in print, and are copied as they were typed."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.pdf import PdfSettings, html_to_pdf
from guidebuild.press.theme import sandbox
from guidebuild.press.theme.figures import hold_figures
from guidebuild.shipped import on_disk, themes


def in_brackets(html: str) -> str:
    return hold_figures(html).replace('<span class="figure">', "[").replace("</span>", "]")


@pytest.mark.parametrize(
    ("typed", "held"),
    [
        ("4–9 cm", "[4–9 cm]"),
        ("6-9 mm.", "[6-9 mm]."),
        ("(3–)5–8(–10) mm long", "[(3–)5–8(–10) mm] long"),
        ("5–8 × 3–4 mm", "[5–8] × [3–4 mm]"),
        ("5 – 8 mm", "[5 – 8 mm]"),
        ("4 to 9 cm", "4 to [9 cm]"),
        ("male 7,5–9 mm", "male [7,5–9 mm]"),
        ("1½ in or ½ ft", "[1½ in] or [½ ft]"),
        ("5–7 petals", "[5–7] petals"),
        ("14:00–16:30", "[14:00–16:30]"),
        ("(Haworth, 1809–1812)", "(Haworth, [1809–1812])"),
        ("12 °C, 30 %", "[12 °C], [30 %]"),
        ("0–5, 6–9 mm", "[0–5], [6–9 mm]"),
        ("<b>4–9</b> cm", "<b>[4–9]</b> cm"),
    ],
)
def test_a_range_and_a_unit_hold_on_to_their_numbers(typed: str, held: str) -> None:
    assert in_brackets(typed) == held


@pytest.mark.parametrize(
    "typed",
    [
        "12 men",
        "2026-05-02",
        "51.45, -1.30",
        "&#8211; and &#39; cm",
        "tel. 01-234 567",
        "v1.2–1.3",
        "no figure",
        "1 2 3",
        '<img alt="4–9 cm">',
        "<title>4–9 cm</title>",
        "<script>`4–9 cm`</script>",
        "<svg><text>4–9 cm</text></svg>",
        "<style>a{margin:0 4 mm}</style>",
    ],
)
def test_nothing_else_is_touched(typed: str) -> None:
    assert hold_figures(typed) == typed


@pytest.mark.parametrize("shipped", [True, False], ids=["shipped", "own theme"])
def test_every_page_holds_them_whatever_its_template(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shipped: bool) -> None:
    monkeypatch.setattr(sandbox, "_is_shipped", lambda _: shipped)
    (tmp_path / "page.html").write_text("<p>{{ size }}</p>{% include 'more.html' %}", "utf-8")
    (tmp_path / "more.html").write_text("<p>{{ size }}</p>", "utf-8")
    (tmp_path / "page.txt").write_text("{{ size }}", "utf-8")
    held = '<p><span class="figure">4–9 cm</span></p>'
    assert sandbox.fill_template((tmp_path,), "page.html", "en", size="4–9 cm") == f"{held}{held}"
    assert sandbox.fill_template((tmp_path,), "page.txt", "en", size="4–9 cm") == "4–9 cm"


@pytest.mark.parametrize("sheet", ["cards/card.css", "cards/compare.css", "cards/key.css", "walks/pack.css", "scripts/script.css"])
def test_no_line_in_print_breaks_inside_one(sheet: str) -> None:
    """In columns of every width, each figure comes out of the PDF in one piece."""
    css = on_disk(themes()).joinpath("plate", sheet).read_text("utf-8")
    column = '<p style="width:{}mm;font-size:10pt;margin:0 0 3mm">A wide mark of 14–19 cm and 10 000 in (3–)5–8(–10) mm</p>'
    html = hold_figures("".join(column.format(width) for width in range(30, 60, 2)))
    found = html_to_pdf(html, fetcher=GuideFetcher(), where="test", settings=PdfSettings(stylesheets=(css,))).data
    told = "".join(page.extract_text() for page in PdfReader(BytesIO(found)).pages)
    assert told.count("14–19 cm") == told.count("(3–)5–8(–10) mm") == 15
