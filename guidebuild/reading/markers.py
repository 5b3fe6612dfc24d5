"""How typed values become the values of a shape: a list or a single item, a mapping or its main text, one word of several."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from guidebuild.guide.problem import Unreadable
from guidebuild.reading import parse_values
from guidebuild.reading.written_forms import TEXT, list_choices

_SEVERAL = (list, tuple)


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
        items: Sequence[object] = value if isinstance(value, _SEVERAL) else (value,)
        return tuple([{self.key: item} if isinstance(item, str) else item for item in items]) if self.key else tuple(items)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Spread the value before the list is validated."""
        return core_schema.no_info_before_validator_function(self.spread, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """What an editor may accept."""
        inner = handler(schema)
        item = {"anyOf": [inner["items"], TEXT]} if self.key else inner["items"]
        shapes: list[dict[str, Any]] = [item, {**inner, "items": item}]
        if self.deniable:
            why = explain({**TEXT}, "Why there are none to give.", "It lives on dead wood.")
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
        return {"anyOf": [handler(schema), TEXT, {"type": "array", "items": TEXT}]}


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
        return {"anyOf": [TEXT, handler(schema)]}


class OneOf:
    """Marks a text that is one of these words."""

    def __init__(self, *words: str, said: str = "") -> None:
        """`said` stands for the list of the words where that is long."""
        self._words = words
        self._said = said or " or ".join(filter(None, (", ".join(words[:-1]), words[-1])))

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Take one of the words, in any case."""
        return core_schema.no_info_plain_validator_function(reads(parse_values.one_of(*self._words)))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """What an editor may accept."""
        return list_choices(self._said, self._words)
