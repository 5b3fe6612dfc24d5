import pytest

from guidebuild.speech.cues import BROADCAST, DEFAULT_LIMITS, STREAMING, VERTICAL, count_characters, find_caption_faults
from tests.speech.pieces_of_speech import cue_of


def codes(*cues, limits=DEFAULT_LIMITS):
    return [finding.code for finding in find_caption_faults(cues, limits)]


def test_a_caption_too_fast_to_read_says_how_long_it_needs():
    # Case A27: 72 characters in 2.0 s.
    (finding,) = find_caption_faults([cue_of(0, 2, "x" * 36 + "\n" + "y" * 35, number=4, line=12)], file="take.vtt")
    assert str(finding) == (
        "take.vtt:12: warning: Cue 4: 72 characters in 2.0 s are 36 characters a second; readers manage 17. "
        "Show it for 4.2 s or more, or say it in fewer words."
    )


@pytest.mark.parametrize(("end", "speed"), [(0.5, "80"), (1.0, "40"), (0.0, "endless")])
def test_the_speed_of_a_caption_is_told_however_short_it_is(end, speed):
    told = [str(f) for f in find_caption_faults([cue_of(0, end, "x" * 40)]) if "characters in" in str(f)]
    assert len(told) == 1
    assert f"40 characters in {end:.1f} s are {speed} characters a second" in told[0]


def test_captions_too_short_and_too_long_are_found():
    assert codes(cue_of(0, 0.9, "Look!")) == ["caption-too-short"]
    assert codes(cue_of(0, 7.2, "Look!")) == ["caption-too-long"]
    assert codes(cue_of(0, 1.0, "Look!"), cue_of(2, 9.0, "Look!")) == []


def test_overlapping_captions_are_named_both():
    # Case A26: cues of 1–4 s and 3–5 s.
    (finding,) = find_caption_faults([cue_of(1, 4, "One bug."), cue_of(3, 5, "Two bugs.")])
    assert finding.code == "caption-overlap"
    assert "Cues 1 and 2 overlap: the first ends at 4.000 s, the second starts at 3.000 s." in finding.message


def test_overlaps_are_seen_in_a_file_whose_captions_are_not_in_order():
    found = list(find_caption_faults([cue_of(6, 8, "Two.", line=3), cue_of(1, 4, "One.", line=7), cue_of(3.5, 5, "Three.", line=11)]))
    assert [(f.code, f.message.split(":")[0], f.at.line) for f in found] == [("caption-overlap", "Cues 2 and 3 overlap", 11)]


# BBC Subtitle Guidelines: 37 characters and 2 lines, 3 on vertical pictures of about 25 (3.1, 3.3), 0.3 s a word (4.1), up to 1.5 s
# after the words (5.2). Netflix Timed Text Style Guide, General Requirements: 42 characters, 2 lines, 5/6 s to 7 s, 2 frames between
# cues (at 24 a second here); its older English template: 17 characters a second. One second at least: common practice, no source.
def test_limits_are_those_of_their_sources():
    def figures(limits):
        return (limits.line, limits.lines, limits.speed, limits.seconds_a_word, limits.shortest, limits.longest, limits.gap, limits.lag)

    assert figures(STREAMING) == (42, 2, 17, 0, 5 / 6, 7, 2 / 24, 1)
    assert figures(DEFAULT_LIMITS) == (42, 2, 17, 0, 1, 7, 2 / 24, 1)
    assert figures(BROADCAST) == (37, 2, 17, 0.3, 1, 7, 2 / 24, 1.5)
    assert figures(VERTICAL) == (25, 3, 17, 0.3, 1, 7, 2 / 24, 1.5)
    assert BROADCAST.close == 1  # 4.5: a gap of a second or more, or none
    # 4.1 gives the example: four words need 1.2 s.
    assert BROADCAST.reading_seconds(4, 4) == pytest.approx(1.2)


