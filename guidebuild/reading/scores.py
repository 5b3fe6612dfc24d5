"""What an account says of each character, read against characters.yaml."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from guidebuild.guide.characters import Character, CharacterKind, Known, Score
from guidebuild.guide.findings import At, Finding
from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.measures import Measure, kind_of_unit
from guidebuild.guide.problem import Unreadable
from guidebuild.reading.account_shape import ScoreShape, ScoresShape
from guidebuild.reading.block import Block, Plain
from guidebuild.reading.notes import Notes
from guidebuild.reading.shaping import nearest, read_shape

_KNOWN = {"unknown": Known.UNKNOWN, "not applicable": Known.NOT_APPLICABLE}
_RARELY = re.compile(r"(?:rarely|sometimes|seldom|occasionally)\s+", re.IGNORECASE)
_USUALLY = re.compile(r"(?:usually|mostly|often)\s+", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*[,/;]\s*|\s+or\s+", re.IGNORECASE)
_NO_SCOPE: frozenset[str] = frozenset()


class ScoreReader:
    """Reads the scores of accounts; characters are named by id or label, states by id or words."""

    def __init__(self, characters: Mapping[str, Character], notes: Notes) -> None:
        """Look-ups are made once for all accounts of a guide."""
        self._labels = [character.label for character in characters.values()]
        self._by_word = {
            _folded(word): _CharacterReader(character, notes)
            for character in characters.values()
            for word in (character.label, character.id)
        }
        self._notes = notes

    def scores(self, values: Mapping[str, tuple[ScoreShape, ...]], block: Block, account: str) -> tuple[Score, ...]:
        """All scores of an account."""
        scores: list[Score] = []
        owner = block.follow(("characters",))[1]
        for word, shapes in values.items():
            reader = self._by_word.get(_folded(word))
            if reader is None:
                self._note_unknown(word, block, account)
            else:
                scores += reader.read(shapes, block, word, block.place_under(owner, word), account)
        return tuple(scores)

    def with_size(self, scores: tuple[Score, ...], size: Measure | None, at: At) -> tuple[Score, ...]:
        """The scores, and the size where it says what was measured and nothing else scores that: it is written once."""
        reader = self._by_word.get(_folded(size.what)) if size is not None and size.what else None
        return scores if size is None or reader is None else (*scores, *reader.of_size(size, at, scores))

    def _note_unknown(self, word: str, block: Block, account: str) -> None:
        near = nearest(word, self._labels)
        mend = f"Did you mean '{near}'?" if near else ""
        at = block.key_at("characters", word)
        self._notes.add("unknown-character", f"There is no character '{word}'.", at, mend=mend, account=account)


def find_key(character: Character, keys: Iterable[str]) -> str | None:
    """The key under which a character is scored, None where it is not."""
    named = {_folded(character.label), _folded(character.id)}
    return next((key for key in keys if _folded(key) in named), None)


def read_typed_scores(character: Character, value: Plain) -> tuple[tuple[Score, ...], tuple[Finding, ...]]:
    """What stands after one character's key, and what of it cannot be read."""
    if value is None:
        return (), ()
    notes = Notes()
    block = Block({"characters": {character.id: value}}, None, "")
    said = read_shape(block, ScoresShape, notes)
    scores = ScoreReader({character.id: character}, notes).scores(said.characters, block, "") if said else ()
    return scores, notes.findings


def write_scores(character: Character, scores: Iterable[Score]) -> Plain:
    """Scores as an author types them after the character's key, so that they read back the same; None where there are none."""
    plain: list[str] = []
    scoped: list[Plain] = []
    for score in scores:
        texts = [text for text in _texts_of(character, score) if score.stages or score.sexes or text not in plain]
        if not (score.stages or score.sexes):
            plain += texts
        elif texts:
            item: dict[str, Plain] = {"value": _alone(texts)}
            if score.stages:
                item["stage"] = _alone(sorted(score.stages))
            if score.sexes:
                item["sex"] = next(iter(score.sexes))
            scoped.append(item)
    return _alone([*plain, *scoped])


def _texts_of(character: Character, score: Score) -> list[str]:
    if score.known is not Known.SCORED:
        return [next(word for word, known in _KNOWN.items() if known is score.known)]
    if character.kind is CharacterKind.RANGE:
        return [score.typed] if score.typed else []
    order = [state.id for state in character.states]
    usual, rare = (sorted(states, key=order.index) for states in (score.states, score.rarely - score.states))
    return [*usual, *(f"rarely {state}" for state in rare)]


def _alone(items: Sequence[Plain]) -> Plain:
    """One item without its list; None where there is none."""
    return None if not items else items[0] if len(items) == 1 and isinstance(items[0], str) else list(items)


