"""What a group's stages are called, alone and in sentences; the words are read by a naturalist (common practice, no source)."""

from __future__ import annotations

import pytest

from guidebuild.guide.life_stages import StageSet
from guidebuild.reading.shipped_lists import stage_sets

OWN = StageSet("own", "Own", (("pupa", "pupa"), ("winter", "winter plumage"), ("egg", "in the egg"), ("berry", "berry"), ("ivy", "bush")))


@pytest.mark.parametrize(
    ("stage", "said", "scope", "several"),
    [
        ("pupa", "pupa", "in the pupa", "pupas"),
        ("winter", "in winter plumage", "in winter plumage", "animals in winter plumage"),
        ("egg", "in the egg", "in the egg", "animals in the egg"),
        ("berry", "berry", "in the berry", "berries"),
        ("ivy", "bush", "in the bush", "bushes"),
        ("unknown", "unknown", "in the unknown", "unknowns"),
    ],
)
def test_a_guides_own_stages_need_only_words(stage: str, said: str, scope: str, several: str) -> None:
    assert (OWN.said(stage), OWN.at_scope(stage), OWN.several(stage)) == (said, scope, several)


@pytest.mark.parametrize(
    ("group", "stage", "said", "scope", "several"),
    [
        ("true-bug", "nymph", "nymph", "in the nymph", "nymphs"),
        ("beetle", "larva", "larva", "in the larva", "larvae"),
        ("butterfly", "pupa", "chrysalis", "in the chrysalis", "chrysalises"),
        ("amphibian", "egg", "spawn", "for the spawn", "spawn"),
        ("amphibian", "juvenile", "young ones", "in young ones", "young ones"),
        ("bird", "juvenile", "juvenile", "in juveniles", "juveniles"),
        ("flowering-plant", "flower", "in flower", "in flower", "plants in flower"),
        ("flowering-plant", "seed", "in seed", "in seed", "plants in seed"),
        ("tree", "bare", "when bare", "when bare", "bare trees"),
        ("moss", "capsule", "with capsules", "with capsules", "mosses with capsules"),
        ("fungus", "fresh", "fresh fruit body", "when fresh", "fresh fruit bodies"),
        ("lichen", "fruit", "with fruit bodies", "with fruit bodies", "lichens with fruit bodies"),
        ("seaweed", "frond", "full-grown frond", "on the full-grown frond", "full-grown fronds"),
    ],
)
def test_a_groups_stages_are_said_as_its_friends_say_them(group: str, stage: str, said: str, scope: str, several: str) -> None:
    found = stage_sets()[group]
    assert (found.said(stage), found.at_scope(stage), found.several(stage)) == (said, scope, several)


def test_a_sex_is_said_with_its_stage() -> None:
    assert OWN.at_scope("pupa", "male") == "in the male pupa"
    assert OWN.at_scope("winter", "female") == "in the female in winter plumage"
    assert OWN.at_scope("", "male") == "in the male"
    assert stage_sets()["bird"].at_scope("juvenile", "male") == "in the juvenile male"
    assert OWN.at_scope("") == ""


def test_every_group_says_what_lives_and_in_which_kingdom() -> None:
    for group, found in stage_sets().items():
        assert found.kingdom in ("Animalia", "Plantae", "Fungi") or group == "seaweed"  # brown ones are Chromista, red ones Plantae
        assert not (found.kingdom == "Plantae" and found.asks_food)
        assert found.kingdom == "Animalia" or not found.pots


def test_no_group_takes_another_for_an_animal() -> None:
    for found in stage_sets().values():
        told = " ".join((*(found.at_scope(i) for i in found.ids), *(found.several(i) for i in found.ids), found.living_thing))
        assert "in the in" not in told
        assert found.kingdom == "Animalia" or "animal" not in told
