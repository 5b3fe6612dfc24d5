"""The pictures of the guide."""

from __future__ import annotations

from body import Pose
from brush import Point
from hosts import HOSTS
from plate import HIGH, LONG, Leaf, Plate


def _big(kind: str, colour: str = "7f9a6a", *, angle: float = -62, veins: int = 6, length: float = 1200, base: Point = (380, 1160)) -> Leaf:
    return Leaf(kind, base, length, angle, colour, veins)


UPPERSIDES = (
    Plate(
        "hawthorn-adult",
        "adult",
        "hawthorn",
        pose=Pose(830, 660, 720, 8),
        leaves=(_big("hawthorn", "8c9c80", veins=4),),
        taken="2025:09:07 11:05:00",
    ),
    Plate(
        "birch-adult",
        "adult",
        "birch",
        pose=Pose(790, 660, 700, -6),
        leaves=(_big("birch", "93a283", base=(1250, 1180), angle=-122, veins=7),),
        taken="2025:05:11 10:40:00",
    ),
    Plate(
        "parent-adult",
        "adult",
        "parent",
        pose=Pose(800, 650, 700, 5),
        leaves=(_big("birch", "7f9f62", veins=7),),
        taken="2025:06:14 10:20:00",
    ),
    Plate(
        "juniper-adult",
        "adult",
        "juniper",
        pose=Pose(800, 660, 710, -4),
        leaves=(_big("leaflet", "a3a490", length=1000, base=(330, 1050), angle=-50, veins=0),),
        taken="2025:09:14 14:10:00",
    ),
    Plate(
        "green-adult",
        "adult",
        "green",
        pose=Pose(800, 660, 720, 6),
        leaves=(_big("hazel", "a9b487", veins=8),),
        taken="2025:05:18 12:00:00",
    ),
    Plate(
        "green-winter",
        "adult",
        "green-winter",
        pose=Pose(810, 660, 700, -8),
        leaves=(_big("hazel", "b08a52", veins=8, angle=-70),),
        taken="2025:11:02 13:15:00",
    ),
    Plate(
        "southern-green-adult",
        "adult",
        "southern-green",
        size=HIGH,
        pose=Pose(600, 880, 800, 0),
        leaves=(_big("bramble", "a7a98a", base=(330, 1560), length=1400, angle=-68, veins=7),),
        taken="2025:09:28 15:30:00",
    ),
    Plate(
        "gorse-adult",
        "adult",
        "gorse",
        pose=Pose(790, 660, 700, -5),
        leaves=(_big("leaflet", "6f8a58", base=(330, 1000), length=1050, angle=-42, veins=4),),
        taken="2025:04:20 11:50:00",
    ),
    Plate(
        "hairy-adult",
        "adult",
        "hairy",
        pose=Pose(810, 660, 700, 7),
        leaves=(_big("bramble", "7fa060", veins=7),),
        taken="2025:05:25 10:05:00",
    ),
    Plate(
        "forest-adult",
        "adult",
        "forest",
        pose=Pose(800, 660, 700, 4),
        leaves=(_big("oak", "86a468", veins=5, length=1250, base=(300, 1120), angle=-52),),
        taken="2025:08:10 16:45:00",
    ),
    Plate(
        "bronze-adult",
        "adult",
        "bronze",
        pose=Pose(820, 670, 700, -7),
        leaves=(_big("alder", "88a86c", veins=7, length=1150),),
        taken="2025:08:24 11:30:00",
    ),
    Plate(
        "spiked-adult",
        "adult",
        "spiked",
        pose=Pose(800, 660, 700, 5),
        leaves=(_big("birch", "97b06e", veins=7, base=(1230, 1180), angle=-120),),
        taken="2025:09:21 13:00:00",
    ),
    Plate(
        "blue-adult", "adult", "blue", pose=Pose(800, 650, 680, -4), leaves=(_big("plain", "9cb272", veins=6),), taken="2025:06:01 11:20:00"
    ),
    Plate(
        "dock-adult",
        "adult",
        "dock",
        pose=Pose(800, 670, 700, 6),
        leaves=(_big("dock", "7fa15e", veins=9, length=1500, base=(160, 1160), angle=-40),),
        taken="2025:09:06 12:25:00",
    ),
    Plate(
        "box-adult",
        "adult",
        "box",
        pose=Pose(800, 680, 700, -5),
        leaves=(_big("plain", "84a468", veins=5, length=1350, base=(240, 1130), angle=-46),),
        taken="2025:09:20 14:35:00",
    ),
    Plate(
        "pied-adult", "adult", "pied", pose=Pose(800, 640, 660, 4), leaves=(_big("nettle", "93b06e", veins=6),), taken="2025:05:04 10:55:00"
    ),
    Plate(
        "tortoise-adult",
        "adult",
        "tortoise",
        size=HIGH,
        pose=Pose(600, 850, 760, -3),
        leaves=(Leaf("plain", (180, 1540), 1500, -62, "8fac66", 0), Leaf("blade", (900, 1600), 1700, -104, "86a35c", 0)),
        taken="2025:07:06 15:05:00",
    ),
    Plate(
        "scarlet-adult",
        "adult",
        "scarlet",
        pose=Pose(800, 650, 670, 5),
        leaves=(_big("nettle", "8fae70", veins=6, base=(1230, 1170), angle=-121),),
        taken="2025:06:08 13:40:00",
    ),
    Plate(
        "crucifer-adult",
        "adult",
        "crucifer",
        pose=Pose(800, 650, 670, -5),
        leaves=(_big("nettle", "98b478", veins=6),),
        taken="2025:05:31 12:10:00",
    ),
)

