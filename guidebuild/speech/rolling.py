"""Rolling captions, as live television and automatic captions have them: lines move up, and each cue repeats those still on the screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from guidebuild.speech.cues import Cue
from guidebuild.speech.script import Spoken, join_text, trim_words

_AT_ONCE = 0.05
"""Seconds between two cues within which the screen was not cleared."""

_Row = tuple[Spoken, ...]


def unroll_cues(cues: Iterable[Cue]) -> list[Cue]:
    """Cues in the order of their start, with every line said once: what a cue repeats of the one before, still shown, goes.

    A line that has grown since keeps its new words. Cues that do not roll stay as they are.
    """
    kept: list[Cue] = []
    shown: tuple[_Row, ...] = ()
    until = 0.0
    for cue in cues:
        is_still_shown = bool(shown) and cue.start <= until + _AT_ONCE
        fresh = tuple(_find_fresh(shown, cue.rows)) if is_still_shown else cue.rows
        shown, until = cue.rows, max(cue.end, until) if is_still_shown else cue.end
        if fresh:
            kept.append(replace(cue, rows=fresh, number=len(kept) + 1))
    return kept


def _find_fresh(shown: tuple[_Row, ...], rows: tuple[_Row, ...]) -> Iterator[_Row]:
    """The rows, and the end of a row, that were not shown: as many as can be are those that were, moved up."""
    for count in range(min(len(shown), len(rows)), 0, -1):
        if shown[-count:-1] == rows[: count - 1] and (grown := _find_growth(shown[-1], rows[count - 1])) is not None:
            yield from filter(None, (grown, *rows[count:]))
            return
    yield from rows


def _find_growth(before: _Row, now: _Row) -> _Row | None:
    """What a row has more than it had; nothing where it is the same, None where it is another."""
    if before == now:
        return ()
    had, has = join_text(before), join_text(now)
    return _cut_start(now, len(had)) if has.startswith(f"{had} ") else None


def _cut_start(row: _Row, length: int) -> _Row:
    """A row without so many signs at its start."""
    left: list[Spoken] = []
    for one in row:
        if len(one.text) > length:
            left.append(replace(one, text=one.text[length:]))
        length = max(0, length - len(one.text))
    return trim_words(left)
