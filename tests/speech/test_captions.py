import re
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.speech.caption_files import read_captions
from guidebuild.speech.captions import caption_script, find_chapters
from guidebuild.speech.chunks import find_chunks
from guidebuild.speech.cues import BROADCAST, DEFAULT_LIMITS, VERTICAL
from guidebuild.speech.language import read_language
from guidebuild.speech.script import join_text
from guidebuild.speech.script_text import read_words
from guidebuild.speech.timing import Pace, TimedSection, time_script
from tests.speech.pieces_of_speech import PASSAGES, SCRIPT, cue_of, script_of

# Lines that would break in all the wrong places if they could.
CRAMMED = """The Larkfold Bug, *Acanthosoma haemorrhoidale* [say a-KAN-tho-SO-ma], measures c. 13–15 mm in the adult and \
(5–)6–9(–10) mm in the fourth instar, ♀ 14 mm, from 2 May 2026 at 12 °C, e.g. on the Silver Birch by the Long Gate."""


def texts(cues):
    return [line for cue in cues for line in cue.lines]


@pytest.mark.parametrize("limits", [DEFAULT_LIMITS, BROADCAST, VERTICAL])
def test_no_cue_or_line_breaks_a_name_or_a_number_from_its_unit(limits):
    cues = caption_script(script_of(CRAMMED, phrases=["Larkfold Bug", "Silver Birch", "Long Gate"]), limits=limits).cues
    shown = "\n".join(texts(cues))
    whole = ["Larkfold Bug", "Acanthosoma haemorrhoidale", "c. 13–15 mm", "(5–)6–9(–10) mm", "♀ 14 mm", "2 May 2026", "12 °C"]
    for kept in [*whole, "e.g. on", "Silver Birch", "Long Gate"]:
        assert kept in shown or len(kept) > limits.line


def test_chunks_hold_together_what_belongs_together():
    found = find_chunks(read_words("The bug, *Aus bus*, is c. 6–9 mm long, ♀ 7 mm, i.e. small; see Fig. 3."), read_language())
    assert [chunk.text for chunk in found] == [
        "The", "bug,", "Aus bus,", "is", "c. 6–9 mm", "long,", "♀ 7 mm,", "i.e. small;", "see", "Fig. 3.",
    ]  # fmt: skip


def test_every_word_is_shown_once_and_in_order():
    cues = caption_script(SCRIPT).cues
    shown = " ".join(texts(cues)).split()
    assert shown == " ".join(PASSAGES).replace("*", "").split()


def test_marks_and_hints_are_never_shown():
    shown = " ".join(texts(caption_script(script_of("[show a 4 s] The *Aus bus* [say OW-us BUS], [pause 2 s] sits.")).cues))
    assert shown == "The Aus bus, sits."


@pytest.mark.parametrize("limits", [DEFAULT_LIMITS, BROADCAST, VERTICAL])
def test_captions_keep_their_own_limits_but_for_a_few_fast_ones(limits):
    made = caption_script(SCRIPT, limits=limits)
    assert {finding.code for finding in made.findings} <= {"caption-speed"}
    assert len(made.findings) <= len(made.cues) * 0.08


def test_a_slow_speaker_s_captions_keep_every_limit():
    assert caption_script(SCRIPT, Pace(syllables=3.8)).findings == ()


def test_captions_break_at_clauses():
    cues = caption_script(
        script_of("When the sun comes out, the mother moves the young to the upper side, and they feed until it is gone.")
    ).cues
    assert [cue.lines[-1][-1] for cue in cues[:-1]] == [","] * (len(cues) - 1)
    assert len(cues) > 1


def test_captions_stay_with_the_words():
    timing = time_script(SCRIPT)
    cues = caption_script(SCRIPT).cues
    assert all(earlier.end < later.start for earlier, later in pairwise(cues))
    # Never more than the guideline's second and a half from the words, at the start of each section too.
    starts = {section.start for section in timing.sections}
    assert all(min(abs(cue.start - start) for cue in cues) <= 1.5 for start in starts)
    assert cues[-1].end <= timing.seconds + 1.5


def test_a_changed_fact_changes_its_caption():
    assert "7–9 mm" in caption_script(script_of("It is 7–9 mm long.")).webvtt
    assert caption_script(script_of("It is 6–9 mm long.")).webvtt != caption_script(script_of("It is 7–9 mm long.")).webvtt


def test_captions_are_the_same_twice():
    assert caption_script(SCRIPT).webvtt == caption_script(SCRIPT).webvtt


def test_a_word_wider_than_the_screen_is_shown_all_the_same():
    made = caption_script(script_of("See " + "a" * 60 + " now."))
    assert "a" * 60 in texts(made.cues)
    assert "caption-line-length" in [finding.code for finding in made.findings]


def test_sections_become_chapters_from_the_first_second():
    script = "Hello, and welcome to the hedge. " * 12 + "\n\n## One\n" + "A bug on a leaf. " * 20 + "\n\n## Two\n" + "More here. " * 20
    made = caption_script(script_of(script))
    assert [join_text(mark.title) for mark in made.marks] == ["Opening", "One", "Two"]
    assert made.chapter_lines.startswith("0:00 Opening\n")
    assert re.fullmatch(r"(\d:\d\d (Opening|One|Two)\n){3}", made.chapter_lines)
    assert [cue.text for cue in read_captions(made.chapters).cues] == ["Opening", "One", "Two"]


