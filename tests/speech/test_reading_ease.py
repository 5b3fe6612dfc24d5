import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.guide.findings import At
from guidebuild.speech.reading_ease import describe_hard_sentence, find_sentences, measure_ease, score_ease, score_grade

HARD = (
    "The identification of morphologically indistinguishable representatives of heterogeneous populations necessitates "
    "comprehensive examination of anatomical characteristics unavailable to the photographer."
)


def texts(text):
    return [sentence for sentence, _ in find_sentences(text)]


def test_short_forms_initials_and_decimals_end_no_sentence():
    assert texts("The bug, e.g. E. grisea, is c. 3.5 mm long. It sits at 7 p.m. on birch.") == [
        "The bug, e.g. E. grisea, is c. 3.5 mm long.", "It sits at 7 p.m. on birch.",
    ]  # fmt: skip
    assert texts("On birch, alder etc. It flies! Does it?") == ["On birch, alder etc.", "It flies!", "Does it?"]
    assert texts("“Look.” He looked (twice.) Yes…") == ["“Look.”", "He looked (twice.)", "Yes…"]


def test_headings_tables_pictures_and_marks_do_not_count():
    text = "# Title\n\n![alt](photo:x)\n\n| a | b |\n|---|---|\n| One. | Two. |\n\nOne [pause 2 s] bug.\n\n- first item\n- second item"
    assert texts(text) == ["One bug.", "first item", "second item"]


def test_sentences_know_their_lines():
    found = list(find_sentences("One\nbug. Two\nbugs.\n\nThree.", first_line=10))
    assert found == [("One bug.", 10), ("Two bugs.", 11), ("Three.", 14)]


def test_links_pictures_names_and_lists_leave_sentences_in_their_lines():
    text = "See [the\nbug](account:x), *Aus bus*. ![a](photo:b)\nIt is <5 mm.\n\n### It\n\n- It sits.\n- 2*3*4 [^1]\n\n[^1]: No."
    assert list(find_sentences(text)) == [
        ("See the bug, *Aus bus*.", 1), ("It is <5 mm.", 3), ("It sits.", 7), ("2*3*4", 8),
    ]  # fmt: skip


def test_figures_short_forms_and_hyphens_count_as_one_word():
    ease = measure_ease("It has 1,250 half-grown young, e.g. Smith's.")
    assert ease.words == 7
    # it has 1,250 half-grown young e.g. Smith's: figures and short forms are one syllable each.
    assert ease.syllables == 1 + 1 + 1 + 2 + 1 + 1 + 1


def test_an_empty_text_has_no_score():
    ease = measure_ease("# Only a heading\n")
    assert (ease.ease, ease.grade, ease.sentences, ease.hard) == (None, None, 0, ())


def test_hard_sentences_are_named_where_they_stand():
    ease = measure_ease(f"It is small.\n\n{HARD}")
    assert [sentence.line for sentence in ease.hard] == [3]
    found = describe_hard_sentence(ease.hard[0], At("accounts/x.md", 1))
    assert (found.code, found.at) == ("hard-sentence", At("accounts/x.md", 3))
    assert found.message.startswith("Hard sentence (19 words, ease -")
    assert "“The identification of morphologically" in found.message


def test_a_long_sentence_of_short_words_is_hard_too():
    assert measure_ease("I saw it on " + "and on " * 20 + "that day.").hard
    assert not measure_ease("I saw it on that day. It sat still.").hard
    assert not measure_ease("Necessarily indistinguishable.").hard


def test_scientific_names_count_by_the_rules_of_latin():
    assert measure_ease("*Elasmucha grisea* sits.").syllables == 8
    assert measure_ease("Elasmucha grisea sits.", names=["Elasmucha grisea"]).syllables == 8


def test_one_short_word_sets_the_bounds():
    assert score_ease(1, 1, 1) == pytest.approx(121.22)
    assert score_grade(1, 1, 1) == pytest.approx(-3.40)


WORDS = (
    "identification", "of", "morphologically", "it", "*Elasmucha grisea*", "grisea.", "c.", "6", "a–b", "on/off", "[one. Two](x)", "sits.",
    "Heterogeneous", "populations", "necessitates", "[pause 2 s]", "etc.", "The", "Yes!", "and", "\n", "\n\n", "\n- ", "E.", "anatomical",
)  # fmt: skip


@given(st.lists(st.sampled_from(WORDS), max_size=80))
def test_a_text_counts_as_its_sentences_do_one_by_one(words):
    text, names = " ".join(words), ["Elasmucha grisea"]
    alone = [measure_ease(shown.replace("\n", " "), names=names) for shown, _ in find_sentences(text)]
    whole = measure_ease(text, names=names)
    assert (whole.words, whole.syllables) == (sum(ease.words for ease in alone), sum(ease.syllables for ease in alone))
    assert whole.sentences == sum(ease.words > 0 for ease in alone)


@given(st.lists(st.sampled_from(WORDS), max_size=40), st.lists(st.sampled_from(WORDS), max_size=40))
def test_two_texts_added_count_as_one(one, other):
    both = measure_ease(" ".join(one)) + measure_ease(" ".join(other))
    joined = measure_ease(" ".join(one) + "\n\n" + " ".join(other))
    assert (both.sentences, both.words, both.syllables, both.ease) == (joined.sentences, joined.words, joined.syllables, joined.ease)


def test_a_long_sentence_may_stand_over_several_lines():
    text = f"It is small. {HARD[:40]}\n{HARD[40:]}\nIt flies."
    assert [sentence.line for sentence in measure_ease(text).hard] == [1]