def test_a_caption_on_its_limit_is_no_fault_and_one_beyond_it_is():
    assert codes(cue_of(0, 1, "x" * 17)) == []
    assert codes(cue_of(0, 1, "x" * 18)) == ["caption-speed"]
    assert codes(cue_of(0, 7, "Look!")) == []
    assert codes(cue_of(0, 7.001, "Look!")) == ["caption-too-long"]
    assert codes(cue_of(0, 0.999, "Look!")) == ["caption-too-short"]
    assert codes(cue_of(0, 0.9996, "Look!")) == []  # times are written to the millisecond
    assert codes(cue_of(0, 3, "x" * 37 + "\ny"), limits=BROADCAST) == []
    assert codes(cue_of(0, 3, "x" * 38 + "\ny"), limits=BROADCAST) == ["caption-line-length"]
    assert codes(cue_of(0, 2, "a b c d e f g"), limits=BROADCAST) == ["caption-speed"]  # seven words need 2.1 s
    assert codes(cue_of(0, 2.1, "a b c d e f g"), limits=BROADCAST) == []


def test_each_fault_says_what_would_mend_it():
    (fast, short) = find_caption_faults([cue_of(1, 1, "Look at that")])
    assert fast.message == "Cue 1: 12 characters in 0.0 s are endless characters a second; readers manage 17."
    assert (fast.at.line, short.at.line) == (0, 0)  # made, not read from a file
    assert fast.mend == "Show it for 1.0 s or more, or say it in fewer words."
    assert short.message == "Cue 1 is shown for 0.00 s, less than 1 s."
    (long,) = find_caption_faults([cue_of(0, 8.25, "Look!", number=9)])
    assert (long.message, long.mend) == ("Cue 9 is shown for 8.2 s, more than 7 s.", "Break it at a clause.")
    (tall,) = find_caption_faults([cue_of(0, 3, "a\nb\nc")], account="parent-bug")
    assert (tall.message, tall.account) == ("Cue 1 has 3 lines; at most 2 are shown.", "parent-bug")
    (wide,) = find_caption_faults([cue_of(0, 5, "short\n" + "x" * 43)])
    assert wide.message == f"Cue 1: the line “{'x' * 43}” has 43 characters; at most 42 fit."
    (near,) = find_caption_faults([cue_of(0, 2, "One."), cue_of(2.05, 4, "Two.")])
    assert (near.message, near.mend) == (
        "Cues 1 and 2 are 0.050 s apart, less than 0.083 s: they read as one.",
        "Leave 0.08 s between them.",
    )


def test_captions_may_touch_to_the_millisecond_but_not_overlap():
    assert codes(cue_of(0, 2, "One."), cue_of(1.9996, 4, "Two.")) == ["caption-gap"]
    assert codes(cue_of(0, 2, "One."), cue_of(1.999, 4, "Two.")) == ["caption-overlap"]
    assert codes(cue_of(0, 2, "One."), cue_of(2.0815, 4, "Two.")) == ["caption-gap"]
    assert codes(cue_of(0, 2, "One."), cue_of(2.082, 4, "Two.")) == []


def test_captions_that_touch_are_only_noted():
    assert codes(cue_of(0, 2, "One bug."), cue_of(2.01, 4, "Two bugs.")) == ["caption-gap"]
    assert codes(cue_of(0, 2, "One bug."), cue_of(2.083, 4, "Two bugs.")) == []


def test_lines_too_long_and_too_many_are_found():
    assert codes(cue_of(0, 4, "x" * 43)) == ["caption-line-length"]
    assert codes(cue_of(0, 4, "x" * 42)) == []
    assert codes(cue_of(0, 4, "a\nb\nc")) == ["caption-lines"]
    assert codes(cue_of(0, 4, "a\nb\nc"), limits=VERTICAL) == []


def test_stars_do_not_count_and_characters_are_what_a_reader_sees():
    assert cue_of(0, 1, "*Aus bus*\nhere").characters == 12
    assert count_characters("e\u0301🦋") == 2


@pytest.mark.parametrize("limits", [STREAMING, DEFAULT_LIMITS, BROADCAST, VERTICAL])
def test_every_set_of_limits_states_its_source(limits):
    assert "Guide" in limits.source
