"""On one deck, leaflet, booklet and comparison sheet all bars are drawn to the one scale that is said, measured in the finished files."""

from __future__ import annotations

from pathlib import Path

import pdfplumber
import pytest

from guidebuild.cli import exit_code
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.facts import AnyGuide
from guidebuild.press.paper.formats import POINTS_PER_MM
from guidebuild.press.paper.size_bars import BAR
from guidebuild.session import open_session
from guidebuild.views.cards.card import card_views
from guidebuild.views.pieces.sizes import SCALES
from tests.guides.whole_guides import NAMES, copy_guide

THICK = BAR * POINTS_PER_MM
ROW_OF_A_CODE = 0.6
"""Millimetres: four dark modules of a QR code side by side are as wide as a bar is thick."""
BLACK = {(0.0, 0.0, 0.0), (0.0,)}


def bars_on(path: Path) -> list[float]:
    """The lengths of all solid bars of a file, in millimetres: black, and as thick as a bar is."""
    with pdfplumber.open(path) as opened:
        black = [r for page in opened.pages for r in page.rects if r["fill"] and tuple(r["non_stroking_color"]) in BLACK]
    sides = [(r["width"], r["height"]) for r in black if min(abs(r["width"] - THICK), abs(r["height"] - THICK)) < 0.05]
    lengths = ((wide if abs(tall - THICK) < 0.05 else tall) / POINTS_PER_MM for wide, tall in sides)
    return sorted(length for length in lengths if length > ROW_OF_A_CODE)


def words_of(path: Path) -> str:
    with pdfplumber.open(path) as opened:
        return " ".join(" ".join((page.extract_text(x_tolerance_ratio=0.12) or "").split()) for page in opened.pages)


def least_sizes(guide: AnyGuide, accounts: list[str]) -> list[float]:
    return sorted(account.size.low for i in accounts if (account := guide.accounts[i]).size and account.size.low)


@pytest.mark.parametrize("beside", ["hand", "card", "person", "none"])
def test_the_guide_chooses_what_its_sizes_stand_beside(beside: str, tmp_path: Path) -> None:
    folder = copy_guide("estuary-waders", tmp_path)
    with (folder / "guide.yaml").open("a", encoding="utf-8") as settings:
        settings.write(f"\nsize beside: {beside}\n")
    card = card_views(make_published(open_session(folder).guide))[0]
    assert (card.sizes.thing.id if card.sizes.thing else "none") == beside
    assert card.sizes.longest == 570  # the Curlew's, on every card


def test_another_thing_is_told_with_what_to_write(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = copy_guide("wood-fungi", tmp_path)
    with (folder / "guide.yaml").open("a", encoding="utf-8") as settings:
        settings.write("\nsize beside: boot\n")
    assert exit_code(["check", str(folder)]) == 1
    told = " ".join(capsys.readouterr().out.split())
    assert "guide.yaml:" in told
    assert "hand, card, person or none" in told.replace("“", "").replace("”", "").replace("'", "")


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_all_bars_of_one_print_have_the_scale_that_is_said(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = copy_guide(name, tmp_path)
    assert exit_code(["make", str(folder), "cards"]) == 0
    capsys.readouterr()
    guide, cards = open_session(folder).guide, folder / "published" / "cards"
    everyone = list(guide.accounts)
    prints = {path: path.stem.removeprefix("compare-").split("--") for path in sorted(cards.glob("compare-*.pdf"))}
    whole = [path for path in (cards / "deck.pdf", cards / "booklet.pdf", *sorted(cards.glob("leaflet-*.pdf"))) if path.exists()]
    prints |= dict.fromkeys(whole, everyone)
    assert len(prints) >= 3
    for path, accounts in prints.items():
        bars, sizes = bars_on(path), least_sizes(guide, accounts)
        assert len(bars) == len(sizes), path.name
        times = bars[-1] / sizes[-1]
        assert bars == pytest.approx([size * times for size in sizes], abs=0.05), path.name
        said = next(words for scale, words in SCALES if scale == pytest.approx(times, rel=0.02))
        assert said in words_of(path), path.name
        assert " : " not in words_of(path), path.name
        assert "× 0." not in words_of(path), path.name
