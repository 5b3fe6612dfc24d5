"""Every key that a guide's files may hold: what it says, how it is written, and what it changes; made from the shapes that read them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from pydantic import BaseModel

from guidebuild.guide.field_declaration import LEVELS, Field, OutputName
from guidebuild.reading.kinds import Shape
from guidebuild.reading.schema import MODELS, make_schemas
from guidebuild.reading.shipped_lists import stage_sets

_OUTPUT_WORDS: Mapping[OutputName, str] = {
    OutputName.SITE: "pages",
    OutputName.CARDS: "cards",
    OutputName.SCRIPTS: "scripts",
    OutputName.POSTS: "posts",
    OutputName.SLIDES: "slides",
    OutputName.WALKS: "walks",
    OutputName.DATA: "data",
}
_NAMED: Mapping[str, str] = {
    "account": "the id of an account: its file's name without .md; or any of its names",
    "photo": "the id of a photo of photos.yaml",
    "plant": "the id of a plant of plants.yaml",
    "place": "the id of a place of places.yaml",
    "source": "the id of a source of sources.yaml",
    "character": "the id or the label of a character of characters.yaml",
    "stage": "a stage of the species' group, by its id or its word",
    "view": "a side, such as upperside, side or face",
    "hazards": "the ids of cautions, such as stings or ticks",
    "card": "a format: a6, a7, id-1, index-3x5 or index-4x6",
    "paper": "a paper, such as a4 or letter",
    "print profile": "the name of a file of the guide",
    "season": "months and their parts, such as mid June – August",
    "group": f"the id of a group: {', '.join(sorted(stage_sets()))}; or of one of your own",
}
"""What is written of keys whose values are ids, by the kind of record or by the key."""
_REF = "#/$defs/"


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a file."""

    kind: str
    """The kind of file, by the name that `guidebuild schema` takes."""
    path: tuple[str, ...]
    """The keys that lead to it, itself the last: `("diagnostics", "at")`."""
    meaning: str
    form: str
    """How its value is written."""
    example: str
    """As it is typed, the key before it."""
    effect: str
    """What it changes."""
    asked_at: str
    """The first level of completeness that asks for it; empty where none does."""
    needed: bool
    """Whether its record cannot be read without it."""

    @property
    def name(self) -> str:
        """As it is spoken of: `diagnostics: at`."""
        return ": ".join(self.path)

    @property
    def address(self) -> str:
        """Where it stands on its page."""
        return "-".join((self.kind, *self.path)).replace(" ", "-")


@dataclass(frozen=True, slots=True)
class FileOfKeys:
    """A kind of file with its keys in the order in which they are declared, those inside a key right after it."""

    kind: str
    file: str
    listed: bool
    """Whether it is a list of records, each behind its id."""
    keys: tuple[Key, ...]

    @property
    def place(self) -> str:
        """The file's name alone, where its keys are those of its facts block."""
        return self.file.removeprefix("the facts block of ")


@cache
def list_files() -> tuple[FileOfKeys, ...]:
    """Every kind of file."""
    schemas = make_schemas()
    return tuple(_describe(kind, file, model, schemas[kind]) for kind, (file, model) in MODELS.items())


def _describe(kind: str, file: str, model: type[BaseModel], schema: dict[str, Any]) -> FileOfKeys:
    defs, listed = schema.get("$defs", {}), "properties" not in schema
    name = _refs(schema["additionalProperties"])[0] if listed else model.__name__
    keys = _keys(_Reading(kind, defs, _shapes()), (), name, defs[name] if listed else schema)
    return FileOfKeys(kind, file, listed, tuple(keys))


@dataclass(frozen=True, slots=True)
class _Reading:
    """What a file's keys are read from: its schema's definitions, and the shapes behind them."""

    kind: str
    defs: Mapping[str, dict[str, Any]]
    shapes: Mapping[str, type[Shape]]


