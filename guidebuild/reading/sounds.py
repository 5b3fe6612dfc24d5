"""Sounds of sounds.yaml, matched with their files on disk."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import PurePosixPath

from guidebuild.guide.sounds import Sound
from guidebuild.later import imported_when_used
from guidebuild.reading.block import Block
from guidebuild.reading.build_record import build_record
from guidebuild.reading.folder import SOUND_ENDINGS, Folder, same_name
from guidebuild.reading.notes import Notes
from guidebuild.reading.sound_shape import SoundShape

with imported_when_used():  # for slips
    from guidebuild.reading import nearest_name

FILE = "sounds.yaml"


def build_sound(key: str, shape: SoundShape, block: Block) -> Sound:
    """A sound as its entry has it; its file is matched with the disk afterwards."""
    return build_record(Sound, shape, block, key, id=key)


def match_sounds(sounds: Mapping[str, Sound], folder: Folder, notes: Notes) -> Mapping[str, Sound]:
    """The sounds with their files as spelt on disk. What is not there is a finding."""
    known = {same_name(file): file for file in folder.sounds}
    return {key: replace(sound, file=_find_file(sound, known, notes)) if sound.file else sound for key, sound in sounds.items()}


def _find_file(sound: Sound, known: Mapping[str, str], notes: Notes) -> str:
    wanted = sound.file.strip().replace("\\", "/").removeprefix("./")
    path, at = PurePosixPath(wanted), sound.where("file")
    if path.is_absolute() or ".." in path.parts or ":" in wanted:
        notes.add("outside-guide", f"The file '{sound.file}' is not in the guide's folder.", at)
        return ""
    if path.suffix.lower() not in SOUND_ENDINGS:
        mend = f"Give a file that ends in {', '.join(SOUND_ENDINGS[:-1])} or {SOUND_ENDINGS[-1]}."
        notes.add("sound-file-kind", f"'{sound.file}' cannot be the file of the sound “{sound.id}”.", at, mend=mend)
        return ""
    wanted = wanted if wanted.startswith("sounds/") else f"sounds/{wanted}"
    found = known.get(same_name(wanted), "")
    if not found:
        near = nearest_name.find_nearest_name(wanted, list(known.values()))
        mend = f"Did you mean {near}?" if near else "Put the file there, or take `file:` out."
        notes.add("sound-file-missing", f"The file of the sound “{sound.id}”, {wanted}, is not there.", at, mend=mend)
    return found
