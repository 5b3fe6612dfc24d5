"""Sonograms against signals whose time and pitch are known, and against SciPy's own spectrogram."""

from __future__ import annotations

import io

import numpy as np
import pytest
import scipy.signal
import soundfile
from PIL import Image

from guidebuild.press.media import sonogram
from guidebuild.press.media.drawn_sound import HEIGHT, WIDTH, find_end, list_steps
from guidebuild.press.media.sonogram import CannotDrawError, draw_sonogram, find_band, find_spectra
from guidebuild.press.media.sound_making import DrawingWork, draw_sound, read_drawn
from guidebuild.press.media.waveform import draw_waveform
from tests.press.media.recordings import FILES, telltale_wav

RATE = 44_100
TIME = np.arange(2 * RATE) / RATE


def wav(samples: np.ndarray, rate: int = RATE, **more: str) -> bytes:
    made = io.BytesIO()
    soundfile.write(made, samples, rate, format="WAV", **more)
    return made.getvalue()


def ink(picture: bytes) -> np.ndarray:
    """How dark each pixel is, the lowest pitch first."""
    with Image.open(io.BytesIO(picture)) as opened:
        assert opened.size == (WIDTH, HEIGHT)
        assert not set(opened.info) & {"exif", "xmp", "icc_profile"}
        return 255 - np.asarray(opened.convert("L"), dtype=float)[::-1]