DETAILS = (
    Plate(
        "hawthorn-shoulder",
        "adult",
        "hawthorn",
        pose=Pose(430, 980, 1900, 6),
        leaves=(_big("hawthorn", "8c9c80", length=2300, base=(-500, 1500)),),
        taken="2025:09:07 11:09:00",
    ),
    Plate(
        "parent-scutellum",
        "adult",
        "parent",
        pose=Pose(790, 720, 1700, -4),
        leaves=(_big("birch", "7f9f62", length=2300, base=(-300, 1700)),),
        taken="2025:06:14 10:26:00",
    ),
    Plate(
        "southern-green-scutellum",
        "adult",
        "southern-green",
        pose=Pose(800, 830, 1700, 3),
        leaves=(_big("bramble", "a7a98a", length=2300, base=(-300, 1700)),),
        taken="2025:09:28 15:34:00",
    ),
    Plate(
        "bronze-antenna",
        "adult",
        "bronze",
        pose=Pose(430, 1330, 1450, -14),
        leaves=(_big("alder", "88a86c", length=2300, base=(-500, 1800)),),
        taken="2025:08:24 11:36:00",
    ),
    Plate(
        "hairy-antenna",
        "adult",
        "hairy",
        pose=Pose(470, 1290, 1450, -10),
        leaves=(_big("bramble", "7fa060", length=2300, base=(-500, 1800)),),
        taken="2025:05:25 10:11:00",
    ),
    Plate("bronze-underside", "underside", "bronze", pose=Pose(800, 660, 700, 3), rostrum=0.05, taken="2025:08:24 11:44:00"),
    Plate("forest-underside", "underside", "forest", pose=Pose(800, 660, 700, -3), rostrum=0.022, taken="2025:08:10 16:58:00"),
)

