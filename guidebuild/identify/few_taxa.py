"""The most informing two-way question of a few taxa, found by counting all questions at once.

A key of a large table asks most of its questions of a handful of taxa, and each time of all characters. So the table is turned round: a
row of bits for each taxon, one for each question. Rows are added up column by column with carries, as on paper; how many taxa go along
the first lead and how many along the second is then known for all questions after a few operations a taxon.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from guidebuild.identify.columns import places_in
from guidebuild.identify.splits import Split

FEW = 40
"""Up to so many taxa counting all questions at once is quicker than one question after another."""

_Rows = Sequence[int]


class _Counted(dict[int, int]):
    """The questions (a bit each) by how many taxa go along a lead, looked up when first asked for."""

    def __init__(self, digits: Sequence[int], everything: int) -> None:
        self._digits, self._everything = digits, everything

    def __missing__(self, count: int) -> int:
        found = 0 if count >> len(self._digits) else self._everything
        for place, digit in enumerate(self._digits):
            found &= digit if count >> place & 1 else ~digit
        self[count] = found
        return found


@dataclass(slots=True)
class FewTaxa:
    """The questions of a table that all have two leads, of taxa that weigh the same; `bits[n]` is n·log₂ n."""

    splits: Sequence[Split]
    bits: Sequence[float]
    _leads: tuple[_Rows, _Rows] = ((), ())
    _costs: tuple[tuple[float, int], ...] = ()
    _ranked: dict[int, list[tuple[float, int, int]]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Turn the table round."""
        taxa = len(self.bits) - 1
        self._leads = (turned((s.masks[0] for s in self.splits), taxa), turned((s.masks[1] for s in self.splits), taxa))
        by_cost: dict[float, int] = {}
        for place, split in enumerate(self.splits):
            by_cost[split.cost] = by_cost.get(split.cost, 0) | 1 << place
        self._costs = tuple(sorted(by_cost.items()))

    def most_informing(self, taxa: int) -> Split | None:
        """The split of these taxa with most bits for its cost, the first of equals; None where none divides them."""
        places = places_in(taxa)
        one, other = (_Counted(_add_up([rows[place] for place in places]), (1 << len(self.splits)) - 1) for rows in self._leads)
        best, chosen = -1.0, -1
        for gain, here, there in self._rank(len(places)):
            if chosen >= 0 and gain / self._costs[0][0] < best:
                break
            both = one[here] & other[there]
            if not both:
                continue
            for cost, of_cost in self._costs:
                if found := both & of_cost:
                    score, place = gain / cost, (found & -found).bit_length() - 1
                    if chosen < 0 or score > best or (score == best and place < chosen):
                        best, chosen = score, place
        return self.splits[chosen] if chosen >= 0 else None

    def _rank(self, whole: int) -> list[tuple[float, int, int]]:
        """Each way in which a question may divide so many taxa, most bits first: the bits, and how many go along each lead."""
        if whole not in self._ranked:
            ways = ((here, there) for here in range(1, whole) for there in range(whole - here, whole))
            self._ranked[whole] = sorted(((self._gain(*way, whole), *way) for way in ways), key=lambda ranked: -ranked[0])
        return self._ranked[whole]

    def _gain(self, here: int, there: int, whole: int) -> float:
        """Bits of a division, lessened by how many taxa go both ways."""
        total, left = here + there, self.bits[here] + self.bits[there]
        if total == whole:
            return self.bits[whole] - left
        return (self.bits[whole] - left * whole / total) * whole / total


def turned(sets: Iterable[int], taxa: int) -> list[int]:
    """For each of so many taxa in which of the sets it is: a bit for each set."""
    lines = [f"{held:0{taxa}b}" for held in sets]
    return [int("".join(column), 2) for column in zip(*reversed(lines), strict=True)][::-1]


def _add_up(rows: Iterable[int]) -> list[int]:
    """The number of rows that have each bit, in binary digits, the lowest first."""
    digits: list[int] = []
    for row in rows:
        carry = row
        for place, digit in enumerate(digits):
            digits[place], carry = digit ^ carry, digit & carry
            if not carry:
                break
        if carry:
            digits.append(carry)
    return digits
