"""Host plants on paper."""

from __future__ import annotations

import math
from collections.abc import Callable
from random import Random

from brush import Finish, Point, Sheet, Tone, disc, ribbon, smooth
from leaves import berry, catkin, leaf, paper, petals, placed, twig

T = Tone.of
GREENS = (T("5f8a4a"), T("6a9450"), T("567f46"), T("74984f"))
WIDE, HIGH = (1600, 1200), (1200, 1600)


def _leafy_twig(
    sheet: Sheet,
    kind: str,
    path: list[Point],
    *,
    size: float,
    count: int,
    seed: int,
    width: float = 22.0,
    tones: tuple[Tone, ...] = GREENS,
    veins: int = 6,
    bark: Tone | None = None,
) -> list[Point]:
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
    _leafy_twig(
        sheet, "birch", [(120, 140), (420, 420), (760, 640), (1010, 980)], size=300, count=9, seed=seed, width=15, bark=T("6a4a44"), veins=7
    )
    for i, (x, y) in enumerate([(420, 440), (560, 540), (800, 700)]):
        catkin(sheet, (x, y + 20), 380 - i * 30, 92 + i * 3, T("a59a4a"), seed=seed + i)
    return sheet


def juniper(seed: int = 23) -> Sheet:
    """Juniper: needles in threes, blue-black cones with a bloom."""
    sheet = paper(*WIDE, seed)
    chance = Random(seed)
    for path in (
        [(80, 1050), (560, 760), (1050, 520), (1480, 260)],
        [(520, 790), (700, 560), (840, 300)],
        [(950, 560), (1180, 700), (1420, 820)],
    ):
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
    for path in (
        [(560, 1560), (600, 1100), (570, 640), (640, 160)],
        [(590, 1150), (780, 860), (960, 560)],
        [(585, 900), (400, 640), (280, 380)],
    ):
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
                    sheet.paint(
                        disc(fx, fy, size * 0.9, size * 0.6, turn=a + part),
                        T("e8bd2c", deep=0.38),
                        Finish(round=0.2, rim=0.35, mottle=0.1),
                        seed=i,
                    )
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
        for ring, count in ((46.0, 12), (26, 8), (4, 3)):
            for i in range(count):
                around = 2 * math.pi * i / count + ring
                tone = T("2c2030") if k != 2 else T("9a2a34")
                berry(sheet, (mx + math.cos(around) * ring, my + math.sin(around) * ring), 21, tone, seed=i, crown=False)
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
        leaf(
            sheet,
            "blade",
            (x, 1590),
            chance.uniform(700, 1350),
            -90 + chance.gauss(0, 14),
            tone=GREENS[i % 4],
            seed=i,
            veins=0,
            shadow=0.15,
            stalk=0.0,
        )
    for x, lean in ((420, -6), (600, 3), (780, 9), (520, -1)):
        top = (x + lean * 12, 300 + abs(lean) * 14)
        sheet.line(smooth([(x, 1580), (x + lean * 4, 900), top], closed=False), (140, 142, 84), 8)
        for k in range(22):
            for side in (-1, 1):
                at = (top[0] + side * (8 + k * 0.9), top[1] + k * 19)
                sheet.paint(disc(*at, 10, 20, turn=side * 24, n=16), T("a5925a"), Finish(rim=0.4), seed=k)
    return sheet


HOSTS: dict[str, Callable[[], Sheet]] = {
    "hawthorn": hawthorn,
    "silver-birch": birch,
    "juniper": juniper,
    "gorse": gorse,
    "bramble": bramble,
    "oak": oak,
    "alder": alder,
    "broad-leaved-dock": dock,
    "white-dead-nettle": dead_nettle,
    "garlic-mustard": garlic_mustard,
    "buckthorn": buckthorn,
    "meadow-grasses": grasses,
}
