"""What gives way when words are over: the plate first, then the size of type, then what the theme ranks least."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from guidebuild.counting import count_of
from guidebuild.press.engine.problems import Problem
from guidebuild.press.paper.layout import Side

REST = frozenset({"the rest"})
"""Sentences after the first: left out without a word when there is no room for them."""


_FIXED = frozenset({"plate", "name", "again", "season", "size"})
"""Pieces that no author can shorten."""


@dataclass(frozen=True, slots=True)
class Setting:
    """How a part with one plate is set: points, millimetres, and what is left out."""

    points: float
    plate: float
    left_out: frozenset[str] = REST


def give_way(setting: Setting, side: Side, *, sizes: Sequence[float], least_plate: float, ranked: Sequence[str]) -> Setting:
    """The next setting to try; the same one when nothing more can give way."""
    if setting.plate - side.over - 0.2 >= least_plate:
        return replace(setting, plate=setting.plate - side.over - 0.2)
    if not setting.left_out >= REST:
        return replace(setting, left_out=setting.left_out | REST)
    if smaller := [size for size in sizes if size < setting.points]:
        return replace(setting, points=smaller[0])
    if shown := [piece for piece in ranked if piece not in setting.left_out]:
        return replace(setting, left_out=setting.left_out | {shown[0]})
    return setting


def too_long(where: str, what: str, side: Side, points: float) -> Problem:
    """Words that are over even at the least type: how many lines, and what takes most room."""
    words = {piece: height for piece, height in side.pieces.items() if piece not in _FIXED}
    piece = max(words, key=lambda name: words[name], default="")
    longest = f"; the longest piece is “{piece}” with {words[piece]:.0f} mm" if piece else ""
    lines = count_of(side.lines_over, "line")
    return Problem(
        "too-long",
        where,
        f"{what} is {lines} ({side.over:.0f} mm) over even at {points:g} pt{longest}; shorten it or choose a larger format",
    )
