"""The shape of guide.yaml."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from guidebuild.guide.post_counting import SIGNS
from guidebuild.guide.settings_fields import EPISODE_KIND_FIELDS, MAP_FIELDS, PACE_FIELDS, POST_FIELDS, SETTINGS_FIELDS
from guidebuild.reading.kinds import (
    Address,
    BesideWord,
    Bleed,
    Box,
    CaptionsWord,
    CountingWord,
    CountryWord,
    FileWord,
    FlipWord,
    HemisphereWord,
    InkLimit,
    Languages,
    Lengths,
    LevelWord,
    LicenceWord,
    Months,
    MonthWord,
    Number,
    OrderWord,
    RuleLevel,
    Shape,
    SlideShapes,
    Spots,
    SquareWord,
    Text,
    Thickness,
    Whole,
    Words,
    YesNo,
    Zone,
)
from guidebuild.reading.markers import ListOf, TextOr
from guidebuild.reading.record_shapes import CautionShape, Laws, StageSetShape


class PostShape(Shape):
    """How long a text may be where it is posted."""

    declared = POST_FIELDS

    name: FileWord
    characters: Whole
    link_cost: Whole = 23
    hashtags: Whole = 5
    counted: CountingWord = SIGNS


class SlotShape(Shape):
    """How long an episode of a kind is, and what its captions may be."""

    declared = EPISODE_KIND_FIELDS

    name: FileWord
    length: Lengths
    captions: CaptionsWord = "streaming"


class PaceShape(Shape):
    """How fast the speaker talks: syllables a second, pauses in seconds."""

    declared = PACE_FIELDS

    syllables: Number | None = None
    comma: Number | None = None
    sentence: Number | None = None
    paragraph: Number | None = None


class MapShape(Shape):
    """What the guide's maps draw."""

    declared = MAP_FIELDS

    outline: Text
    lines: Words = ()
    squares: SquareWord | None = None
    recent: Months = 120
    on_cards: YesNo = False


class SettingsShape(Shape):
    """What guide.yaml holds."""

    declared = SETTINGS_FIELDS
    open_keys = frozenset(("life stages",))

    title: Text
    region: Text = ""
    country: CountryWord = ""
    description: Text = ""
    languages: Languages = ("en",)
    address: Address = ""
    publisher: Text = ""
    contact: Text = ""
    licence: LicenceWord = ""
    photo_credit: Text = ""
    photo_licence: LicenceWord = ""
    group: Text = ""
    level: LevelWord = "publishable"
    hemisphere: HemisphereWord = ""
    year_starts: MonthWord = "january"
    time_zone: Zone = "UTC"
    card: Text = "a6"
    paper: Text = "a4"
    flip: FlipWord = "long edge"
    bleed: Bleed = 0.0
    crop_marks: YesNo = True
    paper_thickness: Thickness = 0.0
    size_beside: BesideWord = ""
    prints: Words = ()
    sold: Words = ()
    print_profile: Text = ""
    ink_limit: InkLimit = 0
    greeting: Text = ""
    sign_off: Text = ""
    hashtags: Words = ()
    posts: Annotated[tuple[PostShape, ...], ListOf()] = ()
    slides: Words = ("due",)
    slide_shapes: SlideShapes = ("portrait",)
    episodes: Annotated[tuple[SlotShape, ...], ListOf()] = ()
    pace: PaceShape | None = None
    region_box: Box | None = None
    map: Annotated[MapShape, TextOr("outline")] | None = None
    public_positions: Spots = ()
    dates: OrderWord = ""
    review_after: Months = 36
    rules: dict[str, RuleLevel] = Field(default_factory=dict)
    life_stages: dict[str, StageSetShape] = Field(default_factory=dict)
    law: Laws = ()
    cautions: dict[str, CautionShape] = Field(default_factory=dict)
