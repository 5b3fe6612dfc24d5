"""Whatever a file holds, reading answers with findings and never raises."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

import yaml
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from guidebuild.guide.findings import Finding
from guidebuild.guide.records import Section
from guidebuild.reading.fence import split_fence
from guidebuild.reading.notes import Notes
from guidebuild.reading.prose import find_dangers
from guidebuild.reading.whole import read_guide
from guidebuild.reading.yaml_text import read_block

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "sample_guide"
LENIENT = settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
FEW = settings(LENIENT, max_examples=60)
FEWEST = settings(LENIENT, max_examples=20)
YAML_SIGNS = st.text(alphabet="ab:-[]{}&*!|>'\"#%@`,? \n\t\u00a0“”<~", max_size=120)


def read_with(file: str, raw: bytes) -> tuple[Finding, ...]:
    with tempfile.TemporaryDirectory() as here:
        folder = Path(here)
        (folder / "guide.yaml").write_text("title: Toads\n", encoding="utf-8")
        path = folder / file
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(raw)
        return read_guide(folder).findings


@LENIENT
@given(YAML_SIGNS)
@example("? ")
@example("a: &a [*a]")
@example("<<: *x")
@example("[" * 5_000)
@example("- " * 5_000)
@example("{a: " * 5_000)
@example("a:\n" + "".join(f"{' ' * n}b:\n" for n in range(1, 300)))
@example("%YAML 9.9\n---\na: b")
@example("--- a\n--- b\n")
@example("a: !<!> b")
def test_any_yaml_is_read_or_told(text: str) -> None:
    notes = Notes()
    block = read_block(text, "x.yaml", notes)
    assert block is not None or notes.findings


@FEW
@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_told(raw: bytes) -> None:
    for file in ("accounts/x.md", "plants.yaml", "guide.yaml"):
        read_with(file, raw)


@FEW
@given(st.text(max_size=200))
def test_any_text_in_a_facts_block_is_read_or_told(text: str) -> None:
    read_with("accounts/x.md", f"---\nname: Bufo bufo\n{text}\n---\n".encode("utf-8", "surrogatepass"))


@FEW
@given(st.data())
def test_files_cut_short_are_read_or_told(data: st.DataObject) -> None:
    path = data.draw(st.sampled_from(sorted([*SAMPLE.glob("*.yaml"), *SAMPLE.glob("accounts/*.md"), *SAMPLE.glob("walks/*.yaml")])))
    raw = path.read_bytes()
    read_with(path.relative_to(SAMPLE).as_posix(), raw[: data.draw(st.integers(0, len(raw)))])


def any_values() -> st.SearchStrategy[Any]:
    words = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12)
    return st.recursive(words, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3))


@FEWEST
@given(st.data())
def test_wrong_types_are_told_with_a_place(data: st.DataObject) -> None:
    path = data.draw(st.sampled_from(sorted([*SAMPLE.glob("*.yaml"), *SAMPLE.glob("accounts/*bug.md")])))
    parts = split_fence(path.read_text("utf-8"), path.name, Notes()) if path.suffix == ".md" else None
    said = yaml.load(parts.facts if parts else path.read_text("utf-8"), Loader=yaml.CBaseLoader)
    key = data.draw(st.sampled_from(sorted(said)))
    said[key] = data.draw(any_values())
    text = yaml.safe_dump(said, allow_unicode=True)
    findings = read_with(path.relative_to(SAMPLE).as_posix(), (f"---\n{text}---\n" if parts else text).encode("utf-8", "surrogatepass"))
    assert all(finding.at.line for finding in findings)


@LENIENT
@given(st.text(alphabet="ab*<>|`~-5. \n[](){}^:'\"", max_size=120))
def test_any_prose_is_looked_through(text: str) -> None:
    list(find_dangers(Section("In brief", text)))
