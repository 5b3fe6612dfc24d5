"""The places of the walk, painted in dabs."""

from __future__ import annotations

import math
from collections.abc import Callable
from random import Random

from brush import Colour, Finish, Point, Sheet, Tone, disc, ribbon, smooth


def scene(kind: str, width: int, height: int, seed: int) -> Sheet:
    """A place painted in dabs: sky, far hills, the hedge or the trees, and the grass before them."""
    sheet = Sheet(width, height, (214, 226, 232))
    chance = Random(seed)
    horizon = height * 0.42
    for i in range(40):
        y = horizon * i / 40
        sheet.wash(
            [(0, y), (width, y), (width, y + horizon / 36 + 2), (0, y + horizon / 36 + 2)],
            (int(186 + i * 1.2), int(208 + i * 0.7), int(226 - i * 0.1)),
        )
    for _ in range(26):
        at = (chance.uniform(0, width), chance.uniform(0, horizon * 0.7))
        sheet.wash(disc(*at, chance.uniform(60, 190), chance.uniform(12, 36)), (250, 249, 244), soft=18, strength=0.55)
    for band, colour in enumerate(((150, 172, 172), (128, 156, 134), (112, 142, 100))):
        base = horizon - 60 + band * 34
        ridge = [(x, base - 30 * math.sin(x / (210 + band * 60) + band * 2 + seed)) for x in range(0, width + 41, 40)]
        sheet.wash([*ridge, (width, height), (0, height)], colour, soft=1.5)
    sheet.blur(1.2)
    _field_of(sheet, width, height, horizon, chance)
    SCENES[kind](sheet, width, height, horizon, chance)
    _foreground(sheet, width, height, chance)
    return sheet


def _dabs(sheet: Sheet, chance: Random, at: Point, spread: Point, count: int, size: float, colours: tuple[str, ...]) -> None:
    for i in range(count):
        x, y = at[0] + chance.gauss(0, spread[0] * 0.48), at[1] + chance.gauss(0, spread[1] * 0.48)
        depth = (x - at[0]) / (spread[0] * 2.4) + (y - at[1]) / (spread[1] * 2.0) + chance.uniform(-0.25, 0.25)
        light = max(0, min(len(colours) - 1, int((0.5 - depth) * len(colours))))
        shade = colours[light if i > count * 0.35 else max(0, light - 1)]
        rgb: Colour = (int(shade[:2], 16), int(shade[2:4], 16), int(shade[4:], 16))
        sheet.wash(
            disc(x, y, size * chance.uniform(0.5, 1.2), size * chance.uniform(0.35, 0.8), turn=chance.uniform(0, 180), n=9),
            rgb,
            strength=0.86,
        )


HEDGE = ("26391f", "36502a", "4a6a34", "5f8342", "7d9c52", "9cb56a")
BIRCH = ("4a6434", "5f7f40", "7c9a4e", "98b060", "b4c67c")
GRASS = ("5f7a3c", "7a9448", "93a955", "aebd68", "c4cc80")


def _field_of(sheet: Sheet, width: int, height: int, horizon: float, chance: Random) -> None:
    sheet.wash([(-20, horizon + 8), (width + 20, horizon + 8), (width + 20, height + 20), (-20, height + 20)], (132, 156, 82), soft=5)
    for i in range(900):
        y = horizon + 20 + (height - horizon) * (i / 900)
        near = (y - horizon) / (height - horizon)
        _dabs(sheet, chance, (chance.uniform(0, width), y), (60, 6), 2, 8 + near * 16, GRASS)


