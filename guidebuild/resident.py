"""A guide that stays read while its author writes: an edit costs what it changes, and a page what it shows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path

from guidebuild.clock import find_today
from guidebuild.errors import SaidInOneLineError
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.later import imported_when_used
from guidebuild.press.leak_check import find_leaks_in
from guidebuild.press.outputs.site.on_request import SiteOnRequest
from guidebuild.press.preview.board import Note, OvertakenError
from guidebuild.press.publication import MILD
from guidebuild.reading.memory import Memory
from guidebuild.reading.sightings import read_records
from guidebuild.reading.whole import GuideReading, lint_reading, read_unlinted
from guidebuild.session import CannotReadError, check_reading

with imported_when_used():  # until a card is looked at, no library for PDFs is wanted
    from guidebuild.press.outputs.cards import on_request


class CardTellsError(SaidInOneLineError):
    """A card would tell what is kept secret; the message says what."""


class Resident:
    """A guide on show. Accounts with an error are shown too: whoever writes wants to see what is there."""

    def __init__(self, folder: Path) -> None:
        """Use as a context; nothing is read before the first `follow`."""
        self._folder = folder
        self._memory = Memory()
        self._site = SiteOnRequest(folder)
        self._cards: on_request.CardsOnRequest | None = None
        self._reading = GuideReading(None, ())
        self._published: Published | None = None
        self._findings: tuple[Finding, ...] = ()

    @property
    def guide(self) -> Guide | None:
        """The guide as it was read last; None where guide.yaml cannot be read."""
        return self._reading.guide

    @property
    def published(self) -> Published | None:
        """What of the guide is on show."""
        return self._published

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the checks found when they ran last."""
        return self._findings

    def __enter__(self) -> Resident:
        self._site.__enter__()
        return self

    def __exit__(self, *_: object) -> None:
        self._site.__exit__()

    def follow(self, changed: frozenset[Path]) -> None:
        """Read what has changed and show it; where guide.yaml cannot be read, the pages stay as they were."""
        day = find_today()  # it may be another than when the preview was begun
        self._reading = read_unlinted(self._folder, as_of=day, memory=self._memory)
        guide = self._reading.guide
        if guide is not None:
            theme_changed = any(path.is_relative_to(self._folder.resolve() / "theme") for path in changed)
            self._published = make_published(guide)
            read_rows = partial(_publish_with_rows, self._folder, guide)
            self._site.show(self._published, day, theme_changed=theme_changed, read_rows=read_rows)

    def find_notes(self, is_overtaken: Callable[[], bool] = lambda: False) -> tuple[Note, ...]:
        """All that is wrong with the guide as it was read last, and with what was shown of it.

        Raises `OvertakenError` as soon as the guide is said to be overtaken by an edit; what was found before then stays.
        """

        def give_way() -> None:
            if is_overtaken():
                raise OvertakenError

        give_way()
        reading = lint_reading(self._reading)
        try:
            self._findings = check_reading(self._folder, reading, give_way).report.findings
        except CannotReadError:
            self._findings = reading.findings
        notes = [Note(f.level.value, str(f.at), f"{f.message} {f.mend}".strip()) for f in self._findings]
        return (*notes, *(Note("warning" if p.what in MILD else "error", p.where, p.message) for p in self._site.problems))

    def read(self, path: str) -> tuple[bytes, str] | None:
        """A file of the site by its path from the root, and its mark."""
        return self._site.read(path)

    def find_file(self, path: str) -> Path | None:
        """A film or a sound of the guide by its path from the site's root."""
        return self._site.find_file(path)

    def draw_card(self, account_id: str) -> tuple[bytes, ...]:
        """The sides of an account's card as it would be printed now, as WebP; none where it cannot be."""
        return self._draw(self._published, account_id).sides if self._published else ()

    def print_card(self, account_id: str) -> bytes:
        """An account's card as a PDF that may be handed on; nothing where it cannot be printed, or what it is about must be mended first.

        It is looked through as everything is that is published. Raises CardTellsError where it would tell what is secret.
        """
        guide, published = self.guide, self._published
        found = (*self._reading.findings, *self._findings)  # the checks follow an edit by some moments
        if guide is None or published is None or any(f.level is Level.ERROR and f.account == account_id for f in found):
            return b""
        pdf = self._draw(published, account_id).pdf
        if leaks := find_leaks_in(guide, f"cards/{account_id}.pdf", pdf, published.told_positions()):
            raise CardTellsError(" ".join(leak.message for leak in leaks))
        return pdf

    def _draw(self, published: Published, account_id: str) -> on_request.DrawnCard:
        if self._cards is None:
            self._cards = on_request.CardsOnRequest(self._folder)
        return self._cards.draw(published, account_id)


def _publish_with_rows(folder: Path, guide: Guide) -> Published:
    return make_published(replace(guide, records=read_records(folder, guide)))
