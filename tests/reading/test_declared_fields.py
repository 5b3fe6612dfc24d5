"""Every key that can be typed is declared with what it means and an example, and its own reader takes the example."""

from __future__ import annotations

import shutil
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from guidebuild.authoring import draft_account
from guidebuild.guide.account_fields import ACCOUNT_FIELDS, SECTIONS
from guidebuild.guide.field_declaration import Field
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName
from guidebuild.reading.account_shape import AccountShape
from guidebuild.reading.kinds import Shape
from guidebuild.reading.notes import Notes
from guidebuild.reading.schema import make_schemas
from guidebuild.reading.shaping import read_shape
from guidebuild.reading.yaml_text import read_block
from guidebuild.session import open_session
from tests.conftest import SAMPLE

OURS = [made for made in Shape.__subclasses__() if made.__module__.startswith("guidebuild.")]
SHAPES = sorted((made for made in OURS if made.__name__ != "OwnWordsShape"), key=lambda made: made.__name__)
SHAPES += [made for group in OURS for made in group.__subclasses__()]
KEYS = [(made, field) for made in SHAPES for field in made.declared]


def keys_of(made: type[Shape]) -> dict[str, bool]:
    """Every key that a shape takes, and whether it must be there."""
    return {info.alias or name: info.is_required() for name, info in made.model_fields.items()}


@pytest.mark.parametrize("made", SHAPES, ids=lambda made: made.__name__)
def test_a_shape_takes_the_keys_that_are_declared_for_it_and_no_others(made: type[Shape]) -> None:
    assert sorted(field.key for field in made.declared) == sorted(keys_of(made))


def test_the_shapes_are_really_seen() -> None:
    assert {"AccountShape", "TranslationShape", "PhotoShape", "SettingsShape", "SecrecyShape"} <= {made.__name__ for made in SHAPES}
    assert len(KEYS) > 150


@pytest.mark.parametrize(("made", "field"), KEYS, ids=lambda value: value.key if isinstance(value, Field) else value.__name__)
def test_the_example_of_a_key_is_taken_by_its_own_reader(made: type[Shape], field: Field) -> None:
    examples = {other.key: other.example for other in made.declared}
    needed = [key for key, must in keys_of(made).items() if must and key != field.key]
    text = "".join(f"{key}: {examples[key]}\n" for key in (*needed, field.key))
    notes = Notes()
    block = read_block(text, "x.yaml", notes)
    assert block is not None
    read = read_shape(block, made, notes)
    assert notes.findings == ()
    assert read is not None
    assert block.data[field.key]


def properties_in(schema: Any, path: str = "") -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Every property of a schema, however deep."""
    if isinstance(schema, list):
        for item in schema:
            yield from properties_in(item, path)
    elif isinstance(schema, dict):
        for key, value in schema.items():
            if key == "properties":
                yield from ((f"{path}/{name}", inner) for name, inner in value.items())
            if key != "examples":
                yield from properties_in(value, f"{path}/{key}")


@pytest.mark.parametrize(("kind", "schema"), make_schemas().items(), ids=lambda value: value if isinstance(value, str) else "")
def test_every_property_of_a_schema_says_what_it_means_and_has_an_example_that_it_takes(kind: str, schema: dict[str, Any]) -> None:
    found = list(properties_in(schema))
    assert found
    for path, inner in found:
        assert inner.get("description", "").endswith("."), path
        (example,) = inner["examples"]
        judge = Draft202012Validator({**inner, "$defs": schema.get("$defs", {})})
        assert judge.is_valid(example), (path, example)


def test_a_declared_field_that_the_shape_lacks_is_an_error_at_once() -> None:
    class Lacking(Shape):
        declared = (Field("voice", "What it sounds like.", "a hiss"),)

    with pytest.raises(KeyError, match="voice"):
        Lacking.model_json_schema()


def answered(questions: bool) -> dict[str, str]:
    """The example of every field that drafts ask for, or of all there are."""
    fields = [field for field in (*ACCOUNT_FIELDS, *SECTIONS) if field.question or not questions]
    return {field.key: field.example for field in fields if field.key != "silence"}  # there is nothing to be silenced


@pytest.mark.parametrize("asked_only", [True, False], ids=["asked", "all"])
def test_a_draft_answered_by_the_examples_passes_the_check(asked_only: bool, tmp_path: Path) -> None:
    folder = tmp_path / "guide"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", "drawing"))
    session = open_session(folder)
    assert session.report.findings == ()
    name = parse_name("Elasmucha grisea")
    assert isinstance(name, ScientificName)
    given = answered(asked_only)
    text = draft_account(session.guide, name, given)
    assert "# " not in text.replace("## ", "")
    (folder / "accounts/parent-bug.md").write_text(text, encoding="utf-8")
    (folder / "accounts/parent-bug.es.md").unlink()
    (folder / "films.yaml").unlink()  # what the film says is not what the examples say
    shutil.rmtree(folder / "films")
    (folder / "posts/parent-bug.said.yaml").write_text(
        "posts: [{day: 2026-05-02, says: []}]\n", encoding="utf-8"
    )  # `posted:` is an example too
    (folder / "episodes/parent-bug-full.md").unlink()  # its own words do not warn of the hazard of the examples
    report = open_session(folder).report
    assert [str(finding) for finding in report.findings] == []
    assert dict(report.completeness)["parent-bug"].level == "publishable"


def test_a_draft_asks_every_question_and_claims_nothing(tmp_path: Path) -> None:
    guide = open_session(SAMPLE).guide
    name = parse_name("Inventa nova")
    assert isinstance(name, ScientificName)
    text = draft_account(guide, name, {})
    facts = text.split("---")[1].strip()
    assert [line for line in facts.splitlines() if not line.startswith("#")] == ["name: Inventa nova"]
    for field in (*ACCOUNT_FIELDS, *SECTIONS):
        assert field.question in text
    assert "characters" not in draft_account(replace(guide, characters={}), name, {})
    uncommented = "\n".join(line.removeprefix("# ") for line in facts.splitlines())
    notes = Notes()
    block = read_block(uncommented, "x.md", notes)
    assert block is not None
    assert read_shape(block, AccountShape, notes) is not None
    assert {finding.code for finding in notes.findings} <= {"missing-key"}  # a mark and a review that are not filled in
