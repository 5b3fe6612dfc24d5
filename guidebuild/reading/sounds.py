"""Sounds of sounds.yaml, matched with their files on disk."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from guidebuild.guide.sounds import Sound
from guidebuild.reading.block import Block
from guidebuild.reading.build_record import build_record
from guidebuild.reading.folder import SOUND_ENDINGS, Folder, same_name
from guidebuild.reading.named_files import NamedFile, find_named_file, places_of_filled
from guidebuild.reading.notes import Notes
from guidebuild.reading.sound_shape import SoundShape

FILE = "sounds.yaml"
_CODES = ("sound-file-missing", "sound-file-kind")


def build_sound(key: str, shape: SoundShape, block: Block) -> Sound:
    """A sound as its entry has it; its file is matched with the disk afterwards."""
    return build_record(Sound, shape, block, key, id=key)


def match_sounds(sounds: Mapping[str, Sound], folder: Folder, notes: Notes) -> Mapping[str, Sound]:
    """The sounds with their files as spelt on disk. What is not there is a finding."""
    known = {same_name(file): file for file in folder.sounds}
    return {key: _match(sound, known, notes) for key, sound in sounds.items()}


def _match(sound: Sound, known: Mapping[str, str], notes: Notes) -> Sound:
    wanted = NamedFile("file", sound.where("file"), f"the sound “{sound.id}”", _CODES, ("sounds",), SOUND_ENDINGS)
    file = find_named_file(sound.file, wanted, known, notes)
    return replace(sound, file=file, positions=places_of_filled(sound.positions, "file", sound.file))
