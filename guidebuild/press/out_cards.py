"""The output `cards`: each account's card as its own PDF, and all of them n-up on sheets for the office printer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.card_face import Picture
from guidebuild.press.cards import render_card
from guidebuild.press.digest import digest
from guidebuild.press.formats import Format, Paper, UnknownFormat, format_named, paper_named
from guidebuild.press.imposition import Flip
from guidebuild.press.photo_jobs import copies_of
from guidebuild.press.problems import Problem
from guidebuild.press.run import Run, Work
from guidebuild.press.sheets import NoRoomError, make_sheets
from guidebuild.press.staging import WORKSHOP
from guidebuild.press.store import Made
from guidebuild.views.card import CardView, card_views

FOLDER = "cards"


@dataclass(frozen=True, slots=True)
class CardWork:
    """What printing one card needs."""

    card: CardView
    pictures: tuple[tuple[str, Picture], ...]
    format: Format
    theme_folders: tuple[Path, ...]
    contrast: bool
    bleed: float


def render(work: CardWork) -> Made:
    """One card's PDF; no part where it does not fit."""
    result = render_card(work.card, dict(work.pictures), work.format, work.theme_folders, contrast=work.contrast, bleed=work.bleed)
    return Made((result.pdf,) if result.pdf else (), result.problems)


def publish_cards(run: Run) -> None:
    """Everything under cards/."""
    settings = run.guide.settings
    try:
        card_format, paper = format_named(settings.card), paper_named(settings.paper)
    except UnknownFormat as error:
        run.problems.append(Problem("unknown-format", "guide.yaml", str(error)))
        return
    cards = card_views(run.guide)
    pictures = _print_pictures(run, [photo.id for card in cards for photo in card.photos])
    done = {card.id: work for card, work in _works(run, cards, pictures, card_format)}
    for _ in run.make(done.values()):
        pass
    _publish_sheets(run, [work for card in cards if (work := done.get(card.id))], card_format, paper)


def _works(
    run: Run, cards: tuple[CardView, ...], pictures: Mapping[str, tuple[str, Picture]], card_format: Format
) -> Iterator[tuple[CardView, Work]]:
    bleed = run.guide.settings.bleed
    for card in cards:
        found = {photo.id: pictures[photo.id] for photo in card.photos if photo.id in pictures}
        shown = tuple((photo, picture) for photo, (_, picture) in found.items())
        payload = CardWork(card, shown, card_format, run.theme_folders, run.high_contrast, bleed)
        seen = (card, tuple(name for name, _ in found.values()), card_format, run.high_contrast, bleed)
        job = run.job("card", "guidebuild.press.out_cards:render", payload, seen=seen, where=f"card {card.id}")
        yield card, Work(job, (f"{FOLDER}/{card.id}.pdf",))


def _print_pictures(run: Run, wanted: list[str]) -> Mapping[str, tuple[str, Picture]]:
    """Print copies as files beside the store, named by their content: (digest, picture) by photo id."""
    folder = run.folder / WORKSHOP / "print"
    folder.mkdir(parents=True, exist_ok=True)
    found: dict[str, tuple[str, Picture]] = {}
    for photo, made in run.originals("print", wanted):
        for copy in copies_of(made):
            name = digest(copy.data)
            path = folder / f"{name}.jpg"
            if not path.is_file():
                coming = path.with_suffix(".coming")
                coming.write_bytes(copy.data)
                coming.replace(path)
            found[photo.id] = (name, Picture(path.resolve(), copy.width, copy.height))
    return found


def _publish_sheets(run: Run, works: list[Work], card_format: Format, paper: Paper) -> None:
    """All cards n-up, fronts and backs in turn; kept where no card has changed."""
    settings = run.guide.settings
    path = f"{FOLDER}/sheets-{paper.id}.pdf"
    key = digest("sheets", [work.job.key for work in works], card_format, paper, settings.flip, settings.bleed, run.theme)
    printed = [data for work in works if (data := run.published(work.paths[0]))]
    if not printed or run.staging.keep_all([path], key):
        return
    try:
        sheets = make_sheets(printed, card_format, paper, Flip(settings.flip), settings.bleed, title=f"{settings.title}: cards")
    except (NoRoomError, ValueError) as error:
        run.problems.append(Problem("no-room", "guide.yaml", f"{error}"))
        return
    run.staging.add(path, sheets, key)
