"""Two or more taxa side by side: what separates them first, then what they share."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from guidebuild.guide.characters import Character, Score
from guidebuild.guide.facts import AnyGuide
from guidebuild.identify.readings import (
    SEXES,
    Reading,
    Scope,
    are_apart,
    does_not_apply,
    reading_in,
    score_sheet,
    scored_stages,
    value_words,
)
from guidebuild.words import Words, words

NOT_SCORED = ""


@dataclass(frozen=True, slots=True)
class Compared:
    """One character across taxa. `values` are words in their order: empty where not scored.

    `scope` narrows it to a stage or sex; `stages` are all in which the same shows; `separates` are the pairs (places of the taxa)
    it tells apart there.
    """

    character: Character
    scope: Scope
    values: tuple[str, ...]
    separates: tuple[tuple[int, int], ...]
    stages: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Comparison:
    """Taxa (ids) and their characters: `separating` easiest first, `shared` in the guide's order.

    `untold` are pairs of ids that nothing separates.
    """

    taxa: tuple[str, ...]
    separating: tuple[Compared, ...]
    shared: tuple[Compared, ...]
    untold: tuple[tuple[str, str], ...]


def compare_accounts(guide: AnyGuide, ids: Sequence[str]) -> Comparison:
    """Compare accounts by id. Raises KeyError for one that is not in the guide."""
    taxa = tuple(dict.fromkeys(ids))
    say = words(guide.settings.language)
    sheets = [score_sheet(guide, i) for i in taxa]
    every = frozenset(stage for i in taxa for stage in guide.stage_set(guide.accounts[i]).ids)
    rows = [row for c in guide.characters.values() for row in _rows(c, [sheet.get(c.id, ()) for sheet in sheets], c.stages or every, say)]
    apart = _with_sexes_together([row for row in rows if row.separates], sheets, say)
    separating = sorted(apart, key=lambda r: (r.character.ease, -len(r.separates)))
    told = {pair for row in separating for pair in row.separates}
    untold = tuple((taxa[a], taxa[b]) for a, b in combinations(range(len(taxa)), 2) if (a, b) not in told)
    # What tells them apart in one stage may be alike in the stage that is most seen: that is told too.
    told_of = {(row.character.id, stage) for row in separating for stage in (*row.stages, "")}
    shared = tuple(r for r in rows if not r.separates and not {(r.character.id, stage) for stage in r.stages or ("",)} & told_of)
    return Comparison(taxa, tuple(separating), shared, untold)


def _with_sexes_together(rows: Iterable[Compared], sheets: Sequence[Mapping[str, tuple[Score, ...]]], say: Words) -> Iterator[Compared]:
    """Rows of one character and stage as one: what a taxon shows in one sex only is said with its sex."""
    together: dict[tuple[str, tuple[str, ...]], list[Compared]] = {}
    for row in rows:
        together.setdefault((row.character.id, row.stages), []).append(row)
    for same in together.values():
        first = same[0]
        if len(same) == 1:
            yield first
            continue
        values = tuple(_told_by_sex(first.character, sheet.get(first.character.id, ()), first.scope.stage, say) for sheet in sheets)
        pairs = tuple(sorted({pair for row in same for pair in row.separates}))
        yield replace(first, scope=Scope(first.scope.stage), values=values, separates=pairs)


def _told_by_sex(character: Character, scores: tuple[Score, ...], stage: str, say: Words) -> str:
    words_by_sex = {sex: _told(character, reading_in(scores, Scope(stage, sex)), scores, Scope(stage, sex), say) for sex in SEXES}
    if len(set(words_by_sex.values())) == 1:
        return words_by_sex[SEXES[0]]
    return "; ".join(f"{say(sex)}: {words}" for sex, words in words_by_sex.items() if words)


def _rows(character: Character, scores: list[tuple[Score, ...]], every: frozenset[str], say: Words) -> Iterable[Compared]:
    """One row, or one for each stage and sex in which something else shows or is told apart; it names all stages that show the same."""
    rows: dict[tuple[Reading | None, ...], Compared] = {}
    for stage in _stages(scores, every):
        together: set[tuple[int, int]] = set()
        for sex in ["", *(s for s in SEXES if any(s in score.sexes for own in scores for score in own))]:
            scope = Scope(stage, sex)
            readings = tuple(reading_in(own, scope) for own in scores)
            pairs = _pairs(character, readings)
            same = rows.get(readings)
            if same and stage and same.scope.stage and same.scope.sex == sex:
                rows[readings] = replace(same, stages=(*same.stages, stage))
            if sum(r is not None for r in readings) < 2 or same or (sex and set(pairs) <= together):
                continue
            together |= set(pairs)
            told = tuple(_told(character, r, own, scope, say) for r, own in zip(readings, scores, strict=True))
            rows[readings] = Compared(character, scope, told, pairs, (stage,) if stage else ())
    return rows.values()


def _stages(scores: Iterable[tuple[Score, ...]], every: frozenset[str]) -> list[str]:
    """The stages that scores name, and “” for all others where these are not `every` stage there is."""
    named = sorted(scored_stages(score for own in scores for score in own))
    return named if named and every <= set(named) else ["", *named]


def _pairs(character: Character, readings: tuple[Reading | None, ...]) -> tuple[tuple[int, int], ...]:
    scored = [(place, r) for place, r in enumerate(readings) if r is not None]
    return tuple((p, q) for (p, one), (q, other) in combinations(scored, 2) if are_apart(character, one, other))


def _told(character: Character, reading: Reading | None, scores: tuple[Score, ...], scope: Scope, say: Words) -> str:
    if reading is not None:
        return value_words(character, reading, say)
    return say("does not apply") if does_not_apply(scores, scope) else NOT_SCORED


def stands_alone(row: Compared, place: int) -> bool:
    """Whether a taxon, by its place, shows in this row what none of the others shows."""
    return all((min(place, other), max(place, other)) in row.separates for other in range(len(row.values)) if other != place)


def tell_each(comparison: Comparison, stage: str, named: Sequence[Collection[str]]) -> tuple[tuple[Compared, ...], ...]:
    """What tells each taxon from all the others, in their order: one row where one does, else the fewest found; none where they do not.

    Rows that hold in the stage that is shown go first, then those of characters that authors tell this taxon by (`named`, for each
    taxon their ids), then what is easiest to see.
    """

    def rank(row: Compared, place: int) -> tuple[bool, bool]:
        return not holds_in(row, stage), row.character.id not in named[place]

    count = len(comparison.taxa)
    return tuple(_tell_one(sorted(comparison.separating, key=lambda row: rank(row, place)), place, count) for place in range(count))


def holds_in(row: Compared, stage: str) -> bool:
    """Whether a row is of this stage, or of any."""
    stages = row.stages or tuple(row.character.stages)
    return not stage or not stages or stage in stages


def _tell_one(rows: Sequence[Compared], place: int, count: int) -> tuple[Compared, ...]:
    alone = next((row for row in rows if stands_alone(row, place)), None)
    if alone:
        return (alone,)
    left, chosen = set(range(count)) - {place}, []
    while left:
        best = max(rows, key=lambda row: len(left & _told_from(row, place)), default=None)
        if best is None or not left & _told_from(best, place):
            return ()
        chosen.append(best)
        left -= _told_from(best, place)
    return tuple(chosen)


def _told_from(row: Compared, place: int) -> set[int]:
    """The places of those that a row tells this one from."""
    return {other for pair in row.separates if place in pair for other in pair if other != place}
