"""Type too near the edge that is cut: found with its words and its distance, and nowhere in what the shipped theme prints.

That 3 mm are wanted is common practice, no source; where letters stand is judged by pdfplumber, which reads pages apart from the tool.
"""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber
import pytest
from fontTools.ttLib import TTFont

from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.outputs.cards.jobs import CardWork, Look
from guidebuild.press.outputs.cards.shop import make_shop_card
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import POINTS_PER_MM, PrintKind, format_named, read_formats
from guidebuild.press.paper.layout import lay_out, write_pdf
from guidebuild.press.paper.near_trim import NearTrim, find_near_trim
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.press.theme.fonts import SANS, find_face
from guidebuild.views.cards.card import CardView
from tests.press.outputs.cards.test_booklet import print_booklet
from tests.press.small_guide import THEME, guide

CARDS = [name for name, one in read_formats().items() if one.kind is PrintKind.CARD]
BOOKLETS = [name for name, one in read_formats().items() if one.kind is PrintKind.BOOKLET]


def page(style: str, words: str = "Parent Bug", *, pages: int = 1) -> bytes:
    """Pages of A6 with 4 mm of bleed and words in their middle, but for those of this style."""
    one = f'<section><p style="position:absolute;margin:0;line-height:1;white-space:nowrap;{style}">{words}</p><p>Well inside</p></section>'
    css = "@page{size:105mm 148mm;margin:0;bleed:4mm}section{height:60mm;padding:40mm;position:relative;break-after:page}"
    return write_pdf(lay_out(f"<html lang='en'><title>A</title><body style='margin:0'>{one * pages}", css, GuideFetcher()), "x")[0]


def nearest(pdf: bytes, number: int = 0) -> float:
    """Millimetres from the nearest edge to the box of any letter's line, as pdfplumber tells it."""
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        each = opened.pages[number]
        left, top, right, bottom = each.trimbox
        return min(min(c["x0"] - left, right - c["x1"], c["top"] - top, bottom - c["bottom"]) for c in each.chars) / POINTS_PER_MM


@pytest.mark.parametrize(
    ("style", "words"),
    [
        ("left:1.2mm;top:60mm", "Parent"),
        ("right:1mm;top:60mm", "Bug"),
        ("left:40mm;top:0.4mm", "Parent Bug"),
        ("left:40mm;top:143mm", "Parent Bug"),
        ("left:-2mm;top:60mm", "Parent"),
        ("left:1mm;top:100mm;transform-origin:0 0;transform:rotate(-90deg)", "Parent Bug"),
    ],
)
def test_words_near_an_edge_are_told_with_how_near(style: str, words: str) -> None:
    pdf = page(style)
    (near,) = find_near_trim(pdf)
    assert (near.page, near.words) == (1, words)
    # The tool sees the ink, pdfplumber the room that a letter takes on its line.
    assert nearest(pdf) - 0.1 <= near.distance <= nearest(pdf) + 1.6


def test_the_distance_is_that_of_the_ink() -> None:
    """A stem stands as far right of where its letter's room begins as the typeface itself says (OpenType, table `hmtx`)."""
    with TTFont(find_face(SANS, weight=700).path) as font:
        wide = font["hmtx"][font.getBestCmap()[ord("I")]][1] / font["head"].unitsPerEm
    ink = 1 + wide * 40 / POINTS_PER_MM
    assert ink > 1.5
    (near,) = find_near_trim(page("left:1mm;top:60mm;font:700 40pt 'Guide Sans'", "III"))
    assert near.distance == pytest.approx(ink, abs=0.05)
    assert near.said == f"“III” stands {ink:.1f} mm from the edge that is cut"


@pytest.mark.parametrize("style", ["left:3mm;top:60mm", "right:3mm;top:60mm", "left:40mm;top:3mm"])
def test_words_at_3_mm_are_near_nothing(style: str) -> None:
    assert find_near_trim(page(style)) == ()


def test_each_page_with_such_words_is_told_once() -> None:
    found = find_near_trim(page("left:1mm;top:60mm", pages=3))
    assert [near.page for near in found] == [1, 2, 3]


def test_what_is_folded_is_not_cut_there() -> None:
    """Odd pages stand at the right, so that their left edge is the fold."""
    at_left, at_right = (page(f"{side}:1mm;top:60mm", pages=2) for side in ("left", "right"))
    assert [near.page for near in find_near_trim(at_left, folded=True)] == [2]
    assert [near.page for near in find_near_trim(at_right, folded=True)] == [1]


def test_long_words_are_cut_short_and_what_is_over_is_told_as_over() -> None:
    said = NearTrim(1, "Bug", -1.26).said
    assert said == "“Bug” stands 1.3 mm over the edge that is cut"
    (near,) = find_near_trim(page("left:0;top:0", "A very long line of words that goes on from one edge to the other"))
    assert near.words == "A very long line of words that goes on f…"


def with_margin(folder: Path, style: str) -> tuple[Path, ...]:
    """A theme of the guide's own, over the shipped one."""
    (folder / "cards").mkdir()
    css = (THEME[0] / "cards" / "card.css").read_text("utf-8")
    (folder / "cards" / "card.css").write_text(css + style, "utf-8")
    return (folder, *THEME)


def shop_card(view: CardView, pictures: Pictures, name: str, theme: tuple[Path, ...]) -> list[str]:
    made = make_shop_card(CardWork(view, tuple(pictures.items()), Look(format_named(name), theme, False, 3.0)))
    assert made.parts
    return [str(problem) for problem in made.problems if problem.what == "near-trim"]


@pytest.mark.parametrize("name", CARDS)
def test_no_shipped_card_has_such_words(views: tuple[CardView, ...], pictures: Pictures, name: str) -> None:
    """Nor where its name begins with a J, whose hook hangs out of the line."""
    assert [said for view in (views[0], views[2]) for said in shop_card(view, pictures, name, THEME)] == []
    assert views[2].name.vernacular.startswith("J")


def test_a_theme_that_moves_words_to_the_edge_is_told(views: tuple[CardView, ...], pictures: Pictures, tmp_path: Path) -> None:
    found = shop_card(views[0], pictures, "a6", with_margin(tmp_path, "@page front{margin-left:1mm}.name{color:#000}"))
    (line,) = found
    assert line.startswith("card parent: on the front of the Pocket card A6 “")
    assert "mm from the edge that is cut, where print shops want 3 mm; give the pages a margin of 3 mm or more" in line


@pytest.mark.parametrize("name", BOOKLETS)
def test_no_shipped_booklet_has_such_words(pictures: Pictures, name: str) -> None:
    """Tabs and folios stand nearest to the edge, as they should."""
    _, result, _, _ = print_booklet(guide(), pictures, Leaf(format_named(name), 5.0))
    assert find_near_trim(result.pdf) == ()
    assert find_near_trim(result.pdf, folded=True) == ()
