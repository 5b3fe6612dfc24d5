"""The shape of an account: what its facts block may hold, and how each value is written."""

from __future__ import annotations

from typing import Annotated, TypeAlias

from pydantic import Field

from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.account_parts import (
    EPISODE_FIELDS,
    HOST_FIELDS,
    MARK_FIELDS,
    OWN_SLIDES_FIELDS,
    REVIEW_FIELDS,
    SCORE_FIELDS,
    SEASON_FIELDS,
    SILENCE_FIELDS,
    SIMILAR_FIELDS,
    TRANSLATION_FIELDS,
)
from guidebuild.guide.records import OPEN
from guidebuild.reading.kinds import (
    ByWords,
    Day,
    DeniableWords,
    FileWord,
    FileWords,
    Length,
    Lengths,
    Name,
    Point,
    Secrecy,
    Sex,
    Sexes,
    Shape,
    Share,
    SlideShapes,
    Text,
    Words,
)
from guidebuild.reading.markers import ListOf
from guidebuild.reading.record_shapes import Laws


class MarkShape(Shape):
    """One field mark."""

    declared = MARK_FIELDS

    mark: Text
    stage: Words = ()
    sex: Sexes = ()
    view: Text = ""
    photo: Text = ""
    at: Point | None = None
    wide: Share | None = None


class SimilarShape(Shape):
    """One similar species."""

    declared = SIMILAR_FIELDS

    account: Text
    tell_by: Words = ()
    note: Text = ""


class HostShape(Shape):
    """One host plant and its use."""

    declared = HOST_FIELDS

    plant: Text
    part: Text = ""
    use: Text = ""


class SeasonShape(Shape):
    """A season, of one place or of the whole region."""

    declared = SEASON_FIELDS

    season: Text
    place: Text = ""


class SilenceShape(Shape):
    """A rule that does not count for this account, and why."""

    declared = SILENCE_FIELDS

    rule: Text
    reason: Text


class ReviewShape(Shape):
    """Who checked the facts, and when."""

    declared = REVIEW_FIELDS

    by: Text
    on: Day


class ScoreShape(Shape):
    """A character's value where it holds for one stage or sex only, or with rare states apart."""

    declared = SCORE_FIELDS

    value: Words = ()
    usually: Words = ()
    rarely: Words = ()
    stage: Words = ()
    sex: Sex = ""


Scores: TypeAlias = dict[str, Annotated[tuple[ScoreShape, ...], ListOf("value")]]


class ScoresShape(Shape):
    """What an account says of characters, read alone."""

    declared = tuple(field for field in ACCOUNT_FIELDS if field.key == "characters")

    characters: Scores = Field(default_factory=dict)


class OwnWordsShape(Shape):
    """Texts in the author's words, which a translation gives again."""

    prey: Text = ""
    voice: Text = ""
    status: Text = ""
    recent: Text = ""
    caution: Text = ""


class AccountShape(OwnWordsShape):
    """The facts block of an account."""

    declared = ACCOUNT_FIELDS
    open_keys = frozenset(("habitat",))

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
    characters: Scores = Field(default_factory=dict)
    similar: Annotated[tuple[SimilarShape, ...], ListOf("account", deniable=True)] = ()
    host_plants: Annotated[tuple[HostShape, ...], ListOf("plant", deniable=True)] = ()
    habitat: Words = ()
    places: Words = ()
    absent_from: Words = ()
    seasons: dict[str, Annotated[tuple[SeasonShape, ...], ListOf("season")]] = Field(default_factory=dict)
    life_stages: dict[str, Text] = Field(default_factory=dict)
    photos: Words = ()
    hazards: DeniableWords = ()
    law: Laws = ()
    sensitive: Secrecy = OPEN
    sources: Words = ()
    reviewed: ReviewShape | None = None
    posted: Day | None = None
    to_post: Day | None = None
    silence: Annotated[tuple[SilenceShape, ...], ListOf()] = ()


class TranslationShape(OwnWordsShape):
    """The facts block of an account in another language: words only, matched with the account's by order or id."""

    declared = TRANSLATION_FIELDS

    vernacular: Text = ""
    marks: ByWords = Field(default_factory=dict)
    law: Words = ()
    compared_with: Text = ""
    life_stages: dict[str, Text] = Field(default_factory=dict)
    similar: dict[str, Text] = Field(default_factory=dict)


class OwnSlidesShape(Shape):
    """The facts block of an author's own words for slides."""

    declared = OWN_SLIDES_FIELDS

    shapes: SlideShapes = ()


class EpisodeShape(Shape):
    """The facts block of an author's own script."""

    declared = EPISODE_FIELDS

    title: Text
    account: Text
    kind: FileWord = "full"
    length: Lengths | None = None
    posted: Day | None = None
