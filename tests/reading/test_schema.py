"""The JSON Schemas for editors against the reader: what one takes the other takes, key by key."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from guidebuild.reading.fence import split_fence
from guidebuild.reading.notes import Notes
from guidebuild.reading.schema import MODELS, make_schemas
from guidebuild.reading.shaping import read_shape
from guidebuild.reading.yaml_text import read_block

ROOT = Path(__file__).parents[2]
SCHEMAS = make_schemas()
# Findings about a file's shape: what a schema can know. Whether a text can be read as a date or a name, it cannot.
OF_SHAPE = {"unknown-key", "missing-key", "wrong-shape"}
FILES = {
    "guide": "guide.yaml",
    "plants": "plants.yaml",
    "places": "places.yaml",
    "characters": "characters.yaml",
    "glossary": "glossary.yaml",
    "sources": "sources.yaml",
    "photos": "photos.yaml",
    "walk": "walks/*.yaml",
    "account": "accounts/*.md",
    "episode": "episodes/*.md",
}


class _EditorLoader(yaml.CSafeLoader):
    """YAML as editors read it, by version 1.2: numbers, true, false and null, but no dates, and `on` is a word."""


_EditorLoader.yaml_implicit_resolvers = {
    sign: [(tag, pattern) for tag, pattern in resolvers if not tag.endswith((":timestamp", ":bool"))]
    for sign, resolvers in yaml.CSafeLoader.yaml_implicit_resolvers.items()
}
_EditorLoader.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("^(?:true|false)$"), list("tf"))


def editor_takes(kind: str, text: str) -> bool:
    return bool(Draft202012Validator(SCHEMAS[kind]).is_valid(yaml.load(text, Loader=_EditorLoader) or {}))


def reader_takes(kind: str, text: str) -> bool:
    notes = Notes()
    block = read_block(text, "x.yaml", notes)
    if block is None:
        return False
    read_shape(block, MODELS[kind][1], notes)
    return not OF_SHAPE & {finding.code for finding in notes.findings}


def facts(path: Path) -> str:
    text = path.read_text("utf-8")
    if path.suffix == ".yaml":
        return text
    parts = split_fence(text, path.name, Notes())
    assert parts is not None
    return parts.facts


@pytest.mark.parametrize("kind", SCHEMAS)
def test_schema_is_valid_and_has_a_title(kind: str) -> None:
    Draft202012Validator.check_schema(SCHEMAS[kind])
    assert SCHEMAS[kind]["title"]


def test_schema_says_how_values_are_written() -> None:
    account = SCHEMAS["account"]
    assert "2026-05-02" in str(account["$defs"]["ReviewShape"]["properties"]["on"])
    assert "6–9 mm" in str(account["properties"]["size"])
    assert "streaming, broadcast or vertical" in str(SCHEMAS["guide"]["$defs"]["SlotShape"]["properties"]["captions"])


@pytest.mark.parametrize("kind", FILES)
def test_sample_files_pass_their_schema(kind: str) -> None:
    paths = [p for p in (ROOT / "sample_guide").glob(FILES[kind]) if p.stem.count(".") == 0]
    assert paths
    for path in paths:
        errors = list(Draft202012Validator(SCHEMAS[kind]).iter_errors(yaml.load(facts(path), Loader=_EditorLoader)))
        assert not errors, f"{path}: {errors[0].message} at {errors[0].json_path}"


ACCOUNT_LINES = [
    "vernacular: 1758",
    "vernacular: no",
    "vernacular:",
    "vernacular: [Toad]",
    "vernaculer: Toad",
    "places: pond",
    "places: [pond, 12]",
    "places: {pond: deep}",
    "places: [[pond]]",
    "diagnostics: warts",
    "diagnostics: [warts, {mark: gold eyes, at: '50, 12'}]",
    "diagnostics: {mark: warts}",
    "diagnostics: {stage: adult}",
    "diagnostics: [{mark: warts, veiw: side}]",
    "characters: {skin: warty}",
    "characters: {skin: [warty, smooth]}",
    "characters: {skin: {value: warty, sex: male}}",
    "characters: {skin: {valeu: warty}}",
    "characters: warty",
    "similar: none",
    "similar: []",
    "similar: [frog]",
    "similar: {not applicable: alone}",
    "similar: {not aplicable: alone}",
    "similar: [{note: x}]",
    "host plants: [{plant: oak, part: leaf}]",
    "seasons: {adult: June}",
    "seasons: {adult: [June, {season: May, place: pond}]}",
    "seasons: {adult: {place: pond}}",
    "seasons: June",
    "life stages: {egg: in strings}",
    "life stages: {egg: [in strings]}",
    "hazards: none",
    "hazards: [{id: ticks}]",
    "sensitive: no",
    "sensitive: {category: high, reason: nest}",
    "sensitive: {reason: nest}",
    "reviewed: {by: Ann, on: 2026-05-02}",
    "reviewed: {by: Ann}",
    "reviewed: Ann",
    "silence: [{rule: x, reason: y}]",
    "silence: x",
]


@pytest.mark.parametrize("line", ACCOUNT_LINES)
def test_schema_and_reader_agree_on_accounts(line: str) -> None:
    text = f"name: Bufo bufo\n{line}\n"
    assert editor_takes("account", text) == reader_takes("account", text)


def test_the_lines_above_hold_both_kinds() -> None:
    taken = [reader_takes("account", f"name: Bufo bufo\n{line}\n") for line in ACCOUNT_LINES]
    assert 10 < sum(taken) < len(taken) - 10


@pytest.mark.parametrize(("line", "taken"), [("captions: vertical", True), ("captions: [vertical]", False), ("caption: vertical", False)])
def test_schema_and_reader_agree_on_the_captions_of_an_episode(line: str, *, taken: bool) -> None:
    text = f"title: Toads\nepisodes:\n  - name: short\n    length: 90 s\n    {line}\n"
    assert (editor_takes("guide", text), reader_takes("guide", text)) == (taken, taken)


def values() -> st.SearchStrategy[Any]:
    words = st.sampled_from(["none", "June", "pond", "no", "12", "warts"])
    keys = st.sampled_from(["mark", "value", "season", "place", "account", "plant", "category", "by", "name", "adult", "not applicable"])
    return st.recursive(words, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(keys, inner, max_size=3), max_leaves=6)


KEYS = ["name", "places", "diagnostics", "characters", "similar", "seasons", "hazards", "sensitive", "reviewed", "size", "nonsense"]


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.dictionaries(st.sampled_from(KEYS), values(), max_size=4))
def test_schema_and_reader_agree_on_any_shape(data: dict[str, Any]) -> None:
    text = yaml.safe_dump({"name": "Bufo bufo", **data}, default_flow_style=True, width=10_000)
    assert editor_takes("account", text) == reader_takes("account", text)
