"""Slots in scripts and posts: `{size}` stands for a fact of the account, so that a script never disagrees with its page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At
from guidebuild.guide.records import Section

SLOT = re.compile(r"(?<!\\)\{([^{}\n]{1,60})\}")

# Slots that need nothing more than the account: its fields, and words of the guide.
PLAIN_SLOTS = (
    "full name",
    *(field.slot for field in ACCOUNT_FIELDS if field.slot),
    *("region", "guide", "address", "greeting", "sign off"),
)


@dataclass(frozen=True, slots=True)
class Slot:
    """A slot as written, and where."""

    name: str
    at: At


def slot_names(account: Account, stages: tuple[str, ...]) -> tuple[str, ...]:
    """Every slot an account can fill: the plain ones, its stages, seasons, marks and look-alikes."""
    seasons = [f"season of {stage}" for stage in stages]
    marks = [f"mark {number}" for number in range(1, len(account.diagnostics) + 1)]
    differences = [f"difference from {s.account}" for s in account.similar]
    return (*PLAIN_SLOTS, *seasons, *stages, *marks, *differences)


def slots_in(section: Section) -> Iterator[Slot]:
    """Slots of a text with their positions."""
    for match in SLOT.finditer(section.text):
        before = section.text[: match.start()]
        column = match.start() - (before.rfind("\n") + 1) + 1
        name = " ".join(match.group(1).split())
        yield Slot(name, At(section.at.file, section.at.line + before.count("\n"), column))
