"""Leaves, twigs, fruit and flowers, and the paper that they lie on."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from random import Random

from brush import Colour, Finish, Pits, Point, Sheet, Tone, disc, ribbon, smooth

LEAF = Tone.of("5f8a4a", deep=0.42, lift=0.42)
BARK = Tone.of("7d6650")
SHADE: Colour = (92, 86, 70)


def paper(width: int, height: int, seed: int) -> Sheet:
    """A sheet of warm drawing paper."""
    sheet = Sheet(width, height, (247, 245, 237))
    sheet.tint(160, 0.16, seed)
    sheet.tint(7, 0.07, seed + 1)
    return sheet


def placed(points: Sequence[Point], base: Point, length: float, angle: float) -> list[Point]:
    """Points along a midrib (0 to 1, and how far to its side) put on the sheet; angle 0 points right."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return [(base[0] + length * (u * c - v * s), base[1] + length * (u * s + v * c)) for u, v in points]


def _edge(breadth: Callable[[float], float], teeth: int, depth: float) -> list[Point]:
    """One side of a blade, saw-toothed."""
    side: list[Point] = []
    steps = teeth * 6 if teeth else 48
    for i in range(steps + 1):
        t = i / steps
        saw = ((t * teeth) % 1.0) if teeth else 0.0
        side.append((t + (saw - 0.5) * depth * 0.22, breadth(t) * (1 - depth) + depth * breadth(t) * (0.4 + saw)))
    side[0], side[-1] = (0.0, 0.0), (1.0, 0.0)
    return side


def _oval(width: float, widest: float, power: float = 1.0) -> Callable[[float], float]:
    def breadth(t: float) -> float:
        u = t / widest * 0.5 if t < widest else 0.5 + (t - widest) / (1 - widest) * 0.5
        return float(width * max(0.0, math.sin(math.pi * u)) ** power)

    return breadth


def _lobed(width: float, widest: float, lobes: int, cut: float) -> list[Point]:
    breadth = _oval(width, widest, 0.6)
    side: list[Point] = [(0.0, 0.0)]
    steps = lobes * 30
    for i in range(1, steps):
        t = i / steps
        wave = 0.5 + 0.5 * math.cos(2 * math.pi * (t * lobes - 0.62))
        tooth = 0.05 * ((t * lobes * 5) % 1.0) if lobes < 5 else 0.0
        side.append((t + 0.05 * wave, breadth(t) * (1 - cut + cut * wave**0.8 + tooth * wave)))
    return [*side, (1.0, 0.0)]


def blade(kind: str) -> list[Point]:
    """One side of the blade of a leaf, from base to tip, for a midrib of length 1."""
    sides: dict[str, list[Point]] = {
        "hawthorn": _lobed(0.44, 0.52, 3, 0.5),
        "oak": _lobed(0.30, 0.62, 5, 0.42),
        "birch": _edge(_oval(0.36, 0.30, 0.9), 14, 0.16),
        "hazel": _edge(_oval(0.45, 0.55, 0.62), 16, 0.13),
        "bramble": _edge(_oval(0.33, 0.42, 0.85), 13, 0.18),
        "alder": _edge(_oval(0.44, 0.62, 0.6), 16, 0.09),
        "dock": _edge(_oval(0.19, 0.35, 0.7), 9, 0.05),
        "nettle": _edge(_oval(0.31, 0.33, 0.85), 11, 0.22),
        "plain": _edge(_oval(0.27, 0.45, 0.8), 0, 0.0),
        "box": _edge(_oval(0.28, 0.5, 0.7), 0, 0.0),
        "blade": _edge(_oval(0.028, 0.2, 0.5), 0, 0.0),
        "leaflet": _edge(_oval(0.3, 0.6, 0.6), 0, 0.0),
    }
    return sides[kind]


def leaf(
    sheet: Sheet,
    kind: str,
    base: Point,
    length: float,
    angle: float,
    *,
    tone: Tone = LEAF,
    seed: int = 3,
    veins: int = 6,
    shadow: float = 0.34,
    stalk: float = 0.14,
) -> None:
    """A leaf with its veins, its two halves lit differently, and a shadow on what lies below."""
    side = blade(kind)
    whole = placed([*side, *[(u, -v) for u, v in reversed(side)]], base, length, angle)
    if shadow:
        drop = length * 0.022
        sheet.wash([(x + drop, y + drop * 1.3) for x, y in whole], SHADE, soft=length * 0.018, strength=shadow)
    if stalk:
        root = placed([(-stalk, 0.03), (-stalk / 2, 0.012), (0, 0), (0.03, 0)], base, length, angle)
        sheet.paint(ribbon(smooth(root, closed=False), [length * 0.02, length * 0.014]), tone)
    grain = max(4.0, length * 0.02)
    sheet.paint(whole, tone, Finish(round=0.1, depth=0.8, mottle=0.2, mottle_size=grain, rim=0.4), seed=seed)
    far = placed([*side, (1.0, 0.0), (0.0, 0.0)], base, length, angle)
    sheet.wash(far, tone.dark, soft=1.0, strength=0.13)
    _veins(sheet, kind, base, length, angle, tone=tone, pairs=veins)


