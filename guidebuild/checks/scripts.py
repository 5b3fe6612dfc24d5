"""Scripts: the facts they ask for exist, and what they show exists."""

from __future__ import annotations

import re
from collections.abc import Iterator

from guidebuild.checks.references import nearest
from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Section
from guidebuild.guide.resolve import find_account
from guidebuild.guide.slots import slot_names, slots_in

_SHOW = re.compile(r"\[show\s+([\w-]+)(?:\s+[^\]]*)?\]")


def _unknown_slot(guide: Guide) -> Iterator[Finding]:
    for episode in guide.episodes.values():
        account = find_account(guide, episode.account)
        if account is None:
            continue
        known = slot_names(account, guide.stage_set(account).ids)
        for section in episode.sections:
            for slot in slots_in(section):
                if slot.name not in known:
                    mend = nearest(slot.name, known) or "Slots are facts of the account, such as {size} or {season of adult}."
                    message = f"The slot {{{slot.name}}} is not a fact of {account.vernacular}."
                    yield UNKNOWN_SLOT.finding(message, slot.at, mend=mend, account=account.id)


def _unknown_shot(guide: Guide) -> Iterator[Finding]:
    for episode in guide.episodes.values():
        for section in episode.sections:
            for match in _SHOW.finditer(section.text):
                if match.group(1) not in guide.photos:
                    mend = nearest(match.group(1), guide.photos) or "Enter it in photos.yaml."
                    yield UNKNOWN_SHOT.finding(
                        f"There is no photo “{match.group(1)}” to show.", _at(section, match.start()), mend=mend, account=episode.account
                    )


def _at(section: Section, offset: int) -> At:
    before = section.text[:offset]
    return At(section.at.file, section.at.line + before.count("\n"), offset - (before.rfind("\n") + 1) + 1)


UNKNOWN_SLOT = Rule(
    "unknown-slot",
    "Every slot of a script is a fact of its account",
    Level.ERROR,
    "The words would be spoken with a hole in them.",
    "Use a slot that the account can fill.",
    _unknown_slot,
)
UNKNOWN_SHOT = Rule(
    "unknown-shot",
    "Every shot of a script exists",
    Level.WARNING,
    "The editor would look for a picture that is not there.",
    "Correct the photo's id, or enter it in photos.yaml.",
    _unknown_shot,
)

RULES = (UNKNOWN_SLOT, UNKNOWN_SHOT)