@pytest.mark.parametrize("rate", [8000, 22_050, 44_100, 96_000])
def test_the_line_of_a_tone_of_1_khz_stands_at_1_khz(rate: int) -> None:
    drawn, picture = draw_sonogram(wav(0.5 * np.sin(2 * np.pi * 1000 * np.arange(2 * rate) / rate), rate))
    middle = ink(picture)[:, WIDTH // 4 : WIDTH // 2].mean(axis=1)
    row = (np.argmax(middle) + 0.5) / HEIGHT * drawn.top * 1000
    assert row == pytest.approx(1000, abs=drawn.top * 1000 / 90)  # a band of the picture
    assert drawn.low <= 1000 <= drawn.high
    assert drawn.high - drawn.low < 250
    assert (drawn.kind, drawn.seconds, drawn.end) == ("sonogram", pytest.approx(2.0), 2.0)


def test_a_rising_tone_rises_as_fast_as_it_was_made_to() -> None:
    """From 2 to 6 kHz in two seconds: 2 kHz a second."""
    drawn, picture = draw_sonogram(wav(0.5 * scipy.signal.chirp(TIME, 2000, 2, 6000)))
    dark = ink(picture)[:, 40:-40]
    pitch = (dark.argmax(axis=0) + 0.5) / HEIGHT * drawn.top * 1000
    seconds = (np.arange(40, WIDTH - 40) + 0.5) / WIDTH * drawn.end
    slope, start = np.polyfit(seconds, pitch, 1)
    assert slope == pytest.approx(2000, rel=0.02)
    assert start == pytest.approx(2000, abs=60)
    assert drawn.low == pytest.approx(2200, abs=60)  # nine tenths of an even rise from 2 to 6 kHz
    assert drawn.high == pytest.approx(5800, abs=60)


def test_two_clicks_stand_where_they_sound() -> None:
    samples = np.zeros(TIME.size)
    samples[[RATE // 2, RATE * 3 // 2]] = 0.9
    _, picture = draw_sonogram(wav(samples))
    loud = np.flatnonzero(ink(picture).mean(axis=0) > 100)
    near = [WIDTH // 4, WIDTH * 3 // 4]
    assert {min(near, key=lambda place, one=one: abs(place - one)) for one in loud} == set(near)
    assert all(min(abs(one - place) for place in near) <= 6 for one in loud)


def test_power_densities_are_those_of_scipy() -> None:
    samples = np.random.default_rng(1).normal(0, 0.1, RATE)
    size, hop = 1024, 256
    ours = find_spectra(samples, RATE, size)
    hertz, _, theirs = scipy.signal.spectrogram(
        np.pad(samples, size // 2), RATE, window="hann", nperseg=size, noverlap=size - hop, detrend=False, scaling="density"
    )
    assert np.allclose(ours.hertz, hertz)
    assert ours.power.shape == theirs.T.shape
    assert np.allclose(ours.power, theirs.T, rtol=1e-6, atol=1e-15)


def test_the_sum_of_powers_is_the_mean_square() -> None:
    """Parseval's theorem; the window's edges take some of the sound's beginning and end."""
    samples = np.random.default_rng(2).normal(0, 0.1, 10 * RATE)
    spectra = find_spectra(samples, RATE, 1024)
    assert spectra.mean.sum() * spectra.hertz[1] == pytest.approx((samples**2).mean(), rel=0.01)


def test_the_band_of_even_noise_is_nine_tenths_of_all_pitches() -> None:
    low, high = find_band(find_spectra(np.random.default_rng(3).normal(0, 0.1, 10 * RATE), RATE, 1024))
    assert low == pytest.approx(0.05 * RATE / 2, rel=0.05)
    assert high == pytest.approx(0.95 * RATE / 2, rel=0.01)


@pytest.mark.parametrize("name", [name for name in FILES if name.endswith((".wav", ".mp3", ".flac", ".ogg", ".opus"))])
def test_every_coding_is_decoded(name: str) -> None:
    drawn, _ = draw_sonogram(FILES[name]())
    assert drawn.seconds == pytest.approx(0.6, abs=0.06)
    assert 900 <= drawn.low <= drawn.high <= 1100


def test_channels_are_mixed_and_a_level_that_is_off_counts_for_nothing() -> None:
    left, right = np.sin(2 * np.pi * 1000 * TIME), np.sin(2 * np.pi * 3000 * TIME)
    drawn, _ = draw_sonogram(wav(0.3 * np.stack([left, right], axis=1) + 0.2))
    assert (round(drawn.low, -3), round(drawn.high, -3)) == (1000, 3000)


REFUSED = {
    "a text": (b"no sound", "it cannot be decoded here; save it as WAV, FLAC, MP3 or Ogg"),
    "M4A": (FILES["a.m4a"](), "it cannot be decoded here; save it as WAV, FLAC, MP3 or Ogg"),
    "an empty one": (wav(np.zeros(0)), "there is no sound in it; copy it again from the recorder"),
    "silence": (wav(np.zeros(RATE)), "there is no sound in it; copy it again from the recorder"),
    "a level that is off": (wav(np.full(RATE, 0.25)), "there is no sound in it; copy it again from the recorder"),
    "not a number": (wav(np.full(100, np.nan), subtype="FLOAT"), "there is no sound in it; copy it again from the recorder"),
    "too long": (wav(np.zeros(8000 * 5), 8000), "it is longer than 0 minutes; cut it to what is to be heard"),
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_is_not_drawn_is_told_in_one_line(tmp_path, monkeypatch: pytest.MonkeyPatch, what: str) -> None:
    content, words = REFUSED[what]
    monkeypatch.setattr(sonogram, "MOST_SECONDS", 4)
    with pytest.raises(CannotDrawError, match=words):
        draw_sonogram(content)
    (tmp_path / "a.wav").write_bytes(content)
    made = draw_sound(DrawingWork(tmp_path / "a.wav", "sounds/a.wav", has_library=True))
    assert [str(problem) for problem in made.problems] == [f"sounds/a.wav: no sonogram is drawn: {words}"]
    assert read_drawn(made).kind == ""


@pytest.mark.parametrize("seconds", [0.00005, 0.004, 0.5])
def test_very_short_sounds_are_drawn(seconds: float) -> None:
    drawn, picture = draw_sonogram(wav(np.random.default_rng(4).normal(0, 0.1, round(seconds * RATE))))
    assert drawn.kind == "sonogram"
    assert ink(picture).shape == (HEIGHT, WIDTH)


def test_without_the_library_a_waveform_is_drawn_of_a_wav_file(tmp_path) -> None:
    rising = np.concatenate([np.zeros(RATE), 0.5 * np.sin(2 * np.pi * 50 * TIME[:RATE])])
    (tmp_path / "a.wav").write_bytes(wav(rising))
    made = draw_sound(DrawingWork(tmp_path / "a.wav", "sounds/a.wav", has_library=False))
    drawn = read_drawn(made)
    assert (drawn.kind, drawn.seconds, drawn.top) == ("waveform", 2.0, 0.0)
    dark = ink(made.parts[1]).sum(axis=0)
    assert dark[: WIDTH // 2 - 8].max() * 10 < dark[WIDTH // 2 + 8 : -8].min()
    assert read_drawn(draw_sound(DrawingWork(tmp_path / "none.wav", "sounds/none.wav", has_library=False))).kind == ""


def test_waveforms_are_drawn_of_each_width_of_samples_and_of_nothing_else() -> None:
    for coding in ("PCM_U8", "PCM_16", "PCM_32"):
        drawn = draw_waveform(wav(0.5 * np.sin(2 * np.pi * 50 * TIME), subtype=coding))
        assert drawn is not None
        assert ink(drawn[1])[HEIGHT * 3 // 4 : HEIGHT - 6].mean() > 60
    for other in (wav(np.zeros(10), subtype="FLOAT"), wav(np.zeros(10), subtype="PCM_24"), FILES["a.mp3"](), b"", telltale_wav()[:30]):
        assert draw_waveform(other) is None


def test_axes_end_at_a_whole_number_of_even_steps() -> None:
    for seconds, end in ((0.97, 1.0), (2.0, 2.0), (1.23, 1.25), (4.0, 4.0), (62.0, 75), (0.011, 0.012), (599, 600), (3.1, 4.0)):
        assert find_end(seconds) == pytest.approx(end), seconds
    for seconds in np.geomspace(0.001, 600, 200):
        told = list_steps(find_end(float(seconds)))
        assert all(float(f"{step:.3g}") == pytest.approx(step) for step in told), told
        assert 4 <= len(told) <= 6
        assert seconds <= told[-1] * 1.001 <= seconds * 1.36
    for top in (0.25, 0.5, 1, 2, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192):
        assert all(abs(step * 1000 - round(step * 1000)) < 1e-9 for step in list_steps(top))
