"""Pages are laid out without the styles of notes and list markers, and look the same for it."""

from __future__ import annotations

import pytest
from weasyprint import HTML, Document

from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.layout import lay_out
from guidebuild.press.paper.page_source import PageSource, _plain_stylesheet
from guidebuild.press.paper.pdf import font_configuration, html_to_pdf

PAGE = '<html lang="en"><title>Bugs</title><body style="counter-reset:n">'
PLAIN = {
    "prose": "<h1>Parent Bug</h1><p>She guards <i>her</i> eggs.</p>",
    "lists": "<ol><li>egg</li><li>nymph<ul><li>first instar</li></ul></li></ol><dl><dt>Size</dt><dd>6–9 mm</dd></dl>",
    "a table": "<table><caption>Months</caption><tr><th>May</th><td>eggs</td></tr></table><br><q>quoted</q>",
    "a drawing": '<svg width="9" height="9"><path d="M0 0h9" stroke="#000"/></svg><details open><summary>More</summary>words</details>',
}
WITH_NOTES = {
    "a footnote": ("<p>Seen<span class='f'>in May</span> here.</p>", ".f{float:footnote}"),
    "a style of markers": ("<ul><li>egg</li></ul>", "li::marker{color:#f00}"),
    "items of another element": ("<p>egg</p><p>nymph</p>", "p{display:list-item;margin-left:9mm}"),
}


def written(document: Document) -> bytes:
    """The finished file, uncompressed."""
    data: bytes = document.write_pdf(uncompressed_pdf=True, pdf_identifier=True, pdf_tags=True)
    return data


def whole(html: str, css: str) -> HTML:
    """The page as WeasyPrint itself reads it, with all of its own styles."""
    return HTML(string=f"<style>{css}</style>{html}")


@pytest.mark.parametrize("html", PLAIN.values(), ids=PLAIN)
def test_nothing_looks_different(html: str) -> None:
    fonts = font_configuration()
    ours, theirs = PageSource(PAGE + html, GuideFetcher(), ()), HTML(string=PAGE + html)
    assert ours._ua_stylesheets() != theirs._ua_stylesheets()
    assert written(ours.render(font_config=fonts)) == written(theirs.render(font_config=fonts))


@pytest.mark.parametrize(("html", "css"), WITH_NOTES.values(), ids=WITH_NOTES)
def test_notes_and_markers_of_a_theme_keep_their_styles(html: str, css: str) -> None:
    ours, theirs = PageSource(f"<style>{css}</style>{html}", GuideFetcher(), ()), whole(html, css)
    assert ours._ua_stylesheets() == PageSource(html, GuideFetcher(), (css,))._ua_stylesheets() == theirs._ua_stylesheets()
    fonts = font_configuration()
    assert written(ours.render(font_config=fonts)) == written(theirs.render(font_config=fonts))


def test_a_linked_stylesheet_counts() -> None:
    linked = f'{PAGE}<link rel="stylesheet" href="own.css"><p>Seen<span class="f">in May</span></p>'
    files = GuideFetcher(files={"own.css": b".f{float:footnote}"})
    pdf = html_to_pdf(linked, fetcher=files, where="page")
    without = html_to_pdf(linked, fetcher=GuideFetcher(files={"own.css": b""}), where="page")
    assert not pdf.problems
    assert not without.problems
    assert pdf.data != without.data
    assert list(files.texts()) == [".f{float:footnote}"]


def test_reading_the_styles_tells_nothing() -> None:
    _plain_stylesheet.cache_clear()
    assert lay_out(f"{PAGE}<ul><li>egg</li></ul>", "", GuideFetcher()).log == ()
