"""The shapes of the smaller records: plants, places, characters, terms, sources, photos, walks and what the tool ships."""

from __future__ import annotations

from typing import Annotated, TypeVar

from pydantic import Field, RootModel, model_validator

from guidebuild.guide.account_parts import LAW_FIELDS
from guidebuild.guide.life_stages import EATEN
from guidebuild.guide.measures import kind_of_unit
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.record_fields import (
    CHARACTER_FIELDS,
    PHOTO_FIELDS,
    PLACE_FIELDS,
    PLANT_FIELDS,
    SOURCE_FIELDS,
    STATE_PICTURE_FIELDS,
    TERM_FIELDS,
)
from guidebuild.guide.records import OPEN
from guidebuild.guide.settings_fields import CAUTION_FIELDS, LICENCE_FIELDS, STAGE_FIELDS, STAGE_SET_FIELDS
from guidebuild.guide.walk_fields import STOP_FIELDS, WALK_FIELDS
from guidebuild.reading.kinds import (
    Address,
    AskedWords,
    Clock,
    Day,
    DeniableWords,
    Doi,
    EaseWord,
    FoodWord,
    HarmWord,
    KindWord,
    Length,
    LicenceWord,
    Line,
    Margin,
    Metres,
    Minutes,
    Name,
    Point,
    Reach,
    Secrecy,
    Sex,
    Shape,
    SignWord,
    SourceWord,
    Spot,
    Text,
    UnitWord,
    Words,
    YesNo,
    Zone,
)
from guidebuild.reading.markers import ListOf, TextOr, problem_error


class LawShape(Shape):
    """A note on the law, with its day."""

    declared = LAW_FIELDS

    text: Text
    as_of: Day
    address: Address = ""


Laws = Annotated[tuple[LawShape, ...], ListOf("text")]


class PlantShape(Shape):
    """A host plant."""

    declared = PLANT_FIELDS

    vernacular: Text = ""
    name: Name | None = None
    note: Text = ""
    photo: Text = ""
    hazards: DeniableWords = ()
    caution: Text = ""


class PlaceShape(Shape):
    """A place."""

    declared = PLACE_FIELDS

    name: Text
    area: Text = ""
    habitat: Words = ()
    position: Spot | None = None
    uncertainty: Metres | None = None
    sensitive: Secrecy = OPEN
    public_name: YesNo = False
    access: Text = ""
    hazards: DeniableWords = ()
    caution: Text = ""
    law: Laws = ()
    plants: Words = ()
    note: Text = ""
    photo: Text = ""


class StatePictureShape(Shape):
    """What its author shows beside a state."""

    declared = STATE_PICTURE_FIELDS

    photo: Text = ""
    at: Point | None = None
    sign: SignWord = ""


class CharacterShape(Shape):
    """A character that can be compared."""

    declared = CHARACTER_FIELDS

    label: Text
    kind: KindWord = "states"
    states: dict[str, Text] = Field(default_factory=dict)
    question: Text = ""
    part: Text = ""
    view: Text = ""
    stage: Words = ()
    sex: Sex = ""
    ease: EaseWord = "close up"
    unit: UnitWord = ""
    margin: Margin | None = None
    pictures: dict[str, StatePictureShape] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _margin_in_unit(self) -> CharacterShape:
        """A margin in grams does not fit a character in millimetres; where one of the two has no unit, it has that of the other."""
        if self.unit and self.margin is not None and self.margin.unit and kind_of_unit(self.margin.unit) != kind_of_unit(self.unit):
            told = f"The margin '{self.margin.typed}' is not in the kind of unit that the character is measured in."
            raise problem_error(Unreadable(told, f"Write it in {self.unit}."))
        return self


class TermShape(Shape):
    """A glossary entry."""

    declared = TERM_FIELDS

    word: Text
    meaning: Text
    also: Words = ()
    photo: Text = ""


class SourceShape(Shape):
    """A source as cited."""

    declared = SOURCE_FIELDS

    cite: Text
    kind: SourceWord = ""
    author: Text = ""
    year: Text = ""
    title: Text = ""
    version: Text = ""
    publisher: Text = ""
    doi: Doi = ""
    licence: LicenceWord = ""
    rights_holder: Text = ""
    address: Address = ""
    accessed: Day | None = None


class PhotoShape(Shape):
    """A photo."""

    declared = PHOTO_FIELDS

    file: Text = ""
    shows: Text = ""
    account: Text = ""
    stage: Text = ""
    sex: Sex = ""
    view: Text = ""
    part: Text = ""
    place: Text = ""
    taken: Day | None = None
    credit: Text = ""
    licence: LicenceWord = ""
    title: Text = ""
    source: Text = ""
    changes: Text = ""
    permission: Text = ""
    alt: Text = ""
    decorative: YesNo = False
    caption: Text = ""
    focus: Point | None = None
    length: Length | None = None
    measured: Line | None = None
    reach: Reach | None = None
    parts: dict[str, Point] = Field(default_factory=dict)


class StopShape(Shape):
    """A stop of a walk."""

    declared = STOP_FIELDS

    place: Text
    minutes: Minutes = 10
    metres: Metres = 0.0
    note: Text = ""


class WalkShape(Shape):
    """A guided walk."""

    declared = WALK_FIELDS

    title: Text
    date: Day
    start: Clock
    time_zone: Zone | None = None
    meet: Text = ""
    meet_at: Spot | None = None
    leader: Text = ""
    contact: Text = ""
    audience: Text = ""
    minutes: Minutes = 0
    length: Minutes = 0
    stops: Annotated[tuple[StopShape, ...], ListOf("place")] = ()
    track: Text = ""
    bring: Words = ()
    hazards: DeniableWords = ()
    note: Text = ""
    card: Text = ""


class StageShape(Shape):
    """A life stage and how it is said."""

    declared = STAGE_FIELDS

    word: Text
    sentence: Text = ""
    many: Text = ""
    mark: Text = ""


class StageSetShape(Shape):
    """The life stages of a group, and how such a species is spoken of."""

    declared = STAGE_SET_FIELDS

    title: Text
    stages: dict[str, Annotated[StageShape, TextOr("word")]]
    sought: Words = ()
    key: Text = ""
    like: Text = ""
    living_thing: Text = "animal"
    kingdom: Text = ""
    measured: Text = ""
    food: FoodWord = EATEN
    food_heading: Text = ""
    views: Words = ()
    questions: dict[str, Text] = Field(default_factory=dict)
    such_as: dict[str, Text] = Field(default_factory=dict)
    not_asked: AskedWords = ()
    clear_pots: YesNo = False


class CautionShape(Shape):
    """A hazard and the words that warn of it."""

    declared = CAUTION_FIELDS

    title: Text
    text: Text
    local: Text = ""
    short: Text = ""
    harm: HarmWord = ""
    asked_as: Words = ()


class LicenceShape(Shape):
    """A licence."""

    declared = LICENCE_FIELDS

    title: Text
    address: Address = ""
    attribution: YesNo = True
    derivatives: YesNo = True
    commercial: YesNo = True


S = TypeVar("S", bound=Shape)


class Listed(RootModel[dict[str, S]]):
    """A file of records by id."""

    root: dict[str, S]
