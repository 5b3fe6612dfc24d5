"""The vocabularies that travel with the tool."""

from __future__ import annotations

from guidebuild.reading import shipped_lists


def test_life_stages_have_words_and_a_stage_to_look_for() -> None:
    sets = shipped_lists.stage_sets()
    assert {"true-bug", "butterfly", "flowering-plant", "fungus", "bird"} <= set(sets)
    for stages in sets.values():
        assert stages.sought
        assert set(stages.sought) <= set(stages.ids)
        assert all(words for _, words in stages.stages)


def test_every_caution_warns_and_defers_to_others() -> None:
    cautions = shipped_lists.cautions()
    needed = {
        "irritant-hairs", "stings", "ticks", "road", "water", "tides", "toxic-plants", "spines-and-thorns",
        "private-land", "protected-species", "not-for-eating", "heat", "lightning",
    }  # fmt: skip
    assert needed <= set(cautions)
    for caution in cautions.values():
        assert caution.title
        assert caution.text.endswith(".")
        assert caution.local.endswith(".")


def test_words_for_views_and_parts_have_meanings() -> None:
    for name, word in (("views", "upperside"), ("parts", "scutellum")):
        words = shipped_lists.words(name)
        assert words[word]
        assert all(words.values())


def test_lightning_rule_is_half_an_hour() -> None:
    # US National Weather Service, as reprinted: wait 30 minutes after the last thunder.
    assert "half an hour" in shipped_lists.cautions()["lightning"].text
