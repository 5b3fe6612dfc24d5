"""JSON Schema of each kind of file, for editors that complete keys and underline slips; made from the reader's own shapes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from guidebuild.reading.account_shape import AccountShape, EpisodeShape, TranslationShape
from guidebuild.reading.block import Plain
from guidebuild.reading.notes import Notes
from guidebuild.reading.record_shapes import (
    CharacterShape,
    Listed,
    PhotoShape,
    PlaceShape,
    PlantShape,
    SourceShape,
    TermShape,
    WalkShape,
)
from guidebuild.reading.settings_shape import SettingsShape
from guidebuild.reading.sighting_words import SightingWordsShape
from guidebuild.reading.yaml_text import read_block

MODELS: Mapping[str, tuple[str, type[BaseModel]]] = {
    "guide": ("guide.yaml", SettingsShape),
    "account": ("the facts block of accounts/*.md", AccountShape),
    "translation": ("the facts block of accounts/*.<language>.md", TranslationShape),
    "plants": ("plants.yaml", Listed[PlantShape]),
    "places": ("places.yaml", Listed[PlaceShape]),
    "characters": ("characters.yaml", Listed[CharacterShape]),
    "glossary": ("glossary.yaml", Listed[TermShape]),
    "sources": ("sources.yaml", Listed[SourceShape]),
    "photos": ("photos.yaml", Listed[PhotoShape]),
    "episode": ("the facts block of episodes/*.md", EpisodeShape),
    "sightings": ("sightings.yaml", SightingWordsShape),
    "walk": ("walks/*.yaml", WalkShape),
}


_TOLD = ("description", "examples")


def make_schemas() -> dict[str, dict[str, Any]]:
    """Schemas (JSON Schema 2020-12) by kind of file."""
    return {kind: _schema(where, model) for kind, (where, model) in MODELS.items()}


def _schema(where: str, model: type[BaseModel]) -> dict[str, Any]:
    made = _empty_allowed(model.model_json_schema(by_alias=True, mode="validation"))
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made, "title": where}


def _empty_allowed(schema: Any) -> Any:
    """A key with nothing after it is one not yet filled in: every value may be null."""
    if isinstance(schema, list):
        return [_empty_allowed(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    kept = {key: value for key, value in schema.items() if key != "title" or not isinstance(value, str)}
    made = {key: [_value_typed(text) for text in value] if key == "examples" else _empty_allowed(value) for key, value in kept.items()}
    for key in ("properties", "additionalProperties"):
        inner = made.get(key)
        if key == "properties" and isinstance(inner, dict):
            needed = made.get("required", [])
            made[key] = {name: value if name in needed else _or_null(value) for name, value in inner.items()}
        elif isinstance(inner, dict):
            made[key] = _or_null(inner)
    return made


def _value_typed(text: str) -> Plain:
    """The value that a declared example stands for, as a guide reads it."""
    block = read_block(f"example: {text}\n", "", Notes())
    return block.data["example"] if block else text


def _or_null(schema: dict[str, Any]) -> dict[str, Any]:
    told = {key: schema[key] for key in _TOLD if key in schema}
    kept = {key: value for key, value in schema.items() if key != "default" and key not in told}
    return {**told, "anyOf": [kept, {"type": "null"}]}
