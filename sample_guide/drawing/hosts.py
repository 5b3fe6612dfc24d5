"""Host plants on paper, and the places of the walk."""

from __future__ import annotations

import math
from collections.abc import Callable
from random import Random

from brush import Colour, Finish, Point, Sheet, Tone, disc, ribbon, smooth
from leaves import berry, catkin, leaf, paper, petals, placed, twig

T = Tone.of
GREENS = (T("5f8a4a"), T("6a9450"), T("567f46"), T("74984f"))
WIDE, HIGH = (1600, 1200), (1200, 1600)


def _leafy_twig(sheet: Sheet, kind: str, path: list[Point], *, size: float, count: int, seed: int, width: float = 22.0,
                tones: tuple[Tone, ...] = GREENS, veins: int = 6, bark: Tone | None = None) -> list[Point]:
    chance = Random(seed)
    stem = twig(sheet, path, width, seed=seed, tone=bark or T("7d6650"))
    for i in range(count):
        spot = stem[int((0.12 + 0.86 * i / max(count - 1, 1)) * (len(stem) - 1))]
        ahead = stem[min(len(stem) - 1, int((0.12 + 0.86 * i / max(count - 1, 1)) * (len(stem) - 1)) + 3)]
        along = math.degrees(math.atan2(ahead[1] - spot[1], ahead[0] - spot[0])) if ahead != spot else -60.0
        lean = (-1 if i % 2 else 1) * chance.uniform(38, 68) if i < count - 1 else chance.uniform(-12, 12)
        leaf(sheet, kind, spot, size * chance.uniform(0.8, 1.1), along + lean, tone=tones[i % len(tones)], seed=seed + i, veins=veins)
    return stem


def hawthorn(seed: int = 21) -> Sheet:
    """Hawthorn: lobed leaves, thorns, a bunch of haws."""
    sheet = paper(*WIDE, seed)
    stem = _leafy_twig(sheet, "hawthorn", [(60, 1080), (520, 800), (980, 560), (1330, 260)], size=330, count=8, seed=seed, veins=4)
    for i in (8, 20, 32):
        x, y = stem[i]
        sheet.paint(ribbon([(x, y), (x + 40, y - 70), (x + 62, y - 128)], [16, 9, 1]), T("6a4a3a"))
    for i, (x, y) in enumerate([(900, 760), (1010, 800), (950, 880), (1070, 900), (860, 870), (1010, 985)]):
        sheet.line(smooth([(900, 610), (930, 700), (x, y - 40)], closed=False), (96, 104, 58), 7)
        berry(sheet, (x, y), 54, T("b3261f"), seed=i)
    return sheet


def birch(seed: int = 22) -> Sheet:
    """Silver birch: toothed leaves and hanging catkins."""
    sheet = paper(*HIGH, seed)
    _leafy_twig(sheet, "birch", [(120, 140), (420, 420), (760, 640), (1010, 980)], size=300, count=9, seed=seed, width=15, bark=T("6a4a44"), veins=7)
    for i, (x, y) in enumerate([(420, 440), (560, 540), (800, 700)]):
        catkin(sheet, (x, y + 20), 380 - i * 30, 92 + i * 3, T("a59a4a"), seed=seed + i)
    return sheet


def juniper(seed: int = 23) -> Sheet:
    """Juniper: needles in threes, blue-black cones with a bloom."""
    sheet = paper(*WIDE, seed)
    chance = Random(seed)
    for path in ([(80, 1050), (560, 760), (1050, 520), (1480, 260)], [(520, 790), (700, 560), (840, 300)], [(950, 560), (1180, 700), (1420, 820)]):
        stem = twig(sheet, path, 16, tone=T("8a6448"), seed=seed)
        for i, (x, y) in enumerate(stem):
            for turn in (0, 120, 240):
                a = chance.uniform(-18, 18) + turn + i * 31
                length = chance.uniform(70, 120)
                tip = placed([(0, 0), (0.5, 0.02), (1, 0)], (x, y), length, a)
                sheet.wash([(p[0] + 5, p[1] + 7) for p in ribbon(tip, [11, 9, 1])], (80, 76, 60), soft=4, strength=0.25)
                sheet.paint(ribbon(tip, [11, 10, 1]), T("6a8f6a" if i % 2 else "5a8060"), Finish(rim=0.3, mottle=0.1))
                sheet.line(tip, (206, 222, 206), 2.4, strength=0.7)
    for i, (x, y) in enumerate([(610, 690), (690, 760), (1010, 470), (1110, 580), (800, 380), (1250, 720)]):
        berry(sheet, (x, y), 46, T("3a4660"), seed=i, bloom=0.4)
    return sheet


