"""Every value of the sample is changed in turn: its own lines differ and no other, and nothing else is read from the file."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from guidebuild.desk.editing.change_text import change_text, read_values
from guidebuild.desk.editing.wanted import SetValue, value_at
from guidebuild.guide.findings import Level
from guidebuild.guide.guide import Guide
from guidebuild.reading.block import Plain
from guidebuild.reading.one_file import find_faults
from guidebuild.reading.whole import read_guide
from tests.conftest import SAMPLE
from tests.desk.editing.line_look import lines_below, unlike_lines

FILES = sorted(
    path.relative_to(SAMPLE).as_posix()
    for pattern in ("*.yaml", "walks/*.yaml", "accounts/*.md", "episodes/*.md")
    for path in SAMPLE.glob(pattern)
)


NEW = ["Zonked", "no", "12:30", "one: two # three", "- [a, {b}", "“quoted”", "it's", 'say "so"', "007", "~"]


def all_paths(value: Plain, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    if path:
        yield path
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, below in inner:
        yield from all_paths(below, (*path, step))


def text_paths(values: dict[str, Plain]) -> list[tuple[str | int, ...]]:
    return [path for path in all_paths(values) if isinstance(value_at(values, path), str)]


def without(values: Plain, path: tuple[str | int, ...]) -> Plain:
    """The values with a sign in place of the one at a path: written apart from the tool's own way to change data."""
    if not path:
        return "…"
    if isinstance(values, dict):
        return {key: without(inner, path[1:]) if key == path[0] else inner for key, inner in values.items()}
    if isinstance(values, list):
        return [without(inner, path[1:]) if n == path[0] else inner for n, inner in enumerate(values)]
    return values


@pytest.fixture(scope="module")
def sample() -> Guide:
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    return guide


def test_all_files_of_the_sample_are_tried() -> None:
    assert len(FILES) > 25
    assert sum(len(text_paths(read_values(file, (SAMPLE / file).read_bytes()))) for file in FILES) > 2000


@pytest.mark.parametrize("file", FILES)
@pytest.mark.parametrize("new", NEW)
def test_only_the_line_of_a_text_changes(file: str, new: str) -> None:
    raw = (SAMPLE / file).read_bytes()
    values = read_values(file, raw)
    for path in text_paths(values)[NEW.index(new) :: len(NEW)]:  # each value once, whichever text it is
        changed = change_text(file, raw, [SetValue(path, new)])
        after = read_values(file, changed)
        assert value_at(after, path) == new, path
        assert without(after, path) == without(values, path), path
        first, end, end_after = unlike_lines(raw, changed)
        if value_at(values, path) != new and not str(path[0]).startswith("## "):
            assert end - first == end_after - first == 1, path


@pytest.mark.parametrize("file", FILES)
def test_a_value_goes_with_its_own_lines_alone(file: str) -> None:
    raw = (SAMPLE / file).read_bytes()
    values = read_values(file, raw)
    lines = raw.decode().splitlines()
    for path in all_paths(values):
        changed = change_text(file, raw, [SetValue(path, None)])
        after = changed.decode().splitlines()
        if str(path[0]).startswith("## "):
            gone = lines[: next(n for n, line in enumerate(lines) if line == path[0])]
            assert after[: len(gone)] == gone
            continue
        first, end, end_after = unlike_lines(raw, changed)
        if lines[first].strip().startswith("- ") and end_after - first == 1:
            assert end - first <= lines_below(raw.decode(), first) - first + 1, path  # the next key moved up behind the hyphen
        elif end_after == first:
            assert end <= lines_below(raw.decode(), first), path
        else:
            assert end - first == end_after - first == 1, path  # an item of a list between brackets


def valid_values(guide: Guide, values: dict[str, Plain], path: tuple[str | int, ...], old: str) -> Iterator[str]:
    """Other values that may stand there: for words of a list, some that stand elsewhere; for others, the old one with more in it."""
    yield f"{old} too"
    yield from dict.fromkeys(str(value_at(values, other)) for other in text_paths(values) if other[-1] == path[-1])
    yield from (
        "no",
        "yes",
        "2026-11-02",
        "7–11 mm",
        "July – August",
        "12, 34",
        "40 min",
        "14:30",
        "nymph",
        "female",
        "upperside",
        "hedgerow",
        "CC0-1.0",
    )
    yield from (*guide.accounts, *guide.photos, *guide.places, *guide.plants, *guide.sources, "https://larkfold.example/other")
    yield from (state.id for character in guide.characters.values() for state in character.states)
    yield from (
        "3 m",
        "2:00–3:00",
        "mm",
        "close up",
        "in the hand",
        "at a distance",
        "30, 40 – 50, 60",
        "51.1, -1.2",
        "51.40, -1.30, 51.56, -1.10",
        "note",
        "90",
        "cm",
    )
    yield from (
        "range",
        "ordered",
        "states",
        "true-bug",
        "short edge",
        "larch",
        "north",
        "south",
        "a5",
        "month first",
        "not here",
        "Europe/Madrid",
        "fr",
        "sketch",
        "leaflet-a4",
        "ticks",
        "high",
        "Adultus novus",
    )


@pytest.mark.parametrize("file", FILES)
def test_another_valid_value_changes_nothing_else_of_what_is_read(file: str, sample: Guide) -> None:
    raw = (SAMPLE / file).read_bytes()
    values = read_values(file, raw)
    before = [finding for finding in find_faults(file, raw, sample) if finding.level is Level.ERROR]
    assert before == []
    tried = 0
    for path in text_paths(values)[:: 5 if len(raw) < 10_000 else 23]:
        old = str(value_at(values, path))
        for new in valid_values(sample, values, path, old):
            changed = change_text(file, raw, [SetValue(path, new)])
            if new != old and not any(finding.level is Level.ERROR for finding in find_faults(file, changed, sample)):
                tried += 1
                assert value_at(read_values(file, changed), path) == new
                break
        else:
            pytest.fail(f"no other value is taken for {path}")
    assert tried > 0


def test_the_whole_guide_reads_as_before_but_for_one_value(tmp_path: Path, sample: Guide) -> None:
    for name in FILES:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes((SAMPLE / name).read_bytes())
    first = read_guide(tmp_path, as_of=sample.as_of).guide
    file = "accounts/parent-bug.md"
    (tmp_path / file).write_bytes(change_text(file, (tmp_path / file).read_bytes(), [SetValue(("diagnostics", 1, "view"), "side")]))
    then = read_guide(tmp_path, as_of=sample.as_of).guide
    assert first is not None
    assert then is not None
    assert then.accounts["parent-bug"].diagnostics[1].view == "side"
    others = {name: account for name, account in then.accounts.items() if name != "parent-bug"}
    assert others == {name: account for name, account in first.accounts.items() if name != "parent-bug"}
    for kind in ("settings", "plants", "places", "characters", "terms", "sources", "photos", "walks", "episodes"):
        assert getattr(then, kind) == getattr(first, kind), kind
    one, two = first.accounts["parent-bug"], then.accounts["parent-bug"]
    assert (two.sections, two.seasons, two.scores, two.diagnostics[0]) == (one.sections, one.seasons, one.scores, one.diagnostics[0])
