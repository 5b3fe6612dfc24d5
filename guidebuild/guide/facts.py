"""What a guide tells, whoever asks: the author, to whom it tells all, or a reader, to whom it tells what may be said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Protocol, TypeAlias, TypeVar

from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.characters import Character
from guidebuild.guide.guide import Caution, Settings
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.records import PlaceFacts, Plant
from guidebuild.guide.sightings import SeenDays

A_co = TypeVar("A_co", bound=AccountFacts, covariant=True)


class GuideFacts(Protocol[A_co]):
    """What `Guide` and `Published` have in common, for reasoning that may be asked of both: telling apart, what is out."""

    def __hash__(self) -> int:
        """Guides are told apart by identity, so that what was worked out of one can be kept."""

    @property
    def settings(self) -> Settings:
        """What guide.yaml says."""

    @property
    def accounts(self) -> Mapping[str, A_co]:
        """Accounts by id."""

    @property
    def characters(self) -> Mapping[str, Character]:
        """Characters by id."""

    @property
    def plants(self) -> Mapping[str, Plant]:
        """Host plants by id."""

    @property
    def places(self) -> Mapping[str, PlaceFacts]:
        """Places by id: those that may be named to whoever asks."""

    @property
    def cautions(self) -> Mapping[str, Caution]:
        """Cautions by hazard."""

    @property
    def stage_sets(self) -> Mapping[str, StageSet]:
        """Life-stage sets by id."""

    @property
    def sightings(self) -> Sequence[SeenDays]:
        """What was seen."""

    def stage_set(self, account: AccountFacts) -> StageSet:
        """The life-stage set of an account."""

    def accounts_at(self, place: str) -> Iterable[A_co]:
        """Accounts that may be tied to a place, by its id."""


AnyGuide: TypeAlias = GuideFacts[AccountFacts]
"""A guide of either kind, for whoever needs no more of an account than its facts."""
