"""Facts in words, for slots."""

from __future__ import annotations

from dataclasses import replace

from guidebuild.guide.accounts import HostUse, StageSeason, Stated
from guidebuild.guide.guide import Guide
from guidebuild.guide.measures import Measure
from guidebuild.guide.names import ScientificName
from guidebuild.guide.records import Sensitivity
from guidebuild.guide.slots import slot_names
from guidebuild.guide.text.inline import Inline
from guidebuild.views.pieces.facts import name_habitats, starred, tell_facts
from tests.as_published import with_account as published_with
from tests.checks.invented import JUNE, guide, with_account

SECRET = Sensitivity(2, "One colony.")


def told(base: Guide) -> dict[str, str]:
    return dict(tell_facts(*published_with(base, base.accounts["red-bug"])))


def test_every_fact_of_an_account_fills_a_slot() -> None:
    assert told(guide()) == {
        "name": "Red Bug",
        "full name": "the Red Bug",
        "scientific name": "*Inventa rubra*",
        "family": "Inventidae",
        "size": "6–9 mm",
        "host plants": "tall herb",
        "habitat": "bank",
        "places": "Long Bank",
        "similar species": "the Pale Bug",
        "guide": "An invented guide",
        "season of egg": "June",
        "season of adult": "June",
        "egg": "Small.",
        "adult": "Large.",
        "mark 1": "dark spot on the back",
        "difference from pale-bug": "Look at the spot on the back: the Red Bug has a dark spot; the Pale Bug has no spot.",
    }


def test_what_can_be_filled_is_what_the_check_knows() -> None:
    base = guide()
    account = base.accounts["red-bug"]
    assert set(told(base)) <= set(slot_names(account, base.stage_set(account).ids))


def test_a_changed_fact_changes_its_slot() -> None:
    plants = Stated((HostUse("tall-herb"), HostUse("unlisted")), said=True)
    changed = with_account(guide(), "red-bug", size=Measure("10–12 mm wingspan", 10, 12, what="wingspan"), host_plants=plants)
    assert told(changed)["size"] == "10–12 mm"
    assert told(changed)["host plants"] == "tall herb and unlisted"


def test_a_season_of_one_place_is_not_told_as_the_region_s() -> None:
    changed = with_account(guide(), "red-bug", seasons=(StageSeason("adult", JUNE, place="long-bank"),))
    assert "season of adult" not in told(changed)


def test_a_sensitive_species_is_told_by_the_wider_area() -> None:
    changed = with_account(guide(), "red-bug", sensitivity=SECRET, habitat=(Inline("bank"), Inline("long-bank")))
    assert told(changed)["places"] == "Invented Vale"
    assert told(changed)["habitat"] == "bank and Invented Vale"


def test_a_secret_place_is_told_by_the_wider_area_and_not_at_all_without_one() -> None:
    base = guide()
    secret = replace(base.places["long-bank"], sensitivity=SECRET)
    assert told(replace(base, places={"long-bank": secret}))["places"] == "Invented Vale"
    assert "places" not in told(replace(base, places={"long-bank": replace(secret, area="")}))


def test_stars_stand_round_what_the_codes_put_in_italics() -> None:
    assert starred(ScientificName("Inventa rubra", "Inventa", "rubra")) == "*Inventa rubra*"
    ranked = ScientificName("Rosa canina var. alba", "Rosa", "canina", rank="var.", infraspecific="alba")
    assert starred(ranked) == "*Rosa canina* var. *alba*"
    assert starred(ScientificName("x", "Inventa", "rubra", subgenus="Alta")) == "*Inventa (Alta) rubra*"


def test_a_habitat_that_is_a_place_is_named_once() -> None:
    changed = with_account(guide(), "red-bug", habitat=(Inline("bank"), Inline("long-bank"), Inline("Long Bank")))
    assert told(changed)["habitat"] == "bank and Long Bank"
    assert [h.words for h in name_habitats(changed, changed.accounts["red-bug"])] == ["bank", "Long Bank"]
