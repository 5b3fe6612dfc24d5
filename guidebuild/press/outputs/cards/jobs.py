"""Printed things as jobs: what each needs, and the functions that worker processes run."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.booklet import first_species_page, render_booklet
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.checklist import render_checklist
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.paper.formats import Format, Paper
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.output_profile import OutputProfile
from guidebuild.press.paper.print_shop import to_print_shop
from guidebuild.press.paper.room import NoRoomError
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.sheets import SheetsNamed, make_booklet
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.cards.card import CardView
from guidebuild.views.cards.printed import BookletView, ChecklistView, LeafletView
from guidebuild.words import words

BOOKLET_FILE = "booklet.pdf"


@dataclass(frozen=True, slots=True)
class Look:
    """How something is printed."""

    format: Format
    theme_folders: tuple[Path, ...]
    contrast: bool
    bleed: float = 0.0


@dataclass(frozen=True, slots=True)
class CardWork:
    """What printing one card or plate needs; `number` is a booklet's page, `profile` that of a print shop."""

    card: CardView
    pictures: tuple[tuple[str, Picture], ...]
    look: Look
    number: int = 0
    profile: OutputProfile | None = None


@dataclass(frozen=True, slots=True)
class LeafletWork:
    """What printing one leaflet needs."""

    view: LeafletView
    pictures: tuple[tuple[str, Picture], ...]
    look: Look


@dataclass(frozen=True, slots=True)
class ChecklistWork:
    """What printing one checklist needs."""

    view: ChecklistView
    look: Look


@dataclass(frozen=True, slots=True)
class DeckWork:
    """Cards to join into one file: the words for each one's outline entry, and where it stands."""

    parts: tuple[tuple[str, KnownFile], ...]
    title: str


@dataclass(frozen=True, slots=True)
class BookletWork:
    """What a booklet needs; `pages` are the printed species by account, where they could be printed."""

    view: BookletView
    pages: tuple[tuple[str, KnownFile], ...]
    pictures: tuple[tuple[str, Picture], ...]
    look: Look
    paper: Paper


def join_deck(work: DeckWork) -> Made:
    """All cards in one tagged file."""
    return Made((join_pdfs([(words, card.path.read_bytes()) for words, card in work.parts], work.title),))


def make_card(work: CardWork) -> Made:
    """One card's PDF; no part where it does not fit."""
    return _made(_print_card(work))


def make_shop_card(work: CardWork) -> Made:
    """One card as PDF/X-4."""
    result = _print_card(work)
    return Made((to_print_shop(result.pdf, work.profile),) if result.pdf else (), result.problems)


def make_plate(work: CardWork) -> Made:
    """One species on one page."""
    look = work.look
    return _made(render_plate(work.card, dict(work.pictures), look.format, look.theme_folders, contrast=look.contrast, number=work.number))


def make_leaflet(work: LeafletWork) -> Made:
    """One leaflet."""
    return _made(render_leaflet(work.view, dict(work.pictures), work.look.format, work.look.theme_folders, contrast=work.look.contrast))


def make_checklist(work: ChecklistWork) -> Made:
    """One checklist."""
    return _made(render_checklist(work.view, work.look.format, work.look.theme_folders, contrast=work.look.contrast))


def bind_booklet(work: BookletWork) -> Made:
    """A booklet to read, and its pages as they lie on sheets to be folded; the sheets are missing where the paper has no room."""
    pages = [CardResult(account, page.path.read_bytes(), ()) for account, page in work.pages]
    made = render_booklet(work.view, pages, dict(work.pictures), work.look.format, work.look.theme_folders)
    if not made.pdf:
        return _made(made)
    try:
        view = work.view
        what = words(view.language)("Sheets to be printed, folded and stitched. {file} has the pages to be read.", file=BOOKLET_FILE)
        named = SheetsNamed(view.title, what, view.language)
        sheets = make_booklet(made.pdf, work.look.format, work.paper, named)
    except NoRoomError as error:
        return Made((made.pdf,), (*made.problems, Problem("no-room", "guide.yaml", str(error))))
    return Made((made.pdf, sheets), made.problems)


def count_front_pages(work: BookletWork) -> Made:
    """The number of a booklet's first species page, in figures."""
    return Made((str(first_species_page(work.view, work.look.format, work.look.theme_folders)).encode(),))


def _print_card(work: CardWork) -> CardResult:
    look = work.look
    return render_card(work.card, dict(work.pictures), look.format, look.theme_folders, contrast=look.contrast, bleed=look.bleed)


def _made(result: CardResult) -> Made:
    return Made((result.pdf,) if result.pdf else (), result.problems)
