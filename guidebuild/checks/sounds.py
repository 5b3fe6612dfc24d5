"""Sounds: one can be heard somewhere, belongs to a species, and tells nothing that is kept secret."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.later import imported_when_used

with imported_when_used():  # a guide without secrets need not wait for them
    from guidebuild.fieldwork import decisions, public_sounds


def _nowhere(guide: Guide) -> Iterator[Finding]:
    for sound in guide.sounds.values():
        if not sound.address and "file" not in sound.positions:
            yield NOWHERE_TO_HEAR.finding(f"The sound “{sound.id}” has neither a file nor an address.", sound.at)


def _of_nobody(guide: Guide) -> Iterator[Finding]:
    for sound in guide.sounds.values():
        if not sound.accounts:
            yield OF_NOBODY.finding(f"The sound “{sound.id}” names no species.", sound.at)


def _not_entered(guide: Guide) -> Iterator[Finding]:
    entered = {sound.file for sound in guide.sounds.values()}
    for file in sorted(guide.sound_files - entered):
        yield NOT_ENTERED.finding(f"{file} stands in the folder but not in sounds.yaml.", At(file))


def _not_credited(guide: Guide) -> Iterator[Finding]:
    for sound in guide.sounds.values():
        lacks = " and ".join(word for word, text in (("recordist", sound.recordist), ("licence", sound.licence)) if not text.strip())
        if sound.file and lacks:
            yield NOT_CREDITED.finding(f"The sound “{sound.id}” has no {lacks}, so its file is not published.", sound.at)


def _day_to_come(guide: Guide) -> Iterator[Finding]:
    for sound in guide.sounds.values():
        if sound.day and guide.as_of and sound.day > guide.as_of:
            yield DAY_TO_COME.finding(f"The sound “{sound.id}” was recorded on {sound.day.isoformat()}, a day to come.", sound.where("day"))


def _tells_secret(guide: Guide) -> Iterator[Finding]:
    if not (guide.sounds and guide.keeps_secrets):
        return
    made = decisions.decide_secrets(guide)
    for sound in guide.sounds.values():
        unsaid = public_sounds.unsaid_of_sound(made, sound)
        if unsaid.secrets and (places := unsaid.places_in_any(public_sounds.list_sound_names(sound))):
            named = " and ".join(f"“{place}”" for place in places)
            yield TELLS_SECRET.finding(f"The sound “{sound.id}” tells of {named}, so it is not published.", sound.at)


NOWHERE_TO_HEAR = Rule(
    "sound-nowhere",
    "Every sound can be heard somewhere",
    Level.WARNING,
    "It stands on no page.",
    "Write `file:` with its file in sounds/, or `address:` with where it stands on the web.",
    _nowhere,
)
OF_NOBODY = Rule(
    "sound-of-nobody",
    "Every sound belongs to a species",
    Level.WARNING,
    "It stands on no page.",
    "Write the ids of its accounts as `accounts:`.",
    _of_nobody,
)
NOT_ENTERED = Rule(
    "sound-not-entered",
    "Every file in sounds/ is entered in sounds.yaml",
    Level.NOTE,
    "A sound without an entry stands on no page.",
    "Add an entry to sounds.yaml.",
    _not_entered,
)
NOT_CREDITED = Rule(
    "sound-not-credited",
    "Every sound that is published has a recordist and a licence",
    Level.WARNING,
    "Whoever recorded it must be named, and others must know what they may do with it; its file is not published until then.",
    "Write `recordist:` and `licence:`.",
    _not_credited,
)
DAY_TO_COME = Rule(
    "sound-to-come",
    "Sounds were recorded on days that have been",
    Level.WARNING,
    "One of its figures is wrong.",
    "Correct `day:`.",
    _day_to_come,
)
TELLS_SECRET = Rule(
    "sound-tells-secret",
    "No sound names what is kept secret",
    Level.WARNING,
    "Its id, title, file, address and recordist stand beside it: the sound is not published.",
    "Call it otherwise.",
    _tells_secret,
)

RULES = (NOWHERE_TO_HEAR, OF_NOBODY, NOT_ENTERED, NOT_CREDITED, DAY_TO_COME, TELLS_SECRET)
