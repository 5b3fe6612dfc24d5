"""Bytes of a file → text, or findings that say what is wrong with them.

Accounts come from many editors: a byte order mark, CRLF and stray invisible characters are met here once, so that no
later step needs to know of them.
"""

from __future__ import annotations

import codecs
import os
import re
from pathlib import Path

from guidebuild.guide.findings import At
from guidebuild.reading.notes import Notes

LARGEST = 8_000_000  # bytes; a list of photos of a thousand accounts is about a megabyte

# Tab, line feed and carriage return are text; everything else below U+0020, and U+007F to U+009F, is not.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")
# Characters that turn the reading direction, so that a line can show other text than it holds.
_DIRECTION = re.compile(r"[\u202a-\u202e\u2066-\u2069]")
# UTF-8 read as Windows-1252 and saved again: Ã¼ for ü, â€“ for an en dash.
_TWICE = re.compile(r"[ÂÃ][\u0080-\u00bf\u0152\u0153\u0160\u0161\u2018-\u2022\u20ac]|â€[\u0090-\u00bf\u2010-\u2122œ]")
# One look for anything that the patterns above, a lost character or a stray mark would find.
_SUSPECT = re.compile(rf"{_CONTROL.pattern[:-1]}\u202a-\u202e\u2066-\u2069\ufeff\ufffdÂÃâ]")
_HIDDEN = (
    ("control-character", _CONTROL, "an invisible control character"),
    ("hidden-direction", _DIRECTION, "an invisible sign that turns the reading direction"),
)
_MARKS = ((codecs.BOM_UTF16_LE, "UTF-16"), (codecs.BOM_UTF16_BE, "UTF-16"))


def read_text(path: Path, file: str, notes: Notes) -> str | None:
    """The text of a file with line feeds only, or None where it cannot be read at all; `file` names it in findings."""
    try:
        with path.open("rb", buffering=0) as opened:
            if os.fstat(opened.fileno()).st_size > LARGEST:
                notes.add("file-too-large", f"{file} is larger than {LARGEST // 1_000_000} MB.", At(file))
                return None
            raw = opened.read()
    except OSError as trouble:
        notes.add("file-not-readable", f"{file} cannot be opened: {trouble.strerror}.", At(file))
        return None
    return clean_text(decode_text(raw, file, notes), file, notes)


def decode_text(raw: bytes, file: str, notes: Notes) -> str:
    """UTF-8 with or without a mark; another encoding is a finding, and is guessed so that the rest can be checked."""
    for mark, name in _MARKS:
        if raw.startswith(mark):
            notes.add("not-utf8", f"{file} is saved as {name}.", At(file, 1))
            return raw.decode("utf-16", errors="replace").removeprefix("\ufeff")
    raw = raw.removeprefix(codecs.BOM_UTF8)
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as trouble:
        return _guess(raw, trouble.start, file, notes)


def _guess(raw: bytes, start: int, file: str, notes: Notes) -> str:
    text = raw.decode("cp1252", errors="replace")
    before = raw[:start]
    line = before.count(b"\n") + 1
    column = len(before) - (before.rfind(b"\n") + 1) + 1
    # One byte is one character in Windows-1252, so the wrong byte is found again at the same place.
    guess = f"It looks like Windows-1252, where this is '{text[start]}'." if text[start] != "\ufffd" else ""
    words = f"Line {line}, character {column} of {file} is not UTF-8."
    notes.add("not-utf8", f"{words} {guess}".strip(), At(file, line, column))
    return text


def clean_text(text: str, file: str, notes: Notes) -> str:
    """Line feeds only, no control characters; what was taken out or looks wrong is a finding."""
    text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\u0085", "\n")
    text = text.replace("\u2028", "\n").replace("\u2029", "\n")
    if not _SUSPECT.search(text):
        return text
    for code, pattern, words in _HIDDEN:
        for match in pattern.finditer(text):
            at = position(text, match.start(), file)
            notes.add(code, f"There is {words} (U+{ord(match[0]):04X}) here.", at)
        text = pattern.sub(" ", text)
    for match in _TWICE.finditer(text):
        notes.add("garbled-text", f"'{match[0]}' looks like a letter that was saved twice.", position(text, match.start(), file))
    for match in re.finditer("\ufffd", text):
        notes.add("lost-character", "A character was lost here when the file was saved.", position(text, match.start(), file))
    for match in re.finditer("\ufeff", text):
        notes.add("stray-mark", "There is an invisible byte order mark inside the text.", position(text, match.start(), file))
    return text.replace("\ufeff", "")


def shown_signs(text: str, at: At, notes: Notes) -> str:
    """A value in which such signs were written as YAML escapes, without them; each kind is a finding at the value."""
    if not _SUSPECT.search(text):
        return text
    for code, pattern, words in _HIDDEN:
        found = pattern.search(text)
        if found:
            notes.add(code, f"There is {words} (U+{ord(found[0]):04X}) in this value.", at)
            text = pattern.sub(" ", text)
    return text


def position(text: str, index: int, file: str, *, first_line: int = 1) -> At:
    """Line and column of a character, both from 1; `first_line` is the line number of the text's first line."""
    start = text.rfind("\n", 0, index) + 1
    return At(file, text.count("\n", 0, index) + first_line, index - start + 1)
