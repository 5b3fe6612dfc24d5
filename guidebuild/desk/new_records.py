"""A guide begun on the desk, and further records of its lists: places, sources, characters, terms, films and plants."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, get_origin

from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import Change, RefusedError, SetValue
from guidebuild.guide.ids import make_id
from guidebuild.reading.block import Plain
from guidebuild.reading.film_shape import FilmShape
from guidebuild.reading.kinds import Shape
from guidebuild.reading.record_shapes import CharacterShape, PlaceShape, PlantShape, SourceShape, TermShape
from guidebuild.reading.settings_shape import SettingsShape
from guidebuild.reading.shaping import fields_of

SETTINGS = "guide.yaml"


@dataclass(frozen=True, slots=True)
class ListOfRecords:
    """A list file: its shape, the key by which a record is called, and words of the interface for it."""

    file: str
    shape: type[Shape]
    called: str
    title: str
    about: str


LISTS: Mapping[str, ListOfRecords] = MappingProxyType(
    {
        "places": ListOfRecords("places.yaml", PlaceShape, "name", "Places", "Where species are found, and where walks stop."),
        "sources": ListOfRecords("sources.yaml", SourceShape, "cite", "Sources", "Books, papers and people that facts come from."),
        "characters": ListOfRecords(
            "characters.yaml",
            CharacterShape,
            "label",
            "Characters",
            "What is compared, and its states; the key asks for them.",
        ),
        "terms": ListOfRecords("glossary.yaml", TermShape, "word", "Terms", "Words that readers may not know."),
        "films": ListOfRecords("films.yaml", FilmShape, "title", "Films", "Films of species, on the web or in films/."),
        "plants": ListOfRecords("plants.yaml", PlantShape, "vernacular", "Plants", "Plants that species live on."),
    }
)
"""The lists by their page."""
FIRST_FIELDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        SETTINGS: ("title", "region", "description", "languages", "publisher", "licence", "photo credit", "photo licence", "group", "level",
                   "hemisphere", "time zone", "dates"),
        "places.yaml": ("name", "area", "habitat", "position", "sensitive", "access", "note"),
        "sources.yaml": ("cite", "author", "year", "title", "address"),
        "characters.yaml": ("label", "question", "states", "ease", "stage"),
        "glossary.yaml": ("word", "meaning", "also"),
        "films.yaml": ("title", "address", "day", "length", "accounts", "script", "captions", "still"),
        "plants.yaml": ("vernacular", "name", "note"),
    }
)  # fmt: skip
"""By file, what is usually said; whatever else may be said stands folded."""


def begin_guide(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """The first text of guide.yaml: `{values}`, by key. Answers `{file, digest}`."""
    values = _read_values(SettingsShape, asked.get("values"))
    if "title" not in values:
        raise RefusedError("Give the guide a title.")
    written = desk.writer.change(SETTINGS, "", [SetValue((key,), value) for key, value in values.items()], None)
    return {"file": written.file, "digest": written.digest}


def add_record(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """A further record: `{list, values}`; its id is made of what it is called. Answers `{file, digest, id}`."""
    listed = LISTS.get(str(asked.get("list", "")))
    if listed is None:
        raise RefusedError("The page did not say which list it means. Load the page anew.")
    values = _read_values(listed.shape, asked.get("values"))
    called = values.get(listed.called)
    if not isinstance(called, str):
        raise RefusedError(f"Fill in “{listed.called}”: by it the others find this record.")
    standing = desk.writer.read(listed.file)
    record = _free_id(make_id(called, listed.called), standing.values)
    changes: list[Change] = [SetValue((record,), values)]
    written = desk.writer.change(listed.file, standing.digest, changes, desk.guide)
    return {"file": written.file, "digest": written.digest, "id": record}


def _free_id(wanted: str, taken: Mapping[str, Plain]) -> str:
    number = 1
    while True:
        record = wanted if number == 1 else f"{wanted}-{number}"
        if record not in taken:
            return record
        number += 1


def _read_values(shape: type[Shape], given: object) -> dict[str, Plain]:
    """What was filled in, as a file has it: words between commas as a list, lines as states with their ids."""
    known = fields_of(shape)
    if not isinstance(given, dict) or not all(key in known and isinstance(text, str) for key, text in given.items()):
        raise RefusedError("The page sent what it did not show. Load it anew.")
    return {key: value for key, text in given.items() if (value := _read_value(known[key], text.strip())) is not None}


def _read_value(annotation: tuple[Any, ...], text: str) -> Plain:
    form = get_origin(annotation[0])
    if form is dict:
        lines = dict.fromkeys(line.strip() for line in text.splitlines() if line.strip())
        return {make_id(line, f"state-{number}"): line for number, line in enumerate(lines, 1)} or None
    if form is tuple:
        items: list[Plain] = [item.strip() for item in text.split(",") if item.strip()]
        return items or None
    return text or None