def gorse(seed: int = 24) -> Sheet:
    """Gorse: green spines and yellow pea flowers."""
    sheet = paper(*HIGH, seed)
    chance = Random(seed)
    for path in ([(560, 1560), (600, 1100), (570, 640), (640, 160)], [(590, 1150), (780, 860), (960, 560)], [(585, 900), (400, 640), (280, 380)]):
        stem = twig(sheet, path, 24, tone=T("6f8248"), seed=seed)
        for i, (x, y) in enumerate(stem[2:]):
            for lean in (-130, -50, -90):
                a = lean + chance.uniform(-25, 25) + (40 if i % 2 else -40)
                length = chance.uniform(90, 150)
                run = placed([(0, 0), (0.6, 0), (1, 0.01)], (x, y), length, a)
                sheet.paint(ribbon(run, [15, 9, 1]), T("6a8a4a" if i % 3 else "7d9a52"), Finish(rim=0.35, mottle=0.12))
        for i in range(6, len(stem), 4):
            x, y = stem[i]
            for turn in (-60, 60):
                a = turn - 90 + chance.uniform(-20, 20)
                for part, size in ((0.0, 52), (26, 40), (-26, 40)):
                    fx, fy = x + math.cos(math.radians(a + part)) * 74, y + math.sin(math.radians(a + part)) * 74
                    sheet.paint(disc(fx, fy, size * 0.9, size * 0.6, turn=a + part), T("e8bd2c", deep=0.38), Finish(round=0.2, rim=0.35, mottle=0.1), seed=i)
    return sheet


def bramble(seed: int = 25) -> Sheet:
    """Bramble: three-parted leaves, prickles, blackberries."""
    sheet = paper(*WIDE, seed)
    stem = twig(sheet, [(40, 300), (500, 360), (1000, 560), (1560, 1020)], 26, tone=T("84504a"), seed=seed)
    for i in range(3, len(stem), 5):
        x, y = stem[i]
        sheet.paint(ribbon([(x, y), (x + 10, y - 24), (x - 4, y - 44)], [14, 8, 1]), T("9a5a4a"))
    for at, a in (((430, 350), -100), ((760, 440), 70), ((1130, 640), -70), ((330, 340), 80)):
        for lean, size in ((-62, 250), (62, 250), (0, 320)):
            root = placed([(0.45, 0)], at, 190, a)[0]
            leaf(sheet, "bramble", root, size, a + lean, tone=GREENS[(size + lean) % 4], seed=seed + lean, veins=7)
    for k, (mx, my) in enumerate([(1240, 470), (1390, 600), (1350, 400)]):
        sheet.line(smooth([(1180, 700), (1230, 600), (mx, my)], closed=False), (110, 84, 60), 8)
        for ring, count in ((46, 12), (26, 8), (4, 3)):
            for i in range(count):
                a = 2 * math.pi * i / count + ring
                tone = T("2c2030") if k != 2 else T("9a2a34")
                berry(sheet, (mx + math.cos(a) * ring, my + math.sin(a) * ring), 21, tone, seed=i, crown=False)
    return sheet


def oak(seed: int = 26) -> Sheet:
    """Oak: lobed leaves and acorns."""
    sheet = paper(*WIDE, seed)
    _leafy_twig(sheet, "oak", [(80, 200), (500, 420), (900, 520), (1240, 760)], size=400, count=7, seed=seed, veins=6)
    for i, (x, y) in enumerate([(760, 830), (900, 900)]):
        sheet.line(smooth([(740, 500), (780, 660), (x, y - 90)], closed=False), (120, 104, 66), 8)
        sheet.paint(disc(x, y + 20, 52, 84), T("9aa25a"), Finish(round=0.3, gloss=0.6), seed=i)
        sheet.paint(disc(x, y - 44, 64, 48), T("8a7450"), Finish(round=0.3, mottle=0.4, mottle_size=5), seed=i)
    return sheet


