"""The shape of an account: what its facts block may hold, and how each value is written."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from guidebuild.guide.records import OPEN
from guidebuild.reading.kinds import (
    Day,
    DeniableWords,
    FileWord,
    FileWords,
    Length,
    Lengths,
    ListOf,
    Name,
    Point,
    Secrecy,
    Sex,
    Shape,
    Text,
    Words,
)


class MarkShape(Shape):
    """One field mark."""

    mark: Text
    stage: Text = ""
    sex: Sex = ""
    view: Text = ""
    photo: Text = ""
    at: Point | None = None


class SimilarShape(Shape):
    """One similar species."""

    account: Text
    tell_by: Words = ()
    note: Text = ""


class HostShape(Shape):
    """One host plant and its use."""

    plant: Text
    part: Text = ""
    use: Text = ""


class SeasonShape(Shape):
    """A season, of one place or of the whole region."""

    season: Text
    place: Text = ""


class SilenceShape(Shape):
    """A rule that does not count for this account, and why."""

    rule: Text
    reason: Text


class ReviewShape(Shape):
    """Who checked the facts, and when."""

    by: Text
    on: Day


class ScoreShape(Shape):
    """A character's value where it holds for one stage or sex only, or with rare states apart."""

    value: Words = ()
    usually: Words = ()
    rarely: Words = ()
    stage: Words = ()
    sex: Sex = ""


class OwnWordsShape(Shape):
    """Texts in the author's words, which a translation gives again."""

    prey: Text = ""
    voice: Text = ""
    status: Text = ""
    recent: Text = ""
    caution: Text = ""


class AccountShape(OwnWordsShape):
    """The facts block of an account."""

    name: Name
    authority: Text = ""
    vernacular: Text = ""
    also_called: Words = ()
    synonyms: Annotated[tuple[Name, ...], ListOf()] = ()
    formerly: FileWords = ()
    say: Text = ""
    family: Text = ""
    group: Text = ""
    size: Length | None = None
    diagnostics: Annotated[tuple[MarkShape, ...], ListOf("mark")] = ()
    characters: dict[str, Annotated[tuple[ScoreShape, ...], ListOf("value")]] = Field(default_factory=dict)
    similar: Annotated[tuple[SimilarShape, ...], ListOf("account", deniable=True)] = ()
    host_plants: Annotated[tuple[HostShape, ...], ListOf("plant", deniable=True)] = ()
    habitat: Words = ()
    places: Words = ()
    absent_from: Words = ()
    seasons: dict[str, Annotated[tuple[SeasonShape, ...], ListOf("season")]] = Field(default_factory=dict)
    life_stages: dict[str, Text] = Field(default_factory=dict)
    photos: Words = ()
    hazards: DeniableWords = ()
    sensitive: Secrecy = OPEN
    sources: Words = ()
    reviewed: ReviewShape | None = None
    posted: Day | None = None
    silence: Annotated[tuple[SilenceShape, ...], ListOf()] = ()


class TranslationShape(OwnWordsShape):
    """The facts block of an account in another language: words only, matched with the account's by order or id."""

    vernacular: Text = ""
    marks: Words = ()
    life_stages: dict[str, Text] = Field(default_factory=dict)
    similar: dict[str, Text] = Field(default_factory=dict)


class EpisodeShape(Shape):
    """The facts block of an author's own script."""

    title: Text
    account: Text
    kind: FileWord = "full"
    length: Lengths | None = None
    posted: Day | None = None
