"""A sound drawn as its sonogram: time across, pitch up, the louder the darker; and what can be measured of it."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import soundfile
from PIL import Image

from guidebuild.press.media.drawn_sound import HEIGHT, WIDTH, DrawnSound, find_end
from guidebuild.press.media.ink import write_picture

Samples = np.ndarray[tuple[int, ...], np.dtype[np.floating[Any]]]
Power = np.ndarray[tuple[int, ...], np.dtype[np.floating[Any]]]

MOST_SECONDS = 600
"""Longer recordings are not drawn: nothing could be told on so narrow a picture."""
_TOPS = (0.25, 0.5, 1, 2, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192)
"""Where the axis of pitch may end, in kHz."""
_BANDS = 96
"""So many pitches are told apart up to the axis' end: more, and short sounds would be smeared along the time."""
_FRAMES = 8
"""So many spectra a column of the picture, of which the loudest counts: no short sound falls between two."""
_RANGE = 50.0
"""Decibels from the loudest to what is not drawn any more."""
_SHARE = 0.05
"""The band is where nine tenths of the sound's energy are: so much of it lies below, and as much above."""
_BLOCK = 1 << 20


_HEARD = 42.0
"""Decibels from the loudest pitch of the whole to those that the axis leaves out: the clicks where a sound begins reach far up."""


class CannotDrawError(ValueError):
    """A sound that is not drawn; the text says why, and what to do behind a semicolon."""


@dataclass(frozen=True, slots=True)
class Spectra:
    """Power density by time and pitch: `power[n, k]` at `hertz[k]`, and its mean over the whole sound."""

    power: Power
    mean: Samples
    hertz: Samples


def draw_sonogram(content: bytes) -> tuple[DrawnSound, bytes]:
    """The sonogram as WebP, and what was measured; raises CannotDrawError."""
    samples, rate = read_samples(content)
    seconds = samples.size / rate
    whole = find_spectra(samples, rate, _whole_power(rate / 40))
    low, high = find_band(whole)
    top = _find_top(whole)
    drawn = find_spectra(samples, rate, _whole_power(rate * _BANDS / top / 1000))
    end = find_end(seconds)
    picture = _draw(drawn, top * 1000, seconds / end)
    return DrawnSound("sonogram", seconds, end, top, low, high), write_picture(picture)


def read_samples(content: bytes) -> tuple[Samples, int]:
    """The sound's samples, its channels mixed to one, and how many there are a second."""
    try:
        with soundfile.SoundFile(io.BytesIO(content)) as opened:
            if opened.frames > MOST_SECONDS * opened.samplerate:
                raise CannotDrawError(f"it is longer than {MOST_SECONDS // 60} minutes; cut it to what is to be heard")
            blocks = [block.mean(axis=1) for block in opened.blocks(_BLOCK, dtype="float64", always_2d=True)]
            rate: int = opened.samplerate
    except (soundfile.LibsndfileError, RuntimeError, OSError) as trouble:
        raise CannotDrawError("it cannot be decoded here; save it as WAV, FLAC, MP3 or Ogg") from trouble
    samples = np.concatenate(blocks) if blocks else np.zeros(0)
    if not samples.size or not np.isfinite(samples).all() or not np.ptp(samples):  # not even a level that is off counts as a sound
        raise CannotDrawError("there is no sound in it; copy it again from the recorder")
    return samples - samples.mean(), rate


def find_spectra(samples: Samples, rate: int, size: int) -> Spectra:
    """Power densities through a Hann window of so many samples, of overlapping pieces of the sound; at most eight a column are kept apart.

    One-sided, so that their sum times the width of a band is the mean square of the samples (Parseval).
    """
    size = min(size, _whole_power(samples.size))
    hop = max(size // 4, -(-samples.size // (WIDTH * _FRAMES)))
    window = np.hanning(size + 1)[:-1]
    padded = np.pad(samples, (size // 2, size // 2))
    starts = range(0, padded.size - size + 1, hop)
    scale = rate * (window**2).sum()
    power = np.stack([np.abs(np.fft.rfft(padded[start : start + size] * window)) ** 2 / scale for start in starts])
    power[:, 1:-1] *= 2
    mean: Samples = power.mean(axis=0)
    return Spectra(power, mean, np.fft.rfftfreq(size, 1 / rate))


def find_band(spectra: Spectra) -> tuple[float, float]:
    """The lowest and highest pitch, in hertz, between which nine tenths of the sound's energy lie."""
    summed = np.cumsum(spectra.mean)
    low, high = (spectra.hertz[np.searchsorted(summed, summed[-1] * share)] for share in (_SHARE, 1 - _SHARE))
    return float(low), float(high)


def _find_top(spectra: Spectra) -> float:
    """Where the axis of pitch ends, in kHz: above all that is drawn."""
    heard = spectra.hertz[spectra.mean > spectra.mean.max() * 10 ** (-_HEARD / 10)]
    highest, most = float(heard[-1]) / 1000 if heard.size else 1.0, float(spectra.hertz[-1]) / 1000
    return min(next((top for top in _TOPS if top >= highest), _TOPS[-1]), next((top for top in _TOPS if top >= most), _TOPS[-1]))


def _draw(spectra: Spectra, top: float, share: float) -> Image.Image:
    """The density of the ink; right of the sound's end the picture is empty."""
    frames = spectra.power[:, spectra.hertz <= top]
    columns = np.stack(list(_columns(frames, max(round(WIDTH * share), 1))))
    loudness = 10 * np.log10(np.maximum(columns / max(columns.max(), 1e-30), 1e-12))
    ink = np.clip(1 + loudness / _RANGE, 0, 1).T[::-1]
    reach = min(float(spectra.hertz[-1]) / top, 1.0)  # a sound sampled too coarsely for the axis ends below its top
    drawn = Image.fromarray((ink * 255).astype(np.uint8)).resize((columns.shape[0], round(HEIGHT * reach)), Image.Resampling.BILINEAR)
    alpha = Image.new("L", (WIDTH, HEIGHT))
    alpha.paste(drawn, (0, HEIGHT - drawn.height))
    return alpha


def _columns(frames: Power, columns: int) -> Iterator[Samples]:
    """The loudest of the spectra that fall into each column, or the nearest where there are fewer spectra than columns."""
    edges = np.linspace(0, frames.shape[0], columns + 1)
    for start, stop in pairwise(edges):
        first = min(int(start), frames.shape[0] - 1)
        yield frames[first : max(int(np.ceil(stop)), first + 1)].max(axis=0)


def _whole_power(size: float) -> int:
    """The power of two that is nearest below a number, between 64 and 32,768."""
    return 1 << min(max(int(size).bit_length() - 1, 6), 15)
