"""Which life stage a cell means: "adult", "Adults", "imago", "5th instar nymph". A mixture stays one, and nothing is guessed."""

from __future__ import annotations

import re
from dataclasses import dataclass

from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.resolve import fold_name
from guidebuild.guide.sighting_words import SightingWords

_BETWEEN = re.compile(r"\s*(?:[/|+&,;]|\band\b|\bor\b|\bwith\b)\s*")
_COUNT = re.compile(r"\(\d+\)|^\d+ (?!instar)|[()]")


@dataclass(frozen=True, slots=True)
class StageRead:
    """The stage of a cell, or why it has none: several stages together, or a word that means none."""

    stage: str = ""
    mixed: bool = False
    unknown: bool = False


class StageReader:
    """Reads cells of lifeStage against the stages that an account's group has."""

    def __init__(self, guide: Guide, words: SightingWords) -> None:
        """Take the words that mean a stage."""
        self._guide = guide
        self._words = words
        beside = sorted(words.beside_a_stage, key=len, reverse=True)
        self._beside = re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, beside))})(?![\w-])") if beside else None

    def read(self, account: Account, text: str) -> StageRead:
        """The stage that a cell means for an account."""
        wanted = fold_name(text)
        known = self._known(account)
        if stage := self._one(wanted, known):
            return StageRead(stage)
        parts = [part for part in _BETWEEN.split(wanted) if self._without_beside(part)]
        if len(parts) < 2:
            stage = self._one(parts[0], known) if parts else ""
            return StageRead(stage, unknown=not stage)
        stages = {self._one(part, known) for part in parts}
        if len(stages) == 1 and "" not in stages:
            return StageRead(stages.pop())
        return StageRead(mixed=bool(stages - {""}), unknown=stages == {""})

    def _known(self, account: Account) -> dict[str, str]:
        stages = dict(self._guide.stage_set(account).stages)
        known = {word: stage for word, stage in self._words.stages.items() if stage in stages}
        return known | {fold_name(word): stage for stage, said in stages.items() for word in (stage, stage.replace("-", " "), said)}

    def _one(self, text: str, known: dict[str, str]) -> str:
        """The stage of a text that names just one, alone or with words beside it that change nothing."""
        for candidate in (text, self._without_beside(text)):
            for word in (candidate, candidate.removesuffix("s")):
                if word in known:
                    return known[word]
        return ""

    def _without_beside(self, text: str) -> str:
        bare = self._beside.sub(" ", _COUNT.sub(" ", text)) if self._beside else text
        return " ".join(bare.split())
