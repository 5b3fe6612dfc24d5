"""What all parts of the desk are given: the guide as it stands now, what is wrong with it, and where its files are."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from guidebuild.clock import find_today
from guidebuild.desk.editing.writer import Writer
from guidebuild.desk.offers import Offers
from guidebuild.fieldwork.published import Published
from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.resident import Resident
from guidebuild.words import WRITTEN_IN, Words, words


@dataclass(frozen=True)
class Desk:
    """One guide on the desk. What it says may be other at each look: ask once for a page."""

    folder: Path
    resident: Resident
    handbook: Callable[[], Mapping[str, bytes]] = dict
    """Gives the pages of the handbook and what they need, by their names; it is asked once one is wanted."""

    @cached_property
    def offers(self) -> Offers:
        """What was dropped here and is not brought yet."""
        return Offers(self.folder)

    @property
    def writer(self) -> Writer:
        """Who writes the guide's files, and takes back what was written."""
        return Writer(self.folder)

    @property
    def day(self) -> dt.date:
        """The day it is: a desk may stand open over midnight."""
        return find_today()

    @property
    def guide(self) -> Guide | None:
        """The guide as it was read last, accounts with an error too; None where guide.yaml cannot be read."""
        return self.resident.guide

    @property
    def is_begun(self) -> bool:
        """Whether there is a guide.yaml, be it one that cannot be read."""
        return (self.folder / "guide.yaml").is_file()

    @property
    def published(self) -> Published | None:
        """What of the guide is on show; None where there is no guide yet."""
        return self.resident.published

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the last check found: it follows an edit by some moments."""
        return self.resident.findings

    @property
    def language(self) -> str:
        """The guide's first language: the desk speaks it where it can."""
        return self.guide.settings.language if self.guide else WRITTEN_IN

    @property
    def say(self) -> Words:
        """The desk's words."""
        return words(self.language)
