"""Footnotes of a text that is shown in pieces: a note written in one piece may be called in another."""

from __future__ import annotations

import re
from collections.abc import Sequence

_CALL = re.compile(r"\[\^([^\]\s]+)\](?!:)")
_NOTE = re.compile(r"^\[\^([^\]\s]+)\]:[^\n]*(?:\n(?:[ \t]+\S[^\n]*|[ \t]*(?=\n[ \t]+\S)))*\n?", re.MULTILINE)


def with_their_notes(pieces: Sequence[str]) -> list[str]:
    """Each piece with exactly the notes that it calls: its own where it has one of that name, else the first anywhere."""
    if not any("[^" in piece for piece in pieces):
        return list(pieces)
    own = [{m[1]: m[0].rstrip("\n") for m in _NOTE.finditer(piece)} for piece in pieces]
    anywhere = {label: note for notes in reversed(own) for label, note in notes.items()}
    whole = []
    for piece, notes in zip(pieces, own, strict=True):
        bare = _NOTE.sub("", piece).rstrip("\n")
        called = [label for label in dict.fromkeys(_CALL.findall(bare)) if label in anywhere]
        whole.append("\n\n".join([bare, *(notes.get(label, anywhere[label]) for label in called)]))
    return whole
