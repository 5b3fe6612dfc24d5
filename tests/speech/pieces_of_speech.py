"""The passages and whole scripts that the tests of speech share. All are invented."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from guidebuild.speech.cues import Cue
from guidebuild.speech.loads import Load, get_word_loads, list_latin_words
from guidebuild.speech.script import Script, ScriptSection
from guidebuild.speech.script_text import read_lines, read_words

PASSAGES = tuple(
    passage for passage in (Path(__file__).parent / "passages.txt").read_text("utf-8").strip().split("\n\n") if not passage.startswith("#")
)
TEXT = "\n\n".join(f"## Part {number}\n{passage}" for number, passage in enumerate(PASSAGES, 1))


def load_of(text: str, names: Iterable[str] = ()) -> Load:
    """The counts of a text without marks, for a guide with these scientific names."""
    return get_word_loads(latin=list_latin_words(names)).load(read_words(text))


def script_of(text: str, names: Iterable[str] = (), phrases: Iterable[str] = ()) -> Script:
    """A whole script in English from Markdown with `## ` headings, as the reader of a guide's files would cut it."""
    sections: list[tuple[str, list[str]]] = [("", [])]
    for row in text.split("\n"):
        if row.startswith("## "):
            sections.append((row[3:].strip(), []))
        else:
            sections[-1][1].append(row)
    read = (ScriptSection(read_words(heading), read_lines("\n".join(rows))) for heading, rows in sections)
    return Script(tuple(section for section in read if section.heading or section.lines), "en", tuple(names), tuple(phrases))


def cue_of(start: float, end: float, text: str, number: int = 0, line: int = 0) -> Cue:
    """A cue from Markdown: each line of it is a row, names in stars."""
    return Cue(start, end, tuple(read_words(row) for row in text.split("\n") if row.strip()), number, line)


SCRIPT = script_of(TEXT)
