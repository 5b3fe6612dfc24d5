"""Authors' Markdown: what is typed is what is read, and nothing of it can run."""

from __future__ import annotations

import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.guide.text.guards import guard_signs
from guidebuild.press.theme.prose import inline_html, prose_html
from guidebuild.views.pieces.common import LinkView, PhotoView, ProseView

PHOTO = PhotoView("p1", "photos/p1.jpg", "alt")
TARGETS = (
    ("account:parent-bug", LinkView("accounts/parent-bug.html", "Parent Bug")),
    ("account:Bufo calamita", LinkView("accounts/natterjack.html", "Natterjack")),
    ("term:scutellum", LinkView("glossary.html#scutellum", "scutellum")),
)


def _soup(text: str, **more: object) -> BeautifulSoup:
    return BeautifulSoup(prose_html(ProseView(text, targets=TARGETS, photos=(PHOTO,), **more), root="../").text, "html.parser")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "line",
    [
        "<c. 5 mm, wing >10 mm",
        "3'6\" long",
        "5*6*7 mm",
        "1986. A good year",
        "56°30'10\"N",
        "the '70s",
        "wing <5 mm",
        ">10 mm long",
        "#shieldbugs on the hedge",
        "20 x 25 mm at 10×",
        "a < b and c > d",
        "AT&T, R&D",
        "snake_case_name",
        "–5 °C",
        "Tel. 01234 567890",
    ],
)
def test_visible_text_is_the_text_typed(line: str) -> None:
    # Case A21: visible text, with tags removed, equals the source text.
    assert _soup(line).get_text().strip() == line


@pytest.mark.parametrize("indent", [2, 3, 4])
def test_lists_have_two_levels_however_they_are_indented(indent: int) -> None:
    soup = _soup(f"- adults\n{' ' * indent}- male\n{' ' * indent}- female")
    assert [item.text for item in soup.select("ul > li > ul > li")] == ["male", "female"]


def test_paragraph_of_an_item_and_the_text_after_the_list_stay_apart() -> None:
    soup = _soup("- a\n- b\n\n  more of b\n\nText")
    assert soup.select("li")[1].get_text(" ", strip=True) == "b more of b"
    assert soup.find_all("p")[-1].text == "Text"
    assert soup.find_all("p")[-1].parent.name != "li"


def test_table_right_after_a_line_of_text() -> None:
    soup = _soup("Text\n| a | b |\n|---|---|\n| 1 | 2 |")
    assert [cell.text for cell in soup.select("tbody td")] == ["1", "2"]
    assert soup.p.text == "Text"


@pytest.mark.parametrize(
    ("row", "cells"), [("| ♂|♀ | 3 |", ["♂|♀", "3"]), ("| a | b | c |", ["a", "b | c"]), ("a | b | c", ["a", "b | c"])]
)
def test_row_with_too_many_cells_loses_no_words(row: str, cells: list[str]) -> None:
    # Case A20.
    soup = _soup(f"| x | y |\n|---|---|\n{row}")
    assert [cell.text for cell in soup.select("tbody td")] == cells


def test_footnotes_of_two_accounts_on_one_page_have_ids_of_their_own() -> None:
    ids = []
    for prefix in ("parent-bug", "birch-bug"):
        soup = _soup("x[^1]\n\n[^1]: Note", prefix=prefix)
        note, mark = soup.select_one("li[id]"), soup.select_one("sup[id]")
        assert soup.select_one(f'a[href="#{note["id"]}"]') is not None
        assert soup.select_one(f'a[href="#{mark["id"]}"]') is not None
        ids += [note["id"], mark["id"]]
    assert len(ids) == len(set(ids))


def test_markdown_inside_a_block_of_html_is_read() -> None:
    assert _soup("<div>\n*Bufo bufo*\n</div>").select_one("div em").text == "Bufo bufo"


def test_headings_stand_below_the_pages_own() -> None:
    assert [h.name for h in _soup("# A\n\n## B\n\n### C\n\n#### D").find_all(["h1", "h2", "h3", "h4"])] == ["h3", "h3", "h3", "h4"]


def test_references_become_links_from_where_the_page_stands() -> None:
    soup = _soup("[P](account:parent-bug), [old](<account:Bufo calamita>), [s](term:scutellum), [gone](account:nobody)")
    assert [a["href"] for a in soup.find_all("a")] == [
        "../accounts/parent-bug.html",
        "../accounts/natterjack.html",
        "../glossary.html#scutellum",
    ]
    assert "gone" in soup.get_text()


def test_on_paper_references_are_plain_words() -> None:
    assert prose_html(ProseView("[P](account:parent-bug)", targets=TARGETS), links=False).text == "<p><span>P</span></p>"


def test_photo_alone_is_a_figure_and_within_a_line_a_picture() -> None:
    prose = ProseView("![a](photo:p1)\n\nsee ![b](photo:p1) here", photos=(PHOTO,))
    html = prose_html(prose, draw=lambda photo, alone: f"[{photo.id} {'alone' if alone else 'within'}]").text
    assert html.split("\n") == ["[p1 alone]", "<p>see [p1 within] here</p>"]


def test_photo_that_is_not_the_guides_own_is_left_out() -> None:
    assert _soup("![a](photo:p9) ![b](https://elsewhere.example/x.jpg)").find_all(["img", "picture"]) == []


def test_inline_text_has_no_paragraph() -> None:
    assert str(inline_html(ProseView("a *b*"))) == "a <em>b</em>"


@pytest.mark.parametrize(
    "attack",
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "[x](javascript:alert(1))",
        '<a href="jAvascript:alert(1)">x</a>',
        "<svg><script>alert(1)</script></svg>",
        '<p style="position:fixed">x</p>',
        "<iframe src=https://elsewhere.example></iframe>",
        "<style>*{display:none}</style>",
        '<a href="data:text/html,<script>alert(1)</script>">x</a>',
        "[x](data:text/html;base64,PHNjcmlwdD4=)",
    ],
)
def test_nothing_of_an_authors_html_can_run_fetch_or_restyle(attack: str) -> None:
    soup = _soup(attack)
    assert soup.find_all(["script", "style", "iframe", "img", "svg"]) == []
    for tag in soup.find_all(True):
        assert not any(name.startswith("on") or name == "style" for name in tag.attrs)
        assert not str(tag.get("href", "")).lower().startswith(("javascript:", "data:"))


@given(st.text(alphabet=st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=200))
def test_any_text_becomes_html_without_an_error(text: str) -> None:
    soup = _soup(text)
    assert soup.find_all(["script", "style", "iframe"]) == []


@given(st.text(alphabet="ab <>&*_`[]()!|-#\n0123456789.", max_size=80))
def test_text_guarded_twice_reads_the_same(text: str) -> None:
    assert isinstance(guard_signs(guard_signs(text)), str)


def test_one_text_leaves_nothing_in_the_next() -> None:
    first = prose_html(ProseView("a[^1]\n\n[^1]: Note")).text
    prose_html(ProseView("[ref]: https://example.org\n\nb[^1]\n\n[^1]: Other"))
    assert prose_html(ProseView("a[^1]\n\n[^1]: Note")).text == first
    assert "href" not in prose_html(ProseView("[x][ref]")).text
