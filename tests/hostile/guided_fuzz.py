"""Fuzzing that is led by coverage: `python -m tests.hostile.guided_fuzz [corpus] -max_total_time=600`.

Needs atheris (not a dependency: it has to match the interpreter). The first byte chooses a reader, the rest is its text. A reader
may answer with findings or with the reason why it cannot read; whatever it raises stops the run, and libFuzzer keeps the bytes.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["guidebuild"]):
    from guidebuild.guide.coordinate_text import parse_coordinate
    from guidebuild.guide.measure_text import parse_measure
    from guidebuild.guide.name_text import parse_name
    from guidebuild.guide.season_text import parse_season
    from guidebuild.guide.text.plain_text import write_plain
    from guidebuild.guide.text.sentences import split_sentences
    from guidebuild.press.theme.prose import prose_html
    from guidebuild.reading.event_dates import parse_event_date
    from guidebuild.reading.notes import Notes
    from guidebuild.reading.whole import read_guide
    from guidebuild.reading.yaml_text import read_block
    from guidebuild.speech.caption_files import read_captions
    from guidebuild.speech.reading_ease import measure_ease
    from guidebuild.speech.script_text import read_lines
    from guidebuild.speech.spoken import say_text
    from guidebuild.views.pieces.common import ProseView

_FILES = ("accounts/x.md", "sightings/x.csv", "plants.yaml", "episodes/x.md", "walks/x.yaml", "guide.yaml")


def _one_file(number: int, text: str) -> None:
    with tempfile.TemporaryDirectory() as here:
        (Path(here) / "guide.yaml").write_text("title: Toads\nhemisphere: north\n", encoding="utf-8")
        file = Path(here) / _FILES[number % len(_FILES)]
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, encoding="utf-8")
        read_guide(Path(here))


READERS: tuple[Callable[[str], object], ...] = (
    parse_measure,
    parse_name,
    parse_season,
    parse_event_date,
    lambda text: parse_coordinate(text, "latitude"),
    write_plain,
    split_sentences,
    say_text,
    read_lines,
    measure_ease,
    read_captions,
    lambda text: prose_html(ProseView(text)),
    lambda text: read_block(text, "x.yaml", Notes()),
)


def once(data: bytes) -> None:
    """Give one text to one reader, or to the reader of whole files."""
    if not data:
        return
    text = data[1:].decode("utf-8", "replace")
    chosen = data[0] % (len(READERS) + 2)
    if chosen >= len(READERS):
        _one_file(data[0] // 16, text)
    else:
        READERS[chosen](text)


if __name__ == "__main__":
    atheris.Setup(sys.argv, once)
    atheris.Fuzz()
