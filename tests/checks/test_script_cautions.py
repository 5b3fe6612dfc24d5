"""A script in its author's words warns of what hurts and of what it is taken for, or a finding says which words to add."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.checks.registry import check_guide
from guidebuild.guide.accounts import Stated
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Caution, Guide
from guidebuild.guide.records import Episode, Section
from guidebuild.reading.whole import read_guide
from tests.guides.whole_guides import HERE


def with_script(name: str, account: str, text: str, heading: str = "Opening", language: str = "en") -> Guide:
    guide = read_guide(HERE / name).guide
    assert guide is not None
    where = At(f"episodes/{account}-full.md", 7)
    episode = Episode("own", "Own", account, "full", None, (Section(heading, text, where),), at=At(where.file, 1))
    return replace(guide, episodes={"own": episode}, settings=replace(guide.settings, languages=(language,)))


def found(guide: Guide) -> list[str]:
    return [f"{f.at}: {f.level.value}: {f.message} {f.mend}" for f in check_guide(guide).findings if f.code == "script-without-caution"]


def test_a_script_that_is_silent_of_a_hazard_is_told_the_words_to_add() -> None:
    assert found(with_script("spring-flowers", "lily-of-the-valley", "White bells, and a scent.")) == [
        "episodes/lily-of-the-valley-full.md:7: warning: Lily of the Valley has the hazard “toxic-plants”, and this script says nothing "
        "of it. Add a line, such as “It is poisonous. Do not taste it, and wash hands; if any was swallowed, call the poison centre.”"
    ]


@pytest.mark.parametrize(
    ("name", "account", "text", "heading", "language"),
    [
        ("spring-flowers", "lily-of-the-valley", "Every part of it is poisonous.", "Opening", "en"),
        ("spring-flowers", "lily-of-the-valley", "Look, and leave it.", "Toxic bells", "en"),
        ("spring-flowers", "lily-of-the-valley", "White bells. Take care: {hazards}.", "Opening", "en"),
        ("spring-flowers", "lily-of-the-valley", "Toda la planta es venenosa.", "Al principio", "es"),
        ("wood-fungi", "sheathed-woodtuft", "Do not eat it. Its double is deadly: {difference from funeral-bell}.", "Opening", "en"),
        (
            "wood-fungi",
            "sheathed-woodtuft",
            "Never eat it: the Funeral Bell, which kills, grows here too, and it is lethal.",
            "Opening",
            "en",
        ),
        ("southern-frogs", "growling-grass-frog", "It is protected: nobody touches it.", "Opening", "en"),
        ("southern-frogs", "pobblebonk", "One bonk in the night.", "Opening", "en"),
    ],
)
def test_a_script_that_warns_is_left_alone(name: str, account: str, text: str, heading: str, language: str) -> None:
    assert found(with_script(name, account, text, heading, language)) == []


def test_the_harmless_one_must_name_what_it_is_taken_for() -> None:
    for text in ("It smells of garlic.", "It smells of garlic, and lily of the valley does not.", "Others here are poisonous."):
        told = found(with_script("spring-flowers", "ramsons", text))
        assert "Ramsons may be taken for Lily of the Valley, which is poisonous, and this script does not warn of it." in told[0]
        assert "Add a line, such as “It may be taken for Lily of the Valley, which is poisonous. Do not taste it" in told[0]
        assert len(told) == 2  # and for Lords-and-Ladies, once, though it hurts in two ways


def test_a_hazard_without_a_danger_word_gets_its_advice() -> None:
    (told,) = found(with_script("southern-frogs", "growling-grass-frog", "It sunbathes."))
    assert told.endswith("Add a line, such as “Look and do not touch; anything more may need a licence.”")


def test_a_script_that_says_the_caution_word_for_word_has_said_it() -> None:
    """Who says what to do has warned, without naming the hazard; half of that sentence does not."""
    guide = with_script("southern-frogs", "growling-grass-frog", "One bonk in the night.")
    account = guide.accounts["growling-grass-frog"]
    own = Caution(
        "sluice", "Sluices", "Stay behind the red rail, and never stand on a gate. Ask the keeper.", short="Stay behind the rail."
    )
    guide = replace(
        guide,
        cautions={**guide.cautions, "sluice": own},
        accounts={**guide.accounts, account.id: replace(account, hazards=Stated(("sluice",), said=True))},
    )

    def found_with(text: str) -> list[str]:
        episode = guide.episodes["own"]
        section = replace(episode.sections[0], text=text)
        return found(replace(guide, episodes={"own": replace(episode, sections=(section,))}))

    assert len(found_with("It sits by the water.")) == 1
    assert found_with("It sits by the water. Stay behind the red\nrail, and never stand on a gate.") == []
    assert found_with("Stay behind the rail.") == []
    assert len(found_with("It sits behind the red rail.")) == 1
