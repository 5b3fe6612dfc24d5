"""The sample guide: its key runs out every species, and two that coincide are named by the checks."""

from __future__ import annotations

import shutil
from itertools import combinations
from pathlib import Path

import pytest

from guidebuild.checks.registry import check_guide
from guidebuild.guide.characters import Ease
from guidebuild.guide.guide import Guide
from guidebuild.identify.diagnosis import diagnose
from guidebuild.identify.key import make_key
from guidebuild.identify.look_alikes import similar_pairs
from guidebuild.identify.sentences import tell_apart_sentence
from guidebuild.identify.separation import best_separating, find_separations
from guidebuild.reading.whole import read_guide

SAMPLE = Path(__file__).parents[2] / "sample_guide"


@pytest.fixture(scope="module")
def sample() -> Guide:
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    return guide


@pytest.mark.parametrize("dichotomous", [True, False])
def test_the_key_runs_out_every_species(sample: Guide, dichotomous: bool) -> None:
    key = make_key(sample, dichotomous=dichotomous)
    ends = [lead.taxa for couplet in key.couplets for lead in couplet.leads if lead.to is None]
    assert {taxa for taxa in ends if len(taxa) > 1} == set()
    assert {t for taxa in ends for t in taxa} == set(sample.accounts)
    assert key.left_out == ()
    assert key.groups == ()


def test_every_species_has_a_diagnosis_against_the_whole_guide(sample: Guide) -> None:
    for taxon in sample.accounts:
        found = diagnose(sample, taxon)
        assert found.exact
        assert found.untold == ()
        told = {t.character.id for t in found.sets[0]}
        for other in sample.accounts:
            assert other == taxon or told & {s.character.id for s in find_separations(sample, taxon, other)}


def test_every_similar_pair_can_be_told_apart_on_a_walk_and_said_aloud(sample: Guide) -> None:
    pairs = similar_pairs(sample)
    assert len(pairs) >= 10
    for a, b in pairs:
        assert best_separating(sample, a, b)[0].ease <= Ease.CLOSE_UP
        said = tell_apart_sentence(sample, a, b)
        assert sample.accounts[a].vernacular in said
        assert sample.accounts[b].vernacular in said


def test_no_two_species_coincide(sample: Guide) -> None:
    assert [pair for pair in combinations(sample.accounts, 2) if not find_separations(sample, *pair)] == []


def test_two_species_made_to_coincide_are_named(tmp_path: Path) -> None:
    copy = tmp_path / "guide"
    shutil.copytree(SAMPLE, copy, ignore=shutil.ignore_patterns("published", "drawing"))
    account = copy / "accounts" / "juniper-shieldbug.md"
    text = account.read_text("utf-8")
    assert "  wing pattern: pink-curves\n" in text
    account.write_text(text.replace("  wing pattern: pink-curves\n", "  wing pattern: red-bars\n"), "utf-8")
    guide = read_guide(copy).guide
    assert guide is not None
    found = [f for f in check_guide(guide).findings if f.code == "nothing-separates"]
    assert [f.message for f in found] == ["Nothing under `characters:` tells Birch Shieldbug from Juniper Shieldbug."]
    assert {f.level.value for f in found} == {"error"}
    (group,) = make_key(guide).groups
    assert group.taxa == ("birch-shieldbug", "juniper-shieldbug")
