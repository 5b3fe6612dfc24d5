"""What is left of a guide where only its telling records are gone through, and by the types of their fields, is what a slow walk leaves."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork import unsaid
from guidebuild.fieldwork.decisions import Decisions
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.accounts import HostUse, Stated
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Episode, Plant, Source, Term
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.whole import read_guide
from tests.checks.test_every_text import FILES, TYPED, write
from tests.fieldwork.invented import BIRCH, PARENT, RARE, guide

TELLING = (
    *("Weir Pool", "weir-pool", "by the *Weir Pool*", "Fine. At the Weir Pool. Fine"),
    *("fine", "the bank", "qplacename", "[x](place:pool)"),
)
SHY = "---\nname: Rana temporaria\nvernacular: qfrog\nsensitive: {category: high, reason: qwhy}\nstatus: qrare\n---\n"
FILES = FILES | {"accounts/frog.md": SHY}
TYPED = (*TYPED, ("accounts/frog.md", "qwhy"), ("accounts/frog.md", "qrare"))


def walk_slowly(guide: Guide, monkeypatch: pytest.MonkeyPatch) -> Published:
    """The published guide with every field of every record gone through, whatever its type."""
    with monkeypatch.context() as slow:
        slow.setattr(Decisions, "must_clean", lambda made, record, held: bool(held.secrets))
        slow.setattr(unsaid, "_fields_of", all_fields_of)
        return make_published(guide)


def all_fields_of(kind: type) -> tuple[str, ...]:
    return tuple(f.name for f in fields(kind)) if is_dataclass(kind) and kind is not At else ()


def records_of(made: Published) -> dict[str, object]:
    return {f.name: value if not hasattr(value := getattr(made, f.name), "items") else dict(value) for f in fields(made)}


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.dictionaries(st.sampled_from(TYPED), st.sampled_from(TELLING), min_size=1, max_size=6))
def test_a_guide_is_cleaned_as_by_a_slow_walk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, planted: dict[tuple[str, str], str]) -> None:
    files = dict(FILES)
    for (file, word), text in planted.items():
        files[file] = files[file].replace(word, f'"{text}"' if text.startswith("[") and not file.startswith("accounts/toad.md") else text)
    held = read_guide(write(tmp_path, files)).guide
    assert held is not None
    assert records_of(make_published(held)) == records_of(walk_slowly(held, monkeypatch))


def test_each_planted_text_is_cleaned_as_by_a_slow_walk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """All fields at once, so that each is surely planted."""
    files = dict(FILES)
    for file, word in TYPED:
        if word not in ("qaddress", "qsite", "qtitle", "qregion", "qplacearea"):
            files[file] = files[file].replace(word, "Weir Pool")
    held = read_guide(write(tmp_path, files)).guide
    assert held is not None
    made = records_of(make_published(held))
    assert made == records_of(walk_slowly(held, monkeypatch))
    assert made["accounts"]["toad"].status.text == ""  # type: ignore[index]


def test_a_record_whose_id_tells_is_left_out_with_all_that_points_at_it(monkeypatch: pytest.MonkeyPatch) -> None:
    uses = Stated((HostUse("weir-pool-willow"), HostUse("birch")), said=True)
    cited = replace(PARENT, sources=("weir-pool-notes", "hedge-notes"), host_plants=uses)
    held = guide(
        cited,
        BIRCH,
        RARE,
        sources={i: Source(i, "Nobody 2025") for i in cited.sources},
        plants={use.plant: Plant(use.plant, "Willow") for use in uses},
        terms={"weir-pool-mud": Term("weir-pool-mud", "mud", Inline("Wet soil."))},
        episodes={"weir-pool-film": Episode("weir-pool-film", "Film", "parent-bug", "", None, ())},
    )
    made = make_published(held)
    assert (set(made.sources), set(made.plants), dict(made.terms), dict(made.episodes)) == ({"hedge-notes"}, {"birch"}, {}, {})
    assert made.accounts["parent-bug"].sources == ("hedge-notes",)
    assert [use.plant for use in made.accounts["parent-bug"].host_plants] == ["birch"]
    assert records_of(made) == records_of(walk_slowly(held, monkeypatch))
