from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.guide.findings import At, Level
from guidebuild.guide.guide import PaceSetting as TypedPace
from guidebuild.guide.records import Section
from guidebuild.speech.loads import Load, WordLoads
from guidebuild.speech.marks import find_mark_faults, strip_marks
from guidebuild.speech.parts import PartKind
from guidebuild.speech.sayings import say_all
from guidebuild.speech.script import join_text
from guidebuild.speech.script_text import read_words
from guidebuild.speech.timing import DEFAULT_PACE, Pace, fill_pace, find_slot_faults, time_script, write_clock
from tests.speech.pieces_of_speech import PASSAGES, SCRIPT, load_of, script_of

EVEN = Pace(syllables=5.0, comma=0.2, sentence=0.5, paragraph=1.0, say=0.3, spread=0.1)


def seconds(text):
    return time_script(script_of(text), EVEN).seconds


def test_a_measurement_is_timed_as_it_is_spoken():
    # Case A27: eleven words at 150 a minute are 4.4 s; seven would have been 2.8 s.
    load = load_of("Wing 10–12 mm; mass c. 3.5 g.")
    assert load.words == 11
    assert load.words * 60 / 150 == pytest.approx(4.4)


def test_a_scientific_name_adds_time_by_its_syllables():
    plain, named = load_of("It is here."), load_of("It is *Epidalea calamita* here.")
    assert named.syllables - plain.syllables == 9  # E-pi-da-le-a ca-la-mi-ta
    assert load_of("Epidalea calamita", names=["Epidalea calamita"]).syllables == 9


def test_pauses_are_counted_where_a_speaker_makes_them():
    load = load_of("Listen (closely); the call, high and dry – like this: tick. E. grisea is silent, e.g. now!")
    assert (load.sentences, load.commas) == (2, 5)


def test_the_pause_of_a_paragraph_replaces_that_of_its_sentence():
    joined, parted = seconds("One bug. Two bugs."), seconds("One bug.\n\nTwo bugs.")
    assert parted - joined == pytest.approx(EVEN.paragraph - EVEN.sentence)


def test_the_pause_after_the_last_word_is_not_counted():
    assert seconds("One bug.") == pytest.approx(seconds("One bug"))
    assert seconds("One bug.\n\n") == pytest.approx(seconds("One bug"))


def test_a_line_broken_inside_a_sentence_takes_no_longer():
    assert seconds("One bug sits\non a leaf.") == pytest.approx(seconds("One bug sits on a leaf."))


def test_an_asked_for_pause_adds_its_seconds():
    assert seconds("One bug. [pause 2 s] Two bugs.") == pytest.approx(seconds("One bug. Two bugs.") + 2)
    assert seconds("One bug. [pause] Two bugs.") == pytest.approx(seconds("One bug. Two bugs.") + 1)
    assert seconds("One bug.\n[pause 1.5 seconds]\nTwo bugs.") == pytest.approx(seconds("One bug.\nTwo bugs.") + 1.5)


def test_a_say_it_line_adds_care_but_no_words():
    timing = time_script(script_of("The *Elasmucha grisea* [say el-az-MOO-ka GRIZ-ee-a], a bug."), EVEN)
    assert timing.words == 5
    assert timing.seconds == pytest.approx(seconds("The *Elasmucha grisea*, a bug.") + EVEN.say)


def test_a_shown_picture_stays_only_while_words_run_out():
    long = "[show a 1 s] This is a bug that sits on a leaf and does not move at all."
    assert seconds(long) == pytest.approx(seconds(long.removeprefix("[show a 1 s] ")))
    assert seconds("[show a 4 s] A bug.") == pytest.approx(4)
    two = time_script(script_of("[show a 4 s] A bug. [show b 3 s] Two."), EVEN)
    assert [timed.start for timed in two.parts if timed.part.kind is PartKind.SHOW] == pytest.approx([0, 4])
    assert two.seconds == pytest.approx(7)


def test_a_heading_ends_the_wait_for_a_picture():
    timing = time_script(script_of("## One\n[show a 4 s] A bug.\n\n## Two\nMore."), EVEN)
    assert [section.start for section in timing.sections] == pytest.approx([0, 4])


