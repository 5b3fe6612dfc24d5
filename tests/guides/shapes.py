"""Plain outlines of a wader, a flower, a fungus and a frog; what differs between pictures is in pictures.yaml."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tests.guides.brush import Brush, Spot

Words = Mapping[str, str]
GREEN, WHITE, BLACK = "#3f7d3a", "#fbfaf5", "#1d1a17"


def draw_wader(brush: Brush, words: Words) -> None:
    """A wader that walks to the right, standing on mud; tail at 22, 52 and the foot of the bill at 71, 35."""
    brush.patch([(0, 90), (100, 90), (100, 100), (0, 100)], "#8b7d68")
    for x in (43, 49):
        brush.stroke([(x, 62), (x + 2, 78), (x, 91), (x + 5, 91)], words["leg"], 1.4)
    brush.patch([(22, 52), (34, 42), (36, 56)], words["back"])
    brush.blob(45, 53, 19, 14, words["belly"])
    brush.patch([(27, 49), (45, 39), (62, 46), (50, 55), (34, 55)], words["back"])
    brush.patch([(58, 48), (62, 33), (68, 36), (64, 56)], words["breast"])
    if "patch" in words:
        brush.blob(45, 61, 10, 5, words["patch"])
    if "dots" in words:
        brush.speckle([(x, y) for x in (34, 40, 46, 52) for y in (57, 60, 63)], 0.6, words["dots"])
    if "streaks" in words:
        for x in range(32, 58, 4):
            brush.stroke([(x, 44), (x + 3, 51)], words["streaks"], 0.7)
    brush.blob(66, 34, 5.5, 7, words["breast"])
    brush.blob(67, 32, 0.8, 1.1, BLACK)
    long, bend, droop = (float(words[part]) for part in ("long", "bend", "droop"))
    tip = (71 + long, 35 + droop)
    brush.stroke([(71, 35), (71 + long * 0.55, 35 + bend), tip], words.get("bill", BLACK), 1.2)
    brush.stroke([(71, 35), (71 + long * 0.3, 35 + bend * 0.5)], words.get("base", BLACK), 1.3)


def draw_flight(brush: Brush, words: Words) -> None:
    """A wader from above with open wings."""
    for side in (-1, 1):
        wing: list[Spot] = [(50 + side * 4, 36), (50 + side * 30, 32), (50 + side * 44, 44), (50 + side * 26, 56), (50 + side * 5, 54)]
        brush.patch(wing, words["back"])
        if words["wing"] == "edge":
            brush.patch([(50 + side * 6, 53), (50 + side * 26, 55), (50 + side * 36, 49), (50 + side * 26, 52), (50 + side * 6, 50)], WHITE)
        elif words["wing"] == "bar":
            brush.patch([(50 + side * 8, 48), (50 + side * 36, 44), (50 + side * 36, 47), (50 + side * 8, 51)], WHITE)
    brush.patch([(44, 68), (56, 68), (58, 84), (42, 84)], WHITE)
    if words["tail"] == "black":
        brush.patch([(42.5, 77), (57.5, 77), (58, 84), (42, 84)], BLACK)
    else:
        for y in (72, 75, 78, 81):
            brush.stroke([(43.5, y), (56.5, y)], BLACK, 0.5)
    brush.blob(50, 48, 6, 21, words["back"])
    brush.stroke([(50, 28), (50, 12)], BLACK, 1.2)
    brush.blob(50, 27, 3.5, 5, words["back"])


def draw_flower(brush: Brush, words: Words) -> None:
    """A plant from ground to tip, with leaves at its foot and its head at the top."""
    brush.patch([(0, 92), (100, 92), (100, 100), (0, 100)], "#5a4632")
    leaf = words.get("leaf", "lance")
    if leaf == "whorl":
        for end in (36, 50, 64):
            brush.patch([(50, 60), (end - 5, 68), (end, 74), (end + 5, 66)], GREEN)
    elif leaf == "none":
        pass
    else:
        for lean in (-1, 1):
            brush.patch([(50, 92), (50 + lean * 10, 62), (50 + lean * 18, 50), (50 + lean * 16, 74)], GREEN)
    top = (62, 36) if words["head"] in ("bells", "berries") else (50, 30)
    brush.stroke([(50, 92), (50, 55), top], GREEN, 1.2)
    _HEADS[words["head"]](brush, words["colour"])


def _ball(brush: Brush, colour: str) -> None:
    for x, y in ((42, 26), (50, 20), (58, 26), (46, 34), (55, 34)):
        _star(brush, x, y, 4, 6, colour)


def _star(brush: Brush, x: float, y: float, petal: float, count: int, colour: str) -> None:
    reach = ((0, -1), (0.9, -0.5), (0.9, 0.5), (0, 1), (-0.9, 0.5), (-0.9, -0.5))[:count]
    for across, down in reach:
        brush.blob(x + across * petal, y + down * petal * 1.3, petal * 0.55, petal * 0.7, colour)
    brush.blob(x, y, petal * 0.3, petal * 0.4, "#e2c14a")


def _bells(brush: Brush, colour: str) -> None:
    for x, y in ((56, 50), (59, 43), (62, 36), (64, 30)):
        brush.blob(x + 3, y + 3, 2.6, 3.4, colour)


def _hood(brush: Brush, colour: str) -> None:
    brush.patch([(44, 58), (42, 34), (50, 14), (57, 34), (55, 58)], colour)
    brush.blob(50, 38, 2.2, 11, "#5b2a4d")


def _spike(brush: Brush, colour: str) -> None:
    brush.speckle([(46 + x * 4, 22 + y * 5) for y in range(6) for x in range(3)], 2.2, colour)


_HEADS: dict[str, Callable[[Brush, str], None]] = {
    "ball": _ball,
    "bells": _bells,
    "berries": _bells,
    "hood": _hood,
    "spike": _spike,
    "star": lambda brush, colour: _star(brush, 50, 30, 9, 6, colour),
    "cup": lambda brush, colour: _star(brush, 50, 30, 7, 5, colour),
}


def draw_leaf(brush: Brush, words: Words) -> None:
    """One leaf on its stalk, or two that are wrapped round one stem."""
    brush.stroke([(50, 60), (44, 76), (46, 96)], GREEN, 1.6)
    form = words["leaf"]
    if form == "paired":
        for lean in (-1, 1):
            brush.patch([(50, 78), (50 + lean * 6, 50), (50 + lean * 20, 12), (50 + lean * 24, 46)], GREEN)
    elif form == "arrow":
        brush.patch([(50, 8), (70, 45), (72, 74), (52, 62), (48, 62), (28, 74), (30, 45)], GREEN)
        brush.speckle([(44, 38), (58, 48), (50, 28)], 1.2, "#31203a")
    elif form in ("cut", "three"):
        for x, y in ((50, 32), (36, 52), (64, 52)):
            brush.blob(x, y, 10 if form == "three" else 6, 14, GREEN)
    else:
        brush.patch([(50, 6), (62, 28), (62, 48), (50, 64), (38, 48), (38, 28)], GREEN)
        brush.stroke([(50, 8), (50, 62)], "#2d5a2a", 0.6)


def draw_fungus(brush: Brush, words: Words) -> None:
    """A fungus from the side, its cap at 50, 30 and its foot at 50, 84; small ones of a tuft beside it."""
    brush.patch([(0, 90), (100, 90), (100, 100), (0, 100)], "#6b5138")
    if words["form"] == "button":
        brush.blob(50, 70, 14, 20, words["cap"])
        _warts(brush, words, 62)
        return
    for x, tall in ((28, 40), (72, 46)) if words.get("tuft") else ():
        brush.patch([(x - 2, 90), (x + 2, 90), (x + 2, tall), (x - 2, tall)], words["stem"])
        brush.blob(x, tall, 11, 9, words["cap"])
    brush.patch([(46, 90), (54, 90), (53, 36), (47, 36)], words["stem"])
    if words["base"] != "plain":
        brush.blob(50, 85, 8, 7, WHITE if words["base"] == "sac" else words["stem"])
    if words["base"] == "rings":
        for y in (80, 84):
            brush.stroke([(43, y), (57, y)], "#b8ab8f", 0.8)
    if words.get("scales"):
        brush.speckle([(x, y) for y in (64, 70, 76) for x in (48, 50, 52)], 0.6, words["scales"])
    brush.patch([(44, 52), (56, 52), (58, 58), (42, 58)], words["stem"])
    brush.blob(50, 42, 24, 6, words["gills"])
    high = 8 if words["form"] == "old" else 16
    brush.patch([(24, 41), (30, 41 - high), (50, 38 - high), (70, 41 - high), (76, 41)], words["cap"])
    _warts(brush, words, 30)


def _warts(brush: Brush, words: Words, y: float) -> None:
    if "warts" in words:
        brush.speckle([(40, y), (47, y - 4), (54, y + 1), (60, y - 2)], 1.2, words["warts"])


def draw_gills(brush: Brush, words: Words) -> None:
    """A cap from below, cut through at one side."""
    brush.blob(50, 50, 34, 40, words["gills"])
    for x in range(20, 84, 6):
        brush.stroke([(50, 50), (x, 18 if x % 12 else 82)], "#a89a80", 0.4)
    brush.blob(50, 50, 6, 8, words["stem"])
    brush.blob(60, 60, 5, 5, words["stain"])


def draw_frog(brush: Brush, words: Words) -> None:
    """A frog from above (or below), its snout at 50, 16 and the end of its body at 50, 76."""
    for side in (-1, 1):
        hind_leg: list[Spot] = [(50 + side * across, down) for across, down in ((8, 66), (24, 56), (20, 78), (26, 88), (12, 80))]
        brush.patch(hind_leg, words["skin"])
        brush.stroke([(50 + side * 10, 36), (50 + side * 24, 46), (50 + side * 26, 36)], words["skin"], 3)
        if words.get("gland"):
            brush.blob(50 + side * 19, 68, 3.5, 7, words["gland"])
        if words.get("discs"):
            brush.speckle([(50 + side * 25, 86), (50 + side * 26, 36)], 1.3, words["discs"])
    brush.blob(50, 50, 15, 26, words["skin"])
    brush.blob(50, 28, 11, 13, words["skin"])
    if words.get("eyes", "yes") == "yes":
        brush.speckle([(42, 22), (58, 22)], 1.8, "#d8a832")
    if words.get("band"):
        brush.patch([(46, 30), (54, 30), (56, 70), (44, 70)], words["band"])
    if words.get("spots"):
        brush.speckle([(44, 40), (55, 44), (47, 54), (57, 60), (44, 66), (50, 48)], 2.2, words["spots"])


def draw_foam(brush: Brush, words: Words) -> None:
    """A nest of foam on water."""
    brush.blob(50, 50, 26, 20, words["skin"])
    brush.speckle([(x, y) for x in range(34, 68, 5) for y in (42, 50, 58)], 0.7, BLACK)


def draw_tadpole(brush: Brush, words: Words) -> None:
    """A tadpole that swims to the left."""
    brush.patch([(44, 44), (92, 50), (44, 56)], words["skin"])
    brush.blob(34, 50, 14, 14, words["skin"])
    brush.speckle([(27, 46)], 1.2, BLACK)


SHAPES: dict[str, Callable[[Brush, Words], None]] = {
    "wader": draw_wader,
    "flight": draw_flight,
    "flower": draw_flower,
    "leaf": draw_leaf,
    "fungus": draw_fungus,
    "gills": draw_gills,
    "frog": draw_frog,
    "foam": draw_foam,
    "tadpole": draw_tadpole,
}
