"""What a shieldbug is before it is grown: nymphs and eggs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from body import Form, Pose, antenna_parts, head_outline, leg_joints, mirrored
from brush import Colour, Finish, Pits, Point, Sheet, Tone, disc, ribbon, smooth

BROWN = Tone.of("5a4632")


@dataclass(frozen=True, slots=True)
class NymphCoat:
    """Colours of a nymph: fore body, abdomen, plates on its midline, bands at its edge, pale or dark spots."""

    fore: Tone
    abdomen: Tone
    plates: Tone
    bands: tuple[Tone, Tone] | None = None
    antenna: str = "4a3a2a"
    legs: Tone = BROWN
    spots: Tone | None = None
    hairs: Colour | None = None


def _edge(instar: int) -> list[tuple[float, ...]]:
    """The outline of the abdomen; the young are rounder."""
    wide = {1: 0.46, 2: 0.44, 3: 0.41, 4: 0.385, 5: 0.36}[instar]
    return mirrored([(0.0, 0.36), (wide * 0.8, 0.4), (wide, 0.62), (wide * 0.82, 0.84), (wide * 0.34, 0.975), (0.0, 1.0)])


def nymph_landmarks(instar: int) -> dict[str, Point]:
    """The places that a pointer can name, in body lengths."""
    return {
        "wing pads": (0.22 if instar == 5 else 0.2, 0.47 if instar == 5 else 0.41),
        "plates": (0.0, 0.67),
        "edge": (_edge(instar)[2][0] * 0.955, 0.62),
        "pronotum": (0.0, 0.24),
        "spots": (0.17, 0.7),
    }


def nymph(sheet: Sheet, pose: Pose, coat: NymphCoat, instar: int, *, seed: int = 5) -> None:
    """A nymph from above; wing pads show from the fourth instar and are long in the fifth."""
    px = pose.length
    chance = Random(seed)
    edge = smooth(_edge(instar))
    drop = px * 0.04
    sheet.wash([(x + drop, y + drop) for x, y in pose.all(edge)], (58, 52, 40), soft=drop * 0.5, strength=0.4)
    _limbs(sheet, pose, coat)
    sheet.paint(pose.all(edge), coat.abdomen, Finish(round=0.16, mottle=0.22, mottle_size=px * 0.02), seed=seed)
    _bands(sheet, pose, coat, edge)
    for i in range(1, 6):
        y = 0.44 + i * 0.085
        line = smooth([(-0.34, y - 0.01), (0.0, y + 0.012), (0.34, y - 0.01)], closed=False)
        sheet.wash(ribbon(pose.all(line), [px * 0.005]), coat.abdomen.dark, soft=0.6, strength=0.5, within=pose.all(edge))
    for y, wide in ((0.52, 0.1), (0.63, 0.13), (0.74, 0.1)):
        plate = pose.all(disc(0.0, y, wide, 0.034))
        sheet.paint(plate, coat.plates, Finish(round=0.2, gloss=0.3), seed=seed)
        for side in (1, -1):
            x, v = pose.at((side * wide * 0.6, y))
            sheet.wash(disc(x, v, px * 0.009), coat.plates.dark, soft=0.5)
    if coat.spots:
        for x, y in ((0.17, 0.5), (0.2, 0.6), (0.18, 0.7), (0.14, 0.8), (0.28, 0.55), (0.29, 0.66), (0.24, 0.77)):
            for side in (1, -1):
                sheet.paint(disc(*pose.at((side * x, y)), px * 0.022, n=18), coat.spots, Finish(rim=0.2, mottle=0), seed=1)
    _fore(sheet, pose, coat, instar, seed)
    if coat.hairs:
        rim = [(*pose.at((x, y)), math.degrees(math.atan2(y - 0.6, x)) + pose.turn) for x, y in smooth(_edge(instar), steps=30)]
        top = [(*pose.at((chance.uniform(-0.26, 0.26), chance.uniform(0.06, 0.94))), 90 + pose.turn) for _ in range(500)]
        sheet.hairs([*rim, *top], coat.hairs, px * 0.035, seed)


def _limbs(sheet: Sheet, pose: Pose, coat: NymphCoat) -> None:
    px = pose.length
    for number in (2, 1, 0):
        for side in (1, -1):
            joints = pose.all([(x * 1.02, y * 0.92 + 0.03) for x, y in leg_joints(number, side)])
            path = [joints[0], joints[1], joints[2], joints[3]]
            sheet.paint(ribbon(path[:2], [px * 0.03, px * 0.026]), coat.legs)
            sheet.paint(ribbon(path[1:3], [px * 0.02, px * 0.017]), coat.legs)
            sheet.paint(ribbon(path[2:], [px * 0.017, px * 0.012]), Tone.of("4a3a2c"))
    for side in (1, -1):
        for part in antenna_parts(Form(antenna=0.36, segments=(0.1, 0.3, 0.28, 0.32)), side):
            sheet.paint(ribbon(pose.all(part), [px * 0.014, px * 0.02, px * 0.016]), Tone.of(coat.antenna))


def _bands(sheet: Sheet, pose: Pose, coat: NymphCoat, edge: Sequence[Point]) -> None:
    if not coat.bands:
        return
    for i in range(6):
        low, high = 0.44 + i * 0.085, 0.44 + i * 0.085 + 0.055
        rim = [p for p in edge if p[0] > 0 and low <= p[1] <= high]
        if len(rim) < 2:
            continue
        inner = [(x - 0.06, y) for x, y in reversed(rim)]
        for side in (1, -1):
            whole = pose.all([(side * x, y) for x, y in [*rim, *inner]])
            sheet.paint(whole, coat.bands[i % 2], Finish(rim=0.2, round=0.1), seed=i)


def _fore(sheet: Sheet, pose: Pose, coat: NymphCoat, instar: int, seed: int) -> None:
    px = pose.length
    long = {1: 0.0, 2: 0.0, 3: 0.02, 4: 0.07, 5: 0.17}[instar]
    pits = Pits(2.5 * (500 / px) ** 2 if px > 200 else 3.0, max(0.8, px * 0.003), coat.fore.dark, 0.6)
    finish = Finish(round=0.14, gloss=0.25, mottle_size=px * 0.02, pits=pits)
    wide = _edge(instar)[1][0]
    thorax = mirrored(
        [
            (0.0, 0.32),
            (wide * 0.86, 0.33),
            (wide * 0.97, 0.4),
            (wide * 0.8, 0.43 + long, 1),
            (wide * 0.42, 0.42 + long * 0.25),
            (0.11, 0.44 + long * 0.3),
            (0.0, 0.47 + long * 0.45),
        ]
    )
    sheet.wash([(x + 3, y + 4) for x, y in pose.all(smooth(thorax))], (20, 18, 14), soft=px * 0.006, strength=0.45)
    sheet.paint(pose.all(smooth(thorax)), coat.fore, finish, seed=seed + 1)
    head = [(x * 1.18, y * 1.12 + 0.02) for x, y in ((p[0], p[1]) for p in head_outline(Form()))]
    sheet.paint(pose.all(smooth(head)), coat.fore, finish, seed=seed + 2)
    collar = mirrored([(0.0, 0.145), (0.12, 0.14), (wide * 0.72, 0.22), (wide * 0.9, 0.33), (wide * 0.5, 0.355), (0.0, 0.35)])
    sheet.wash([(x + 2, y + 3) for x, y in pose.all(smooth(collar))], (20, 18, 14), soft=px * 0.005, strength=0.4)
    sheet.paint(pose.all(smooth(collar)), coat.fore, finish, seed=seed + 3)
    if coat.bands:
        for side in (1, -1):
            rim = [(side * 0.15, 0.155), (side * wide * 0.74, 0.225), (side * wide * 0.9, 0.325)]
            path = ribbon(pose.all(smooth(rim, closed=False)), [px * 0.012, px * 0.03, px * 0.016])
            sheet.wash(path, coat.bands[0].mid, soft=0.8, strength=0.85, within=pose.all(smooth(collar)))
    for side in (1, -1):
        x, y = pose.at((side * 0.108, 0.118))
        sheet.paint(disc(x, y, px * 0.024), Tone.of("5a2418"), Finish(round=0.3, gloss=0.7, mottle=0))


def eggs(
    sheet: Sheet, middle: Point, r: float, tone: Tone, *, rows: Sequence[int], seed: int = 3, spines: bool = False, lid: Tone | None = None
) -> None:
    """A batch of barrel-shaped eggs on end, close together, each with its lid."""
    chance = Random(seed)
    for row, count in enumerate(rows):
        for i in range(count):
            x = middle[0] + (i - (count - 1) / 2) * r * 1.92 + chance.uniform(-0.08, 0.08) * r
            y = middle[1] + (row - (len(rows) - 1) / 2) * r * 1.72 + chance.uniform(-0.08, 0.08) * r
            sheet.wash(disc(x + r * 0.4, y + r * 0.5, r), (50, 46, 34), soft=r * 0.3, strength=0.45)
            sheet.paint(disc(x, y, r), tone, Finish(round=0.3, depth=1.3, gloss=0.55, mottle=0.12), seed=seed + i + row * 9)
            cap = lid or tone
            sheet.wash(disc(x - r * 0.06, y - r * 0.08, r * 0.7), cap.dark, soft=0.8, strength=0.6)
            sheet.paint(disc(x - r * 0.06, y - r * 0.08, r * 0.63), cap, Finish(round=0.25, gloss=0.4, mottle=0.12), seed=i)
            for k in range(16):
                a = 2 * math.pi * k / 16
                reach = r * (1.25 if spines else 0.82)
                start = (x + math.cos(a) * r * 0.62, y + math.sin(a) * r * 0.62)
                sheet.line(
                    [start, (x + math.cos(a) * reach, y + math.sin(a) * reach)],
                    (238, 234, 214) if not spines else (70, 56, 30),
                    r * 0.06,
                    strength=0.8,
                )
