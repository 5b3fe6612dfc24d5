"""Sounds beside their species: what each is, who recorded it, where and when."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePosixPath
from urllib.parse import urlsplit

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.asking import remember
from guidebuild.guide.media_types import SOUND_TYPES
from guidebuild.guide.sounds import Sound
from guidebuild.views.pieces.common import NO_WORDS, LinkView, Wording
from guidebuild.views.pieces.credits import Attribution
from guidebuild.views.pieces.parts import PieceMaker


@dataclass(frozen=True, slots=True)
class SoundView:
    """A sound. `file` is its path from the site's root, empty where it does not play here; `about` is what is heard, in a few words.

    `language` is that of title and note, where it is not the page's.
    """

    id: str
    title: str
    about: str = ""
    file: str = ""
    type: str = ""
    address: str = ""
    host: str = ""
    day: str = ""
    when: str = ""
    place: LinkView | None = None
    note: Wording = NO_WORDS
    attribution: Attribution | None = None
    species: tuple[LinkView, ...] = ()
    language: str = ""


def sounds_of_account(make: PieceMaker, account: PublicAccount) -> tuple[SoundView, ...]:
    """The sounds of a species, in the order of the file."""
    return tuple(sound_view(make, sound) for sound in make.guide.sounds.values() if account.id in sound.accounts)


def sound_view(make: PieceMaker, sound: Sound) -> SoundView:
    """A sound as the pages of its species show it."""
    return remember(make.kept, ("sound", sound.id), lambda: _view(make, sound))


def sound_path(sound: Sound) -> str:
    """Where its file is published: under its id, never under the name that it had."""
    return f"sounds/{sound.id}{PurePosixPath(sound.file).suffix.lower()}" if sound.file else ""


def _view(make: PieceMaker, sound: Sound) -> SoundView:
    heard = [make.guide.accounts[account] for account in sound.accounts if account in make.guide.accounts]
    stage = make.stage_word(heard[0], sound.stage) if heard and sound.stage else ""
    return SoundView(
        id=sound.id,
        title=sound.title,
        about=", ".join(filter(None, (make.words(sound.kind) if sound.kind else "", make.words(sound.sex) if sound.sex else "", stage))),
        file=sound_path(sound),
        type=SOUND_TYPES.get(PurePosixPath(sound.file).suffix.lower(), ""),
        address=sound.address,
        host=(urlsplit(sound.address).hostname or "").removeprefix("www."),
        day=sound.day.isoformat() if sound.day else "",
        when=make.words.date(sound.day) if sound.day else "",
        place=make.map.place(sound.place) if sound.place else None,
        note=make.word(sound.note),
        attribution=Attribution(sound.recordist, licence=make.licence(sound.licence)) if sound.recordist else None,
        species=tuple(make.map.account(account) for account in heard),
        language=make.foreign,
    )
