import pytest

from guidebuild.speech.cues import BROADCAST, DEFAULT_LIMITS, STREAMING, VERTICAL, Cue, caption_findings, characters


def codes(*cues, limits=DEFAULT_LIMITS):
    return [finding.code for finding in caption_findings(cues, limits)]


def test_a_caption_too_fast_to_read_says_how_long_it_needs():
    # Case A27: 72 characters in 2.0 s.
    (finding,) = caption_findings([Cue(0, 2, "x" * 36 + "\n" + "y" * 35, number=4, line=12)], file="take.vtt")
    assert str(finding) == (
        "take.vtt:12: warning: Cue 4: 72 characters in 2.0 s are 36 characters a second; readers manage 17. "
        "Show it for 4.2 s or more, or say it in fewer words."
    )


def test_captions_too_short_and_too_long_are_found():
    assert codes(Cue(0, 0.9, "Look!")) == ["caption-too-short"]
    assert codes(Cue(0, 7.2, "Look!")) == ["caption-too-long"]
    assert codes(Cue(0, 1.0, "Look!"), Cue(2, 9.0, "Look!")) == []


def test_overlapping_captions_are_named_both():
    # Case A26: cues of 1–4 s and 3–5 s.
    (finding,) = caption_findings([Cue(1, 4, "One bug."), Cue(3, 5, "Two bugs.")])
    assert finding.code == "caption-overlap"
    assert "Cues 1 and 2 overlap: the first ends at 4.000 s, the second starts at 3.000 s." in finding.message


def test_captions_that_touch_are_only_noted():
    assert codes(Cue(0, 2, "One bug."), Cue(2.01, 4, "Two bugs.")) == ["caption-gap"]
    assert codes(Cue(0, 2, "One bug."), Cue(2.083, 4, "Two bugs.")) == []


def test_lines_too_long_and_too_many_are_found():
    assert codes(Cue(0, 4, "x" * 43)) == ["caption-line-length"]
    assert codes(Cue(0, 4, "x" * 42)) == []
    assert codes(Cue(0, 4, "a\nb\nc")) == ["caption-lines"]
    assert codes(Cue(0, 4, "a\nb\nc"), limits=VERTICAL) == []


def test_stars_do_not_count_and_characters_are_what_a_reader_sees():
    assert Cue(0, 1, "*Aus bus*\nhere").characters == 12
    assert characters("e\u0301🦋") == 2


@pytest.mark.parametrize("limits", [STREAMING, DEFAULT_LIMITS, BROADCAST, VERTICAL])
def test_every_set_of_limits_states_its_source(limits):
    assert "Guide" in limits.source
