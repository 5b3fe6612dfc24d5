"""Invented presses as ICC profiles, of which it is known beforehand what ink each colour takes."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product

from PIL import Image, ImageCms

from guidebuild.press.paper import output_profile
from guidebuild.press.paper.output_profile import OutputProfile, read_profile

GRID = 17
COLOURED = 0.8
"""On black, each of the three coloured inks; black ink is full there: 340 per cent in all."""


def lightness_press() -> OutputProfile:
    """Inks that follow lightness in a straight line."""
    darkness = [1 - min(1.0, step / (GRID - 1) * 65535 / 65280) for step in range(GRID)]  # legacy Lab: 100 is FF00h
    return _press([dark * part for dark, _, _ in product(darkness, range(GRID), range(GRID)) for part in (*[COLOURED] * 3, 1.0)])


def plain_press() -> OutputProfile:
    """Each ink takes away its own light from white paper, and black as much as it can of all three: what a screen takes inks for."""
    steps = [step / (GRID - 1) for step in range(GRID)]
    lab = bytes(
        value
        for light, a, b in product(steps, repeat=3)
        for value in (min(255, round(light * 255)), (round(a * 255) - 128) & 0xFF, (round(b * 255) - 128) & 0xFF)
    )
    picture = Image.frombytes("LAB", (GRID**3, 1), lab)
    rgb = output_profile._transform(picture, ImageCms.createProfile("LAB", 5000), ImageCms.createProfile("sRGB"), "RGB").tobytes()
    inks: list[float] = []
    for n in range(0, len(rgb), 3):
        light = [value / 255 for value in rgb[n : n + 3]]
        black = 1 - max(light)
        inks += [*((1 - one - black) / (1 - black) if black < 1 else 0.0 for one in light), black]
    return _press(inks)


def _press(inks: Iterable[float]) -> OutputProfile:
    tags = {
        b"desc": output_profile._description("an invented press"),
        b"cprt": b"text\0\0\0\0No copyright, use freely\0",
        b"wtpt": b"XYZ \0\0\0\0" + output_profile._fixed(0.9642, 1.0, 0.8249),
        b"B2A0": output_profile._lut([round(65535 * ink) for ink in inks], outputs=4),
    }
    made = bytearray(output_profile._assembled(tags, {b"B2A1": b"B2A0", b"B2A2": b"B2A0"}))
    made[16:20] = b"CMYK"
    return read_profile(bytes(made), "press.icc")
