"""What stands is known to have been made while something else was secret. The guide is invented."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from guidebuild.guide.guide import Guide
from guidebuild.guide.records import OPEN, Sensitivity
from guidebuild.guide.sightings import SeenSpot
from guidebuild.press.leak_check import digest_hidden, has_other_secrets
from tests.fieldwork.invented import BIRCH, PARENT, PLACES, RARE, guide, tally

NOW = guide()


def is_other(folder: Path, then: Guide, now: Guide) -> bool:
    state = folder / ".guidebuild/published-secrets-looked-for"
    state.parent.mkdir(exist_ok=True)
    state.write_text(f"look\nsecrets\n{digest_hidden(then)}", encoding="utf-8")
    return has_other_secrets(now, folder, folder / "published")


def test_where_nothing_stands_nothing_was_secret(tmp_path: Path) -> None:
    assert not has_other_secrets(NOW, tmp_path, tmp_path / "published")


def test_a_species_or_place_that_becomes_secret_or_is_seen_elsewhere_is_noticed(tmp_path: Path) -> None:
    assert not is_other(tmp_path, NOW, guide())
    assert is_other(tmp_path, guide(PARENT, BIRCH, replace(RARE, sensitivity=OPEN)), NOW)
    assert is_other(tmp_path, guide(PARENT, BIRCH, replace(RARE, places=())), NOW)
    assert is_other(tmp_path, guide(PARENT, BIRCH, replace(RARE, sensitivity=Sensitivity(3))), NOW)
    assert is_other(tmp_path, guide(places={**PLACES, "weir-pool": replace(PLACES["weir-pool"], sensitivity=OPEN)}), NOW)
    seen = replace(tally("rare-bug", "adult", "", {"2025-05-14": 1}), spots=(SeenSpot("weir pool", 51.1, -1.2),))
    assert is_other(tmp_path, NOW, guide(sightings=(seen,)))
    assert is_other(tmp_path, NOW, replace(guide(PARENT, BIRCH), unpublished=(replace(RARE, id="other-bug"),)))


def test_what_is_written_of_an_open_place_or_species_is_no_secret(tmp_path: Path) -> None:
    assert not is_other(tmp_path, NOW, guide(replace(PARENT, places=()), BIRCH, RARE))
    assert not is_other(tmp_path, NOW, guide(places={**PLACES, "meadow": replace(PLACES["meadow"], name="Short Meadow")}))
    assert not is_other(tmp_path, NOW, replace(guide(PARENT, BIRCH), unpublished=(RARE,)))
