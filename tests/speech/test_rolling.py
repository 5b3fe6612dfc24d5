"""Rolling captions: what a cue repeats of the one before is said once."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.speech.caption_files import read_captions
from guidebuild.speech.cues import Cue
from guidebuild.speech.rolling import unroll_cues
from guidebuild.speech.script import Spoken
from tests.speech.pieces_of_speech import cue_of

ROLL_UP = Path(__file__).with_name("roll_up.vtt")  # invented; made by hand in the three ways in which lines roll
SAID = """\
good morning from the hedge
we are looking for a bug today
about as long as a grain of rice
turn the birch leaves one by one
this one is Elasmucha grisea
she stays with her eggs
and does not run
look
look
that is all for today"""


def test_a_whole_file_of_rolling_captions_says_every_line_once() -> None:
    captions = read_captions(ROLL_UP.read_bytes())
    assert not captions.findings
    unrolled = unroll_cues(captions.cues)
    assert " ".join(cue.text for cue in unrolled).split() == SAID.split()
    assert [cue.number for cue in unrolled] == [*range(1, len(unrolled) + 1)]
    assert [one.text for cue in unrolled for one in cue.words if one.is_name] == ["Elasmucha", "grisea"]


def test_three_lines_that_move_up_are_each_said_once() -> None:
    rolled = [cue_of(0, 1, "a"), cue_of(1, 2, "a\nb"), cue_of(2, 3, "a\nb\nc"), cue_of(3, 4, "b\nc\nd"), cue_of(4, 5, "c\nd\ne f\ng")]
    assert [cue.text for cue in unroll_cues(rolled)] == ["a", "b", "c", "d", "e f\ng"]


def test_a_line_that_grows_keeps_its_new_words() -> None:
    name = Spoken("Elasmucha grisea", True)
    grown = [cue_of(0, 1, "this is"), Cue(1, 2, ((Spoken("this is "), name),)), cue_of(2, 3, "so be it")]
    assert [cue.rows for cue in unroll_cues(grown)][1] == ((name,),)
    words = [cue_of(0, 1, "one"), cue_of(1, 2, "one two"), cue_of(2, 3, "one two three\nfour"), cue_of(3, 4, "fourteen")]
    assert [cue.text for cue in unroll_cues(words)] == ["one", "two", "three\nfour", "fourteen"]


def test_rolled_lines_are_numbered_anew_and_a_line_said_again_later_stays() -> None:
    rolled = [cue_of(0, 2, "a\nb", 7), cue_of(2, 4, "b\nc", 8), cue_of(4.05, 6, "c", 9), cue_of(6.2, 7, "c", 10)]
    assert [(cue.text, cue.number) for cue in unroll_cues(rolled)] == [("a\nb", 1), ("c", 2), ("c", 3)]


def test_rolling_captions_say_every_line_once() -> None:
    rolled = [cue_of(0, 2, "one two"), cue_of(2, 2.01, "one two"), cue_of(2.01, 4, "one two\nthree four"), cue_of(4, 6, "three four\nfive")]
    assert [cue.text for cue in unroll_cues(rolled)] == ["one two", "three four", "five"]


def test_captions_that_do_not_roll_stay_as_they_are() -> None:
    cues = [cue_of(0, 1, "Look!"), cue_of(3, 4, "Look!"), cue_of(5, 6, "Two\nlines")]
    assert [cue.text for cue in unroll_cues(cues)] == [cue.text for cue in cues]


@pytest.mark.parametrize("rows", ["No.", "No.\nYes."])
def test_a_line_that_comes_after_an_empty_screen_is_said_again(rows: str) -> None:
    assert [cue.text for cue in unroll_cues([cue_of(0, 1, "No."), cue_of(1.5, 2, rows)])] == ["No.", rows]