def test_lines_and_sections_tile_the_whole_time():
    timing = time_script(SCRIPT, EVEN)
    assert sum(line.seconds for line in timing.lines) == pytest.approx(timing.seconds)
    assert sum(section.seconds for section in timing.sections) == pytest.approx(timing.seconds)
    assert sum(section.words for section in timing.sections) == timing.words
    assert timing.sections[0].title == SCRIPT.sections[0].heading
    assert len(timing.lines) == len(SCRIPT.lines)


def test_headings_are_not_spoken():
    timing = time_script(script_of("Before.\n\n## A heading\nAfter."), EVEN)
    assert [line.words for line in timing.lines] == [1, 1]
    assert [(join_text(section.title), section.words) for section in timing.sections] == [("", 1), ("A heading", 1)]


def test_the_range_is_the_pace_s_spread():
    timing = time_script(SCRIPT, EVEN)
    assert (timing.least, timing.most) == pytest.approx((timing.seconds * 0.9, timing.seconds * 1.1))


def test_nothing_to_say_takes_no_time():
    assert time_script(script_of(""), EVEN).seconds == 0
    assert time_script(script_of("## Only a heading"), EVEN).seconds == 0


def test_a_guide_s_pace_fills_up_from_the_default():
    assert fill_pace(TypedPace()) == DEFAULT_PACE
    assert fill_pace(TypedPace(syllables=4.2, comma=0.2)) == replace(DEFAULT_PACE, syllables=4.2, comma=0.2)


def test_running_times_are_written_for_people():
    assert [write_clock(s) for s in (0, 7.4, 342, 3723)] == ["0:00", "0:07", "5:42", "1:02:03"]


def test_a_script_over_its_slot_says_by_how_much_and_where():
    timing = time_script(script_of("## Long part\n" + "A bug sits on a leaf. " * 40 + "\n\n## Short part\nBye."), EVEN)
    (finding,) = find_slot_faults(timing, 10, 20, At("episodes/x.md"), name="short", account="x")
    assert (finding.code, finding.level, finding.account) == ("episode-over-slot", Level.WARNING, "x")
    assert "over the short slot of 0:10 to 0:20" in finding.message
    assert "“Long part”" in finding.mend
    assert finding.mend.index("Long part") < finding.mend.index("Short part")


def test_a_script_under_its_slot_is_found_and_one_within_it_is_not():
    timing = time_script(script_of("A bug sits on a leaf."), EVEN)
    assert [f.code for f in find_slot_faults(timing, 60, 90, At("x"))] == ["episode-under-slot"]
    assert list(find_slot_faults(timing, 1, 5, At("x"))) == []
    # Within the estimate's own range it is only worth a note.
    assert [f.level for f in find_slot_faults(timing, 0.1, timing.seconds * 0.95, At("x"))] == [Level.NOTE]


def test_marks_that_cannot_be_read_are_found_where_they_stand():
    line = "One [pasue 2 s] two [show] three [pause long] [link](account:x) [show a 2 s]."
    found = list(find_mark_faults(Section("", line, At("episodes/x.md", 7))))
    assert [(f.code, f.at.line, f.at.column) for f in found] == [
        ("script-mark", 7, 5), ("script-mark", 7, 21), ("script-mark", 7, 34),
    ]  # fmt: skip
    assert found[0].mend == "Did you mean [pause …]?"


def test_marks_leave_no_trace_in_what_is_shown():
    assert strip_marks("The bug [say bug], [show a 2 s] here [pause].") == "The bug, here."


def test_a_windowed_figure_is_said_as_in_its_whole_line():
    loads = WordLoads()
    for passage in PASSAGES:
        if "*" not in passage:
            whole = sum((loads.load_piece(piece) for piece in say_all(passage, loads.table).split()), Load())
            assert loads.load(read_words(passage)).syllables == whole.syllables


def test_a_very_long_line_is_counted_like_many_short_ones():
    short = load_of("A bug, on a leaf. ")
    assert load_of("A bug, on a leaf. " * 3000).sentences == 3000 * short.sentences


@settings(deadline=None)
@given(st.text(max_size=80))
def test_any_script_can_be_timed(text):
    timing = time_script(script_of(text), EVEN)
    assert timing.seconds >= 0
    assert timing.words >= 0


@settings(deadline=None)
@given(st.lists(st.sampled_from(PASSAGES), min_size=1, max_size=6))
def test_more_words_never_take_less_time(chosen):
    assert seconds("\n\n".join(chosen)) >= seconds("\n\n".join(chosen[:-1]))
