"""A script as a value: read from an author's Markdown once, names known for what they are, written out and read back the same."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.speech.captions import caption_script
from guidebuild.speech.loads import get_word_loads
from guidebuild.speech.marks import Mark
from guidebuild.speech.runs import find_runs
from guidebuild.speech.script import Script, ScriptLine, ScriptSection, Spoken, join_words, merge_pieces
from guidebuild.speech.script_text import read_line, read_lines, read_words, write_script
from guidebuild.speech.timing import time_script
from tests.speech.pieces_of_speech import script_of

NAME = Spoken("Aus bus", is_name=True)


def pieces_of(*pieces: str | Spoken | Mark) -> tuple[Spoken | Mark, ...]:
    return tuple(Spoken(piece) if isinstance(piece, str) else piece for piece in pieces)


@pytest.mark.parametrize(
    ("typed", "pieces"),
    [
        ("A bug.", ("A bug.",)),
        ("See *Aus bus*.", ("See ", NAME, ".")),
        ("See _Aus bus_.", ("See ", NAME, ".")),
        ("*Aus bus*", (NAME,)),
        ("See **this** one.", ("See this one.",)),
        ("See [the bug](account:bug) here.", ("See the bug here.",)),
        ("Two * three, snake_case_word.", ("Two * three, snake_case_word.",)),
        ("The *Aus bus* [say OW-us], sits.", ("The ", NAME, Mark("say", "OW-us"), ", sits.")),
        ("[show bug-1 4 s] Look.[pause]Now.", (Mark("show", "bug-1", 4), "Look.", Mark("pause"), "Now.")),
        ("One [pasue 2 s] two.", ("One", "two.")),
        ("It  is , as ever , small .", ("It is, as ever, small.",)),
        ("[nothing known]", ()),
    ],
)
def test_a_line_is_read_into_words_and_marks(typed: str, pieces: tuple[str | Spoken | Mark, ...]) -> None:
    assert merge_pieces(piece for line in read_lines(typed) for piece in line.pieces) == merge_pieces(pieces_of(*pieces))


def test_what_is_said_closes_up_where_a_mark_stood() -> None:
    line = ScriptLine(read_line("The *Aus bus* [say OW-us BUS], [pause 2 s] sits [show a 2 s] here."))
    assert line.words == (Spoken("The "), NAME, Spoken(", sits here."))
    assert line.text == "The Aus bus, sits here."


def test_lines_are_sentences_items_and_marks_with_what_they_belong_to() -> None:
    text = """<!-- a note to myself -->
A bug sits
on a leaf. [pause 2 s]
[show bug-1 4 s]
Look at it.

