"""A stage or sex that is not scored is unknown: nothing is concluded from the other one's score. Invented."""

from __future__ import annotations

import pytest

from guidebuild.identify.diagnosis import diagnose
from guidebuild.identify.finder import finder_table, rank_taxa
from guidebuild.identify.key import make_key
from guidebuild.identify.readings import Scope, does_not_apply, reading_in
from guidebuild.identify.separation import find_separations
from tests.identify.invented import account, guide, shows, states

HORN = states("horn", yes="a horn", no="no horn")
LEG = states("legs", red="red legs", black="black legs")
HORNED = account("Horned", shows(HORN, "yes", sex="male"), shows(LEG, "red"))
PLAIN = account("Plain", shows(HORN, "no"), shows(LEG, "red"))
GUIDE = guide((HORN, LEG), HORNED, PLAIN)


def test_the_key_does_not_lead_a_hornless_female_to_the_other_species() -> None:
    assert make_key(GUIDE).couplets == ()
    (couplet,) = make_key(GUIDE, scope=Scope("adult", "male")).couplets
    assert {lead.taxa for lead in couplet.leads} == {("horned",), ("plain",)}
    assert make_key(GUIDE, scope=Scope("adult", "female")).couplets == ()


def test_the_finder_rules_no_species_out_by_the_sex_that_is_not_scored() -> None:
    table = finder_table(GUIDE)
    ticks = {number: 0b10 for number, character in enumerate(table.characters) if character.id == "horn"}
    assert {found.taxon for found in rank_taxa(table, ticks).left if not found.against} == {"horned", "plain"}


def test_the_comparison_says_of_which_sex_it_speaks() -> None:
    (found,) = find_separations(GUIDE, "horned", "plain")
    assert (found.scope, found.whole) == (Scope(sex="male"), False)


def test_the_diagnosis_of_the_species_does_not_rest_on_one_sex() -> None:
    assert diagnose(GUIDE, "horned").untold == ("plain",)
    assert diagnose(GUIDE, "horned", scope=Scope("adult", "male")).untold == ()


@pytest.mark.parametrize(("one", "other"), [("male", "female"), ("female", "male")])
def test_a_score_of_each_sex_speaks_of_every_specimen(one: str, other: str) -> None:
    both = (shows(HORN, "yes", sex=one), shows(HORN, "no", sex=other))
    read = reading_in(both, Scope("adult", ""))
    assert read is not None
    assert read.possible == {"yes", "no"}
    assert reading_in(both[:1], Scope("adult", "")) is None
    assert reading_in(both[:1], Scope("adult", other)) is None


@pytest.mark.parametrize("castes", ["queen worker drone", "queen worker male"])
def test_castes_together_are_all_there_are(castes: str) -> None:
    scores = tuple(shows(HORN, "no", sex=caste) for caste in castes.split())
    assert reading_in(scores, Scope("adult", "")) is not None
    assert reading_in(scores[:2], Scope("adult", "")) is None


def test_what_does_not_apply_to_one_sex_may_apply_to_the_other() -> None:
    scores = (shows(HORN, "-", sex="female"),)
    assert does_not_apply(scores, Scope("adult", "female"))
    assert not does_not_apply(scores, Scope("adult", ""))
    assert not does_not_apply(scores, Scope("adult", "male"))


def test_a_score_of_one_stage_says_nothing_of_another() -> None:
    scores = (shows(HORN, "yes", stage="adult"),)
    assert reading_in(scores, Scope("nymph")) is None
    assert reading_in(scores, Scope("")) is None
