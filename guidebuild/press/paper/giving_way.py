"""What gives way when words are over: the plate first, then the size of type, then what is least needed, and no more than must be.

How much room a piece takes is guessed; what fits is decided by the layout. So pieces go until, at a guess, the excess is gone, and come
back where the layout leaves room. One that turns out not to fit after all is refused from then on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from guidebuild.counting import count_of
from guidebuild.press.engine.problems import Problem
from guidebuild.press.paper.layout import Side

Height = Callable[[frozenset[str]], float]
"""About how many millimetres the words take without some of their pieces."""
_NOTHING: frozenset[str] = frozenset()
_FIXED = frozenset({"plate", "name", "again", "season", "size"})
"""Pieces that no author can shorten."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What is left out of a part, and what was found out by trying."""

    pieces: frozenset[str] = _NOTHING
    refused: frozenset[str] = _NOTHING
    """Pieces for which there is no room."""
    fitted: frozenset[str] | None = None
    """What was left out when all fitted, while it is tried to bring back some of it."""

    def take_out(self, ranked: Sequence[str], height: Height, over: float) -> LeftOut:
        """More of the ranked pieces, at least one while there is one: as many as take away the excess, and none that could stay."""
        if self.fitted is not None:
            return self._take_back(ranked)
        out, before = self.pieces, height(self.pieces)
        for piece in (piece for piece in ranked if piece not in self.pieces):
            out |= {piece}
            if before - height(out) >= over:
                break
        # The last one may have made so much room that others need not go.
        spare = before - height(out) - over
        kept = LeftOut(out, self.refused | self.pieces).bring_back(ranked, height, spare) if spare > 0 else LeftOut(out)
        return replace(self, pieces=kept.pieces if kept.pieces != self.pieces else out)

    def bring_back(self, ranked: Sequence[str], height: Height, free: float) -> LeftOut:
        """With pieces for which, at a guess, there is room: the most needed first, no sentence or item without the one before it.

        One that has room only without what is shown with it alone, such as a season without those of other stages, comes without.
        """
        out = self.pieces
        for piece in reversed(ranked):
            if piece not in out or piece in self.refused or _before(piece) & out:
                continue
            for after in (out - {piece}, out - {piece} | _shown_with(piece, out, ranked, height)):
                taken = height(after) - height(out)
                if taken <= free:
                    out, free = after, free - taken
                    break
        return self if out == self.pieces else LeftOut(out, self.refused, self.pieces)

    def settle(self) -> LeftOut:
        """The same, once all fits."""
        return replace(self, fitted=None)

    def give_up(self) -> LeftOut:
        """What was left out when all fitted, where trying to bring back more came to no end."""
        return self if self.fitted is None else LeftOut(self.fitted)

    def _take_back(self, ranked: Sequence[str]) -> LeftOut:
        """Without the least needed of what was brought back."""
        fitted = self.fitted or _NOTHING
        piece = next((piece for piece in ranked if piece in fitted - self.pieces), None)
        if piece is None:
            return LeftOut(fitted, self.refused)
        out = self.pieces | {piece}
        return LeftOut(out, self.refused | {piece}, None if out == fitted else fitted)


def _shown_with(piece: str, out: frozenset[str], ranked: Sequence[str], height: Height) -> frozenset[str]:
    """The less needed pieces that take no room while this one is left out, and take some with it."""
    back, now = out - {piece}, height(out)
    others = (other for other in ranked[: ranked.index(piece)] if other not in out and height(out | {other}) == now)
    return frozenset(other for other in others if height(back | {other}) < height(back))


def _before(piece: str) -> frozenset[str]:
    """The item or sentence before a numbered one, without which it would not be understood."""
    of, _, number = piece.rpartition(" ")
    return frozenset({f"{of} {int(number) - 1}"}) if of and number.isdecimal() else _NOTHING


WHOLE = LeftOut()
"""Nothing is left out."""


@dataclass(frozen=True, slots=True)
class Setting:
    """How a part with one plate is set: points, millimetres, and what is left out."""

    points: float
    plate: float
    out: LeftOut = WHOLE

    @property
    def left_out(self) -> frozenset[str]:
        """The pieces that are left out."""
        return self.out.pieces


@dataclass(frozen=True, slots=True)
class Giving:
    """By what a part may give way: sizes of type, the least plate, sentences that go before type gets smaller, and what is ranked."""

    sizes: Sequence[float]
    least_plate: float
    ranked: Sequence[str]
    height: Callable[[float, frozenset[str]], float]
    """About how many millimetres the words take at a size without some of their pieces."""
    sentences: Sequence[str] = ()

    @property
    def pieces(self) -> tuple[str, ...]:
        """All that may be left out, the least needed first."""
        return (*self.sentences, *self.ranked)

    def give_way(self, setting: Setting, side: Side) -> Setting:
        """The next setting to try where words are over; the same one when nothing more can give way."""
        if setting.out.fitted is not None:
            return self._without(setting, side, self.pieces)
        if setting.plate - side.over - 0.2 >= self.least_plate:
            return replace(setting, plate=setting.plate - side.over - 0.2)
        if not setting.left_out >= set(self.sentences):
            return self._without(setting, side, self.sentences)
        if smaller := [size for size in self.sizes if size < setting.points]:
            return replace(setting, points=smaller[0])
        return self._without(setting, side, self.ranked)

    def bring_back(self, setting: Setting, side: Side) -> Setting:
        """The next setting to try where all fits; the same one when nothing that was left out has room."""
        back = setting.out.settle().bring_back(self.pieces, lambda out: self.height(setting.points, out), side.free)
        return setting if back.pieces == setting.left_out else replace(setting, out=back)

    def _without(self, setting: Setting, side: Side, ranked: Iterable[str]) -> Setting:
        return replace(setting, out=setting.out.take_out(tuple(ranked), lambda out: self.height(setting.points, out), side.over))


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
