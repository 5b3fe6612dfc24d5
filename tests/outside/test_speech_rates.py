"""The default pace against published rates of speech, and against a presenter's rule of thumb."""

import pytest

from guidebuild.speech.cues import find_caption_faults
from guidebuild.speech.pace import PaceFit
from guidebuild.speech.timing import DEFAULT_PACE, Pace, time_script
from tests.speech.pieces_of_speech import PASSAGES, cue_of, load_of, script_of

BRYSBAERT_ALOUD = 183  # words a minute. Brysbaert 2019, Journal of Memory and Language 109:104047
RODERO_RADIO = (160, 180)  # words a minute. Rodero 2012, Text & Talk 32(3):391–411
PELLEGRINO_ENGLISH = 6.19  # syllables a second without pauses. Pellegrino, Coupé & Marsico 2011, Language 87(3):539–558
BBC_CAPTIONS = (160, 180)  # words a minute. BBC Subtitle Guidelines, section 4


def episode(words):
    """Passages up to a number of spoken words, a paragraph each."""
    chosen, count = [], 0
    for passage in PASSAGES:
        more = load_of(passage).words
        if count + more <= words:
            chosen.append(passage)
            count += more
    return "\n\n".join(chosen), count


@pytest.mark.parametrize(("words", "seconds"), [(950, 330), (975, 345), (1000, 360)])
def test_a_presenter_s_episode_runs_as_long_as_common_practice_says(words, seconds):
    # Common practice, no source: 950–1,000 words of a single-species episode run 5½–6 minutes, within 10 %.
    text, count = episode(words)
    assert abs(count - words) <= 15
    assert time_script(script_of(text)).seconds == pytest.approx(seconds, rel=0.10)


def test_the_default_pace_lies_between_radio_and_reading_aloud():
    timing = time_script(script_of("\n\n".join(PASSAGES)))
    words_a_minute = timing.words * 60 / timing.seconds
    assert RODERO_RADIO[0] <= words_a_minute <= BRYSBAERT_ALOUD
    assert RODERO_RADIO[0] <= words_a_minute <= RODERO_RADIO[1]
    assert BBC_CAPTIONS[0] <= words_a_minute <= BBC_CAPTIONS[1]


def test_a_presenter_articulates_slower_than_a_reader_but_not_by_much():
    # Pellegrino's readers were asked to read; a presenter explains. Their rate leaves out the pauses, as ours does.
    assert 0.7 * PELLEGRINO_ENGLISH <= DEFAULT_PACE.syllables <= PELLEGRINO_ENGLISH


def test_reading_without_a_pause_runs_at_the_published_articulation_rate():
    silent = Pace(syllables=PELLEGRINO_ENGLISH, comma=0, sentence=0, paragraph=0)
    text = "\n\n".join(PASSAGES)
    syllables = load_of(text.replace("\n\n", " ")).syllables
    assert syllables / time_script(script_of(text), silent).seconds == pytest.approx(PELLEGRINO_ENGLISH, rel=0.01)


def rate(words, seconds):
    """What `pace` tells of a take of so many words."""
    return PaceFit(DEFAULT_PACE, 1, 0, words, seconds, 0, 0, 0, 0, 0, ()).describe()["words a minute"]


def test_rates_are_told_by_the_published_arithmetic():
    # BBC Subtitle Guidelines, section 4: two words in one second are 120 words a minute; 160–180 are 0.33–0.375 s a word.
    assert rate(2, 1) == 120
    assert (rate(1, 0.375), rate(3, 1)) == BBC_CAPTIONS
    # Section 4.1: 0.3 s a word, 1.2 s for four words.
    assert rate(1, 0.3) == rate(4, 1.2) == 200


def test_the_published_limits_of_captions_are_kept_to_the_frame():
    # Netflix Timed Text Style Guide, General Requirements: 5/6 s to 7 s, two lines of 42 characters, a gap of two frames.
    from_guide = [cue_of(0, 7.0, "x" * 42 + "\n" + "y" * 42), cue_of(7 + 2 / 24, 12.1, "x" * 42 + "\n" + "y" * 42)]
    assert list(find_caption_faults(from_guide)) == []
    past = [cue_of(0, 7.1, "x" * 43), cue_of(7.1 + 1 / 24, 12, "x\ny\nz")]
    assert {finding.code for finding in find_caption_faults(past)} == {
        "caption-too-long", "caption-line-length", "caption-gap", "caption-lines",
    }  # fmt: skip
