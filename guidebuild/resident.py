"""A guide that stays read while its author writes: an edit costs what it changes, and a page what it shows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path

from guidebuild.clock import find_today
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.later import imported_when_used
from guidebuild.press.outputs.site.on_request import SiteOnRequest
from guidebuild.press.preview.board import Note, OvertakenError
from guidebuild.press.publication import MILD
from guidebuild.reading.memory import Memory
from guidebuild.reading.sightings import read_records
from guidebuild.reading.whole import GuideReading, lint_reading, read_unlinted
from guidebuild.session import CannotReadError, check_reading

with imported_when_used():  # until a card is looked at, no library for PDFs is wanted
    from guidebuild.press.outputs.cards import on_request


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
        if self._cards is None:
            self._cards = on_request.CardsOnRequest(self._folder)
        return self._cards.draw(self._published, account_id) if self._published else ()


def _publish_with_rows(folder: Path, guide: Guide) -> Published:
    return make_published(replace(guide, records=read_records(folder, guide)))
