"""Field types of the shapes: each reads typed text into its value, and says in JSON Schema what an editor may accept.

An editor's own YAML reader turns `1959` into a number and `no` into false; the schema lets every plain value through
where a guide reads text.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler, PlainValidator, WithJsonSchema
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from guidebuild.guide.account_fields import ACCOUNT_FIELDS, SECTIONS
from guidebuild.guide.characters import Ease
from guidebuild.guide.dangers import HARMS
from guidebuild.guide.field_declaration import LEVELS, Field
from guidebuild.guide.findings import Level
from guidebuild.guide.licence_text import licence_id
from guidebuild.guide.life_stages import EATEN, GROWN_ON, HUNTED, NOTHING, POINTER
from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.measures import Measure
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.record_fields import SECRECY_FIELDS
from guidebuild.guide.records import Position, Sensitivity
from guidebuild.reading import parse_values

TEXT_SCHEMA: dict[str, Any] = {"type": ["string", "number", "boolean"]}


class Shape(BaseModel):
    """A mapping of a guide: keys are plain words with spaces, and no others are taken."""

    declared: ClassVar[tuple[Field, ...]] = ()
    """Its keys as they are declared, for the schema."""

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
        return made


def explain(schema: dict[str, Any], meaning: str, example: str) -> dict[str, Any]:
    """A value's schema with what it means, how it is written and an example as typed."""
    written = schema.get("description")
    schema["description"] = f"{meaning} Write {written}." if written else meaning
    schema["examples"] = [example]
    return schema


def problem_error(problem: Unreadable) -> PydanticCustomError:
    """A parser's answer as pydantic wants it; `codes` are the types of such errors."""
    return PydanticCustomError("unreadable", "{message}", {"message": problem.message, "mend": problem.mend, "code": problem.code})


def reads(parse: Callable[[str], Any]) -> Callable[[object], Any]:
    """A validator that takes text and gives what `parse` makes of it."""

    def validate(value: object) -> Any:
        if not isinstance(value, str):
            raise PydanticCustomError("string_type", "one text is wanted")
        read = parse(value)
        if isinstance(read, Unreadable):
            raise problem_error(read)
        return read

    return validate


def is_denied(value: object) -> bool:
    """Whether a list is said to be empty: `none`, `[]`, `not applicable`, with or without a reason."""
    if isinstance(value, str):
        word = value.strip().lower()
        return word == "none" or word.startswith("not applicable")
    if isinstance(value, dict):
        return list(value) == ["not applicable"] and isinstance(value["not applicable"], str)
    return value in ([], ["none"])


