"""A sound drawn by its loudness alone, for whoever has no library that decodes sounds: of WAV files, by the standard library."""

from __future__ import annotations

import io
import sys
import wave
from array import array

from PIL import Image, ImageDraw

from guidebuild.press.media.drawn_sound import HEIGHT, WIDTH, DrawnSound, find_end
from guidebuild.press.media.ink import write_picture

_CODES = {1: "b", 2: "h", 4: "i"}
_MOST = 100_000_000
"""Bytes of sound that are drawn."""


def draw_waveform(content: bytes) -> tuple[DrawnSound, bytes] | None:
    """The waveform as WebP; None for what is no WAV file of 8, 16 or 32 bits."""
    try:
        with wave.open(io.BytesIO(content)) as opened:
            width, rate, channels, frames = opened.getsampwidth(), opened.getframerate(), opened.getnchannels(), opened.getnframes()
            held = opened.readframes(frames) if width in _CODES and frames * width * channels <= _MOST else b""
    except (wave.Error, EOFError, ValueError, ZeroDivisionError):
        return None
    if not held or not rate:
        return None
    samples = array(_CODES[width], bytes(byte ^ 0x80 for byte in held) if width == 1 else held[: len(held) // width * width])
    if sys.byteorder == "big":
        samples.byteswap()
    seconds = len(samples) / channels / rate
    end = find_end(seconds)
    return DrawnSound("waveform", seconds, end), write_picture(_draw(samples[::channels], max(round(WIDTH * seconds / end), 1)))


def _draw(samples: array[int], columns: int) -> Image.Image:
    alpha = Image.new("L", (WIDTH, HEIGHT))
    draw = ImageDraw.Draw(alpha)
    loudest = max(abs(max(samples)), abs(min(samples))) or 1
    for column in range(columns):
        start = len(samples) * column // columns
        piece = samples[start : max(len(samples) * (column + 1) // columns, start + 1)]
        up, down = (HEIGHT / 2 * (1 - value / loudest * 0.96) for value in (max(piece), min(piece)))
        draw.line((column, round(up), column, round(down)), fill=255)
    return alpha
