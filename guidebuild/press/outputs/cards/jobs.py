"""Printed things as jobs: what each needs, and the functions that worker processes run."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.engine.made import Made
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.checklist import render_checklist
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.paper.formats import Format
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.print_shop import PLAIN_WISH, ShopWish
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.cards.card import CardView
from guidebuild.views.cards.printed import ChecklistView, LeafletView


@dataclass(frozen=True, slots=True)
class Look:
    """How something is printed."""

    format: Format
    theme_folders: tuple[Path, ...]
    contrast: bool
    bleed: float = 0.0


@dataclass(frozen=True, slots=True)
class CardWork:
    """What printing one card or plate needs; `wish` is that of a print shop, where it is for one."""

    card: CardView
    pictures: tuple[tuple[str, Picture], ...]
    look: Look
    wish: ShopWish = PLAIN_WISH


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


def join_deck(work: DeckWork) -> Made:
    """All cards in one tagged file."""
    return Made((join_pdfs([(words, card.path.read_bytes()) for words, card in work.parts], work.title),))


def make_card(work: CardWork) -> Made:
    """One card's PDF; no part where it does not fit."""
    return _made(print_card(work))


def make_plate(work: CardWork) -> Made:
    """One species on one page."""
    look = work.look
    return _made(render_plate(work.card, dict(work.pictures), look.format, look.theme_folders, contrast=look.contrast))


def make_leaflet(work: LeafletWork) -> Made:
    """One leaflet."""
    return _made(render_leaflet(work.view, dict(work.pictures), work.look.format, work.look.theme_folders, contrast=work.look.contrast))


def make_checklist(work: ChecklistWork) -> Made:
    """One checklist."""
    return _made(render_checklist(work.view, work.look.format, work.look.theme_folders, contrast=work.look.contrast))


def print_card(work: CardWork) -> CardResult:
    """One card, fitted, and what is to be told of it."""
    look = work.look
    return render_card(work.card, dict(work.pictures), look.format, look.theme_folders, contrast=look.contrast, bleed=look.bleed)


def _made(result: CardResult) -> Made:
    return Made((result.pdf,) if result.pdf else (), result.problems)
