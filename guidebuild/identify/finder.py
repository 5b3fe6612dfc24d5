"""The finder's table as plain data, and the ranking that the page's own script must agree with.

Only whole numbers are compared, so that Python and a browser come to the same order. A taxon's row holds one number a
character: bit `s` set means it may show state `s`; 0 means not scored, which is never held against a taxon; -1 that its
author says the character does not apply, so that whoever sees any of its states has another taxon.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from guidebuild.guide.characters import CharacterKind, Ease
from guidebuild.guide.facts import AnyGuide
from guidebuild.guide.measures import write_number
from guidebuild.identify.columns import Column, Matrix, best_scope, matrix_of
from guidebuild.identify.key_words import cut_words
from guidebuild.identify.ranges import RangeSets
from guidebuild.identify.readings import Scope, range_words
from guidebuild.identify.splits import find_roundest
from guidebuild.words import Words, words

NOT_SCORED = 0
NOT_APPLICABLE = -1
MISTAKES = 1
"""A taxon stays on the list with so many ticks against it."""
WORTH: Mapping[Ease, int] = {Ease.AT_A_DISTANCE: 22, Ease.CLOSE_UP: 20, Ease.IN_THE_HAND: 15, Ease.UNDER_A_LENS: 10}
"""What a pair told apart counts for, by ease: whole numbers in about the proportion of the key's costs."""
CLASSES = 6
"""A measurement is offered in so many classes at most."""


@dataclass(frozen=True, slots=True)
class FinderCharacter:
    """A character one may tick. `states` are the words to tick, bit 0 first; `ease` is 0 (at a distance) to 3 (lens).

    `state_ids` name the states where the words may change: ids, or the limits of a class of measurements (`10-16`).
    """

    id: str
    label: str
    question: str
    ease: int
    worth: int
    states: tuple[str, ...]
    state_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FinderTable:
    """Taxa × characters. `rows[t][c]` is what may be met, `rare[t][c]` which of that is met rarely."""

    taxa: tuple[str, ...]
    characters: tuple[FinderCharacter, ...]
    rows: tuple[tuple[int, ...], ...]
    rare: tuple[tuple[int, ...], ...]
    scope: Scope
    left_out: tuple[str, ...] = ()

    def plain(self) -> dict[str, object]:
        """Give what ranking needs as lists, texts and whole numbers, for JSON."""
        return {
            "characters": [{"id": c.id, "label": c.label, "worth": c.worth, "states": list(c.state_ids)} for c in self.characters],
            "rows": [list(row) for row in self.rows],
            "mistakes": MISTAKES,
        }


@dataclass(frozen=True, slots=True)
class Found:
    """A taxon still possible: `against` ticks it fails (places of characters), and how many it fits."""

    taxon: str
    against: tuple[int, ...]
    fits: int


@dataclass(frozen=True, slots=True)
class Ranking:
    """What the ticks leave: taxa in order, and the characters (places) to look at next, the best first."""

    left: tuple[Found, ...]
    next: tuple[int, ...]


def finder_table(guide: AnyGuide, *, scope: Scope | None = None) -> FinderTable:
    """Make the finder's table of a guide, for the stage that the key is for where no scope is given."""
    return table_of(matrix_of(guide, scope=scope, own_sexes=True))


def finder_tables(guide: AnyGuide) -> tuple[FinderTable, ...]:
    """A table for each stage that can be asked about, in order of life; none where no character tells anything apart.

    That is the stage of the key, and each for which something is scored that tells some of its taxa apart.
    """
    accounts = list(guide.accounts.values())
    best = best_scope(guide, accounts)
    stages = dict.fromkeys(stage for account in accounts for stage in guide.stage_set(account).ids)
    own = {
        (score.character, stage)
        for account in accounts
        for score in account.scores
        if (character := guide.characters.get(score.character))
        for stage in score.stages or character.stages
    }
    tables = {stage: finder_table(guide, scope=Scope(stage)) for stage in stages if any(stage == named for _, named in own)}
    tables[best.stage] = tables.get(best.stage) or finder_table(guide, scope=best)
    order = [*stages, *(stage for stage in tables if stage not in stages)]
    kept = [tables[stage] for stage in order if stage in tables]
    return tuple(t for t in kept if t.characters and (t.scope == best or any((c.id, t.scope.stage) in own for c in t.characters)))


FIRST_KINDS = (CharacterKind.STATES, CharacterKind.RANGE, CharacterKind.ORDERED)
"""What is asked first, one of each: colour, size and shape, as guides write them."""


def order_questions(guide: AnyGuide, table: FinderTable) -> tuple[int, ...]:
    """In which order the characters of a table are asked: it stays, whatever is ticked.

    First the easiest of each of `FIRST_KINDS`: what is seen before what is heard, the whole living thing before its parts.
    Then what tells most pairs apart for its ease.
    """
    worth = rank_taxa(table, {}).next
    asked = {c: guide.characters[table.characters[c].id] for c in worth}
    best = sorted(worth, key=lambda c: (asked[c].ease, not asked[c].view, bool(asked[c].part)))
    first = [found for kind in FIRST_KINDS if (found := next((c for c in best if asked[c].kind is kind), None)) is not None]
    return (*first, *(c for c in worth if c not in first), *(c for c in range(len(table.characters)) if c not in worth))


