"""JSON Schema of each kind of file, for editors that complete keys and underline slips; made from the reader's own shapes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from guidebuild.guide.guide import Guide
from guidebuild.guide.resolve import names_of
from guidebuild.reading import shipped_lists
from guidebuild.reading.account_shape import AccountShape, EpisodeShape, OwnSlidesShape, TranslationShape
from guidebuild.reading.block import Plain
from guidebuild.reading.film_shape import FilmShape
from guidebuild.reading.kinds import OF_KIND
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
from guidebuild.reading.sound_shape import SoundShape
from guidebuild.reading.written_forms import TEXT, list_choices
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
    "films": ("films.yaml", Listed[FilmShape]),
    "sounds": ("sounds.yaml", Listed[SoundShape]),
    "slides": ("the facts block of posts/*.md", OwnSlidesShape),
    "episode": ("the facts block of episodes/*.md", EpisodeShape),
    "sightings": ("sightings.yaml", SightingWordsShape),
    "walk": ("walks/*.yaml", WalkShape),
}


_TOLD = ("description", "examples")
Known = Mapping[str, tuple[str, ...]]
"""Ids and words by the kind of record, or by the key, whose values they may be."""


def make_schemas(known: Known | None = None) -> dict[str, dict[str, Any]]:
    """Schemas (JSON Schema 2020-12) by kind of file; with what one guide knows, no other id and no other word is taken."""
    return {kind: _schema(where, model, known) for kind, (where, model) in MODELS.items()}


def list_known(guide: Guide) -> Known:
    """What the files of a guide may name: its own records, and words of lists with what the guide adds to them."""
    accounts = [name for a in guide.accounts.values() for name in (a.id, *names_of(a))]
    characters = [word for c in guide.characters.values() for word in (c.id, c.label)]
    stages = [word for found in guide.stage_sets.values() for stage in found.ids for word in (stage, found.word(stage))]
    listed = {
        "account": [*accounts, *(a.id for a in guide.unpublished), *guide.unread],
        "plant": guide.plants,
        "place": guide.places,
        "character": characters,
        "photo": guide.photos,
        "film": guide.films,
        "sound": guide.sounds,
        "source": guide.sources,
        "term": guide.terms,
        "walk": guide.walks,
        "stage": stages,
        "view": shipped_lists.words("views"),
        "hazards": guide.cautions,
        "group": guide.stage_sets,
        "licence": guide.licences,
    }
    return {kind: tuple(dict.fromkeys(map(str, words))) for kind, words in listed.items()}


def _schema(where: str, model: type[BaseModel], known: Known | None) -> dict[str, Any]:
    made = _read_by_old_yaml(_named(_empty_allowed(model.model_json_schema(by_alias=True, mode="validation")), known or {}))
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made, "title": where}


def _named(schema: Any, known: Known) -> Any:
    """The schema with the words that values may be, where those are known."""
    if isinstance(schema, list):
        return [_named(item, known) for item in schema]
    if not isinstance(schema, dict):
        return schema
    words = known.get(schema.get(OF_KIND, ""))
    made = {key: _named(value, known) for key, value in schema.items() if key != OF_KIND}
    return made if words is None else _narrowed(made, words)


def _narrowed(schema: Any, words: tuple[str, ...]) -> Any:
    """The schema with these words alone for its texts; of a mapping, for its keys."""
    if isinstance(schema, list):
        return [_narrowed(item, words) for item in schema]
    if not isinstance(schema, dict):
        return schema
    if schema.get("type") == TEXT["type"]:
        told = {key: schema[key] for key in _TOLD if key in schema}
        return {**list_choices("", words), **told}
    if schema.get("type") == "object" and "properties" not in schema:
        return {**schema, "propertyNames": list_choices("one of the guide's own", words)}
    return {key: _narrowed(value, words) if key in ("anyOf", "items") else value for key, value in schema.items()}


def _read_by_old_yaml(schema: Any) -> Any:
    """Readers of YAML 1.1 take the key `on` for true: they may have it as that."""
    if isinstance(schema, list):
        return [_read_by_old_yaml(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    made = {key: _read_by_old_yaml(value) for key, value in schema.items()}
    properties = made.get("properties", {})
    if "on" in properties:
        made["properties"] = {**properties, "true": properties["on"]}
        if "on" in made.get("required", ()):
            made["required"] = [key for key in made["required"] if key != "on"]
            made["anyOf"] = [{"required": ["on"]}, {"required": ["true"]}]
    return made


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
    told = {key: schema[key] for key in (*_TOLD, OF_KIND) if key in schema}
    kept = {key: value for key, value in schema.items() if key != "default" and key not in told}
    return {**told, "anyOf": [kept, {"type": "null"}]}
