"""Synthesises the sample's sound: an invented song of a male Parent Bug, as a leaf would carry it. Nothing of it was recorded.

Shieldbugs sing through the plant they sit on, at a hundred hertz or so, far too softly for us; what is drawn here is of that kind and no
measurement. Needs numpy and soundfile: `pip install "guidebuild[sound]"`, then `python sample_guide/drawing/song.py`.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import soundfile

RATE = 8000
SECONDS = 4.0
PLACE = Path(__file__).resolve().parent.parent / "sounds" / "parent-bug-song.flac"


def main() -> None:
    time = np.arange(int(RATE * SECONDS)) / RATE
    chance = np.random.default_rng(1758)
    heard = 0.002 * np.cumsum(chance.normal(size=time.size)) / 40  # the leaf in the wind
    heard -= np.convolve(heard, np.ones(400) / 400, "same")
    start = 0.25
    for number in range(9):
        length = 0.16 if number % 3 else 0.3
        inside = (time - start) / length
        swell = np.where((inside > 0) & (inside < 1), np.sin(np.pi * np.clip(inside, 0, 1)) ** 2, 0)
        pitch = 118 - 22 * np.clip(inside, 0, 1)
        turn = 2 * np.pi * np.cumsum(pitch) / RATE
        heard += 0.5 * swell * (np.sin(turn) + 0.35 * np.sin(2 * turn) + 0.12 * np.sin(3 * turn))
        start += 0.38 if number % 3 else 0.5
    heard += 0.0015 * chance.normal(size=time.size)
    PLACE.parent.mkdir(exist_ok=True)
    soundfile.write(PLACE, heard / np.abs(heard).max() * 0.8, RATE, subtype="PCM_16")


if __name__ == "__main__":
    main()
