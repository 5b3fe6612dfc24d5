"""What an account shows of a character in one stage and sex: the states or the range one may meet there."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.asking import kept_by_guide, remember
from guidebuild.guide.characters import Character, CharacterKind, Known, Score
from guidebuild.guide.facts import AnyGuide
from guidebuild.guide.measures import write_number
from guidebuild.words import WRITTEN_IN, Words, words

SEXES = ("male", "female")
_ALL_SEXES = (frozenset(SEXES), frozenset({"queen", "worker", "drone"}), frozenset({"queen", "worker", "male"}))
ENGLISH = words(WRITTEN_IN)
ROUNDING = 1e-9
"""Decimal fractions are not exact in the machine: 9.6 − 9.1 counts as 0.5."""


@dataclass(frozen=True, slots=True, order=True)
class Scope:
    """A life stage and a sex; empty means any of them."""

    stage: str = ""
    sex: str = ""


EVERYWHERE = Scope()


@dataclass(frozen=True, slots=True)
class Reading:
    """What may be met in one scope.

    `usual` and `rare` are state ids. `low` and `high` bound a range in the character's unit (infinite where open);
    they are meaningless for states. `typed` is the author's wording of a range where one score gave it.
    """

    usual: frozenset[str] = frozenset()
    rare: frozenset[str] = frozenset()
    low: float = math.nan
    high: float = math.nan
    approximate: bool = False
    typed: str = ""

    @property
    def possible(self) -> frozenset[str]:
        """Usual and rare states together: what separating must reckon with."""
        return self.usual | self.rare


def _taken_apart(scores: Iterable[Score]) -> Iterator[Score]:
    for score in scores:
        spans = [] if score.measure is None else [span for span in score.measure.spans if span.label]
        if score.measure is None or not spans:
            yield score
            continue
        for span in spans:
            own = replace(score.measure, typed="", low=span.low, high=span.high, spans=())
            label = frozenset({span.label})
            if span.label in SEXES:
                yield replace(score, measure=own, sexes=label)
            else:
                yield replace(score, measure=own, stages=label)


def scores_by_character(account: AccountFacts) -> dict[str, tuple[Score, ...]]:
    """Sort all scores of an account by character, ranges given by sex taken apart."""
    sorted_out: dict[str, tuple[Score, ...]] = {}
    for score in _taken_apart(account.scores):
        sorted_out[score.character] = (*sorted_out.get(score.character, ()), score)
    return sorted_out


def score_sheet(guide: AnyGuide, account: str) -> Mapping[str, tuple[Score, ...]]:
    """The scores of an account by character, sorted out once a guide. Raises KeyError where there is no such account."""
    return remember(_score_sheets(guide), account, lambda: scores_by_character(guide.accounts[account]))


@kept_by_guide(2)
def _score_sheets(_: AnyGuide) -> dict[str, object]:
    return {}


def scored_stages(scores: Iterable[Score]) -> frozenset[str]:
    """Stages that scores name of their own accord; empty where none narrows its stage."""
    return frozenset(stage for score in scores for stage in score.stages)


def reading_in(scores: tuple[Score, ...], scope: Scope) -> Reading | None:
    """Read what these scores of one character show in a scope; None where unknown or not applicable there.

    A score that names the stage goes before one that holds for all stages. An empty sex is a specimen whose sex is not
    known, which may show what either sex does: where only one is scored, what it shows is unknown.
    """
    if len(scores) == 1 and not scores[0].stages and not scores[0].sexes:
        return _merged(scores)
    of_stage = _of_stage(scores, scope.stage)
    if not scope.sex:
        return _merged(of_stage) if _covers_all_sexes(of_stage) else None
    own = tuple(s for s in of_stage if scope.sex in s.sexes)
    return _merged(own or tuple(s for s in of_stage if not s.sexes))


def does_not_apply(scores: tuple[Score, ...], scope: Scope) -> bool:
    """Whether the account says that the character does not apply in this scope (not merely: unknown)."""
    of_stage = _of_stage(scores, scope.stage)
    if scope.sex:
        of_stage = tuple(s for s in of_stage if scope.sex in s.sexes) or tuple(s for s in of_stage if not s.sexes)
    elif not _covers_all_sexes(of_stage):
        return False
    return bool(of_stage) and all(s.known is Known.NOT_APPLICABLE for s in of_stage)


def _covers_all_sexes(scores: tuple[Score, ...]) -> bool:
    """Whether together they speak of every specimen: one for all sexes, or one for each."""
    scored = {sex for score in scores for sex in score.sexes}
    return any(not score.sexes for score in scores) or any(all_of <= scored for all_of in _ALL_SEXES)


def _of_stage(scores: tuple[Score, ...], stage: str) -> tuple[Score, ...]:
    own = tuple(s for s in scores if stage in s.stages) if stage else ()
    return own or tuple(s for s in scores if not s.stages)


def _merged(scores: tuple[Score, ...]) -> Reading | None:
    if len(scores) == 1 and scores[0].measure is None and scores[0].known is Known.SCORED:  # nearly all are so
        return _plain_reading(scores[0].states, scores[0].rarely)
    known = [s for s in scores if s.known is Known.SCORED and (s.possible or s.measure is not None)]
    if not known or len(known) < len(scores):  # one part unknown: anything may be met, so nothing is shown
        return None
    usual = frozenset().union(*(s.states for s in known))
    rare = frozenset().union(*(s.rarely for s in known)) - usual
    measures = [s.measure for s in known if s.measure is not None]
    if not measures:
        return Reading(usual, rare)
    return Reading(
        low=min(-math.inf if m.low is None else m.low for m in measures),
        high=max(math.inf if m.high is None else m.high for m in measures),
        approximate=any(m.approximate for m in measures),
        typed=measures[0].typed if len(measures) == 1 else "",
    )


@lru_cache(maxsize=4096)
def _plain_reading(usual: frozenset[str], rarely: frozenset[str]) -> Reading | None:
    return Reading(usual, rarely - usual) if usual or rarely else None


def are_apart(character: Character, one: Reading, other: Reading) -> bool:
    """Whether two readings cannot be met in one specimen.

    States: no state in common, rare ones counted. Ranges: a gap between them, at least the character's margin, and
    the margin once more for each range that is only approximate.
    """
    if character.kind is not CharacterKind.RANGE:
        return not one.possible & other.possible
    between = measure_gap(one, other)
    return between > 0 and between >= character.margin * (1 + one.approximate + other.approximate) - ROUNDING


def measure_gap(one: Reading, other: Reading) -> float:
    """How far two ranges stand apart, in the character's unit; negative or zero where they meet."""
    return max(one.low - other.high, other.low - one.high)


