"""The JSON Schemas for editors against the reader: what one takes the other takes, key by key."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from guidebuild.editor_schemas import refresh_schemas, write_schemas
from guidebuild.guide.findings import Level
from guidebuild.reading.fence import split_fence
from guidebuild.reading.notes import Notes
from guidebuild.reading.schema import MODELS, list_known, make_schemas
from guidebuild.reading.shaping import read_shape
from guidebuild.reading.whole import read_guide
from guidebuild.reading.yaml_text import read_block
from guidebuild.session import open_session

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


def reads_all(kind: str, text: str) -> bool:
    """Whether the reader can read every value, not only its shape: such a text no editor may underline."""
    notes = Notes()
    block = read_block(text, "x.yaml", notes)
    return block is not None and read_shape(block, MODELS[kind][1], notes) is not None and not notes.findings


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
    if not reader_takes("account", text):
        assert not editor_takes("account", text)
    elif reads_all("account", text):
        assert editor_takes("account", text)


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
    if not reader_takes("account", text):
        assert not editor_takes("account", text)
    elif reads_all("account", text):
        assert editor_takes("account", text)


WHOLE = """name: Calidris alpina (Linnaeus, 1758)
vernacular: Dunlin
size: 17–21 cm length
diagnostics:
  - mark: black patch on the belly
    stage: breeding
    view: side
    photo: dunlin-breeding
    at: 52, 60
characters: {length: 17–21 cm}
similar:
  - {account: curlew, note: Larger.}
habitat: [mudflat]
places: [outer-sands]
seasons: {winter: August to April}
photos: [dunlin-winter]
hazards: none
sensitive: no
reviewed: {by: Invented, on: 2026-01-10}
"""
SLIPS = (
    ("no name", "name: Calidris alpina (Linnaeus, 1758)\n", ""),
    ("a genus without its capital", "Calidris alpina", "calidris alpina"),
    ("a key that there is not", "vernacular:", "vernaculer:"),
    ("a size without a figure", "17–21 cm length", "rather small"),
    ("a size without a unit", "17–21 cm length", "17–21"),
    ("a mark that is a list", "  - mark: black patch on the belly", "  - mark: [black patch]"),
    ("a stage that there is not", "stage: breeding", "stage: bredding"),
    ("a view that there is not", "view: side", "view: sideways on"),
    ("a photo that there is not", "photo: dunlin-breeding", "photo: dunlin-summer"),
    ("a pointer outside the picture", "at: 52, 60", "at: 52, 160"),
    ("half a pointer", "at: 52, 60", "at: 52"),
    ("a character that there is not", "{length:", "{lenght:"),
    ("a look-alike that has no account", "account: curlew", "account: curlieu"),
    ("a look-alike without its account", "{account: curlew, note: Larger.}", "{note: Larger.}"),
    ("a place that there is not", "[outer-sands]", "[inner-sands]"),
    ("a season of another stage", "{winter: August", "{wintry: August"),
    ("seasons as a list", "seasons: {winter: August to April}", "seasons: [August to April]"),
    ("a photo listed that there is not", "[dunlin-winter]", "[dunlin-in-winter]"),
    ("a hazard that there is not", "hazards: none", "hazards: [tide]"),
    ("secret by a word that says nothing", "sensitive: no", "sensitive: somewhat"),
    ("a day as it is said", "on: 2026-01-10", "on: 10 January 2026"),
    ("a day that no calendar has", "on: 2026-01-10", "on: 2026-13-10"),
    ("a review without its day", ", on: 2026-01-10}", "}"),
    ("a fact that is a mapping", "habitat: [mudflat]", "habitat: {kind: mudflat}"),
)


@pytest.fixture(scope="module")
def waders(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("schema") / "waders"
    shutil.copytree(ROOT / "tests" / "guides" / "estuary-waders", folder)
    return folder


def test_editors_refuse_what_check_refuses(waders: Path) -> None:
    guide = read_guide(waders).guide
    assert guide is not None
    schema = Draft202012Validator(make_schemas(list_known(guide))["account"])
    assert not list(schema.iter_errors(yaml.load(WHOLE, Loader=_EditorLoader)))
    file, missed = waders / "accounts" / "dunlin.md", []
    whole = file.read_text("utf-8")

    def told_of(text: str) -> set[str]:
        file.write_text(f"---\n{text}---\n", "utf-8")
        findings = open_session(waders).report.findings
        return {f.message for f in findings if f.at.file == "accounts/dunlin.md" and f.level is not Level.NOTE}

    known = told_of(WHOLE)
    for name, right, wrong in SLIPS:
        assert WHOLE.count(right) == 1, name
        text = WHOLE.replace(right, wrong)
        assert told_of(text) - known, f"check takes {name}"
        if schema.is_valid(yaml.load(text, Loader=_EditorLoader)):
            missed.append(name)
    file.write_text(whole, "utf-8")
    assert not missed, missed


def test_the_guides_pass_the_schemas_of_their_own_ids(waders: Path) -> None:
    for folder in (waders, ROOT / "sample_guide"):
        guide = read_guide(folder).guide
        assert guide is not None
        schemas = make_schemas(list_known(guide))
        for kind, pattern in FILES.items():
            for path in (p for p in folder.glob(pattern) if p.stem.count(".") == 0):
                errors = list(Draft202012Validator(schemas[kind]).iter_errors(yaml.load(facts(path), Loader=_EditorLoader)))
                assert not errors, f"{path}: {errors[0].message} at {errors[0].json_path}"


@pytest.mark.parametrize("kind", FILES)
def test_readers_of_older_yaml_take_the_sample_too(kind: str) -> None:
    # In YAML 1.1 `on` and `no` are true and false, 12:30 is a number in sixties and a date is a date.
    for path in (p for p in (ROOT / "sample_guide").glob(FILES[kind]) if p.stem.count(".") == 0):
        read = json.loads(json.dumps(yaml.safe_load(facts(path)), default=str))
        errors = list(Draft202012Validator(SCHEMAS[kind]).iter_errors(read))
        assert not errors, f"{path}: {errors[0].message} at {errors[0].json_path}"


def test_schemas_are_written_where_editors_find_them_and_only_once(waders: Path) -> None:
    guide = read_guide(waders).guide
    assert guide is not None
    before = {path: path.read_text("utf-8") for path in waders.rglob("*.yaml")}
    written = write_schemas(waders, guide)
    assert {".schemas/account.json", "plants.yaml" if (waders / "plants.yaml").exists() else "places.yaml"} <= set(written)
    for path, text in before.items():
        schema = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)\n", path.read_text("utf-8").removesuffix(text))
        if path.parent.name != "life" and schema:
            assert (path.parent / schema[1]).is_file(), path
    assert write_schemas(waders, guide) == ()
    # A new photo may be named at once: `check` writes the schemas anew where there is a new id, and only there.
    refresh_schemas(waders, guide)
    assert "godwits-again" not in (waders / ".schemas" / "account.json").read_text("utf-8")
    with (waders / "photos.yaml").open("a", encoding="utf-8") as photos:
        photos.write("\ngodwits-again: {credit: Invented, licence: CC-BY-4.0, alt: Two birds.}\n")
    newer = read_guide(waders).guide
    assert newer is not None
    refresh_schemas(waders, newer)
    assert "godwits-again" in (waders / ".schemas" / "account.json").read_text("utf-8")
    again = read_guide(waders)
    assert again.guide is not None
    assert not [finding for finding in again.findings if ".schemas" in finding.at.file]
