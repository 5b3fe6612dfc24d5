import random
from dataclasses import replace
from itertools import pairwise

import pytest

from guidebuild.guide.findings import Level
from guidebuild.speech.captions import caption_script
from guidebuild.speech.least_squares import Unknown, solve_least_squares
from guidebuild.speech.loads import get_word_loads
from guidebuild.speech.pace import fit_take
from guidebuild.speech.runs import find_runs
from guidebuild.speech.timing import Pace, time_script
from tests.speech.pieces_of_speech import SCRIPT, cue_of, script_of

SPEAKER = Pace(syllables=5.6, comma=0.4, sentence=0.9, paragraph=1.6)


def take(pace=SPEAKER, noise=0.08, seed=1):
    """Cues of about nine chunks each, as a captioner would set them, with noise on their times."""
    shaken = random.Random(seed)
    cues = []
    for run in find_runs(time_script(SCRIPT, pace), pace, loads=get_word_loads()):
        for at in range(0, len(run), 9):
            part = run[at : at + 9]
            start, end = part[0].start + shaken.gauss(0, noise), part[-1].end + shaken.gauss(0, noise)
            cues.append(cue_of(max(0, start), end, " ".join(timed.chunk.text for timed in part)))
    return cues


def unpunctuated(cues):
    return [cue_of(c.start, c.end, "".join(s for s in c.text.lower() if s.isalnum() or s in " '–%")) for c in cues]


def test_a_known_speaker_is_found_again_with_the_script():
    pace = fit_take(take(), SCRIPT).pace
    assert pace.syllables == pytest.approx(SPEAKER.syllables, rel=0.03)
    assert (pace.comma, pace.sentence, pace.paragraph) == pytest.approx((0.4, 0.9, 1.6), abs=0.12)


def test_a_take_without_punctuation_gets_its_pauses_from_the_script():
    fit = fit_take(unpunctuated(take()), SCRIPT)
    assert fit.pace.syllables == pytest.approx(SPEAKER.syllables, rel=0.05)
    assert fit.held_out < 0.02


def test_without_a_script_the_length_of_what_was_held_out_is_foretold():
    fit = fit_take(take())
    assert fit.held_out < 0.03
    assert fit.worst < 0.06
    assert fit.left_out == 0
    assert "paragraph" not in fit.fitted


def test_the_held_out_error_tells_a_steady_speaker_from_an_unsteady_one():
    steady = fit_take(take(), SCRIPT)
    cues = take()
    slow_end = [replace(c, start=c.start, end=c.end) for c in cues[:60]]
    shift = 0.0
    for before, cue in pairwise(cues[59:]):
        shift += 0.5 * (cue.start - before.start)
        slow_end.append(replace(cue, start=cue.start + shift, end=cue.end + shift + 0.5 * cue.seconds))
    assert fit_take(slow_end, SCRIPT).held_out > 5 * steady.held_out
    assert fit_take(slow_end, SCRIPT).pace.spread > 0.1


def test_the_fit_beats_the_default_on_a_slow_speaker():
    fit = fit_take(take(Pace(syllables=3.9, comma=0.5, sentence=1.0, paragraph=1.5)), SCRIPT)
    assert fit.default_error > 0.15
    assert fit.held_out < 0.02


SPEEDS = (2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 6.5, 7)


@pytest.mark.parametrize("speed", SPEEDS)
def test_any_pace_is_found_again_in_a_take_timed_by_its_words(speed):
    fit = fit_take(take(Pace(syllables=speed, comma=0.4, sentence=0.9, paragraph=1.6)), SCRIPT)
    assert fit.pace.syllables == pytest.approx(speed, rel=0.03)
    assert (fit.pace.comma, fit.pace.sentence, fit.pace.paragraph) == pytest.approx((0.4, 0.9, 1.6), abs=0.12)
    assert fit.findings == ()


@pytest.mark.parametrize("speed", SPEEDS)
def test_any_pace_is_found_again_in_captions_held_long_enough_to_read(speed):
    # Above five syllables a second such captions trail the words; taken at their times a speaker of seven would come out at 5.8.
    cues = caption_script(SCRIPT, Pace(syllables=speed)).cues
    fit = fit_take(cues, SCRIPT)
    assert fit.pace.syllables == pytest.approx(speed, rel=0.03)
    assert fit.used + fit.left_out == len(cues)
    if speed < 5:  # none trails: only where the last word ends is not known
        assert fit.left_out == 1


@pytest.mark.parametrize(("speed", "by"), [(2.5, 0.01), (4, 0.01), (5, 0.02), (5.5, 0.02), (6, 0.04), (7, 0.1)])
def test_other_pauses_bend_the_fit_to_such_captions_little(speed, by):
    fit = fit_take(caption_script(SCRIPT, Pace(syllables=speed, comma=0.4, sentence=0.9, paragraph=1.6)).cues, SCRIPT)
    assert fit.pace.syllables == pytest.approx(speed, rel=by)