def table_of(matrix: Matrix) -> FinderTable:
    """Make the finder's table of a matrix; characters that show the same in every taxon are left out."""
    made = [_offered(column, len(matrix.taxa), words(matrix.language)) for column in matrix.columns]
    kept = [(c, rows, rare) for c, rows, rare in made if len({row for row in rows if row > 0}) > 1]
    count = range(len(matrix.taxa))
    return FinderTable(
        taxa=matrix.taxa,
        characters=tuple(c for c, _, _ in kept),
        rows=tuple(tuple(rows[t] for _, rows, _ in kept) for t in count),
        rare=tuple(tuple(rare[t] for _, _, rare in kept) for t in count),
        scope=matrix.scope,
        left_out=matrix.left_out,
    )


def rank_taxa(table: FinderTable, ticks: Mapping[int, int], distance: Sequence[int] = ()) -> Ranking:
    """Rank taxa by what was ticked: character place → bits of the states ticked (several: one of them).

    First those that fail least, then those that fit most ticks, then those of least `distance` (a number a taxon: how far
    it is from being out today and here), then in the guide's order. What to look at next is what
    tells most pairs of the taxa left apart, weighted by ease, among those that fail nothing (all that are left, where
    fewer than two do).
    """
    asked = {c: bits for c, bits in sorted(ticks.items()) if bits}
    found = [_found(table, t, asked) for t in range(len(table.taxa))]
    places = {taxon: place for place, taxon in enumerate(table.taxa)}
    far = distance or [0] * len(found)
    left = sorted((f for f in found if len(f.against) <= MISTAKES), key=lambda f: (len(f.against), -f.fits, far[places[f.taxon]]))
    fitting = [places[f.taxon] for f in left if not f.against]
    rows = [table.rows[t] for t in (fitting if len(fitting) > 1 else [places[f.taxon] for f in left])]
    worth = {c: told_pairs([row[c] for row in rows]) * character.worth for c, character in enumerate(table.characters) if c not in asked}
    return Ranking(tuple(left), tuple(sorted((c for c in worth if worth[c]), key=lambda c: -worth[c])))


def told_pairs(cells: Sequence[int]) -> int:
    """Count the pairs that a character separates: both scored, with no state in common."""
    numbers = Counter(cell for cell in cells if cell > 0)
    return sum(numbers[a] * numbers[b] for a, b in combinations(numbers, 2) if not a & b)


def _found(table: FinderTable, t: int, asked: Mapping[int, int]) -> Found:
    row = table.rows[t]
    against = tuple(c for c, bits in asked.items() if row[c] == NOT_APPLICABLE or (row[c] != NOT_SCORED and not row[c] & bits))
    return Found(table.taxa[t], against, sum(row[c] > 0 and bool(row[c] & bits) for c, bits in asked.items()))


def _offered(column: Column, taxa: int, say: Words) -> tuple[FinderCharacter, list[int], list[int]]:
    choices, ids, possible, usual = _classes(column, say) if column.is_range else _states(column)
    rows = [sum(1 << s for s, having in enumerate(possible) if having >> t & 1) for t in range(taxa)]
    often = [sum(1 << s for s, having in enumerate(usual) if having >> t & 1) for t in range(taxa)]
    rare = [row & ~seen for row, seen in zip(rows, often, strict=True)]
    rows = [NOT_APPLICABLE if column.inapplicable >> t & 1 else row for t, row in enumerate(rows)]
    c = column.character
    return FinderCharacter(c.id, c.label, c.question, int(c.ease), WORTH[c.ease], tuple(choices), tuple(ids)), rows, rare


_Offer = tuple[list[str], list[str], list[int], list[int]]
"""Words and ids of what can be ticked, and the taxa that may and that usually show it."""


def _states(column: Column) -> _Offer:
    shown = [(s, p, u) for s, p, u in zip(column.character.states, column.possible, column.usual, strict=True) if p]
    return [s.words or s.id for s, _, _ in shown], [s.id for s, _, _ in shown], [p for _, p, _ in shown], [u for _, _, u in shown]


def _classes(column: Column, say: Words) -> _Offer:
    """Offer a measurement in classes between limits; a taxon is in each class it can be measured as."""
    margin, unit = column.character.margin, column.character.unit
    ranges = RangeSets(column.bounds)
    limits = _limits(ranges.gaps(margin), margin)
    if not limits:
        return [], [], [], []
    choices = [cut_words(limits[0], unit, say, under=True)]
    last = 1 if unit == "count" else 0  # things are counted in whole numbers: 5–7, then 8 or more
    choices += [range_words(low, high - last, unit, say) for low, high in pairwise(limits)]
    choices.append(cut_words(limits[-1], unit, say, under=False))
    under = [*(ranges.under(limit, margin) for limit in limits), ranges.everyone]
    reaching = [ranges.everyone, *(ranges.reaching(limit, margin) for limit in limits)]
    taxa = [low & high for low, high in zip(under, reaching, strict=True)]
    edges = ["", *map(write_number, limits), ""]
    return choices, [f"{low}-{high}" for low, high in pairwise(edges)], taxa, taxa


def _limits(gaps: list[tuple[float, float]], margin: float) -> list[float]:
    """Limits in the gaps between ranges, evenly chosen where there are more than the classes want."""
    cuts = sorted({find_roundest(end + margin / 2, start - margin / 2) for end, start in gaps})
    most = min(len(cuts), CLASSES - 1)
    return [cuts[(2 * n + 1) * len(cuts) // (2 * most)] for n in range(most)]