def _hedge(sheet: Sheet, width: int, height: int, horizon: float, chance: Random) -> None:
    for step in range(26):
        t = step / 25
        x, y = width * (0.02 + 0.98 * t), horizon + 40 + 130 * t
        tall = 60 + 190 * t
        sheet.wash(disc(x, y + tall * 0.62, tall * 0.8, tall * 0.18), (44, 56, 30), soft=10, strength=0.45)
        _dabs(sheet, chance, (x, y + tall * 0.1), (tall * 0.62, tall * 0.52), 210, 7 + 11 * t, HEDGE)
        if step % 3 == 1:
            for _ in range(22):
                sheet.wash(
                    disc(x + chance.gauss(0, tall * 0.3), y + chance.gauss(0, tall * 0.26), 2.4 + 3 * t), (178, 42, 32), strength=0.9
                )
    path = smooth(
        [
            (width * 0.30, horizon + 44, 1),
            (width * 0.36, horizon + 170),
            (width * 0.30, height * 0.86),
            (width * 0.18, height, 1),
            (width * 0.46, height, 1),
            (width * 0.43, height * 0.8),
            (width * 0.385, horizon + 160),
            (width * 0.31, horizon + 44, 1),
        ]
    )
    sheet.wash(path, (190, 172, 136), soft=5, strength=0.75)


def _trees(sheet: Sheet, width: int, height: int, horizon: float, chance: Random) -> None:
    for step in range(9):
        x = width * (0.05 + 0.115 * step) + chance.uniform(-24, 24)
        foot = horizon + 110 + chance.uniform(0, 150)
        top = foot - height * chance.uniform(0.42, 0.52)
        trunk = ribbon(
            smooth([(x, foot), (x + chance.uniform(-14, 14), (foot + top) / 2), (x + chance.uniform(-20, 20), top)], closed=False),
            [26, 19, 7],
        )
        sheet.wash(disc(x + 70, foot + 8, 120, 16), (58, 70, 36), soft=9, strength=0.5)
        sheet.paint(trunk, Tone.of("e2ded2", deep=0.45), Finish(mottle=0.3, mottle_size=8, rim=0.5), seed=step)
        for _ in range(9):
            sheet.wash(disc(x + chance.uniform(-8, 8), chance.uniform(top + 60, foot), 9, 3), (52, 46, 44), strength=0.8)
        for k in range(7):
            _dabs(sheet, chance, (x + chance.gauss(0, 52), top + 20 + k * 34), (74, 56), 70, 9, BIRCH)


def _meadow(sheet: Sheet, width: int, height: int, horizon: float, chance: Random) -> None:
    for step in range(12):
        _dabs(sheet, chance, (width * step / 11, horizon + 24), (70, 34), 80, 8, HEDGE)
    for i in range(420):
        y = horizon + 70 + (height - horizon - 70) * (i / 420)
        near = (y - horizon) / (height - horizon)
        colour = ((236, 232, 214), (196, 88, 104), (232, 196, 64), (150, 112, 168))[chance.randrange(4)]
        sheet.wash(disc(chance.uniform(0, width), y, 2.5 + 8 * near, 2 + 6 * near, n=10), colour, strength=0.9)


def _bank(sheet: Sheet, width: int, height: int, horizon: float, chance: Random) -> None:
    for _ in range(34):
        x, y = chance.uniform(0, width), horizon + 40 + chance.uniform(0, 260)
        size = 40 + (y - horizon) * 0.42
        _dabs(sheet, chance, (x, y), (size, size * 0.8), 150, 6 + size * 0.06, HEDGE)
        for _ in range(40):
            sheet.wash(
                disc(x + chance.gauss(0, size * 0.4), y - size * 0.2 + chance.gauss(0, size * 0.28), 3 + size * 0.03),
                (232, 188, 50),
                strength=0.9,
            )


SCENES: dict[str, Callable[[Sheet, int, int, float, Random], None]] = {
    "hedge": _hedge,
    "trees": _trees,
    "meadow": _meadow,
    "bank": _bank,
}


def _foreground(sheet: Sheet, width: int, height: int, chance: Random) -> None:
    for i in range(240):
        x = chance.uniform(-20, width + 20)
        tall = chance.uniform(60, 190)
        lean = chance.uniform(-40, 40)
        shade = (GRASS[i % 5], HEDGE[3])[i % 4 == 0]
        rgb: Colour = (int(shade[:2], 16), int(shade[2:4], 16), int(shade[4:], 16))
        run = [(x, height + 6), (x + lean * 0.4, height - tall * 0.6), (x + lean, height - tall)]
        sheet.wash(ribbon(smooth(run, closed=False), [8, 5, 1]), rgb, strength=0.85)
