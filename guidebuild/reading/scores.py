"""What an account says of each character, read against characters.yaml."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from guidebuild.guide.characters import Character, Kind, Known, Score
from guidebuild.guide.findings import At
from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.problem import Unreadable
from guidebuild.reading.account_shape import ScoreShape
from guidebuild.reading.block import Block
from guidebuild.reading.notes import Notes
from guidebuild.reading.shaping import nearest

_KNOWN = {"unknown": Known.UNKNOWN, "not applicable": Known.NOT_APPLICABLE}
_RARELY = re.compile(r"(?:rarely|sometimes|seldom|occasionally)\s+", re.IGNORECASE)
_USUALLY = re.compile(r"(?:usually|mostly|often)\s+", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*[,/;]\s*|\s+or\s+", re.IGNORECASE)
_MASSES = frozenset({"g", "mg", "kg", "oz", "lb"})


def read_scores(
    values: Mapping[str, list[ScoreShape]],
    block: Block,
    characters: Mapping[str, Character],
    notes: Notes,
    account: str,
) -> tuple[Score, ...]:
    """All scores of an account; characters are named by id or label, states by id or words."""
    by_word = {_folded(word): character for character in characters.values() for word in (character.label, character.id)}
    scores: list[Score] = []
    for word, shapes in values.items():
        character = by_word.get(_folded(word))
        if character is None:
            near = nearest(word, (c.label for c in characters.values()))
            mend = f"Did you mean '{near}'?" if near else ""
            at = block.key_at("characters", word)
            notes.add("unknown-character", f"There is no character '{word}'.", at, mend=mend, account=account)
            continue
        reader = _ScoreReader(character, notes, account)
        scores += reader.read(shapes, block, word)
    return tuple(scores)


def _folded(word: str) -> str:
    return " ".join(word.casefold().replace("-", " ").split())


class _ScoreReader:
    """Reads the values of one character."""

    def __init__(self, character: Character, notes: Notes, account: str) -> None:
        self._character = character
        self._notes = notes
        self._account = account
        self._states = {_folded(w): s.id for s in character.states for w in (s.words, s.id)}

    def read(self, shapes: list[ScoreShape], block: Block, word: str) -> Iterator[Score]:
        """One score for values without a scope together, and one for each value with a scope."""
        plain = [text for shape in shapes if self._is_plain(shape) for text in shape.value]
        if plain:
            score = self._score(plain, [], [], block.at("characters", word))
            yield from [score] if score else []
        for number, shape in enumerate(shapes):
            if self._is_plain(shape):
                continue
            path = ("characters", word, number) if isinstance(block.data_at("characters", word), list) else ("characters", word)
            score = self._score(shape.value, shape.usually, shape.rarely, block.at(*path), shape)
            yield from [score] if score else []

    @staticmethod
    def _is_plain(shape: ScoreShape) -> bool:
        return not (shape.usually or shape.rarely or shape.stage or shape.sex)

    def _score(self, value: list[str], usually: list[str], rarely: list[str], at: At, scope: ScoreShape | None = None) -> Score | None:
        typed = " or ".join([*value, *usually, *(f"rarely {word}" for word in rarely)])
        stages = frozenset(scope.stage) if scope else frozenset()
        sexes = frozenset({scope.sex} if scope and scope.sex else ())
        base = Score(self._character.id, stages=stages, sexes=sexes, typed=typed, at=at)
        if typed.strip().lower() in _KNOWN:
            return Score(base.character, _KNOWN[typed.strip().lower()], stages=stages, sexes=sexes, typed=typed, at=at)
        if self._character.kind is Kind.RANGE:
            return self._range(typed, base)
        usual, rare = self._read_states([*value, *usually], at)
        _, rare_too = self._read_states([f"rarely {word}" for word in rarely], at)
        if not (usual | rare | rare_too):
            return None
        return Score(base.character, states=usual, rarely=rare | rare_too, stages=stages, sexes=sexes, typed=typed, at=at)

    def _range(self, typed: str, base: Score) -> Score | None:
        unit = self._character.unit
        kind = "mass" if unit in _MASSES else "length" if unit not in {"", "count"} else "count"
        measure = parse_measure(typed, unit_kind=kind)
        if isinstance(measure, Unreadable):
            self._notes.unreadable(measure, base.at, account=self._account)
            return None
        return Score(base.character, measure=measure, stages=base.stages, sexes=base.sexes, typed=typed, at=base.at)

    def _read_states(self, texts: list[str], at: At) -> tuple[frozenset[str], frozenset[str]]:
        """Usual and rare state ids; a state that is not listed is a finding."""
        usual: set[str] = set()
        rare: set[str] = set()
        for text in texts:
            # A state's words may hold "or" or a comma themselves, so the whole is tried first.
            words = [text] if _folded(text) in self._states else _BETWEEN.split(text)
            for word in words:
                is_rare = bool(_RARELY.match(word))
                bare = _USUALLY.sub("", _RARELY.sub("", word, count=1), count=1)
                state = self._states.get(_folded(bare))
                if state is None:
                    self._note_unknown(bare, at)
                else:
                    (rare if is_rare else usual).add(state)
        return frozenset(usual), frozenset(rare - usual)

    def _note_unknown(self, word: str, at: At) -> None:
        ids = [state.id for state in self._character.states]
        near = nearest(word, ids)
        mend = f"Did you mean '{near}'?" if near else f"Its states are {', '.join(ids)}."
        words = f"'{word}' is not a state of {self._character.label}."
        self._notes.add("unknown-state", words, at, mend=mend, account=self._account)
