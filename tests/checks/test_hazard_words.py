"""A hazard in plain words is answered with the cautions that are meant, not with the word that is spelt most alike."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.checks.life import HAZARD_WITHOUT_CAUTION
from guidebuild.guide.accounts import Stated
from guidebuild.reading import shipped_lists
from tests.checks.invented import guide, with_account

POISONOUS = "“toxic-plants”, “poisonous-fungi” or “poisonous-skin”"


@pytest.mark.parametrize(
    ("hazard", "suggested"),
    [
        ("poisonous", POISONOUS),
        ("toxic", POISONOUS),
        ("poison", POISONOUS),
        ("very-toxic-berries", POISONOUS),
        ("deadly", "“deadly-fungi” or “toxic-plants”"),
        ("venomous", "“venomous-animals”"),
        ("stinging hairs", "“irritant-hairs” or “stings”"),
        ("tiks", "“ticks”"),
    ],
)
def test_a_hazard_in_plain_words_is_answered_with_what_is_meant(hazard: str, suggested: str) -> None:
    made = replace(with_account(guide(), "red-bug", hazards=Stated((hazard,), said=True)), cautions=shipped_lists.cautions())
    (finding,) = HAZARD_WITHOUT_CAUTION.run(made)
    assert str(finding) == f"accounts/red-bug.md:27: error: The hazard “{hazard}” has no caution. Did you mean {suggested}?"
