"""Characters (what can be compared) and scores (what an account says of one)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import IntEnum, StrEnum

from guidebuild.guide.findings import NO_KEYS, NOWHERE, At
from guidebuild.guide.measures import Measure
from guidebuild.guide.text.inline import Unshown


class Ease(IntEnum):
    """How near one must be to see a character; less is easier."""

    AT_A_DISTANCE = 0
    CLOSE_UP = 1
    IN_THE_HAND = 2
    UNDER_A_LENS = 3

    @property
    def words(self) -> str:
        """As written in a guide: `at a distance`."""
        return self.name.lower().replace("_", " ")


class CharacterKind(StrEnum):
    """What a character's values are."""

    STATES = "states"  # unordered alternatives
    ORDERED = "ordered"  # states that follow one another: short, middling, long
    RANGE = "range"  # a measured length, mass or count


@dataclass(frozen=True, slots=True)
class State:
    """One state of a character; `words` completes "has …" or stands alone in a lead."""

    id: Unshown
    words: str
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class PictureOfState:
    """What its author shows beside a state: a photo, cut round `point` where one is given, or a sign that the tool draws.

    Where it names neither, nothing is shown, not even what the tool would find.
    """

    state: Unshown
    photo: Unshown = ""
    point: tuple[float, float] | None = None
    sign: Unshown = ""
    at: At = NOWHERE


@dataclass(frozen=True, slots=True)
class Character:
    """Something that can be compared between taxa.

    `stages`, `sexes` and `view` are its scope (empty: all); `part` is the body part; `unit` and `margin` belong to
    ranges: two ranges nearer than `margin` (same unit) are not told apart by someone measuring in the field.
    `question` is what a reader is asked in the key and on the finder page; `pictures` are its author's own beside the answers.
    """

    id: str
    label: str
    kind: CharacterKind
    states: tuple[State, ...] = ()
    question: str = ""
    part: str = ""
    view: str = ""
    stages: frozenset[Unshown] = frozenset()
    sexes: frozenset[Unshown] = frozenset()
    ease: Ease = Ease.CLOSE_UP
    unit: Unshown = ""
    margin: float = 0.0
    pictures: tuple[PictureOfState, ...] = ()
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)

    def state(self, state_id: str) -> State | None:
        """The state of that id, or None."""
        return next((s for s in self.states if s.id == state_id), None)


class Known(StrEnum):
    """Whether a character could be scored. An absent score is UNKNOWN."""

    SCORED = "scored"
    UNKNOWN = "unknown"
    NOT_APPLICABLE = "not applicable"


@dataclass(frozen=True, slots=True)
class Score:
    """What one account says of one character.

    `states` holds usual state ids, `rarely` those seen now and then (they count as possible when separating, and
    weigh little in a key). `measure` is given for ranges. `stages`/`sexes` narrow the character's own scope.
    """

    character: Unshown
    known: Known = Known.SCORED
    states: frozenset[Unshown] = frozenset()
    rarely: frozenset[Unshown] = frozenset()
    measure: Measure | None = None
    stages: frozenset[Unshown] = frozenset()
    sexes: frozenset[Unshown] = frozenset()
    typed: str = ""
    at: At = NOWHERE

    @property
    def possible(self) -> frozenset[str]:
        """Usual and rare states together."""
        return self.states | self.rarely if self.rarely else self.states

    @property
    def plain(self) -> bool:
        """Whether it gives states, and for every stage and sex."""
        return self.measure is None and self.known is Known.SCORED and not (self.stages or self.sexes)
