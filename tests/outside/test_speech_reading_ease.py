"""Reading ease against the published worked examples and against textstat 0.7.7."""

import re

import pytest

from guidebuild.speech.reading_ease import measure_ease, score_ease, score_grade
from guidebuild.speech.syllables import look_up_syllables
from tests.speech.pieces_of_speech import PASSAGES

PLATYPUS = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
MAT = "The cat sat on the mat."
PASSAGE = "This sentence, taken as a reading passage unto itself, is being used to prove a point."

# Worked examples of the Wikipedia article on the Flesch–Kincaid tests (published as 37.5/11.3, 116, 69), exact values computed
# with the formulas of Flesch 1948 and Kincaid et al. 1975.
WORKED = [(PLATYPUS, 13, 24, 37.455, 11.265), (MAT, 6, 6, 116.145, -1.45), (PASSAGE, 16, 23, 68.983, 7.613)]


@pytest.mark.parametrize(("text", "words", "syllables", "ease", "grade"), WORKED)
@pytest.mark.parametrize("dictionary", [True, False])
def test_published_worked_examples_come_out_exactly(text, words, syllables, ease, grade, dictionary):
    found = measure_ease(text, dictionary=dictionary)
    assert (found.words, found.syllables, found.sentences) == (words, syllables, 1)
    assert found.ease == pytest.approx(ease, abs=0.001)
    assert found.grade == pytest.approx(grade, abs=0.001)


def test_the_formulas_have_the_published_bounds():
    # One word of one syllable: the highest ease and the lowest grade there are.
    assert score_ease(1, 1, 1) == pytest.approx(121.22)
    assert score_grade(1, 1, 1) == pytest.approx(-3.40)


def listed(passage):
    """Whether every word is in the dictionary: textstat 0.7.7 stops at a word that is not (seen when it was run)."""
    found = re.findall(r"[^\s.,;:!?]+", passage.lower())
    return all(look_up_syllables(word) is not None for word in found)


def test_scores_agree_with_textstat():
    textstat = pytest.importorskip("textstat")
    passages = [passage for passage in PASSAGES if listed(passage)]
    assert len(passages) >= 8
    for passage in passages:
        compare(passage, textstat)


def compare(passage, textstat):
    found = measure_ease(passage)
    # textstat takes the dictionary's first pronunciation, we the one with fewer syllables: a few points at most.
    assert found.ease == pytest.approx(textstat.flesch_reading_ease(passage), abs=6)
    assert found.grade == pytest.approx(textstat.flesch_kincaid_grade(passage), abs=1)


@pytest.mark.parametrize(("text", "words", "syllables", "ease", "grade"), WORKED)
def test_textstat_gives_the_worked_examples_too(text, words, syllables, ease, grade):
    textstat = pytest.importorskip("textstat")
    assert textstat.flesch_reading_ease(text) == pytest.approx(ease, abs=0.01)
    assert textstat.flesch_kincaid_grade(text) == pytest.approx(grade, abs=0.01)
