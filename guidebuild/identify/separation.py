"""Which characters separate two taxa, where, and how easily one sees it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from guidebuild.guide.characters import Character, CharacterKind, Ease, Score
from guidebuild.guide.facts import AnyGuide
from guidebuild.identify.readings import (
    EVERYWHERE,
    SEXES,
    Reading,
    Scope,
    are_apart,
    measure_gap,
    reading_in,
    score_sheet,
    scored_stages,
    value_words,
)
from guidebuild.words import words

Scores = tuple[Score, ...]


@dataclass(frozen=True, slots=True)
class Separation:
    """One character that tells `first` from `second`, and what each shows.

    `scope` says in which stage or sex it does (empty parts: any that the character is for); `whole` is True where it
    does in every scope in which both are scored. `clarity` compares separations of one character kind: the gap of two
    ranges as a share of their middle value, or the steps between ordered states; 1 for plain states.
    `language` is the guide's.
    """

    character: Character
    first: Reading
    second: Reading
    scope: Scope
    whole: bool
    clarity: float
    language: str

    @property
    def first_words(self) -> str:
        """What the first taxon shows, in the guide's words."""
        return value_words(self.character, self.first, words(self.language))

    @property
    def second_words(self) -> str:
        """What the second taxon shows, in the guide's words."""
        return value_words(self.character, self.second, words(self.language))

    @property
    def ease(self) -> Ease:
        """How near one must be to see it."""
        return self.character.ease

    @property
    def rank(self) -> tuple[int, bool, float]:
        """Easiest first; what holds for all before what holds for one sex or stage; clearest first."""
        return (self.ease, not self.whole, -self.clarity)


@dataclass(frozen=True, slots=True)
class Shared:
    """A character that both are scored for and that does not tell them apart."""

    character: Character
    first: Reading
    second: Reading
    scope: Scope
    language: str

    @property
    def first_words(self) -> str:
        """What the first taxon shows, in the guide's words."""
        return value_words(self.character, self.first, words(self.language))

    @property
    def second_words(self) -> str:
        """What the second taxon shows, in the guide's words."""
        return value_words(self.character, self.second, words(self.language))


def find_separations(guide: AnyGuide, first: str, second: str) -> tuple[Separation, ...]:
    """All that separates two accounts (ids), easiest first, then in the order of the guide's characters.

    Raises KeyError for an id that is not in the guide.
    """
    language = guide.settings.language
    ours, theirs = score_sheet(guide, first), score_sheet(guide, second)
    both = [guide.characters[c] for c in guide.characters if c in ours and c in theirs]
    found = [s for character in both for s in _separations(character, ours[character.id], theirs[character.id], language)]
    return tuple(sorted(found, key=lambda s: s.rank))


def _separations(character: Character, ours: Scores, theirs: Scores, language: str) -> tuple[Separation, ...]:
    match ours, theirs:
        case (one,), (other,) if one.plain and other.plain and one.possible & other.possible:
            return ()  # nearly all are so
    pairs = list(_compared(character, ours, theirs))
    full = [(scope, a, b) for scope, a, b in pairs if not scope.sex]
    kept = [(scope, a, b) for scope, a, b in pairs if are_apart(character, a, b)]
    whole = bool(full) and all(are_apart(character, a, b) for _, a, b in full)
    stages_done = {scope.stage for scope, _, _ in kept if not scope.sex}
    narrowed = [k for k in kept if not k[0].sex or k[0].stage not in stages_done]
    stages = {scope.stage for scope, _, _ in narrowed}
    if whole and len({(a, b) for _, a, b in narrowed}) == 1 and ("" in stages or stages == character.stages):
        narrowed = [(Scope(), *narrowed[0][1:])]
    return tuple(Separation(character, a, b, scope, whole, _clarity(character, a, b), language) for scope, a, b in narrowed)


def find_shared(guide: AnyGuide, first: str, second: str) -> tuple[Shared, ...]:
    """Characters both are scored for that separate them nowhere, in the guide's order: what they have in common."""
    return tuple(_shared(guide, score_sheet(guide, first), score_sheet(guide, second)))


def _shared(guide: AnyGuide, ours: Mapping[str, Scores], theirs: Mapping[str, Scores]) -> Iterator[Shared]:
    for character in (guide.characters[c] for c in guide.characters if c in ours and c in theirs):
        pairs = list(_compared(character, ours[character.id], theirs[character.id]))
        if pairs and not any(are_apart(character, a, b) for _, a, b in pairs):
            scope, a, b = pairs[0]
            yield Shared(character, a, b, scope, guide.settings.language)


def _compared(character: Character, ours: Scores, theirs: Scores) -> Iterator[tuple[Scope, Reading, Reading]]:
    """Every scope in which both are scored: each stage that a score names, and all others, without and with a sex."""
    if not any(score.stages or score.sexes for score in (*ours, *theirs)):
        a, b = reading_in(ours, EVERYWHERE), reading_in(theirs, EVERYWHERE)  # nearly all are so
        if a is not None and b is not None:
            yield EVERYWHERE, a, b
        return
    stages = sorted(scored_stages((*ours, *theirs)))
    rest = [""] if not character.stages or set(stages) < character.stages or not stages else []
    sexes = [sex for sex in SEXES if any(sex in s.sexes for s in (*ours, *theirs))]
    for stage in [*rest, *stages]:
        for sex in ["", *sexes]:
            scope = Scope(stage, sex)
            a, b = reading_in(ours, scope), reading_in(theirs, scope)
            if a is not None and b is not None:
                yield scope, a, b


def _clarity(character: Character, one: Reading, other: Reading) -> float:
    """How clearly two readings that are apart are so: one range ends then where the other has not begun, and there are two states."""
    if character.kind is CharacterKind.RANGE:
        ends = [abs(end) for r in (one, other) for end in (r.low, r.high) if not math.isinf(end)]
        return measure_gap(one, other) / (sum(ends) / len(ends))
    if character.kind is CharacterKind.ORDERED:
        place = {state.id: number for number, state in enumerate(character.states)}
        steps = [abs(place[a] - place[b]) for a in one.possible for b in other.possible]
        return min(steps) / (len(character.states) - 1)
    return 1.0


def best_separating(guide: AnyGuide, first: str, second: str, n: int = 2) -> tuple[Separation, ...]:
    """Pick the `n` characters to look at first: those the author names (either account), if they separate, else the easiest.

    Never two scopes of one character.
    """
    separations = find_separations(guide, first, second)
    named = told_by(guide, first, second)
    order = [s for wanted in named for s in separations if s.character.id == wanted]
    picked: dict[str, Separation] = {}
    for separation in [*order, *(s for s in separations if s.character.id not in named)]:
        picked.setdefault(separation.character.id, separation)
    return tuple(picked.values())[:n]


def told_by(guide: AnyGuide, first: str, second: str) -> tuple[str, ...]:
    """Find the characters the author tells the pair apart by: the first account's, else the second's."""
    for one, other in ((first, second), (second, first)):
        for similar in guide.accounts[one].similar:
            if similar.account == other and similar.tell_by:
                return similar.tell_by
    return ()


def separates_easily(separations: Sequence[Separation]) -> bool:
    """Whether any of them can be seen without holding the animal or plant."""
    return any(s.ease <= Ease.CLOSE_UP for s in separations)