@dataclass(frozen=True, slots=True)
class ListOf:
    """Marks a list of which a single item may stand alone.

    With `key`, items are mappings, and a text stands for a mapping of that key. A `deniable` list may be `none` or
    `not applicable`.
    """

    key: str = ""
    deniable: bool = False

    def spread(self, value: object) -> tuple[object, ...]:
        """The value as a list of items."""
        if self.deniable and is_denied(value):
            return ()
        items = value if isinstance(value, list | tuple) else [value]
        return tuple({self.key: item} if isinstance(item, str) else item for item in items) if self.key else tuple(items)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Spread the value before the list is validated."""
        return core_schema.no_info_before_validator_function(self.spread, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """What an editor may accept."""
        inner = handler(schema)
        item = {"anyOf": [inner["items"], TEXT_SCHEMA]} if self.key else inner["items"]
        shapes: list[dict[str, Any]] = [item, {**inner, "items": item}]
        if self.deniable:
            why = explain({**TEXT_SCHEMA}, "Why there are none to give.", "It lives on dead wood.")
            reason = {"type": "object", "properties": {"not applicable": why}, "required": ["not applicable"]}
            shapes.append({**reason, "additionalProperties": False})
        return {"anyOf": shapes}


@dataclass(frozen=True, slots=True)
class TextsByWords:
    """Marks texts by the words that they translate, in whose place a list may stand: then they count by their order."""

    def spread(self, value: object) -> object:
        """The value by words, or by numbers from 0."""
        if isinstance(value, dict):
            return value
        return {str(number): text for number, text in enumerate(value if isinstance(value, list | tuple) else [value])}

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Spread a list before the texts are validated."""
        return core_schema.no_info_before_validator_function(self.spread, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """What an editor may accept."""
        return {"anyOf": [handler(schema), TEXT_SCHEMA, {"type": "array", "items": TEXT_SCHEMA}]}


@dataclass(frozen=True, slots=True)
class TextOr:
    """Marks a mapping in whose place its main key's text may stand alone."""

    key: str

    def spread(self, value: object) -> object:
        """The value as a mapping."""
        return {self.key: value} if isinstance(value, str) else value

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Spread a text before the mapping is validated."""
        return core_schema.no_info_before_validator_function(self.spread, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """What an editor may accept."""
        return {"anyOf": [TEXT_SCHEMA, handler(schema)]}


def _said(words: str) -> WithJsonSchema:
    """Any plain value, with what an editor may show about it."""
    return WithJsonSchema({**TEXT_SCHEMA, "description": words})


Text = Annotated[str, WithJsonSchema(TEXT_SCHEMA)]
Words = Annotated[tuple[Text, ...], ListOf()]
ByWords = Annotated[dict[str, Text], TextsByWords()]
DeniableWords = Annotated[tuple[Text, ...], ListOf(deniable=True)]
YesNo = Annotated[bool, PlainValidator(reads(parse_values.parse_yes_no)), _said("yes or no")]
Address = Annotated[str, PlainValidator(reads(parse_values.parse_address)), _said("a web address in full, such as https://example.org")]
FileWord = Annotated[str, PlainValidator(reads(parse_values.parse_file_word)), _said("a short word of letters, digits and hyphens")]
FileWords = Annotated[tuple[FileWord, ...], ListOf()]
Languages = Annotated[
    tuple[Annotated[str, PlainValidator(reads(parse_values.parse_language)), _said("a language code, such as en or pt-BR")], ...], ListOf()
]
Zone = Annotated[str, PlainValidator(reads(parse_values.parse_zone)), _said("a time zone, such as Europe/London")]
LicenceWord = Annotated[str, PlainValidator(reads(licence_id)), _said("a licence, such as CC-BY-4.0 or all-rights-reserved")]
Day = Annotated[dt.date, PlainValidator(reads(parse_values.parse_day)), _said("a date as year-month-day, such as 2026-05-02")]
Clock = Annotated[dt.time, PlainValidator(reads(parse_values.parse_clock)), _said("a time of day, such as 14:00")]
Lengths = Annotated[
    tuple[float, float],
    PlainValidator(reads(parse_values.parse_lengths)),
    _said("a length of time or a range, such as 60–90 s or 4:30–5:30"),
]
Minutes = Annotated[int, PlainValidator(reads(parse_values.parse_minutes)), _said("minutes, such as 90 min")]
Months = Annotated[int, PlainValidator(reads(parse_values.parse_months)), _said("months or years, such as 36 months")]
Point = Annotated[tuple[float, float], PlainValidator(reads(parse_values.parse_point)), _said("per cent across and down, such as 52, 38")]
Line = Annotated[
    tuple[float, float, float, float], PlainValidator(reads(parse_values.parse_line)), _said("both ends of a line, such as 20, 50 – 80, 50")
]
Spot = Annotated[Position, PlainValidator(reads(parse_values.parse_position)), _said("latitude and longitude, such as 51.1034, -1.3121")]
Spots = Annotated[tuple[Spot, ...], ListOf()]
Box = Annotated[
    tuple[float, float, float, float],
    PlainValidator(reads(parse_values.parse_box)),
    _said("south, west, north, east, such as 51.0, -1.5, 51.2, -1.2"),
]
Metres = Annotated[float, PlainValidator(reads(parse_values.parse_metres)), _said("a distance, such as 50 m")]
Bleed = Annotated[float, PlainValidator(reads(parse_values.parse_bleed)), _said("a length of at most 10 mm, such as 3 mm or 1/8 in")]
UnitWord = Annotated[str, PlainValidator(reads(parse_values.parse_unit)), _said("a unit: mm, cm, m, in, ft, g, kg, or count")]
Margin = Annotated[Measure, PlainValidator(reads(parse_values.parse_margin)), _said("a measurement, such as 0.5 mm")]
Whole = Annotated[int, PlainValidator(reads(parse_values.parse_whole)), _said("a whole number")]
Number = Annotated[float, PlainValidator(reads(parse_values.parse_number)), _said("a number above 0")]
Sex = Annotated[str, PlainValidator(reads(parse_values.parse_sex)), _said("male, female, both, or a caste")]
Sexes = Annotated[tuple[Sex, ...], ListOf()]
RuleLevel = Annotated[Level | None, PlainValidator(reads(parse_values.parse_rule_level)), _said("error, warning, note or off")]
Name = Annotated[ScientificName, PlainValidator(reads(parse_name)), _said("a scientific name, such as Bufo bufo (Linnaeus, 1758)")]
Length = Annotated[Measure, PlainValidator(reads(parse_measure)), _said("a measurement with its unit, such as 6–9 mm")]
LevelWord = Annotated[str, PlainValidator(reads(parse_values.one_of(*LEVELS))), _said("sketch, fieldable or publishable")]
HemisphereWord = Annotated[str, PlainValidator(reads(parse_values.one_of("north", "south"))), _said("north or south")]
FlipWord = Annotated[str, PlainValidator(reads(parse_values.one_of("long edge", "short edge"))), _said("long edge or short edge")]
BesideWord = Annotated[
    str, PlainValidator(reads(parse_values.one_of("hand", "card", "person", "none"))), _said("hand, card, person or none")
]
CaptionsWord = Annotated[
    str, PlainValidator(reads(parse_values.one_of("streaming", "broadcast", "vertical"))), _said("streaming, broadcast or vertical")
]
HarmWord = Annotated[str, PlainValidator(reads(parse_values.one_of(*HARMS))), _said(f"{', '.join(HARMS[:-1])} or {HARMS[-1]}")]
OrderWord = Annotated[str, PlainValidator(reads(parse_values.one_of("day first", "month first"))), _said("day first or month first")]
KindWord = Annotated[str, PlainValidator(reads(parse_values.one_of("states", "ordered", "range"))), _said("states, ordered or range")]
FoodWord = Annotated[
    str, PlainValidator(reads(parse_values.one_of(EATEN, HUNTED, GROWN_ON, NOTHING))), _said("eaten, hunted, grown on or none")
]
_ASKED = (*(field.key.lower() for field in (*ACCOUNT_FIELDS, *SECTIONS) if field.question), POINTER)
AskedWord = Annotated[str, PlainValidator(reads(parse_values.one_of(*_ASKED))), _said("a key or heading that drafts ask for, or pointer")]
AskedWords = Annotated[tuple[AskedWord, ...], ListOf()]
EaseWord = Annotated[
    str,
    PlainValidator(reads(parse_values.one_of(*(ease.words for ease in Ease)))),
    _said("at a distance, close up, in the hand or under a lens"),
]
Category = Annotated[Sensitivity, PlainValidator(reads(parse_values.parse_category)), _said("no, low, medium, high or extreme")]


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
        return {"anyOf": [TEXT_SCHEMA, handler(schema)]}

    @staticmethod
    def _spread(value: object) -> object:
        return {"category": value} if isinstance(value, str) else value

    @staticmethod
    def _value(shape: SecrecyShape) -> Sensitivity:
        return Sensitivity(shape.category.category, shape.reason, shape.review)


Secrecy = Annotated[Sensitivity, _SecrecyMarker()]
