"""Field types of the shapes: each reads typed text into its value, and says in JSON Schema what an editor may accept.

An editor's own YAML reader turns `1959` into a number and `no` into false; the schema lets every plain value through
where a guide reads text.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler, PlainValidator, WithJsonSchema
from pydantic_core import CoreSchema, core_schema

from guidebuild.guide.account_fields import ACCOUNT_FIELDS, SECTIONS
from guidebuild.guide.account_parts import SECRECY_FIELDS
from guidebuild.guide.characters import Ease
from guidebuild.guide.dangers import HARMS
from guidebuild.guide.field_declaration import LEVELS, Field
from guidebuild.guide.findings import Level
from guidebuild.guide.guide import SLIDE_SHAPES
from guidebuild.guide.licence_text import licence_id
from guidebuild.guide.life_stages import EATEN, GROWN_ON, HUNTED, NOTHING, POINTER
from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.measures import Measure
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.guide.post_counting import COUNTING
from guidebuild.guide.records import Position, Sensitivity
from guidebuild.guide.season_tokens import MONTHS
from guidebuild.guide.signs import SIGNS
from guidebuild.reading import parse_values
from guidebuild.reading import written_forms as forms
from guidebuild.reading.countries import parse_country
from guidebuild.reading.dois import parse_doi
from guidebuild.reading.map_squares import SquareSize, parse_squares
from guidebuild.reading.markers import ListOf, OneOf, TextsByWords, explain, reads
from guidebuild.reading.written_forms import TEXT, list_choices, write_form

OF_KIND = "of kind"
"""In a schema that is still being made: the kind of record, or the list of words, that the values of a key are of."""
LISTED = {key: key for key in ("stage", "view", "hazards", "group", "licence")} | {"seasons": "stage", "life stages": "stage"}
"""Keys whose values (or whose own keys) are words of a list of the tool's, to which a guide may add, with the list's name."""


class Shape(BaseModel):
    """A mapping of a guide: keys are plain words with spaces, and no others are taken."""

    declared: ClassVar[tuple[Field, ...]] = ()
    """Its keys as they are declared, for the schema."""
    open_keys: ClassVar[frozenset[str]] = frozenset()
    """Keys that may name a record, or a word of a list, or say something else as well."""

    model_config = ConfigDict(
        strict=True,
        extra="forbid",
        alias_generator=lambda name: name.strip("_").replace("_", " "),
        arbitrary_types_allowed=True,
        defer_build=True,  # most commands read only some of the files
    )

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """The schema with what each key means and an example of it."""
        made = handler(schema)
        properties = handler.resolve_ref_schema(made).get("properties", {})
        for field in cls.declared:
            explain(properties[field.key], field.meaning, field.example)
            if field.key not in cls.open_keys and (kind := field.names or LISTED.get(field.key)):
                properties[field.key][OF_KIND] = kind
        return made


def _said(words: str, pattern: str = "") -> WithJsonSchema:
    return WithJsonSchema(write_form(words, pattern))


def _text(words: str, pattern: str) -> WithJsonSchema:
    """The same where a bare number cannot be right."""
    return WithJsonSchema(write_form(words, pattern, is_text=True))


def _one_of(words: str, choices: Iterable[str], also: str = "") -> WithJsonSchema:
    return WithJsonSchema(list_choices(words, choices, also))


Text = Annotated[str, WithJsonSchema(TEXT)]
Words = Annotated[tuple[Text, ...], ListOf()]
ByWords = Annotated[dict[str, Text], TextsByWords()]
DeniableWords = Annotated[tuple[Text, ...], ListOf(deniable=True)]
YesNo = Annotated[
    bool,
    PlainValidator(reads(parse_values.parse_yes_no)),
    _one_of("yes or no", ("yes", "no"), forms.YES_NO),
]
Address = Annotated[
    str,
    PlainValidator(reads(parse_values.parse_address)),
    _text("a web address in full, such as https://example.org", forms.ADDRESS),
]
Doi = Annotated[str, PlainValidator(reads(parse_doi)), _text("a DOI, such as 10.5555/12345678", forms.DOI)]
FileWord = Annotated[str, PlainValidator(reads(parse_values.parse_file_word)), _said("a short word of letters, digits and hyphens")]
FileWords = Annotated[tuple[FileWord, ...], ListOf()]
Languages = Annotated[
    tuple[
        Annotated[str, PlainValidator(reads(parse_values.parse_language)), _said("a language code, such as en or pt-BR", forms.LANGUAGE)],
        ...,
    ],
    ListOf(),
]
Zone = Annotated[str, PlainValidator(reads(parse_values.parse_zone)), _said("a time zone, such as Europe/London", forms.ZONE)]
CountryWord = Annotated[str, PlainValidator(reads(parse_country)), _said("a country's two letters, such as GB", forms.COUNTRY)]
LicenceWord = Annotated[str, PlainValidator(reads(licence_id)), _said("a licence, such as CC-BY-4.0 or all-rights-reserved")]
Day = Annotated[dt.date, PlainValidator(reads(parse_values.parse_day)), _said("a date as year-month-day, such as 2026-05-02", forms.DAY)]
Clock = Annotated[dt.time, PlainValidator(reads(parse_values.parse_clock)), _said("a time of day, such as 14:00", forms.CLOCK)]
Lengths = Annotated[
    tuple[float, float],
    PlainValidator(reads(parse_values.parse_lengths)),
    _said("a length of time or a range, such as 60–90 s or 4:30–5:30", forms.SOME_FIGURE),
]
Minutes = Annotated[int, PlainValidator(reads(parse_values.parse_minutes)), _said("minutes, such as 90 min", forms.SOME_FIGURE)]
Months = Annotated[int, PlainValidator(reads(parse_values.parse_months)), _said("months or years, such as 36 months", forms.SOME_FIGURE)]
Point = Annotated[
    tuple[float, float],
    PlainValidator(reads(parse_values.parse_point)),
    _text("per cent across and down, such as 52, 38", forms.POINT),
]
Share = Annotated[float, PlainValidator(reads(parse_values.parse_share)), _said("per cent of the width, such as 6", forms.SHARE)]
Reach = Annotated[
    tuple[float, float],
    PlainValidator(reads(parse_values.parse_reach)),
    _text("per cent of the measured line, beyond its ends and to its sides, such as 45, 70", forms.REACH),
]
Line = Annotated[
    tuple[float, float, float, float],
    PlainValidator(reads(parse_values.parse_line)),
    _text("both ends of a line, such as 20, 50 – 80, 50", forms.LINE),
]
Spot = Annotated[
    Position,
    PlainValidator(reads(parse_values.parse_position)),
    _text("latitude and longitude, such as 51.1034, -1.3121", forms.POSITION),
]
Spots = Annotated[tuple[Spot, ...], ListOf()]
Box = Annotated[
    tuple[float, float, float, float],
    PlainValidator(reads(parse_values.parse_box)),
    _text("south, west, north, east, such as 51.0, -1.5, 51.2, -1.2", forms.BOX),
]
SquareWord = Annotated[
    SquareSize,
    PlainValidator(reads(parse_squares)),
    _said("a length or part of a degree, such as 1 km or quarter degree", forms.SOME_FIGURE),
]
Metres = Annotated[float, PlainValidator(reads(parse_values.parse_metres)), _said("a distance, such as 50 m", forms.SOME_FIGURE)]
Bleed = Annotated[
    float, PlainValidator(reads(parse_values.parse_bleed)), _said("a length of at most 10 mm, such as 3 mm or 1/8 in", forms.SOME_FIGURE)
]
Thickness = Annotated[
    float, PlainValidator(reads(parse_values.parse_thickness)), _said("a thickness of 0.03 to 1 mm, such as 0.12 mm", forms.SOME_FIGURE)
]
InkLimit = Annotated[
    int, PlainValidator(reads(parse_values.parse_ink_limit)), _said("per cent from 100 to 400, such as 300 %", forms.INK_LIMIT)
]
UnitWord = Annotated[str, PlainValidator(reads(parse_values.parse_unit)), _said("a unit: mm, cm, m, in, ft, g, kg, or count")]
Margin = Annotated[Measure, PlainValidator(reads(parse_values.parse_margin)), _said("a measurement, such as 0.5 mm", forms.SOME_FIGURE)]
Whole = Annotated[int, PlainValidator(reads(parse_values.parse_whole)), _said("a whole number", forms.WHOLE)]
Number = Annotated[float, PlainValidator(reads(parse_values.parse_number)), _said("a number above 0", forms.NUMBER)]
Sex = Annotated[
    str,
    PlainValidator(reads(parse_values.parse_sex)),
    _one_of("male, female, both, or a caste", parse_values.SEXES, forms.SEX),
]
Sexes = Annotated[tuple[Sex, ...], ListOf()]
RuleLevel = Annotated[
    Level | None,
    PlainValidator(reads(parse_values.parse_rule_level)),
    _one_of("error, warning, note or off", (*(level.value for level in Level), "off"), "[nN][oO]"),
]
Name = Annotated[
    ScientificName,
    PlainValidator(reads(parse_name)),
    _text("a scientific name, such as Bufo bufo (Linnaeus, 1758)", forms.NAME),
]
Length = Annotated[Measure, PlainValidator(reads(parse_measure)), _text("a measurement with its unit, such as 6–9 mm", forms.MEASURE)]
LevelWord = Annotated[str, OneOf(*LEVELS)]
HemisphereWord = Annotated[str, OneOf("north", "south")]
MonthWord = Annotated[str, OneOf(*MONTHS)]
FlipWord = Annotated[str, OneOf("long edge", "short edge")]
BesideWord = Annotated[str, OneOf("hand", "card", "person", "none")]
CountingWord = Annotated[str, OneOf(*COUNTING)]
CaptionsWord = Annotated[str, OneOf("streaming", "broadcast", "vertical")]
SlideShapes = Annotated[tuple[Annotated[str, OneOf(*SLIDE_SHAPES)], ...], ListOf()]
HarmWord = Annotated[str, OneOf(*HARMS)]
SourceWord = Annotated[str, OneOf("data set")]
OrderWord = Annotated[str, OneOf("day first", "month first")]
SignWord = Annotated[str, OneOf(*SIGNS)]
KindWord = Annotated[str, OneOf("states", "ordered", "range")]
FoodWord = Annotated[str, OneOf(EATEN, HUNTED, GROWN_ON, NOTHING)]
_ASKED = (*(field.key.lower() for field in (*ACCOUNT_FIELDS, *SECTIONS) if field.question), POINTER)
AskedWord = Annotated[str, OneOf(*_ASKED, said="a key or heading that drafts ask for, or pointer")]
AskedWords = Annotated[tuple[AskedWord, ...], ListOf()]
EaseWord = Annotated[str, OneOf(*(ease.words for ease in Ease))]
_HOW_SECRET, _SECRECIES = "no, low, medium, high or extreme", ("no", *reversed(parse_values.CATEGORIES))
Category = Annotated[
    Sensitivity,
    PlainValidator(reads(parse_values.parse_category)),
    _one_of(_HOW_SECRET, _SECRECIES, forms.OPEN),
]


class SecrecyShape(Shape):
    """How sensitive, why, and when to look again."""

    declared = SECRECY_FIELDS

    category: Category
    reason: Text = ""
    review: Day | None = None


@dataclass(frozen=True, slots=True)
class _SecrecyMarker:
    """A mapping of category, reason and review, or the category alone; gives a Sensitivity."""

    shape: type[SecrecyShape] = SecrecyShape

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Spread a single word, and turn the shape into its value."""
        shape = handler.generate_schema(SecrecyShape)
        before = core_schema.no_info_before_validator_function(self._spread, shape)
        return core_schema.no_info_after_validator_function(self._value, before)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """What an editor may accept."""
        return {"anyOf": [list_choices(_HOW_SECRET, _SECRECIES, forms.OPEN), handler(schema)]}

    @staticmethod
    def _spread(value: object) -> object:
        return {"category": value} if isinstance(value, str) else value

    @staticmethod
    def _value(shape: SecrecyShape) -> Sensitivity:
        return Sensitivity(shape.category.category, shape.reason, shape.review)


Secrecy = Annotated[Sensitivity, _SecrecyMarker()]
