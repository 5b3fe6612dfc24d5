"""What is printed where a console or file knows few signs, as on Windows: the nearest plain ones, and never an error."""

from __future__ import annotations

import codecs
import io
import sys
import unicodedata

_PLAINLY = "guidebuild: plain signs"
_SIGNS = {
    "“": '"', "”": '"', "„": '"', "«": '"', "»": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "−": "-", "‑": "-", "…": "...", "×": "x",
    "→": "->", "←": "<-", "·": "-", "•": "*", "°": " deg", "█": "#", "░": ".", "━": "=", "─": "-", "│": "|", "≥": ">=", "≤": "<=",
    "♂": "male", "♀": "female", "\u00a0": " ", "\u202f": " ", "\u2009": " ",
}  # fmt: skip


def print_plainly() -> None:
    """From now on, signs that standard output or standard error cannot write are written by plainer ones."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper) and codecs.lookup(stream.encoding).name != "utf-8":
            stream.reconfigure(errors=_PLAINLY)


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(_plain_sign, error.object[error.start : error.end])), error.end


def _plain_sign(sign: str) -> str:
    bare = "".join(part for part in unicodedata.normalize("NFKD", sign) if part.isascii())
    return _SIGNS.get(sign) or bare or "?"


codecs.register_error(_PLAINLY, _plain)
