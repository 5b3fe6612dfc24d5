"""No printed document ends on a page under a third full, in the sample and in guides of other groups.

What a last page takes is read from finished files by pdfplumber. A third is our own measure: common practice, no source.
"""

from __future__ import annotations

import re
from pathlib import Path

import pdfplumber
import pytest
from pdfplumber.page import Page

from guidebuild.cli import exit_code
from tests.guides.whole_guides import copy_guide

pytestmark = pytest.mark.slow

MM = 72 / 25.4
FIXED = re.compile(r"(booklet|sheets)(-\w+)?\.pdf$|deck\.pdf$|/slides/")
"""Cards, spreads and slides have one side for each thing, and sheets as many places as the format allows."""
MARGIN, FOOT = 12 * MM, 15 * MM
"""Above the text of most sheets, and what is below it where pages are numbered."""


def fill(page: Page) -> float:
    """How far down the page's height between its margins there is ink, its folio left out."""
    low, height = float(page.height) - FOOT, float(page.height) - 2 * MARGIN
    inks = [ink for kind in ("chars", "images", "lines", "rects", "curves") for ink in getattr(page, kind)]
    reached = [
        ink["bottom"] for ink in inks if ink.get("text", "x").strip() and ink["bottom"] - ink["top"] < height / 2 and ink["bottom"] < low
    ]
    return (max(reached, default=MARGIN) - MARGIN) / height


def short_documents(published: Path) -> list[tuple[str, int, float]]:
    """Documents that end on a page under a third full: name, pages and how full it is."""
    found = []
    for path in sorted(published.rglob("*.pdf")):
        if FIXED.search(path.as_posix()):
            continue
        with pdfplumber.open(path) as document:
            pages = len(document.pages)
            full = fill(document.pages[-1])
        if pages > 1 and full < 1 / 3:
            found.append((path.stem, pages, round(full, 2)))
    return found


def test_the_sample_ends_every_document_well(sample_published: Path) -> None:
    assert len(list((sample_published / "published").rglob("*.pdf"))) > 80
    assert short_documents(sample_published / "published") == []


@pytest.mark.parametrize("name", ["estuary-waders", "southern-frogs"])
def test_so_do_guides_of_other_groups_or_it_is_told(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where neither closer nor wider type helps, `make` names the document; that is rare."""
    folder = copy_guide(name, tmp_path)
    assert exit_code(["make", str(folder), "cards", "walks"]) == 0
    said = " ".join("".join(capsys.readouterr()).split())
    assert len(list((folder / "published").rglob("*.pdf"))) > 10
    short = short_documents(folder / "published")
    assert len(short) <= 1
    assert [f"page {pages}, the last, is" in said for _, pages, _ in short] == [True] * len(short)
