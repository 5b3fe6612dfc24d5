"""Making of one recording, in any process, what stands on the site: its file without all that tells, and its picture."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from importlib.util import find_spec
from pathlib import Path

from guidebuild.later import imported_when_used
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.media.cleaning import clean_media, read_media
from guidebuild.press.media.drawn_sound import DrawnSound
from guidebuild.press.media.waveform import draw_waveform

with imported_when_used():  # what decodes sounds is not always installed
    from guidebuild.press.media import sonogram

NEEDED = ("numpy", "soundfile")
"""What sonograms are worked out by; `pip install 'guidebuild[sound]'` brings it."""


@dataclass(frozen=True, slots=True)
class SoundWork:
    """One recording, by its name as the author wrote it."""

    path: Path
    where: str


@dataclass(frozen=True, slots=True)
class DrawingWork:
    """The same, with whether sonograms can be worked out here."""

    path: Path
    where: str
    has_library: bool


def has_library() -> bool:
    """Whether sonograms can be worked out."""
    return all(find_spec(name) is not None for name in NEEDED)


def clean_sound(work: SoundWork) -> Made:
    """The recording as it is published."""
    cleaned = clean_media(work.path, work.where)
    return Made((), (cleaned,)) if isinstance(cleaned, Problem) else Made((cleaned,))


def draw_sound(work: DrawingWork) -> Made:
    """What is known of the drawing as JSON, and the picture; a recording that is not drawn has no picture."""
    content = read_media(work.path, work.where)
    if isinstance(content, Problem):
        return Made((_told(DrawnSound()),))  # whoever cleans it tells
    if not work.has_library:
        waveform = draw_waveform(content)
        return Made((_told(waveform[0]), waveform[1]) if waveform else (_told(DrawnSound()),))
    try:
        drawn, picture = sonogram.draw_sonogram(content)
    except sonogram.CannotDrawError as trouble:
        return Made((_told(DrawnSound()),), (Problem("sound-not-drawn", work.where, f"no sonogram is drawn: {trouble}"),))
    return Made((_told(drawn), picture))


def read_drawn(made: Made) -> DrawnSound:
    """What `draw_sound` noted."""
    return DrawnSound(**json.loads(made.parts[0])) if made.parts else DrawnSound()


def _told(drawn: DrawnSound) -> bytes:
    return json.dumps(asdict(drawn)).encode()