YOUNG = (
    Plate(
        "parent-guarding",
        "guard",
        "parent",
        size=HIGH,
        pose=Pose(600, 700, 520, 0),
        leaves=(Leaf("birch", (260, 1560), 1650, -66, "7f9f62", 7),),
        rows=(7, 8, 9, 8, 7),
        colour="c2cf9a",
        taken="2025:06:14 10:32:00",
    ),
    Plate(
        "parent-nymph",
        "nymph",
        "parent",
        pose=Pose(800, 650, 520, 6),
        leaves=(_big("birch", "86a468", veins=7),),
        taken="2025:08:02 11:00:00",
    ),
    Plate(
        "hawthorn-nymph",
        "nymph",
        "hawthorn",
        pose=Pose(800, 650, 560, -5),
        leaves=(_big("hawthorn", "71866a", veins=4),),
        taken="2025:08:03 12:40:00",
    ),
    Plate(
        "birch-nymph",
        "nymph",
        "birch",
        pose=Pose(800, 650, 520, 4),
        leaves=(_big("birch", "64804f", veins=7),),
        taken="2025:07:20 11:15:00",
    ),
    Plate(
        "green-nymph",
        "nymph",
        "green",
        pose=Pose(800, 650, 560, 5),
        leaves=(_big("hazel", "a9b487", veins=8),),
        instar=4,
        taken="2025:08:03 13:00:00",
    ),
    Plate(
        "southern-green-nymph",
        "nymph",
        "southern-green",
        pose=Pose(800, 650, 540, -6),
        leaves=(_big("bramble", "b2b08c", veins=7),),
        taken="2025:09:13 16:00:00",
    ),
    Plate(
        "gorse-nymph",
        "nymph",
        "gorse",
        pose=Pose(800, 650, 540, 3),
        leaves=(_big("leaflet", "65804f", veins=4),),
        instar=4,
        taken="2025:07:13 12:00:00",
    ),
    Plate(
        "forest-nymph",
        "nymph",
        "forest",
        pose=Pose(800, 650, 420, 6),
        leaves=(_big("oak", "a98a5a", veins=5),),
        instar=2,
        taken="2025:10:19 12:30:00",
    ),
    Plate(
        "dock-nymph",
        "nymph",
        "dock",
        pose=Pose(800, 650, 540, -4),
        leaves=(_big("dock", "7fa15e", veins=9, length=1500, base=(160, 1160), angle=-40),),
        instar=4,
        taken="2025:07:27 14:20:00",
    ),
    Plate(
        "blue-nymph",
        "nymph",
        "blue",
        pose=Pose(800, 650, 480, 5),
        leaves=(_big("plain", "9cb272", veins=6),),
        instar=4,
        taken="2025:07:19 11:45:00",
    ),
    Plate(
        "hairy-nymph",
        "nymph",
        "hairy",
        pose=Pose(800, 650, 520, 5),
        leaves=(_big("bramble", "7fa060", veins=7),),
        taken="2025:08:09 10:40:00",
    ),
    Plate(
        "bronze-nymph",
        "nymph",
        "bronze",
        pose=Pose(800, 650, 530, -5),
        leaves=(_big("alder", "88a86c", veins=7),),
        taken="2025:07:12 11:20:00",
    ),
    Plate(
        "pied-nymph",
        "nymph",
        "pied",
        pose=Pose(800, 650, 500, 4),
        leaves=(_big("nettle", "93b06e"),),
        instar=4,
        taken="2025:07:05 10:15:00",
    ),
    Plate(
        "crucifer-nymph", "nymph", "crucifer", pose=Pose(800, 650, 500, -4), leaves=(_big("nettle", "98b478"),), taken="2025:07:26 12:20:00"
    ),
    Plate("instars", "nymphs", "green", size=LONG, taken="2025:08:31 12:00:00"),
    Plate(
        "green-eggs",
        "eggs",
        "green",
        pose=Pose(800, 600, 44),
        leaves=(_big("hazel", "7f9f62", veins=8, length=1500, base=(220, 1240)),),
        rows=(4, 5, 6, 7, 6),
        colour="a9c878",
        taken="2025:06:15 10:00:00",
    ),
    Plate(
        "gorse-eggs",
        "eggs",
        "gorse",
        pose=Pose(800, 600, 46),
        leaves=(_big("leaflet", "7fa05e", veins=4, length=1500, base=(220, 1100), angle=-36),),
        rows=(8, 8),
        colour="4a4238",
        taken="2025:06:01 10:30:00",
    ),
    Plate(
        "spiked-eggs",
        "eggs",
        "spiked",
        pose=Pose(800, 600, 40),
        leaves=(_big("birch", "a08858", veins=7, length=1500, base=(220, 1240)),),
        rows=(5, 6, 7, 6),
        colour="7d6238",
        spines=True,
        taken="2025:10:05 11:00:00",
    ),
)

PLANTS = tuple(Plate(f"plant-{name}", "host", name, taken="2025:07:05 09:30:00") for name in HOSTS)

PLACES = (
    Plate("place-long-hedge", "place", "hedge", size=LONG, taken="2025:09:07 10:30:00"),
    Plate("place-birch-clump", "place", "trees", size=(1600, 1000), taken="2025:06:14 09:50:00"),
    Plate("place-hay-meadow", "place", "meadow", size=(1600, 1000), taken="2025:07:06 14:30:00"),
    Plate("place-gorse-bank", "place", "bank", size=(1600, 1000), taken="2025:04:20 11:20:00"),
)

PLATES: tuple[Plate, ...] = (*UPPERSIDES, *DETAILS, *YOUNG, *PLANTS, *PLACES)