def test_chapters_to_paste_are_plain_text_and_none_where_nothing_is_said():
    assert caption_script(script_of("## The *Aus bus*\n" + "A bug on a leaf. " * 20)).chapter_lines == "0:00 The Aus bus\n"
    assert caption_script(script_of("")).chapter_lines == ""


@pytest.mark.parametrize(
    ("seconds", "starts"),
    [
        ((9, 9, 9, 9, 9, 9), (0, 18, 36)),
        ((60, 5, 60), (0, 65)),  # a short one between two long ones ends the first
        ((60, 5, 5, 60), (0, 60, 70)),
        ((60, 4, 4), (0,)),
        ((4, 60), (0,)),
        ((3, 3), (0,)),
        ((10, 10), (0, 10)),
        ((60, 5, 10), (0, 65)),  # ten seconds are long enough to stand
    ],
)
def test_short_chapters_join_until_they_are_long_enough(seconds, starts):
    places = [sum(seconds[:number]) for number in range(len(seconds))]
    sections = [TimedSection(read_words(f"Part {n}"), *time, 0) for n, time in enumerate(zip(places, seconds, strict=True))]
    found = find_chapters(sections, opening="Opening")
    assert tuple(chapter.start for chapter in found) == starts
    assert [chapter.end for chapter in found] == [*starts[1:], sum(seconds)]


def test_a_section_in_which_nothing_is_said_is_no_chapter():
    sections = [
        TimedSection(read_words("One"), 0, 20, 0),
        TimedSection(read_words("Empty"), 20, 0, 0),
        TimedSection(read_words("Two"), 20, 20, 0),
        TimedSection(read_words(""), 40, 20, 0),
    ]
    found = find_chapters(sections, opening="Opening")
    assert [(join_text(chapter.title), chapter.start, chapter.end) for chapter in found] == [
        ("One", 0, 20),
        ("Two", 20, 40),
        ("Opening", 40, 60),
    ]


@pytest.mark.parametrize(("seconds", "title"), [((9, 9), "Part 0"), ((8, 9), "Part 1"), ((9, 8), "Part 0")])
def test_of_two_chapters_that_join_the_longer_gives_the_title(seconds, title):
    sections = [TimedSection(read_words("Part 0"), 0, seconds[0], 0), TimedSection(read_words("Part 1"), seconds[0], seconds[1], 0)]
    assert [join_text(chapter.title) for chapter in find_chapters(sections, opening="")] == [title]


def test_later_chapters_that_join_are_weighed_by_their_length_not_their_place():
    places = [(0, 20), (20, 6), (26, 7)]
    sections = [TimedSection(read_words(f"Part {n}"), start, seconds, 0) for n, (start, seconds) in enumerate(places)]
    assert [join_text(chapter.title) for chapter in find_chapters(sections, opening="")] == ["Part 0", "Part 2"]


def test_a_chapter_under_ten_seconds_joins_its_neighbour():
    text = "## Hello\nHi.\n\n## One\n" + "A bug on a leaf. " * 20 + "\n\n## Bye\nBye."
    found = find_chapters(time_script(script_of(text)).sections, opening="Opening")
    assert [(join_text(chapter.title), chapter.start) for chapter in found] == [("One", 0.0)]


def test_captions_take_their_times_from_a_take():
    # The take runs at another pace, starts after 3 s and says one thing that the script does not.
    taken = caption_script(SCRIPT, Pace(syllables=5.8, comma=0.4, sentence=0.9, paragraph=1.7)).cues
    heard = [cue_of(cue.start + 3, cue.end + 3, cue.text.replace("*", "").lower()) for cue in taken]
    heard.insert(10, cue_of(heard[9].end, heard[9].end + 0.05, "oh look a wren"))
    made = caption_script(SCRIPT, take=heard)
    first, last = made.cues[0], made.cues[-1]
    assert first.start == pytest.approx(3, abs=0.3)
    assert last.end == pytest.approx(heard[-1].end, abs=1.5)
    by_text = {cue.text.split("\n")[0]: cue for cue in made.cues}
    shared = [(cue, by_text[cue.text.split("\n")[0]]) for cue in taken if cue.text.split("\n")[0] in by_text]
    assert len(shared) > 40
    assert all(abs(mine.start - theirs.start - 3) < 1.0 for theirs, mine in shared)
    assert made.marks[0].start == 0


def test_a_take_of_something_else_leaves_the_estimate():
    other = [cue_of(0, 4, "quite another film about trains and nothing else")]
    made = caption_script(SCRIPT, take=other)
    assert made.cues == caption_script(SCRIPT).cues
    assert "take-not-of-script" in [finding.code for finding in made.findings]


@settings(deadline=None, max_examples=40)
@given(st.text(max_size=150), st.sampled_from([DEFAULT_LIMITS, VERTICAL]))
def test_any_script_gives_captions_that_can_be_read_back(text, limits):
    made = caption_script(script_of(text), limits=limits)
    back = read_captions(made.webvtt)
    assert len(back.cues) == len([cue for cue in made.cues if cue.text.strip()])
    assert all(cue.end > cue.start for cue in back.cues)


@pytest.mark.parametrize("odd", ["", "[show", "*", "**", "[say]", "[pause 0 s]", "## ", "-", "1.", "| a |", "{size}", "…", "** **"])
def test_an_unfinished_script_gives_captions_without_complaint(odd):
    assert all(cue.text for cue in caption_script(script_of(f"One bug.\n\n{odd}\n\nTwo bugs.")).cues)
    caption_script(script_of(odd))
