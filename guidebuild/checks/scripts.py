"""Scripts: the facts they ask for exist, and what they show exists."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.references import nearest
from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.resolve import find_account
from guidebuild.guide.slots import slot_names, slots_in
from guidebuild.speech.marks import find_marks


def _unknown_slot(guide: Guide) -> Iterator[Finding]:
    yield from _unknown_slot_of_scripts(guide)
    yield from _unknown_slot_of_slides(guide)


def _unknown_slot_of_scripts(guide: Guide) -> Iterator[Finding]:
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


def _unknown_slot_of_slides(guide: Guide) -> Iterator[Finding]:
    for slides in guide.own_slides.values():
        account = next((found for part in slides.id.split("--") if (found := find_account(guide, part))), None)
        known = slot_names(account, guide.stage_set(account).ids) if account else ()
        for section in slides.sections:
            for slot in slots_in(section):
                if slot.name not in known:
                    mend = nearest(slot.name, known) or "Slots are facts of the account that the file is called after, such as {size}."
                    whose = f"of {account.vernacular or account.name.plain}" if account else "that these slides could fill"
                    message = f"The slot {{{slot.name}}} is not a fact {whose}."
                    yield UNKNOWN_SLOT.finding(message, slot.at, mend=mend, account=account.id if account else "")


def _unknown_shot(guide: Guide) -> Iterator[Finding]:
    for episode in guide.episodes.values():
        for section in episode.sections:
            for _, mark, at in find_marks(section):
                if mark.kind == "show" and mark.what and mark.what not in guide.photos:
                    mend = nearest(mark.what, guide.photos) or "Enter it in photos.yaml."
                    yield UNKNOWN_SHOT.finding(f"There is no photo “{mark.what}” to show.", at, mend=mend, account=episode.account)


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
