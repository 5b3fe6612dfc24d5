"""Our estimates against espeak-ng (Debian), an independent speaker: the same texts at a matched rate, one scale fitted."""

import shutil
import subprocess
from statistics import correlation, fmean

import pytest

from guidebuild.speech.spoken import say_text
from guidebuild.speech.timing import time_script
from tests.speech.pieces_of_speech import PASSAGES, script_of

ESPEAK = shutil.which("espeak-ng")
WORDS_A_MINUTE = 165  # the rate at which espeak-ng speaks about as fast as the default pace
SAMPLES_A_SECOND = 22_050
HEADER = 44


def synthesised_seconds(text):
    done = subprocess.run([ESPEAK, "-v", "en-gb", "-s", str(WORDS_A_MINUTE), "--stdout", text], capture_output=True, check=True)
    return (len(done.stdout) - HEADER) / 2 / SAMPLES_A_SECOND


@pytest.mark.skipif(ESPEAK is None, reason="espeak-ng is not installed (Debian package espeak-ng)")
def test_estimates_follow_an_independent_speaker():
    assert len(PASSAGES) >= 30
    taken = [synthesised_seconds(say_text(passage)) for passage in PASSAGES]
    estimated = [time_script(script_of(passage)).seconds for passage in PASSAGES]
    scale = sum(a * b for a, b in zip(taken, estimated, strict=True)) / sum(b * b for b in estimated)
    errors = [abs(scale * mine / theirs - 1) for mine, theirs in zip(estimated, taken, strict=True)]
    agreement = correlation(estimated, taken)
    print(
        f"\nespeak-ng, {len(PASSAGES)} texts: correlation {agreement:.4f}, scale {scale:.3f}, "
        f"error {fmean(errors):.1%} (largest {max(errors):.1%})"
    )
    assert agreement >= 0.98
    assert fmean(errors) <= 0.08
    # The rates were matched beforehand: the scale may not hide a wrong one.
    assert 0.85 <= scale <= 1.15