def _keys(reading: _Reading, above: tuple[str, ...], name: str, schema: dict[str, Any]) -> Iterator[Key]:
    declared = {field.key: field for field in reading.shapes[name].declared}
    for key, told in schema["properties"].items():
        if (field := declared.get(key)) is None:
            continue  # `true` is how readers of YAML 1.1 take the key `on`
        path = (*above, key)
        yield _key(reading.kind, path, field, told, needed=key in schema.get("required", ()))
        for inner in _refs(told):
            yield from _keys(reading, path, inner, reading.defs[inner])


def _key(kind: str, path: tuple[str, ...], field: Field, told: dict[str, Any], *, needed: bool) -> Key:
    asks = sorted(field.asks, key=lambda ask: LEVELS.index(ask.level))
    gap = "" if field.example.startswith("\n") else " "
    return Key(
        kind,
        path,
        field.meaning,
        _form(told, field),
        f"{field.key}:{gap}{field.example}",
        _effect(field),
        asks[0].level if asks else "",
        needed,
    )


def _form(told: dict[str, Any], field: Field) -> str:
    written = str(told.get("description", "")).removeprefix(field.meaning).strip()
    if written.startswith("Write "):
        return written
    if any(_refs(told)):
        return _form_of_records(told)
    if named := _NAMED.get(field.names or field.key):
        several = "; several stand in a list" if _has(told, "array") else ""
        return f"Write {named}{'' if _has(told, 'object') else several}."
    inner = _first_description(told.get("anyOf", []))
    several = "; several stand in a list" if _has(told, "array") else ""
    if inner:
        return f"Write {inner}{several}."
    if several:
        return "Write one, or several in a list: [one, another]."
    return "Write each behind its own word, one a line." if _has(told, "object") else "Write it in words."


def _form_of_records(told: dict[str, Any]) -> str:
    """How mappings are written of which a text, or a word, may stand alone."""
    text = str(told)
    if "'additionalProperties': {" in text:
        return "Write each behind its own word, one a line: in short, or with the keys below."
    short = _choices(told) or "'string'" in text
    if _has(told, "array"):
        return "Write a list, each in short or with the keys below." if short else "Write a list, each with the keys below."
    return (
        "Write it in short, or the keys below, each on a line of its own." if short else "Write the keys below, each on a line of its own."
    )


def _first_description(told: Any) -> str:
    """How a value within others is written; empty where it is any text."""
    if isinstance(told, list):
        return next(filter(None, map(_first_description, told)), "")
    if not isinstance(told, dict):
        return ""
    return str(told.get("description", "")) or next(filter(None, (_first_description(told.get(key)) for key in ("anyOf", "items"))), "")


def _effect(field: Field) -> str:
    if field.effect:
        return field.effect
    if field.outputs:
        named = [_OUTPUT_WORDS[output] for output in field.outputs]
        return f"It stands in {' and '.join([', '.join(named[:-1]), named[-1]] if len(named) > 1 else named)}."
    return field.unshown


def _choices(told: Any) -> tuple[str, ...]:
    if isinstance(told, list):
        return tuple(word for item in told for word in _choices(item))
    if not isinstance(told, dict):
        return ()
    own = tuple(map(str, told.get("enum", ())))
    return own + tuple(word for key, item in told.items() if key in ("anyOf", "items") for word in _choices(item))


def _has(told: Any, kind: str) -> bool:
    if isinstance(told, list):
        return any(_has(item, kind) for item in told)
    return isinstance(told, dict) and (told.get("type") == kind or any(_has(item, kind) for item in told.values()))


def _refs(told: Any) -> tuple[str, ...]:
    """The shapes that a value may be of, in order, each once."""
    if isinstance(told, list):
        found = [name for item in told for name in _refs(item)]
    elif isinstance(told, dict):
        found = [told["$ref"].removeprefix(_REF)] if "$ref" in told else [name for item in told.values() for name in _refs(item)]
    else:
        found = []
    return tuple(dict.fromkeys(found))


def _shapes() -> Mapping[str, type[Shape]]:
    """All shapes by their names, as schemas name them."""
    waiting, found = [Shape], {}
    while waiting:
        shape = waiting.pop()
        found[shape.__name__] = shape
        waiting += shape.__subclasses__()
    return found