- first
- second
### Aside
Bye"""
    lines = read_lines(text)
    assert [line.text for line in lines] == ["A bug sits on a leaf.", "Look at it.", "first", "second", "Bye"]
    assert [line.ends_paragraph for line in lines] == [False, True, False, True, True]
    assert lines[1].pieces[0] == Mark("show", "bug-1", 4)


def test_a_paragraph_of_an_own_script_has_its_pause() -> None:
    joined, parted = script_of("One bug.\nTwo bugs."), script_of("One bug.\n\nTwo bugs.")
    pace = time_script(joined)
    assert time_script(parted).seconds > pace.seconds


def test_no_sign_of_markdown_is_left_in_the_value() -> None:
    script = script_of("## The *Aus bus*\n- See **the** [bug](account:bug), *Aus bus* [say OW-us]. [show a 2 s]\n> _Aus_ `too`\n")
    texts = [words.text for section in script.sections for words in section.heading]
    texts += [piece.text for line in script.lines for piece in line.pieces if isinstance(piece, Spoken)]
    assert not [text for text in texts if set(text) & set("*_[]#>")]
    assert script.sections[0].heading == (Spoken("The "), NAME)


def test_a_name_is_known_by_its_value_and_not_by_stars() -> None:
    said = (Spoken("See "), Spoken("Acanthosoma haemorrhoidale", is_name=True), Spoken(" * on a leaf * now."))
    script = Script((ScriptSection((), (ScriptLine(said),)),))
    plain = Script((ScriptSection((), (ScriptLine((Spoken("".join(one.text for one in said)),)),)),))
    # Latin counts its vowels one by one, English does not.
    assert time_script(script).seconds != time_script(plain).seconds
    made = caption_script(script)
    assert "<i>Acanthosoma haemorrhoidale</i> * on a leaf * now." in made.webvtt.replace("\n", " ")
    assert "<i>" not in caption_script(plain).webvtt


def test_a_name_before_a_mark_does_not_end_a_clause() -> None:
    timing = time_script(script_of("She is the *Aus bus* [say OW-us BUS] of the hedge. She sits [show a 1 s] here."))
    (run,) = find_runs(timing, loads=get_word_loads())
    costs = {timed.chunk.text: timed.chunk.cost for timed in run}
    assert costs["hedge."] == 0.0
    assert min(costs["Aus bus"], costs["sits"]) > 0.0


def test_names_side_by_side_stay_two() -> None:
    other = Spoken("Cus dus", is_name=True)
    assert join_words([(NAME,), (other,)]) == (NAME, Spoken(" "), other)


words = (
    st.text(st.sampled_from("ab éß’-7"), min_size=1, max_size=8)
    .map(lambda text: " ".join(text.split()))
    .filter(lambda text: text.lstrip("-")[:1].isalpha())
)
stretches = st.lists(st.tuples(words, st.booleans()), min_size=1, max_size=4).map(
    lambda runs: merge_pieces(
        one for number, (text, is_name) in enumerate(runs) for one in (*((Spoken(" "),) if number else ()), Spoken(text, is_name))
    )
)
marks = st.one_of(
    st.builds(Mark, st.just("pause"), st.just(""), st.one_of(st.none(), st.integers(1, 90).map(float))),
    st.builds(Mark, st.just("show"), st.sampled_from(("bug-1", "leaf")), st.one_of(st.none(), st.integers(1, 90).map(float))),
    st.builds(Mark, st.just("say"), st.sampled_from(("OW-us BUS", "a"))),
)
lines = st.lists(st.one_of(stretches, marks.map(lambda mark: (mark,))), min_size=1, max_size=5).map(
    lambda groups: merge_pieces(
        (*(piece for group in groups for piece in (*group, Mark("pause", "", 1.0))), Spoken("End.")),
    )
)
sections = st.lists(st.builds(ScriptLine, lines, ends_paragraph=st.booleans()), min_size=1, max_size=4).map(
    lambda made: (*made[:-1], replace(made[-1], ends_paragraph=True))
)


@settings(deadline=None)
@given(st.lists(sections, min_size=1, max_size=3))
def test_what_is_written_as_markdown_is_read_back_the_same(made: list[tuple[ScriptLine, ...]]) -> None:
    script = Script(tuple(ScriptSection(read_words(f"Part {number} of *Aus bus*"), lines) for number, lines in enumerate(made)))
    back = script_of(write_script(script))
    merged = [replace(line, pieces=merge_pieces(line.pieces)) for line in back.lines]
    assert [section.heading for section in back.sections] == [section.heading for section in script.sections]
    assert merged == list(script.lines)


@settings(deadline=None)
@given(st.text(max_size=120))
def test_any_text_can_be_read_and_its_second_reading_is_the_first(text: str) -> None:
    once = script_of(text)
    written = write_script(once)
    assert write_script(script_of(written)) == write_script(script_of(write_script(script_of(written))))
    caption_script(once)


def test_a_slot_that_ends_a_row_ends_the_line_where_the_next_row_begins_a_sentence() -> None:
    """`{greeting}` and `{difference from …}` hold whole sentences; `{host plants}` in mid-sentence does not."""
    text = "{greeting}\n[show a] This is {name}.\nLook at {difference from b}\nThen go home.\nIt feeds on {host plants}\nand on others."
    lines = ["".join(piece.text for piece in line.pieces if isinstance(piece, Spoken)) for line in read_lines(text)]
    assert lines == [
        "{greeting}", "This is {name}.", "Look at {difference from b}", "Then go home.", "It feeds on {host plants} and on others.",
    ]  # fmt: skip
