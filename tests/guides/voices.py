"""Two voices for the guides of birds and frogs: invented and synthesised, recorded from no animal."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
import soundfile

RATE = 16_000


def draw_redshank() -> np.ndarray:
    """Three whistles, each falling a little, after the words that books write for it: tew-hu-hu."""
    heard = np.zeros(int(1.6 * RATE))
    for start, length, high, low in ((0.2, 0.28, 3100, 2300), (0.62, 0.16, 2700, 2250), (0.9, 0.16, 2650, 2200)):
        _add(heard, start, np.linspace(high, low, int(length * RATE)), 0.12)
    return heard


def draw_pobblebonk() -> np.ndarray:
    """Three single plucks of a string."""
    heard = np.zeros(int(2.4 * RATE))
    for start in (0.2, 1.0, 1.8):
        time = np.arange(int(0.35 * RATE)) / RATE
        pluck = np.exp(-time * 16) * sum(np.sin(2 * np.pi * 470 * n * time) / n**2 for n in (1, 2, 3))
        first = int(start * RATE)
        heard[first : first + pluck.size] += 0.5 * pluck
    return heard


def _add(heard: np.ndarray, start: float, pitch: np.ndarray, overtone: float) -> None:
    turn = 2 * np.pi * np.cumsum(pitch) / RATE
    swell = np.sin(np.pi * np.arange(pitch.size) / pitch.size) ** 0.7
    first = int(start * RATE)
    heard[first : first + pitch.size] += 0.5 * swell * (np.sin(turn) + overtone * np.sin(2 * turn))


VOICES: Mapping[str, Mapping[str, Callable[[], np.ndarray]]] = {
    "estuary-waders": {"redshank-call.flac": draw_redshank},
    "southern-frogs": {"pobblebonk-call.flac": draw_pobblebonk},
}


def write_voices(name: str, into: Path) -> None:
    """Write the recordings of a guide; the same ones come out each time."""
    for file, draw in VOICES.get(name, {}).items():
        into.mkdir(parents=True, exist_ok=True)
        soundfile.write(into / file, draw() + 0.0005 * np.random.default_rng(1).normal(size=draw().size), RATE, subtype="PCM_16")