def alder(seed: int = 27) -> Sheet:
    """Alder: round leaves, notched at the tip, and small woody cones."""
    sheet = paper(*WIDE, seed)
    _leafy_twig(sheet, "alder", [(60, 980), (520, 800), (960, 520), (1420, 300)], size=340, count=7, seed=seed, bark=T("5f4c48"), veins=7)
    for i, (x, y) in enumerate([(960, 820), (1060, 770), (1010, 900)]):
        sheet.line(smooth([(860, 600), (930, 700), (x, y)], closed=False), (84, 66, 50), 8)
        for row in range(6):
            for col in (-1, 0, 1):
                sheet.paint(disc(x + col * 24, y - 50 + row * 20, 20, 16), T("5c4030"), Finish(round=0.3), seed=i + row)
    return sheet


def dock(seed: int = 28) -> Sheet:
    """Broad-leaved dock: long leaves, a spike of rusty fruit."""
    sheet = paper(*HIGH, seed)
    stem = twig(sheet, [(600, 1580), (620, 1100), (590, 600), (640, 90)], 26, tone=T("9a6a4c"), seed=seed)
    for base, size, a in (((600, 1500), 900, -152), ((605, 1440), 880, -28), ((615, 1080), 560, -140), ((605, 900), 480, -40)):
        leaf(sheet, "dock", base, size, a, tone=T("6f9450"), seed=int(size), veins=9)
    chance = Random(seed)
    for x, y in stem[16:]:
        for _ in range(14):
            spot = (x + chance.gauss(0, 34), y + chance.uniform(-16, 16))
            sheet.paint(disc(*spot, 13, 10, n=14), T("a8593a" if chance.random() < 0.7 else "8f7a44"), Finish(rim=0.4), seed=4)
    return sheet


def dead_nettle(seed: int = 29) -> Sheet:
    """White dead-nettle: a square stem, paired toothed leaves, rings of white flowers."""
    sheet = paper(*HIGH, seed)
    twig(sheet, [(600, 1580), (590, 1050), (610, 560), (600, 180)], 26, tone=T("7d9450"), seed=seed)
    for y, size in ((1360, 420), (1040, 400), (720, 330), (440, 240), (250, 150)):
        for a in (-24, -156):
            leaf(sheet, "nettle", (600, y), size, a, tone=GREENS[int(y) % 4], seed=int(y), veins=6, stalk=0.06)
        if 400 < y < 1100:
            for i in range(7):
                x = 600 + (i - 3) * 44
                lift = abs(i - 3) * 14
                sheet.paint(disc(x, y - 66 + lift, 26, 44, turn=(i - 3) * 12), T("f4f0de", deep=0.28), Finish(round=0.25, rim=0.45), seed=i)
                sheet.paint(disc(x, y - 16 + lift, 22, 18), T("e6e0c4", deep=0.35), Finish(round=0.2), seed=i)
    return sheet


def garlic_mustard(seed: int = 30) -> Sheet:
    """Garlic mustard: heart-shaped toothed leaves, small white four-petalled flowers."""
    sheet = paper(*HIGH, seed)
    twig(sheet, [(610, 1580), (600, 1100), (620, 620), (600, 260)], 20, tone=T("7f9a58"), seed=seed)
    for y, size, a in ((1320, 420, -30), (1160, 400, -150), (860, 340, -35), (700, 300, -145), (520, 220, -40)):
        leaf(sheet, "nettle", (605, y), size, a, tone=GREENS[int(y) % 4], seed=int(y), veins=5)
    chance = Random(seed)
    for i in range(16):
        petals(sheet, (600 + chance.gauss(0, 90), 250 + chance.gauss(0, 60)), 50, T("faf8ee", deep=0.22), count=4, heart="c9c25a", seed=i)
    return sheet