@lru_cache(maxsize=4096)
def _folded(word: str) -> str:
    return " ".join(word.casefold().replace("-", " ").split())


@dataclass(frozen=True, slots=True)
class _Worth:
    """What a value says: a measure, state ids, or the problems with it (message and mend come from a parser or word)."""

    known: Known = Known.SCORED
    usual: frozenset[str] = frozenset()
    rare: frozenset[str] = frozenset()
    measure: Measure | None = None
    problem: Unreadable | None = None
    unknown: tuple[str, ...] = ()


class _CharacterReader:
    """Reads the values of one character."""

    def __init__(self, character: Character, notes: Notes) -> None:
        self._character = character
        self._notes = notes
        self._states = {_folded(w): s.id for s in character.states for w in (s.words, s.id)}
        self._read: dict[tuple[str, ...], _Worth] = {}  # few values are used again and again

    def read(self, shapes: tuple[ScoreShape, ...], block: Block, word: str, at: At, account: str) -> Iterator[Score]:
        """One score for values without a scope together, and one for each value with a scope."""
        plain = tuple(text for shape in shapes if self._is_plain(shape) for text in shape.value)
        if plain:
            yield from self._score(plain, None, at, account)
        for number, shape in enumerate(shapes):
            if not self._is_plain(shape):
                texts = (*shape.value, *shape.usually, *(f"rarely {rare}" for rare in shape.rarely))
                yield from self._score(texts, shape, block.at("characters", word, number) if len(shapes) > 1 else at, account)

    def of_size(self, size: Measure, at: At, scores: tuple[Score, ...]) -> Iterator[Score]:
        """The score that a size gives, where this character is such a measurement and not scored."""
        unit = self._character.unit
        scored = any(score.character == self._character.id for score in scores)
        if self._character.kind is CharacterKind.RANGE and kind_of_unit(unit) == kind_of_unit(size.unit) and unit and not scored:
            yield Score(self._character.id, measure=size.in_unit(unit), typed=size.typed, at=at)

    @staticmethod
    def _is_plain(shape: ScoreShape) -> bool:
        return not (shape.usually or shape.rarely or shape.stage or shape.sex)

    def _score(self, texts: tuple[str, ...], scope: ScoreShape | None, at: At, account: str) -> Iterator[Score]:
        worth = self._read.get(texts)
        if worth is None:
            worth = self._read[texts] = self._worth(texts)
        if worth.problem:
            self._notes.unreadable(worth.problem, at, account=account)
        for word in worth.unknown:
            self._note_unknown(word, at, account)
        if worth.known is Known.SCORED and not (worth.measure or worth.usual or worth.rare):
            return
        stages = frozenset(scope.stage) if scope else _NO_SCOPE
        sexes = frozenset({scope.sex}) if scope and scope.sex else _NO_SCOPE
        typed = " or ".join(texts)
        yield Score(self._character.id, worth.known, worth.usual, worth.rare, worth.measure, stages, sexes, typed, at)

    def _worth(self, texts: tuple[str, ...]) -> _Worth:
        if len(texts) == 1 and texts[0].strip().lower() in _KNOWN:
            return _Worth(_KNOWN[texts[0].strip().lower()])
        return self._measure(" or ".join(texts)) if self._character.kind is CharacterKind.RANGE else self._state_ids(texts)

    def _measure(self, typed: str) -> _Worth:
        unit = self._character.unit
        measure = parse_measure(typed, unit_kind=kind_of_unit(unit))
        # Keys, the finder and comparisons reckon in the character's own unit, whatever unit an account writes.
        return _Worth(problem=measure) if isinstance(measure, Unreadable) else _Worth(measure=measure.in_unit(unit or measure.unit))

    def _state_ids(self, texts: tuple[str, ...]) -> _Worth:
        """Usual and rare state ids, and the words that are no state."""
        usual: set[str] = set()
        rare: set[str] = set()
        unknown: list[str] = []
        for text in texts:
            # A state's words may hold "or" or a comma themselves, so the whole is tried first.
            for word in [text] if _folded(text) in self._states else _BETWEEN.split(text):
                bare = _USUALLY.sub("", _RARELY.sub("", word, count=1), count=1)
                state = self._states.get(_folded(bare))
                if state is None:
                    unknown.append(bare)
                else:
                    (rare if _RARELY.match(word) else usual).add(state)
        return _Worth(usual=frozenset(usual), rare=frozenset(rare - usual), unknown=tuple(unknown))

    def _note_unknown(self, word: str, at: At, account: str) -> None:
        ids = [state.id for state in self._character.states]
        near = nearest(word, ids)
        mend = f"Did you mean '{near}'?" if near else f"Its states are {', '.join(ids)}."
        words = f"'{word}' is not a state of {self._character.label}."
        self._notes.add("unknown-state", words, at, mend=mend, account=account)
