"""Sounds for readers: where and when one was recorded is held back with its place or species."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from guidebuild.fieldwork.decisions import Decisions
from guidebuild.fieldwork.unsaid import Unsaid
from guidebuild.guide.sounds import Sound


def sound_for_readers(made: Decisions, sound: Sound) -> Sound | None:
    """A sound, if it may be heard: it stands somewhere, and nothing that it is called by gives a place away.

    Its file is given out only where someone is credited and a licence allows it; a sound that stands elsewhere is linked in any case.
    """
    may_play = bool(sound.recordist.strip() and sound.licence.strip()) and sound.file in made.guide.sound_files
    shown = replace(sound, file=sound.file if may_play else "")
    if not (shown.address or shown.file):
        return None
    unsaid = unsaid_of_sound(made, sound)
    if unsaid.secrets and any(unsaid.tells(text) for text in list_sound_names(sound)):
        return None
    note = unsaid.cleaned(sound.note) if unsaid.secrets else sound.note
    held_back = _is_held_back(made, sound)
    return replace(shown, note=note, place="" if held_back else sound.place, day=None if held_back else sound.day)


def unsaid_of_sound(made: Decisions, sound: Sound) -> Unsaid:
    """What may not be told with a sound: as much as with the most sensitive of its species."""
    return made.unsaid_with_all(made.accounts_named(sound.accounts))


def list_sound_names(sound: Sound) -> Iterator[str]:
    """What a sound is called, which cannot be left out of it."""
    yield from (sound.id.replace("-", " "), sound.title, sound.address, sound.file, sound.recordist)


def _is_held_back(made: Decisions, sound: Sound) -> bool:
    """Whether it is not told where and when: the place or a species is secret or not known, or its words name a sensitive one."""
    place = made.guide.places.get(sound.place)
    if sound.place:
        words = (*list_sound_names(sound), sound.note.text)
        if place is None or place.sensitivity or any(made.at_places.tells(text) for text in words):
            return True
    return made.has_unread(sound.accounts) or any(account.sensitivity for account in made.accounts_named(sound.accounts))
