"""Groups of living things: what their stages are called, alone and in a sentence, and what is asked and said of such species."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from guidebuild.guide.findings import NO_KEYS, NOWHERE, At
from guidebuild.guide.text.inline import Unshown

# A stage that begins so is a state of the whole ("in flower"); any other is a thing of its own ("nymph").
_STATES = frozenset({"in", "with", "on", "at", "when", "as"})
# What is worn: one looks for birds in it, not for the plumage.
_WORN = ("plumage", "dress", "coat", "moult")
# An age is no thing of its own, though it names those of it: one says "in juveniles" and "in the juvenile male".
_AGES = ("juvenile", "immature", "subadult")
_SAME_IN_PLURAL = ("spawn", "young", "fry", "dun", "eft")
_HISSING = ("s", "x", "z", "ch", "sh")

EATEN, GROWN_ON, HUNTED, NOTHING = "eaten", "grown on", "hunted", "none"
"""What a group lives on: plants or prey, plants that it grows on or with, prey alone, or nothing that is asked."""
PLANTS_KEY, PREY_KEY = "host plants", "prey"
_NO_FOOD_KEYS = {
    EATEN: frozenset[str](),
    GROWN_ON: frozenset({PREY_KEY}),
    HUNTED: frozenset({PLANTS_KEY}),
    NOTHING: frozenset({PLANTS_KEY, PREY_KEY}),
}
POINTER = "pointer"
"""What `not asked:` calls the place of a mark on a photo, which is no key of an account by itself."""

GROWN = "adult"
"""The stage of groups that have one grown form: what is said of a species and of no stage is understood of it."""

ANIMALS, PLANTS, FUNGI = "Animalia", "Plantae", "Fungi"
"""Kingdoms in the words of Darwin Core."""


@dataclass(frozen=True, slots=True)
class StageWords:
    """How a stage is said in a sentence where its word alone would not do; all may be empty.

    `sentence` is what one looks for ("nymph", "in flower"), `many` names several ("plants in flower"), and `mark` begins a sentence
    about a field mark ("on the frond").
    """

    sentence: str = ""
    many: str = ""
    mark: str = ""


@dataclass(frozen=True, slots=True)
class StageSet:
    """The life stages of a group in order: ids with their words; `sought` are those one looks for in the field.

    `keyed` is the one that the key and the finder are for, where the author says so.
    Everything else has a default that claims little, so that a guide's own set needs no more than ids and words.
    """

    id: Unshown
    title: str
    stages: tuple[tuple[Unshown, str], ...]
    sought: tuple[Unshown, ...] = ()
    keyed: Unshown = ""
    spoken: tuple[tuple[Unshown, StageWords], ...] = ()
    living_thing: str = "animal"
    kingdom: Unshown = ""  # Darwin Core: Animalia, Plantae, Fungi
    measured: str = ""  # what a size means that does not say what was measured
    food: Unshown = EATEN
    food_heading: str = ""
    views: tuple[Unshown, ...] = ()  # the first is the one that a draft offers
    questions: tuple[tuple[Unshown, Unshown], ...] = ()  # by key: what a draft asks instead of the field's own question
    such_as: tuple[tuple[Unshown, Unshown], ...] = ()  # by key: an answer as it may be typed
    not_asked: tuple[Unshown, ...] = ()  # keys and headings that its accounts need not give
    pots: bool = False  # whether one looks at it in a clear pot
    like: Unshown = ""  # the group from which the rest was taken
    at: At = NOWHERE
    positions: Mapping[Unshown, At] = field(default=NO_KEYS, compare=False)

    @property
    def ids(self) -> tuple[str, ...]:
        """Stage ids in order of life."""
        return tuple(stage for stage, _ in self.stages)

    @property
    def asks_food(self) -> bool:
        """Whether an account must say what the species lives on."""
        return self.asks(PLANTS_KEY) or self.asks(PREY_KEY)

    def asks(self, name: str) -> bool:
        """Whether accounts of the group are asked for a key, a heading or a pointer; what is not asked may still be given."""
        return name not in _NO_FOOD_KEYS[self.food] and name.casefold() not in map(str.casefold, self.not_asked)

    @property
    def keeps_still(self) -> bool:
        """Whether a ruler can be laid beside it: it does not move, or one looks at it in a clear pot."""
        return self.pots or self.kingdom not in ("", ANIMALS)

    @property
    def heading_of_food(self) -> str:
        """The heading over what it lives on."""
        return self.food_heading or ("Grows on or with" if self.food == GROWN_ON else "What it feeds on")

    def word(self, stage: str) -> str:
        """The word for a stage, as typed where the set does not have it."""
        return dict(self.stages).get(stage, stage)

    def said(self, stage: str) -> str:
        """A stage as a sentence takes it: "nymph", "in flower", "in winter plumage"."""
        word = self.word(stage)
        own = dict(self.spoken).get(stage, StageWords()).sentence
        return own or (f"in {word}" if word.endswith(_WORN) and not is_state(word) else word)

    def at_scope(self, stage: str, sex: str = "") -> str:
        """Where a statement holds: "in the male nymph", "in flower", "in the female in winter plumage"; empty for everywhere."""
        said = self.said(stage) if stage else ""
        if sex:
            return f"in the {said} {sex}" if said in _AGES else f"in the {sex} {said}".rstrip()
        own = dict(self.spoken).get(stage, StageWords()).mark
        if said in _AGES:
            return own or f"in {self.several(stage)}"
        return own or (said if is_state(said) or not said else f"in the {said}")

    def several(self, stage: str) -> str:
        """Several of a stage: "nymphs", "plants in flower", "birds in winter plumage"."""
        own, said = dict(self.spoken).get(stage, StageWords()).many, self.said(stage)
        if own:
            return own
        return f"{_plural_of(self.living_thing)} {said}" if is_state(said) else _plural_of(said)


# States of plants that say how they multiply: the words that Darwin Core has a term of its own for.
_MULTIPLYING = re.compile(r"(?:in|with) (?:ripe )?(?:bud|flower|bloom|fruit|fruit bodies|seed|capsules|spores|cones|berries)$")


@dataclass(frozen=True, slots=True)
class RecordedStage:
    """A stage as a record of a sighting tells it, in the terms of Darwin Core; what is neither an age nor breeding is a remark."""

    life_stage: str = ""
    reproductive_condition: str = ""
    remark: str = ""


def record_stage(group: StageSet, stage: str) -> RecordedStage:
    """Put a stage under the terms for data: a plumage is worn by adults, and what flowers says how it multiplies, not how old it is."""
    word, said = group.word(stage), group.said(stage)
    if word.endswith(_WORN):
        return RecordedStage(next((age for age in _AGES if age in word), GROWN), remark=said)
    if _MULTIPLYING.match(said):
        return RecordedStage(reproductive_condition=said)
    if is_state(said) and not said.startswith("as "):
        return RecordedStage(remark=said)
    return RecordedStage(word)


def is_state(words: str) -> bool:
    """Whether words for a stage name a state ("in flower", "with capsules") and not a thing ("nymph")."""
    return words.partition(" ")[0].lower() in _STATES and " " in words


def _plural_of(noun: str) -> str:
    """The plural of a regular noun; a phrase that is plural already stays."""
    if noun.endswith((*_SAME_IN_PLURAL, "s")) and not noun.endswith("ss"):
        return noun
    if noun.endswith("y") and noun[-2:-1] not in tuple("aeiou"):
        return f"{noun[:-1]}ies"
    if noun.endswith("fungus"):
        return f"{noun[:-2]}i"
    return noun + ("es" if noun.endswith(_HISSING) else "s")
