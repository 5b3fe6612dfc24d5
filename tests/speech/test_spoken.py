import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.speech.chunks import find_chunks
from guidebuild.speech.language import read_language
from guidebuild.speech.loads import WordLoads
from guidebuild.speech.script_text import read_lines, read_words
from guidebuild.speech.signs import ends_sentence, is_initial
from guidebuild.speech.spoken import list_spoken_words, say_text


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("Wing 10–12 mm; mass c. 3.5 g.", "Wing ten to twelve millimetres; mass about three point five grams."),
        ("6–9 mm", "six to nine millimetres"),
        ("6-9mm", "six to nine millimetres"),
        ("6 - 9 mm", "six to nine millimetres"),
        ("(5–)6–9(–10) mm", "six to nine, rarely five or ten millimetres"),
        ("6–9(–10) mm", "six to nine, rarely ten millimetres"),
        ("1 mm, 0.5 mm, ½ mm, 2½ mm", "one millimetre, zero point five millimetres, a half millimetre, two and a half millimetres"),
        ("a 6-mm bug", "a six millimetre bug"),
        ("3 × 5 mm", "three by five millimetres"),
        ("5×54×", "five by fifty-four times"),  # a × with nothing after it
        ("a ×10 lens", "a times ten lens"),
        ("♂ 6 mm, ♀ 7 mm", "male six millimetres, female seven millimetres"),
        ("2 May 2026", "the second of May twenty twenty-six"),
        ("2026-05-02", "the second of May twenty twenty-six"),
        ("2–5 May", "the second to the fifth of May"),
        ("14th Sept. 2021", "the fourteenth of September twenty twenty-one"),
        ("May 5, 2020", "the fifth of May twenty twenty"),
        ("mid June – August", "mid June to August"),
        ("May–June, August–September", "May to June, August to September"),
        ("June–early August", "June to early August"),
        ("Apr–Sep", "April to September"),
        ("since 1758", "since seventeen fifty-eight"),
        ("1914–1918", "nineteen fourteen to nineteen eighteen"),
        ("1500 mm", "one thousand five hundred millimetres"),
        ("the 1990s", "the nineteen nineties"),
        ("45% of 1,250 eggs", "forty-five per cent of one thousand two hundred and fifty eggs"),
        ("−3 °C", "minus three degrees Celsius"),
        ("a 90° turn", "a ninety degrees turn"),
        ("14:30", "fourteen thirty"),
        ("1:4", "one to four"),
        ("the 3rd instar, instar III", "the third instar, instar three"),
        ("£3.50", "three pounds fifty"),
        ("£1", "one pound"),
        ("lens 007", "lens zero zero seven"),
        ("at SU1234", "at S U one two three four"),
        ("GPS in the UK", "G P S in the U K"),
        ("e.g. on birch, i.e. here", "for example on birch, that is here"),
        ("It eats birch etc. We saw it.", "It eats birch and so on. We saw it."),
        ("the answer is no.", "the answer is no."),
        ("no. 5", "number five"),
        ("20 min. later", "twenty minutes later"),
        ("5 and 7 p.m. today", "five and seven p m today"),
        ("male/female, and/or", "male or female, and or"),
        ("100 m² at 3 km/h", "one hundred square metres at three kilometres per hour"),
        ("some > 5 mm, all ≥ 3 mm", "some more than five millimetres, all at least three millimetres"),
        ("5,000–6,000 eggs", "five thousand to six thousand eggs"),
        ("50 m.", "fifty metres."),
    ],
)
def test_short_writing_is_said_in_full(written, said):
    assert say_text(written) == said


def test_a_measurement_counts_the_words_that_are_said():
    # Case A27: seven written words, eleven spoken.
    assert len(list_spoken_words("Wing 10–12 mm; mass c. 3.5 g.")) == 11
    assert list_spoken_words("twenty-six bugs!") == ["twenty-six", "bugs"]


def test_scientific_names_are_kept_but_for_their_ranks():
    assert say_text("*Elasmucha grisea* subsp. *grisea*, *E. ferrugata*") == "Elasmucha grisea subspecies grisea, E. ferrugata"
    assert say_text("*Salix × rubens* var. x") == "Salix hybrid rubens variety x"
    assert say_text("*Picromerus bidens (Linnaeus, 1758)*") == "Picromerus bidens (Linnaeus, 1758)"


def test_marks_links_pictures_and_markdown_are_not_said():
    text = "- The **big** [Parent Bug](account:parent-bug) [pause 2 s] [say el-az-MOO-ka] sits ![egg](photo:x) still."
    assert [line.text for line in read_lines(text)] == ["The big Parent Bug sits still."]
    assert [line.text for line in read_lines("## Heading\nOne.")] == ["One."]


def test_paragraphs_stay_apart():
    assert say_text("One.\n\nTwo.") == "One.\n\nTwo."


def test_a_plain_sentence_is_left_as_it_is():
    sentence = "Stop, take hold of a low branch, and turn over the leaves one at a time."
    assert say_text(sentence) == sentence


@settings(deadline=None)
@given(st.text(max_size=60))
def test_any_text_can_be_said(text):
    assert isinstance(say_text(text), str)


@settings(deadline=None)
@given(st.integers(1, 9999), st.integers(1, 9999), st.sampled_from(["mm", "cm", "g", "m", "km"]))
def test_no_figure_is_left_in_what_is_said(low, high, unit):
    assert not any(sign.isdigit() for sign in say_text(f"It is {low}–{high} {unit} and {low}.{high} {unit} long, in {high}."))


def test_signs_in_a_row_between_figures_are_one():
    assert say_text("3××5 mm") == say_text("3×5 mm")
    assert say_text("\x01\x001××0")  # found by fuzzing


@pytest.mark.parametrize(
    ("piece", "ends"),
    [
        ("leaf.", True),
        ("leaf.”", True),
        ("leaf…", True),
        ("leaf!)", True),
        ("leaf", False),
        ("leaf,", False),
        ("e.g.", False),
        ("(e.g.", False),
    ],
)
@pytest.mark.parametrize("opening", ["", "«", "“"])
def test_timing_and_captions_agree_where_a_sentence_ends(piece, ends, opening):
    table = read_language()
    whole = opening + piece
    assert ends_sentence(whole, table.abbreviations) == ends
    assert (WordLoads().load(read_words(whole)).sentences == 1) == ends
    assert (find_chunks(read_words(f"{whole} Then it"), table)[0].cost == 0.0) == ends


@pytest.mark.parametrize("piece", ["E.", "(E.", "“J."])
def test_an_initial_ends_no_sentence(piece):
    assert is_initial(piece)
    assert not ends_sentence(piece, ())
