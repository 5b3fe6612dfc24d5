"""The words that stand in bytes that are no text: in the head of a picture, between the sounds of a recording."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

_SHORT = 65_536
"""So few bytes are what is said of a picture or recording, and not the thing itself: even the shortest words count."""
BREAK = "\n|0|\n"
"""What stands between two pieces, so that no name is put together from both."""
_SIGN = rb"[\t\n\r\x20-\x7e]|[\xc2-\xdf][\x80-\xbf]|[\xe0-\xef][\x80-\xbf]{2}|[\xf0-\xf4][\x80-\xbf]{3}"
_RUNS = {least: re.compile(rb"(?:" + _SIGN + rb"){%d,}" % least) for least in (3, 6)}
_LATIN = rb"(?:[\t\n\r\x20-\x7e\x80-\xff]){%d,}"
_SINGLE = re.compile(_LATIN % 4)
# Two bytes a character, for Latin, Greek, Cyrillic, Hebrew and Arabic letters.
_WIDE = {
    "utf-16-le": re.compile(rb"(?:[\t\n\r\x20-\x7e\x80-\xff]\x00|[\x00-\xff][\x01-\x06]){4,}"),
    "utf-16-be": re.compile(rb"(?:\x00[\t\n\r\x20-\x7e\x80-\xff]|[\x01-\x06][\x00-\xff]){4,}"),
}


def read_bytes(content: bytes, may_hold: Callable[[str], bool] = bool) -> str:
    """All words in some bytes, in any of the encodings that cameras, recorders and office programs write.

    Nearly all bytes make signs when they are read two by two. Such readings of plain ASCII that `may_hold` refuses are left out.
    """
    return BREAK.join(dict.fromkeys(_pieces(content, may_hold)))


def _pieces(content: bytes, may_hold: Callable[[str], bool]) -> Iterator[str]:
    is_short = len(content) <= _SHORT
    yield from (run[0].decode("utf-8", "ignore") for run in _RUNS[3 if is_short else 6].finditer(content))
    if is_short:  # one byte a letter, as old programs write it
        yield from (run[0].decode("latin-1") for run in _SINGLE.finditer(content) if not run[0].isascii())
    for encoding, wide in _WIDE.items():
        yield from (run[0].decode(encoding, "ignore") for run in wide.finditer(content))
    if is_short and b"\x00" not in content:  # letters beyond those, where each is two bytes
        pairs = (content[start:].decode(encoding, "ignore") for encoding in _WIDE for start in (0, 1))
        yield from filter(may_hold, pairs) if content.isascii() else pairs


def read_value(value: bytes) -> Iterator[str]:
    """One value that a picture carries, in each encoding that it may be in: a comment may begin with eight letters that name its own."""
    yield value.decode("utf-8", "ignore")
    yield value.decode("latin-1")
    if len(value) <= _SHORT:
        yield from (value.decode(encoding, "ignore") for encoding in _WIDE)