def buckthorn(seed: int = 31) -> Sheet:
    """Buckthorn: oval finely toothed leaves and black berries."""
    sheet = paper(*WIDE, seed)
    _leafy_twig(sheet, "plain", [(60, 260), (520, 470), (980, 590), (1440, 900)], size=330, count=9, seed=seed, veins=5)
    for i, (x, y) in enumerate([(600, 690), (670, 760), (580, 790), (1010, 760), (1080, 830)]):
        berry(sheet, (x, y), 40, T("2a2430"), seed=i)
    return sheet


def grasses(seed: int = 32) -> Sheet:
    """Meadow grasses and a sedge in flower."""
    sheet = paper(*HIGH, seed)
    chance = Random(seed)
    for i in range(34):
        x = 600 + chance.gauss(0, 210)
        leaf(sheet, "blade", (x, 1590), chance.uniform(700, 1350), -90 + chance.gauss(0, 14), tone=GREENS[i % 4], seed=i, veins=0, shadow=0.15, stalk=0.0)
    for x, lean in ((420, -6), (600, 3), (780, 9), (520, -1)):
        top = (x + lean * 12, 300 + abs(lean) * 14)
        sheet.line(smooth([(x, 1580), (x + lean * 4, 900), top], closed=False), (140, 142, 84), 8)
        for k in range(22):
            for side in (-1, 1):
                at = (top[0] + side * (8 + k * 0.9), top[1] + k * 19)
                sheet.paint(disc(*at, 10, 20, turn=side * 24, n=16), T("a5925a"), Finish(rim=0.4), seed=k)
    return sheet


def scene(kind: str, width: int, height: int, seed: int) -> Sheet:
    """A place painted in dabs: sky, far hills, the hedge or the trees, and the grass before them."""
    sheet = Sheet(width, height, (214, 226, 232))
    chance = Random(seed)
    horizon = height * 0.42
    for i in range(40):
        y = horizon * i / 40
        sheet.wash([(0, y), (width, y), (width, y + horizon / 36 + 2), (0, y + horizon / 36 + 2)], (int(186 + i * 1.2), int(208 + i * 0.7), int(226 - i * 0.1)))
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
        sheet.wash(disc(x, y, size * chance.uniform(0.5, 1.2), size * chance.uniform(0.35, 0.8), turn=chance.uniform(0, 180), n=9), rgb, strength=0.86)


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
                sheet.wash(disc(x + chance.gauss(0, tall * 0.3), y + chance.gauss(0, tall * 0.26), 2.4 + 3 * t), (178, 42, 32), strength=0.9)
    path = smooth([(width * 0.30, horizon + 44, 1), (width * 0.36, horizon + 170), (width * 0.30, height * 0.86), (width * 0.18, height, 1), (width * 0.46, height, 1), (width * 0.43, height * 0.8), (width * 0.385, horizon + 160), (width * 0.31, horizon + 44, 1)])
    sheet.wash(path, (190, 172, 136), soft=5, strength=0.75)


def _trees(sheet: Sheet, width: int, height: int, horizon: float, chance: Random) -> None:
    for step in range(9):
        x = width * (0.05 + 0.115 * step) + chance.uniform(-24, 24)
        foot = horizon + 110 + chance.uniform(0, 150)
        top = foot - height * chance.uniform(0.42, 0.52)
        trunk = ribbon(smooth([(x, foot), (x + chance.uniform(-14, 14), (foot + top) / 2), (x + chance.uniform(-20, 20), top)], closed=False), [26, 19, 7])
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
            sheet.wash(disc(x + chance.gauss(0, size * 0.4), y - size * 0.2 + chance.gauss(0, size * 0.28), 3 + size * 0.03), (232, 188, 50), strength=0.9)


SCENES: dict[str, Callable[[Sheet, int, int, float, Random], None]] = {
    "hedge": _hedge, "trees": _trees, "meadow": _meadow, "bank": _bank,
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


HOSTS: dict[str, Callable[[], Sheet]] = {
    "hawthorn": hawthorn, "silver-birch": birch, "juniper": juniper, "gorse": gorse, "bramble": bramble, "oak": oak, "alder": alder,
    "broad-leaved-dock": dock, "white-dead-nettle": dead_nettle, "garlic-mustard": garlic_mustard, "buckthorn": buckthorn, "meadow-grasses": grasses,
}
