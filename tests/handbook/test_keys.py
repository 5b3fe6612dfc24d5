"""Every key that a guide may hold stands in the handbook, in words."""

from __future__ import annotations

import re

import pytest
import yaml

from guidebuild.guide.field_declaration import Field
from guidebuild.handbook.keys import list_files
from guidebuild.handbook.theme_keys import list_theme_files
from guidebuild.reading.kinds import Shape
from guidebuild.reading.schema import MODELS, make_schemas
from guidebuild.shipped import on_disk, themes

KEYS = [key for file in list_files() for key in file.keys]


def list_shapes() -> list[type[Shape]]:
    assert make_schemas()  # every shape is known once the schemas are made
    waiting, found = [Shape], []
    while waiting:
        found.append(shape := waiting.pop())
        waiting += shape.__subclasses__()
    return [shape for shape in found if shape.__module__.startswith("guidebuild.")]


DECLARED = [(shape.__name__, field) for shape in list_shapes() for field in shape.declared]


def test_the_keys_are_really_seen() -> None:
    assert len(KEYS) > 200
    assert len(DECLARED) > 170


@pytest.mark.parametrize(("shape", "field"), DECLARED, ids=lambda value: value.key if isinstance(value, Field) else value)
def test_a_key_says_what_it_changes(shape: str, field: Field) -> None:
    assert field.effect or field.outputs or field.unshown, f"{shape}: say in `effect` what {field.key} changes"
    assert field.effect == "" or field.effect.endswith(".")
    assert field.meaning.endswith((".", "?", "”.", "not asked."))
    assert field.example.strip()


def test_every_key_of_every_schema_is_told_once() -> None:
    for kind, schema in make_schemas().items():
        file = next(file for file in list_files() if file.kind == kind)
        root = schema if "properties" in schema else schema["$defs"][re.sub(".*/", "", schema["additionalProperties"]["anyOf"][0]["$ref"])]
        assert [key.path[0] for key in file.keys if len(key.path) == 1] == [name for name in root["properties"] if name != "true"]
        assert len({key.address for key in file.keys}) == len(file.keys)
    assert {file.kind for file in list_files()} == set(MODELS)


def test_every_setting_of_a_theme_is_told_with_words() -> None:
    card, tokens = list_theme_files()
    rules = yaml.safe_load((on_disk(themes()) / "plate/cards/card.yaml").read_text("utf-8"))
    assert [key.path for key in card.keys if len(key.path) == 1] == [(key,) for key in rules]
    assert {key.path[1] for key in card.keys if len(key.path) == 2} == set(rules["left out first"])
    css = (on_disk(themes()) / "plate/static/tokens.css").read_text("utf-8")
    assert {key.path[0] for key in tokens.keys} == set(re.findall(r"--[a-z-]+(?=:)", css))
    for key in (*card.keys, *tokens.keys):
        assert key.meaning.endswith(".")
        assert key.form.startswith("Write ")
        assert key.effect.endswith(".")
    for key in card.keys:  # each example is what the shipped theme says, as its reader takes it
        said = yaml.safe_load(key.example)
        assert said[key.path[-1]] == (rules[key.path[0]] if len(key.path) == 1 else rules[key.path[0]][key.path[1]])


def test_a_group_is_told_with_all_that_there_are() -> None:
    group = next(key for key in KEYS if key.kind == "guide" and key.path == ("group",))
    assert all(re.search(rf"\b{name}\b", group.form) for name in ("mollusc", "fern", "flowering-plant", "lichen"))


def test_keys_inside_keys_are_told() -> None:
    paths = {(key.kind, key.path) for key in KEYS}
    for wanted in [
        ("account", ("diagnostics", "at")),
        ("account", ("sensitive", "category")),
        ("account", ("seasons", "place")),
        ("guide", ("life stages", "stages", "word")),
        ("places", ("law", "as of")),
        ("walk", ("stops", "metres")),
    ]:
        assert wanted in paths


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.address)
def test_how_a_key_is_written_is_a_sentence(key: object) -> None:
    form = key.form  # type: ignore[attr-defined]
    assert form.startswith("Write ")
    assert form.endswith((".", "]."))
    assert "Write  " not in form
