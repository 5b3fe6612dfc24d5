"""Marks of scripts and hard sentences are told in exactly these words. All names are invented."""

from dataclasses import replace

import pytest

from guidebuild.checks import scripts
from guidebuild.checks.spoken_text import RULES
from guidebuild.guide.findings import At
from guidebuild.guide.records import Section
from guidebuild.speech.hard_texts import find_hard_texts
from tests.checks.invented import episode, guide

LONG = "I looked at it " + "and then I looked again " * 7 + "until it flew."


def found(made):
    return [f"{f.code} {f}" for rule in RULES for f in rule.run(made)]


def told(text):
    return found(guide(episodes={"red-short": episode(text)}))


def own(*sections, language="en"):
    return [f"{f.code} {f}" for f in find_hard_texts(sections, language, names=("Aus ruber",), account="red-bug")]


def test_a_sound_guide_is_passed_in_silence():
    assert found(guide()) == []
    assert told("Look. [pause 2 s]\n[show red-bug-adult 4 s] It is [small](term:small). [say AY-us BYE-us]") == []


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("Look. [pasue 2 s]", "6:7: warning: The mark [pasue 2 s] is not known; it is left out. Did you mean [pause …]?"),
        ("[show 4 s] Look.", "6:1: warning: The mark [show 4 s] names no photo. Write [show PHOTO 4 s]."),
        (
            "[show red-bug-adult -4 s] Look.",
            "6:1: warning: The length of [show red-bug-adult -4 s] cannot be read; the whole counts as the name of a photo. "
            "Write [show PHOTO 4 s].",
        ),
        ("[pause long] Look.", "6:1: warning: The length of [pause long] cannot be read; it counts as 1 s. Write [pause 2 s]."),
    ],
)
def test_a_mark_that_cannot_be_read_is_told_where_it_stands(line, words):
    assert told(f"Hello.\n{line}") == [f"script-mark episodes/red-short.md:{words}"]


def test_marks_are_looked_for_only_in_what_is_read_out():
    unread = "<!-- [pasue 2 s] [show gone 4 s] -->\n\nLook. ![A [show gone 4 s]](photo:red-bug-adult)"
    assert told(unread) == []
    assert shots(unread) == []


@pytest.mark.parametrize(
    ("line", "place"),
    [("[SHOW gone 4 s] Look.", "6:1"), ("See [it](account:x) [show gone] now.", "6:21"), ("- Look. [show: gone 2s]", "6:9")],
)
def test_a_photo_that_is_not_there_is_found_as_scripts_read_their_marks(line, place):
    assert [text.split(": ")[0] for text in shots(f"Hello.\n{line}")] == [f"episodes/red-short.md:{place}"]


def shots(text):
    return [str(finding) for finding in scripts.UNKNOWN_SHOT.run(guide(episodes={"red-short": episode(text)}))]


def test_a_hard_sentence_of_an_account_or_a_script_is_named_where_it_starts():
    words = "note: Hard sentence (42 words, ease"
    (script,) = told(f"Hello.\n{LONG}")
    assert script.startswith(f"hard-sentence episodes/red-short.md:6: {words}")
    assert script.endswith("“I looked at it and then I looked again and then I looked …”. Cut it in two, or use plainer words.")
    (mine,) = own(Section("In brief", LONG, At("a.md", 9)))
    assert mine.startswith(f"hard-sentence a.md:9: {words}")


HEAVY = "Identification necessitates examination. It is red."
HARD_GOING = "The text has a Flesch reading ease of -50 (grade 21); below 50 is hard going. Use shorter sentences and plainer words."


def test_a_text_that_is_hard_as_a_whole_is_told_where_it_begins():
    # By hand: 6 + 4 + 5 + 1 + 1 + 1 syllables in 6 words of 2 sentences, so 206.835 - 1.015 * 3 - 84.6 * 3 and 0.39 * 3 + 11.8 * 3 - 15.59.
    assert told(HEAVY) == [f"hard-text episodes/red-short.md:5: note: {HARD_GOING}"]
    assert own(Section("In brief", HEAVY, At("a.md", 9))) == [f"hard-text a.md:9: note: {HARD_GOING}"]


def test_the_sections_of_an_account_are_judged_together():
    plain = Section("In the field", "It sits on a leaf in the sun. " * 8, At("a.md", 20))
    assert own(Section("In brief", HEAVY, At("a.md", 9)), plain) == []


def test_only_the_three_hardest_are_named_in_the_order_of_the_text():
    plain = "It is red. "
    texts = [f"I looked at it {'and then I looked again ' * times}until it flew." for times in (9, 6, 8, 7)]
    names = told(plain + "\n\n".join(texts))
    assert [note.split(":")[1] for note in names] == ["5", "9", "11"]  # the shortest of the four, on line 7, is let pass


def test_the_formulas_are_kept_to_english():
    made = guide(episodes={"red-short": episode(LONG)})
    assert found(made) != []
    assert found(replace(made, settings=replace(made.settings, languages=("es",)))) == []
    assert own(Section("In brief", LONG, At("a.md", 9)), language="es") == []