def _veins(sheet: Sheet, kind: str, base: Point, length: float, angle: float, *, tone: Tone, pairs: int) -> None:
    side = blade(kind)
    inside = placed([*side, *[(u, -v) for u, v in reversed(side)]], base, length, angle)
    thick = max(1.0, length * 0.008)
    for i in range(pairs):
        t = 0.06 + 0.78 * i / max(pairs, 1)
        reach = min(max((v for u, v in side if abs(u - t - 0.13) < 0.06), default=0.0), 0.5)
        for sign in (1, -1):
            run = [(t, 0.0), (t + 0.06, sign * reach * 0.42), (t + 0.15, sign * reach * 0.9)]
            curve = smooth(placed(run, base, length, angle), closed=False)
            dip = [(x + thick * 0.7, y + thick * 0.7) for x, y in curve]
            sheet.wash(ribbon(dip, [thick * 1.5, thick * 0.4]), tone.dark, soft=thick * 0.3, strength=0.38, within=inside)
            sheet.wash(ribbon(curve, [thick * 0.9, thick * 0.2]), tone.light, soft=0.3, strength=0.55, within=inside)
    spine = placed([(0.0, 0.0), (0.5, 0.0), (0.97, 0.0)], base, length, angle)
    sheet.wash(ribbon([(x + thick, y + thick) for x, y in spine], [thick * 2.2, 1.0]), tone.dark, soft=1, strength=0.4)
    sheet.wash(ribbon(spine, [thick * 1.8, thick * 0.6]), tone.light, soft=0.3, strength=0.8)


def twig(sheet: Sheet, path: Sequence[Point], width: float, *, tone: Tone = BARK, seed: int = 9) -> list[Point]:
    """A twig along the path, thinner towards its end; gives back the smoothed path."""
    curve = smooth(path, closed=False)
    outline = ribbon(curve, [width, width * 0.8, width * 0.45])
    sheet.wash([(x + width * 0.7, y + width * 0.9) for x, y in outline], SHADE, soft=width * 0.4, strength=0.3)
    pits = Pits(0.25, 1.4, tone.dark, 0.5)
    sheet.paint(outline, tone, Finish(round=0.12, mottle=0.3, mottle_size=5, pits=pits), seed=seed)
    return curve


def berry(sheet: Sheet, at: Point, r: float, tone: Tone, *, seed: int = 2, bloom: float = 0.0, crown: bool = True) -> None:
    """A round fruit with a shine, and the withered crown of its flower."""
    x, y = at
    sheet.wash(disc(x + r * 0.3, y + r * 0.4, r), SHADE, soft=r * 0.25, strength=0.35)
    sheet.paint(disc(x, y, r, r * 1.06), tone, Finish(round=0.3, depth=1.25, mottle=0.12, gloss=0.75), seed=seed)
    if bloom:
        sheet.wash(disc(x - r * 0.1, y - r * 0.15, r * 0.7), (214, 222, 235), soft=r * 0.25, strength=bloom)
    if crown:
        for turn in range(0, 360, 72):
            a = math.radians(turn + seed * 13)
            tip = (x + r * 0.34 * math.cos(a) + r * 0.15, y + r * 0.34 * math.sin(a) + r * 0.45)
            sheet.line([(x + r * 0.15, y + r * 0.45), tip], (62, 38, 26), r * 0.12)


def catkin(sheet: Sheet, base: Point, length: float, angle: float, tone: Tone, *, seed: int) -> None:
    """A hanging catkin: overlapping scales along a drooping stem."""
    for i in range(26):
        t = i / 26
        fat = length * 0.085 * math.sin(math.pi * min(0.97, 0.12 + t * 0.86)) ** 0.6
        for side in (-1, 0, 1):
            (x, y), *_ = placed([(t, side * fat / length * 0.75)], base, length, angle)
            sheet.paint(
                disc(x, y, fat * 0.62, length * 0.03, turn=angle + 90 + side * 26, n=16),
                tone,
                Finish(round=0.25, mottle=0.2, mottle_size=3),
                seed=seed + i * 3 + side,
            )


def petals(sheet: Sheet, at: Point, r: float, tone: Tone, *, count: int = 5, heart: str = "d9b93a", seed: int = 4) -> None:
    """A flower seen from above."""
    chance = Random(seed)
    turn = chance.uniform(0, 72)
    for i in range(count):
        a = math.radians(turn + 360 * i / count)
        x, y = at[0] + math.cos(a) * r * 0.58, at[1] + math.sin(a) * r * 0.58
        sheet.wash(disc(x + r * 0.06, y + r * 0.08, r * 0.46, r * 0.4), SHADE, soft=r * 0.08, strength=0.2)
        sheet.paint(disc(x, y, r * 0.46, r * 0.38, turn=math.degrees(a)), tone, Finish(round=0.2, rim=0.3, depth=0.7), seed=seed + i)
    sheet.paint(disc(*at, r * 0.2), Tone.of(heart), Finish(round=0.25, mottle=0.3, mottle_size=3), seed=seed)
