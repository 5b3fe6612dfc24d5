"""Sounds on the site: their files without all that tells, their pictures, and what a page says of these."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Craft, Job
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.maker import Maker, Piece
from guidebuild.press.engine.problems import Problem, Problems
from guidebuild.press.engine.workbench import Workbench
from guidebuild.press.media.sound_making import DrawingWork, SoundWork, clean_sound, draw_sound, has_library, read_drawn
from guidebuild.press.outputs.site.sounds_on_page import DrawnSounds, picture_path
from guidebuild.views.site.sounds import sound_path

SOUND = Craft("sound", "sounds", cost=30.0)
DRAWING = Craft("sonogram", "sonograms", cost=200.0)
_MISSING = "no sonograms are drawn, but waveforms of WAV files; install what draws them with: pip install 'guidebuild[sound]'"


def list_sound_files(guide: Published) -> Iterator[tuple[str, str, str]]:
    """Sounds of which the guide holds the file: the id of each, the file, and its path from the site's root."""
    yield from ((sound.id, sound.file, sound_path(sound)) for sound in guide.sounds.values() if sound.file)


def publish_sounds(guide: Published, folder: Path, files: Files, maker: Maker, problems: Problems) -> DrawnSounds:
    """Put the sounds of a guide and their pictures beside its pages. One that cannot be made clean is left out, and told."""
    listed = list(list_sound_files(guide))
    if listed and not has_library():
        problems.tell(Problem("sound-not-drawn", "sounds.yaml", _MISSING))
    pieces, drawings = [], []
    for ident, file, path in listed:
        try:
            pieces.append(Piece(maker.job(SOUND, clean_sound, SoundWork(folder / file, file), where=f"sound {ident}"), (path,)))
            drawings.append((ident, path, drawing_job(maker, folder, ident, file)))
        except OSError as error:
            problems.tell(Problem("not-readable", file, f"the sound cannot be read: {error.strerror}"))
    maker.make(pieces)
    drawn = {}
    for (ident, path, job), made in zip(drawings, maker.ask(job for _, _, job in drawings), strict=True):
        if files.find(path) is not None:
            drawn[ident] = read_drawn(made)
            if len(made.parts) > 1:
                files.add(picture_path(ident), made.parts[1], key=job.key)
    return drawn


def drawing_job(bench: Maker | Workbench, folder: Path, ident: str, file: str) -> Job[DrawingWork]:
    """The job that draws a sound."""
    return bench.job(DRAWING, draw_sound, DrawingWork(folder / file, file, has_library()), where=f"sonogram {ident}")


def draw_sounds(guide: Published, bench: Workbench, folder: Path, wanted: Collection[str]) -> dict[str, Made]:
    """The drawings of some sounds, by their ids, as far as their files are there; none is published."""
    listed = [(ident, file) for ident, file, _ in list_sound_files(guide) if ident in wanted and (folder / file).is_file()]
    results = bench.do(drawing_job(bench, folder, ident, file) for ident, file in listed)
    return {ident: result.made for (ident, _), result in zip(listed, results, strict=True)}


def read_sound_picture(guide: Published, bench: Workbench, folder: Path, path: str) -> bytes | None:
    """The picture of a sound by its path from the site's root."""
    for ident, _, _ in list_sound_files(guide):
        if path == picture_path(ident):
            return next((made.parts[1] for made in draw_sounds(guide, bench, folder, (ident,)).values() if len(made.parts) > 1), None)
    return None
