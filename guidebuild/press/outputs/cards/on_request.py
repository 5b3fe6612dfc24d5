"""One card of a guide that is being written, printed when its author looks at it, and its sides as pictures for a screen."""

from __future__ import annotations

import io
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

import pypdfium2

from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.kept_problems import KeptProblems
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.press.engine.problems import Problems
from guidebuild.press.engine.progress import Silence
from guidebuild.press.engine.store import Store
from guidebuild.press.engine.workbench import Workbench
from guidebuild.press.outputs.cards.jobs import CardWork, Look, make_card
from guidebuild.press.outputs.cards.page import picture_pixels
from guidebuild.press.outputs.cards.printing import CARD, seen_near
from guidebuild.press.paper.formats import UnknownFormatError, card_format_named
from guidebuild.press.photos.maker import PrintCopies
from guidebuild.press.theme.folders import find_theme, has_own_theme
from guidebuild.views.cards.card import field_card
from guidebuild.views.pieces.parts import make_pieces

_SHARPNESS = 220 / 72
"""Dots for each point of a card: as many as a screen of fine dots shows of a card as large as a phone."""
_KEPT = 8
_OWN = "desk-card-problems.json"


@dataclass(frozen=True, slots=True)
class DrawnCard:
    """A card as it is printed, and its sides as WebP, front first; nothing of both where it cannot be printed."""

    pdf: bytes = b""
    sides: tuple[bytes, ...] = ()


class CardsOnRequest:
    """The cards of a guide on the desk. Several threads may ask; one card is printed at a time."""

    def __init__(self, folder: Path) -> None:
        """Nothing is opened before the first card is asked for."""
        self._folder = folder
        self._drawing = Lock()
        self._drawn: dict[str, DrawnCard] = {}

    def draw(self, guide: Published, account_id: str) -> DrawnCard:
        """An account's card."""
        account = guide.accounts.get(account_id)
        if account is None:
            return DrawnCard()
        # Templates of a guide's own run in a process apart, which reads them as they are now.
        crew = Crew(1, confined=has_own_theme(self._folder))
        with self._drawing, crew, closing(Store(self._folder / WORKSHOP / "store")) as store:
            bench = Workbench(store, crew, Silence(), Problems(), KeptProblems(self._folder / WORKSHOP / _OWN))
            return self._draw_by(bench, guide, account_id)

    def _draw_by(self, bench: Workbench, guide: Published, account_id: str) -> DrawnCard:
        try:
            card_format = card_format_named(guide.settings.card)
        except UnknownFormatError:
            return DrawnCard()
        card = field_card(make_pieces(guide), guide.accounts[account_id])
        box = picture_pixels(card_format)
        pictures = PrintCopies(guide, self._folder, bench).make_prints({photo.id: box for photo in card.photos}, near=seen_near([card]))
        look = Look(card_format, find_theme(self._folder), contrast=False)
        job = bench.job(CARD, make_card, CardWork(card, tuple(pictures.items()), look), where=f"card {account_id}")
        if job.key not in self._drawn:
            made = next(iter(bench.do([job]))).made
            for oldest in list(self._drawn)[: max(0, len(self._drawn) + 1 - _KEPT)]:
                del self._drawn[oldest]
            self._drawn[job.key] = DrawnCard(made.parts[0], draw_sides(made.parts[0])) if made.parts else DrawnCard()
        return self._drawn[job.key]


def draw_sides(pdf: bytes) -> tuple[bytes, ...]:
    """Each page of a PDF as a picture."""
    sides = []
    with closing(pypdfium2.PdfDocument(pdf)) as document:
        for page in document:
            out = io.BytesIO()
            page.render(scale=_SHARPNESS).to_pil().save(out, "WEBP", quality=88)
            sides.append(out.getvalue())
    return tuple(sides)