def value_words(character: Character, reading: Reading, say: Words = ENGLISH) -> str:
    """Put a reading in words: "a dark spot, rarely no spot", "6–9 mm"."""
    if character.kind is CharacterKind.RANGE:
        return reading.typed or range_words(reading.low, reading.high, character.unit, say)
    usual, rare = (say.either(state_words(character, ids)) for ids in (reading.usual, reading.rare))
    if usual and rare:
        return say("{usual}, rarely {rare}", usual=usual, rare=rare)
    return usual or say("rarely {rare}", rare=rare)


def state_words(character: Character, ids: frozenset[str]) -> list[str]:
    """Words of some states, in the character's order."""
    return [state.words or state.id for state in character.states if state.id in ids]


def range_words(low: float, high: float, unit: str, say: Words = ENGLISH) -> str:
    """Write a range with its unit, en dash and no-break space: "6–9 mm"; open ends as "or more" and "up to"."""
    tail = "" if unit in {"", "count"} else f"\N{NO-BREAK SPACE}{unit}"
    if math.isinf(low):
        return say("up to {value}", value=f"{write_number(high)}{tail}")
    if math.isinf(high):
        return say("{value} or more", value=f"{write_number(low)}{tail}")
    least, most = write_number(low), write_number(high)
    return f"{least}{tail}" if low == high else f"{least}\N{EN DASH}{most}{tail}"