@pytest.mark.parametrize(("speed", "told"), [(4.5, []), (7, ["take-timed-for-reading"])])
def test_captions_that_nearly_always_trail_are_told(speed, told):
    fit = fit_take(caption_script(SCRIPT, Pace(syllables=speed)).cues, SCRIPT)
    assert [finding.code for finding in fit.findings] == told


def test_an_aside_or_a_skipped_line_does_not_bend_the_fit():
    cues = take()
    cues[20] = cue_of(cues[20].start, cues[20].end, "Oh, and there goes a wren, did you see it? There, in the ivy, singing away.")
    del cues[50:53]
    fit = fit_take(cues, SCRIPT)
    assert fit.left_out >= 2
    assert fit.pace.syllables == pytest.approx(SPEAKER.syllables, rel=0.04)


def test_a_long_look_without_words_is_not_a_pause():
    cues = take()
    later = [replace(c, start=c.start + 20, end=c.end + 20) for c in cues[40:]]
    assert fit_take([*cues[:40], *later]).pace.sentence == pytest.approx(fit_take(cues).pace.sentence, abs=0.1)


@pytest.mark.parametrize("kept", range(1, 13))
def test_what_is_left_out_of_a_short_take_agrees_with_its_refusal(kept):
    """A take of eight cues has seven whose length is known in the script: the last has no end."""
    fit = fit_take(take()[:kept], SCRIPT)
    assert fit.used + fit.left_out == kept
    assert fit.used < kept
    assert (fit.describe()["cues used"], fit.describe()["cues left out"]) == (fit.used, fit.left_out)
    if fit.findings:
        assert fit.findings[0].message == f"Of the take's {kept} cues {fit.used} can be used; a pace needs 8."
    assert bool(fit.findings) == (fit.used < 8)


def test_a_cue_that_is_merged_into_its_neighbour_counts():
    cues = take()
    cues[20] = cue_of(cues[20].start, cues[20].end, f"Um {cues[20].text}")
    fit = fit_take(cues, SCRIPT)
    assert fit.used + fit.left_out == len(cues)
    assert fit.left_out <= 3


def test_a_fit_is_held_against_the_pace_that_stands():
    assert fit_take(take(), SCRIPT).is_better
    fit = fit_take(take(), SCRIPT, standing=SPEAKER)
    assert fit.standing_error < 0.02
    # Noise alone parts the two: one that fits the take itself is not better where it is held out.
    assert fit.is_better == (fit.held_out < fit.standing_error)
    assert not fit_take(take()[:6], SCRIPT).is_better


def test_short_noisy_takes_of_a_known_speaker_seldom_count_as_better():
    """A pace fitted to a dozen rough cues is chance: held against the true one it is nearly always worse, and then not better."""
    fits = [fit_take(take(noise=0.5, seed=seed)[:16], SCRIPT, standing=SPEAKER) for seed in range(12)]
    assert sum(fit.is_better for fit in fits) <= 4


def test_a_bare_take_says_that_its_pauses_are_guessed():
    fit = fit_take(unpunctuated(take()))
    assert [f.code for f in fit.findings] == ["take-without-punctuation"]
    assert fit.pace.comma == 0.0
    assert time_script(SCRIPT, fit.pace).seconds == pytest.approx(time_script(SCRIPT, SPEAKER).seconds, rel=0.08)


@pytest.mark.parametrize("known", [None, SCRIPT])
def test_a_take_too_short_gives_the_default_and_an_error(known):
    fit = fit_take(take()[:4], known)
    assert [(f.code, f.level) for f in fit.findings] == [("take-too-short", Level.ERROR)]
    assert fit.pace == Pace()
    assert fit_take([], known).findings[0].level is Level.ERROR


def test_a_take_of_another_script_is_an_error():
    fit = fit_take(take(), script_of("Quite another script, on trains. It shares no two words in a row with it at all."))
    assert [f.code for f in fit.findings] == ["take-too-short"]
    assert "check that the script is that of the take" in fit.findings[0].mend


def test_a_fit_is_told_as_plain_data():
    told = fit_take(take(), SCRIPT).describe()
    assert set(told["pace"]) == {"syllables", "comma", "sentence", "paragraph"}
    assert told["cues left out"] == 1  # the last, whose words have no next one to end at
    assert told["error on held-out parts"].endswith("%")
    assert 150 < told["words a minute"] < 200


def test_bounds_hold_and_an_unspoken_unknown_stays_at_its_guess():
    unknowns = [Unknown("a", 0, 1, 0.5), Unknown("b", 0, 9, 4, weight=1)]
    assert solve_least_squares([[1, 0], [2, 0]], [3, 6], unknowns) == pytest.approx([1, 4])


def test_a_take_that_nobody_could_speak_is_told():
    hurried = [replace(c, start=c.start / 6, end=c.end / 6) for c in take()]
    (finding,) = (f for f in fit_take(hurried, SCRIPT).findings if f.code == "pace-at-bound")
    assert finding.message == "The rate came out at its bound, 9.0 syllables a second: the take's times and words disagree."
