"""The forms and coats of the grown animals in the guide."""

# A coat is read part by part; lines as long as a part needs keep it in sight.
# ruff: noqa: E501

from __future__ import annotations

from body import Form
from brush import Pits, Tone, disc
from coat import Coat, Mark

T = Tone.of
DARK_PITS = Pits(1.8, 0.0023, (22, 16, 12), 0.62)
FOUR = (0.14, 0.3, 0.27, 0.2)


def _spot(part: str, x: float, y: float, r: float, colour: str, *, mirror: bool = False, soft: float = 0.004, tall: float = 1.0) -> Mark:
    red, green, blue = (int(colour[i : i + 2], 16) for i in (0, 2, 4))
    return Mark(part, disc(x, y, r, r * tall, n=24), (red, green, blue), soft, 1.0, mirror)


def _field(
    part: str, outline: list[tuple[float, float]], colour: str, *, mirror: bool = True, soft: float = 0.012, strength: float = 0.9
) -> Mark:
    red, green, blue = (int(colour[i : i + 2], 16) for i in (0, 2, 4))
    return Mark(part, outline, (red, green, blue), soft, strength, mirror)


CLAVUS = [(0.05, 0.36), (0.2, 0.32), (0.21, 0.4), (0.15, 0.6), (0.09, 0.68), (0.02, 0.66), (0.03, 0.6), (0.1, 0.48)]
REAR = [(0.0, 0.29), (0.2, 0.275), (0.3, 0.26), (0.28, 0.33), (0.0, 0.36)]
MARGIN = [(0.1, 0.09), (0.19, 0.15), (0.34, 0.26), (0.32, 0.29), (0.265, 0.245), (0.13, 0.14)]

# One line a part of the animal reads better here than one line a value.
# fmt: off
ADULTS: dict[str, tuple[Form, Coat]] = {
    "hawthorn": (
        Form(shoulder_kind="point", shoulder=0.3, wing=0.262, abdomen=0.296, abdomen_end=0.97),
        Coat(
            T("79a536"), {"corium": T("6f9a3c"), "membrane": T("7a5236"), "femur": T("93a552"), "tibia": T("8f8a4a"),
             "tarsus": T("7a5530"), "scutellum": T("7ba03a"), "abdomen": T("b8452c"), "head": T("8aab42")},
            antenna=("78904a", "6c7a40", "5d5a38", "4a3a28", "4a3a28"),
            marks=(_field("corium", CLAVUS, "8e3324"), _field("pronotum", REAR, "7d7a35", strength=0.45),
                   _field("pronotum", [(0.26, 0.2), (0.36, 0.22), (0.33, 0.27), (0.27, 0.25)], "b0382a", soft=0.02)),
            gloss=0.4,
        ),
    ),
    "birch": (
        Form(shoulder_kind="round", shoulder=0.272, wing=0.25, abdomen=0.278, head=0.09),
        Coat(
            T("86a43c"), {"corium": T("7d9a3f"), "membrane": T("8a6a4c"), "femur": T("9aa457"), "tibia": T("97944f"),
             "tarsus": T("84633a"), "abdomen": T("8f5138"), "head": T("94a94a")},
            antenna=("8c9650", "86824a", "746244", "57452f", "4b3a2a"),
            marks=(_field("corium", CLAVUS, "93402c"), _field("pronotum", REAR, "93482f", strength=0.75, mirror=True),
                   _field("corium", [(0.1, 0.64), (0.24, 0.7), (0.2, 0.76), (0.08, 0.7)], "86402f", strength=0.6)),
            gloss=0.4,
        ),
    ),
    "parent": (
        Form(shoulder_kind="angle", shoulder=0.28, wing=0.25, abdomen=0.305, abdomen_end=0.95),
        Coat(
            T("a08a62"), {"corium": T("9a6a4c"), "membrane": T("8e7c66"), "femur": T("9a8a56"), "tibia": T("9a8c5c"),
             "tarsus": T("6a5238"), "scutellum": T("a8925c"), "head": T("8e8450")},
            connexivum=(T("cdb86a"), T("2c241c")),
            antenna=("7a6a42", "7a6040", "6d5238", "5a4230", "33281f"),
            pits=DARK_PITS,
            marks=(_spot("scutellum", 0.0, 0.425, 0.075, "2e1f18", soft=0.014, tall=0.9),
                   _field("corium", CLAVUS, "7d4838", strength=0.6), _field("pronotum", REAR, "8a5a42", strength=0.6)),
        ),
    ),
    "juniper": (
        Form(shoulder_kind="round", shoulder=0.285, wing=0.262, abdomen=0.288),
        Coat(
            T("7fa63a"), {"corium": T("86a83e"), "membrane": T("8a6a54"), "femur": T("98aa58"), "tibia": T("98a058"),
             "tarsus": T("846a3c"), "abdomen": T("7a9438")},
            antenna=("8a9a4c", "84884a", "7a7046", "624e34", "4d3c2c"),
            marks=(_field("corium", [(0.10, 0.44), (0.17, 0.4), (0.2, 0.48), (0.2, 0.6), (0.245, 0.7), (0.2, 0.77), (0.13, 0.7), (0.125, 0.58)], "b23f4a", soft=0.008, strength=0.95),
                   _field("corium", [(0.14, 0.34), (0.2, 0.32), (0.15, 0.47), (0.09, 0.6), (0.05, 0.63), (0.09, 0.5)], "a8484a", soft=0.01, strength=0.75)),
            gloss=0.4,
        ),
    ),
    "green": (
        Form(shoulder=0.305, wing=0.278, abdomen=0.325, head=0.105, head_tip=0.062),
        Coat(
            T("5d9a35"), {"corium": T("589038"), "membrane": T("5a3c28"), "femur": T("6a9a42"), "tibia": T("76954a"),
             "tarsus": T("8a5f3c"), "abdomen": T("74a542")},
            antenna=("5f8a3c", "6a8040", "7d5a3c", "8a4a34", "8a4434"),
            pits=Pits(3.2, 0.0021, (24, 44, 14), 0.6), gloss=0.15,
        ),
    ),
    "green-winter": (
        Form(shoulder=0.305, wing=0.278, abdomen=0.325, head=0.105, head_tip=0.062),
        Coat(
            T("7d5a3c"), {"corium": T("7a4f38"), "membrane": T("4a3222"), "femur": T("7d6a42"), "tibia": T("7a6642"),
             "tarsus": T("6a4a30"), "abdomen": T("8a6a42")},
            antenna=("6a5a3c", "6a543c", "7a4a34", "7a4232", "7a3e30"),
            pits=Pits(3.2, 0.0021, (30, 20, 14), 0.6), gloss=0.15,
        ),
    ),
    "southern-green": (
        Form(shoulder=0.29, wing=0.265, abdomen=0.295, head=0.1, head_tip=0.055, abdomen_end=0.94),
        Coat(
            T("70a84a"), {"corium": T("6aa24a"), "membrane": T("a9bd8c"), "femur": T("82b258"), "tibia": T("84ac5a"),
             "tarsus": T("a88a52"), "abdomen": T("84b656")},
            antenna=("78aa50", "78a850", "8a8a48/9a5a38", "a8b060/9a5034", "a0a058/8c4a30"),
            pits=Pits(2.6, 0.0018, (34, 74, 26), 0.4), gloss=0.3,
            marks=(_spot("scutellum", 0.0, 0.352, 0.012, "f6efb8"), _spot("scutellum", 0.085, 0.35, 0.012, "f6efb8", mirror=True),
                   _spot("scutellum", 0.158, 0.343, 0.0095, "17140f", mirror=True)),
        ),
    ),
    "gorse": (
        Form(shoulder_kind="round", shoulder=0.282, wing=0.258, abdomen=0.29, head=0.1),
        Coat(
            T("a9b455"), {"corium": T("9dab54"), "membrane": T("a59a72"), "femur": T("b0b060"), "tibia": T("b09a5a"),
             "tarsus": T("a5764a"), "abdomen": T("dccf74"), "head": T("a8b45a")},
            antenna=("b0714a", "b5553c", "b5553c", "a84a38", "a04434"),
            pits=Pits(2.6, 0.0022, (70, 66, 26), 0.55),
            marks=(_field("pronotum", MARGIN, "efe4a0", soft=0.005, strength=1.0),
                   _field("corium", [(0.25, 0.31), (0.3, 0.33), (0.3, 0.6), (0.255, 0.72), (0.25, 0.6), (0.258, 0.4)], "efe4a0", soft=0.004, strength=1.0),
                   _field("pronotum", REAR, "7d8a6c", strength=0.6)),
        ),
    ),
    "hairy": (
        Form(shoulder=0.295, wing=0.265, abdomen=0.32, head=0.1),
        Coat(
            T("8a6252"), {"corium": T("8c5650"), "membrane": T("7d6a52"), "femur": T("8a7a4c"), "tibia": T("8f7c50"),
             "tarsus": T("5f4a34"), "scutellum": T("95924e"), "head": T("7a6448")},
            connexivum=(T("d8b05c"), T("241c18")),
            antenna=("4a3a2a", "e4d6a4/1f1a17", "e8dcae/1f1a17", "e8dcae/1f1a17", "1f1a17"),
            pits=DARK_PITS, hairs=(246, 240, 216),
            marks=(_spot("scutellum", 0.0, 0.6, 0.028, "ece0b0", soft=0.008), _field("corium", CLAVUS, "a0826a", strength=0.4)),
            gloss=0.1,
        ),
    ),
    "forest": (
        Form(shoulder_kind="hook", shoulder=0.315, wing=0.28, abdomen=0.325, head=0.098, scutellum_tip=0.64, blunt=0.045),
        Coat(
            T("5a4030"), {"corium": T("5e402e"), "membrane": T("6a5238"), "femur": T("b5502e"), "tibia": T("b8582f"),
             "tarsus": T("9a4a2c")},
            connexivum=(T("d98a3c"), T("241a15")),
            antenna=("6a4a30", "7a4a30", "6a4430", "3f2c22", "3a2a22"),
            pits=DARK_PITS, gloss=0.5,
            marks=(_spot("scutellum", 0.0, 0.605, 0.048, "e59a45", soft=0.006, tall=1.0),),
        ),
    ),
    "bronze": (
        Form(shoulder_kind="angle", shoulder=0.312, wing=0.28, abdomen=0.325, head=0.1, head_tip=0.055, snout="notched", shoulder_y=0.25),
        Coat(
            T("746046"), {"corium": T("7d5d48"), "membrane": T("4e3c2c"), "femur": T("7a6448"), "tibia": T("8a6e4c"),
             "tarsus": T("5a4632"), "scutellum": T("7d6a4a"), "head": T("5c6448")},
            connexivum=(T("cfa860"), T("2a221c")),
            antenna=("3c3026", "3c3026", "2e2620", "2a221c/e8a04c", "2a221c"),
            pits=Pits(2.4, 0.0024, (26, 22, 14), 0.65), gloss=0.55, mottle=0.26,
        ),
    ),
    "spiked": (
        Form(shoulder_kind="thorn", shoulder=0.292, wing=0.268, abdomen=0.325, head=0.092, shoulder_y=0.25, scutellum_tip=0.66),
        Coat(
            T("6f5138"), {"corium": T("77563a"), "membrane": T("80664a"), "femur": T("8f4e34"), "tibia": T("a0603c"),
             "tarsus": T("7a4a32")},
            antenna=("9a5838", "a05a38", "9a5236", "7a4a36/c06a3c", "6a3f2c"),
            connexivum=(T("8f6a44"), T("5a4030")),
            pits=DARK_PITS, gloss=0.3, mottle=0.24,
        ),
    ),
    "blue": (
        Form(shoulder=0.282, wing=0.268, abdomen=0.3, head=0.1, head_tip=0.06),
        Coat(
            T("28508a"), {"corium": T("2a5590"), "membrane": T("1c2228"), "femur": T("26406e"), "tibia": T("243a5e"),
             "tarsus": T("1e2838"), "scutellum": T("2a5a92"), "eye": T("2a1c1c")},
            antenna=("26405e", "223650", "202c40", "1e2430", "1c2028"),
            pits=Pits(2.4, 0.0022, (12, 22, 52), 0.7), gloss=0.95, mottle=0.3,
        ),
    ),
    "dock": (
        Form(head=0.062, head_tip=0.036, snout="narrow", collar=0.085, shoulder=0.262, shoulder_y=0.25, shoulder_kind="angle", pronotum_end=0.345,
             scutellum=0.098, scutellum_tip=0.5, blunt=0.02, wing=0.225, corium_end=0.74, abdomen=0.325, abdomen_y=0.62,
             abdomen_end=0.94, segments=FOUR, antenna_fat=0.019, antenna=0.5, leg_fat=0.027),
        Coat(
            T("8a5f3f"), {"corium": T("85593c"), "membrane": T("5a4230"), "femur": T("7a5538"), "tibia": T("8f6a48"), "tarsus": T("4a362a")},
            connexivum=(T("a8774a"), T("8a5a38")),
            antenna=("7a4a34", "b5562f", "b5562f", "2e221c"),
            pits=Pits(3.0, 0.002, (46, 28, 18), 0.6), gloss=0.1, mottle=0.28,
        ),
    ),
    "box": (
        Form(head=0.058, head_tip=0.034, snout="narrow", collar=0.085, shoulder=0.235, shoulder_y=0.265, shoulder_kind="point", pronotum_end=0.345,
             scutellum=0.09, scutellum_tip=0.49, blunt=0.02, wing=0.19, corium_end=0.74, abdomen=0.232, abdomen_y=0.6,
             abdomen_end=0.95, segments=FOUR, antenna_fat=0.017, antenna=0.52, leg_fat=0.023),
        Coat(
            T("a0603a"), {"corium": T("9a5638"), "membrane": T("6a5038"), "femur": T("a8804c"), "tibia": T("b08a52"), "tarsus": T("6a4a30")},
            connexivum=(T("c08a4c"), T("a06a3c")),
            antenna=("9a5234", "a85a34", "a85a34", "b07a44"),
            pits=Pits(3.0, 0.002, (66, 32, 18), 0.55), gloss=0.15, mottle=0.22,
        ),
    ),
    "pied": (
        Form(shoulder=0.29, wing=0.272, abdomen=0.298, head=0.115, head_tip=0.085, scutellum=0.2, antenna=0.34, spiny=True, abdomen_end=0.965, leg_fat=0.034),
        Coat(
            T("20202a"), {"membrane": T("6e6a64"), "corium": T("1e1e28"), "femur": T("1e1c20"), "tibia": T("24201e"), "tarsus": T("4a3626"), "eye": T("3a1a16")},
            antenna=("262020", "262020", "241e1e", "241e1e", "241e1e"),
            pits=Pits(1.6, 0.0022, (4, 4, 8), 0.8), gloss=0.85, mottle=0.1,
            marks=(_field("pronotum", [(0.1, 0.09), (0.21, 0.13), (0.31, 0.23), (0.31, 0.27), (0.235, 0.215), (0.15, 0.165)], "f2efe2", soft=0.003, strength=1.0),
                   _field("corium", [(0.3, 0.3), (0.235, 0.31), (0.2, 0.4), (0.15, 0.44), (0.16, 0.5), (0.24, 0.52), (0.3, 0.5)], "f2efe2", soft=0.003, strength=1.0),
                   _field("corium", [(0.25, 0.62), (0.18, 0.63), (0.16, 0.69), (0.2, 0.74), (0.26, 0.74)], "f2efe2", soft=0.003, strength=1.0)),
        ),
    ),
    "tortoise": (
        Form(shoulder=0.3, wing=0.29, abdomen=0.305, head=0.115, head_tip=0.075, scutellum=0.22, scutellum_tip=0.985, antenna=0.36,
             abdomen_end=0.965, membrane=False, pronotum_end=0.32, corium_end=0.78),
        Coat(
            T("a8824f"), {"corium": T("8f6a42"), "femur": T("9a7a4c"), "tibia": T("a08050"), "tarsus": T("6a5036"), "scutellum": T("a5804e"), "head": T("8f7246")},
            connexivum=(T("c6a66a"), T("5a4430")),
            antenna=("8a6a42", "8a6a42", "7a5a3a", "4a3828", "3f3024"),
            pits=Pits(2.8, 0.0022, (52, 36, 20), 0.6), gloss=0.15, mottle=0.34,
            marks=(_field("scutellum", [(0.0, 0.3), (0.018, 0.34), (0.02, 0.7), (0.0, 0.86)], "d8bd84", strength=0.7),
                   _field("scutellum", [(0.06, 0.36), (0.17, 0.33), (0.14, 0.5), (0.09, 0.66)], "6a4a30", soft=0.03, strength=0.5)),
        ),
    ),
    "scarlet": (
        Form(shoulder=0.29, wing=0.268, abdomen=0.3, head=0.1, head_tip=0.06, scutellum=0.185, antenna=0.38),
        Coat(
            T("d2452a"), {"membrane": T("3a302e"), "head": T("24201f"), "femur": T("2a2422"), "tibia": T("2c2624"), "tarsus": T("241e1c"), "scutellum": T("26201f")},
            connexivum=(T("d8482c"), T("1f1b1b")),
            antenna=("262020",) * 5,
            pits=Pits(1.4, 0.002, (70, 18, 14), 0.45), gloss=0.55, mottle=0.1,
            marks=(
                _spot("pronotum", 0.07, 0.16, 0.04, "1f1b1b", mirror=True, tall=0.6), _spot("pronotum", 0.06, 0.265, 0.045, "1f1b1b", mirror=True, tall=1.1),
                _spot("pronotum", 0.19, 0.25, 0.05, "1f1b1b", mirror=True, tall=0.9),
                _field("scutellum", [(0.17, 0.33), (0.205, 0.33), (0.02, 0.64), (0.0, 0.64), (0.0, 0.52), (0.05, 0.5), (0.1, 0.42)], "d2452a", soft=0.005, strength=1.0),
                _field("corium", [(0.06, 0.52), (0.2, 0.34), (0.21, 0.4), (0.1, 0.6), (0.06, 0.64)], "1f1b1b", soft=0.004, strength=1.0),
                _spot("corium", 0.2, 0.55, 0.035, "1f1b1b", mirror=True, tall=1.2), _spot("corium", 0.17, 0.69, 0.038, "1f1b1b", mirror=True),
            ),
        ),
    ),
    "crucifer": (
        Form(shoulder=0.285, wing=0.265, abdomen=0.292, head=0.1, head_tip=0.062, scutellum=0.182, antenna=0.38),
        Coat(
            T("1f2e3c"), {"membrane": T("2e2a2a"), "corium": T("1f3040"), "femur": T("1e242c"), "tibia": T("22282e"), "tarsus": T("1e2024"), "abdomen": T("e2d9a8")},
            antenna=("20242a",) * 5,
            pits=Pits(1.8, 0.0022, (8, 12, 20), 0.7), gloss=0.9, mottle=0.14,
            marks=(
                _field("pronotum", [(0.0, 0.13), (0.013, 0.15), (0.016, 0.3), (0.0, 0.32)], "f0e6b4", soft=0.003, strength=1.0),
                _field("pronotum", [(0.1, 0.1), (0.19, 0.14), (0.3, 0.25), (0.27, 0.245), (0.16, 0.16)], "f0e6b4", soft=0.003, strength=1.0),
                _spot("scutellum", 0.0, 0.59, 0.033, "f0e6b4", tall=1.3), _spot("scutellum", 0.12, 0.365, 0.02, "f0e6b4", mirror=True),
                _field("corium", [(0.27, 0.32), (0.29, 0.4), (0.28, 0.55), (0.25, 0.5), (0.255, 0.38)], "f0e6b4", soft=0.003, strength=1.0),
                _spot("corium", 0.185, 0.67, 0.04, "f0e6b4", mirror=True, tall=0.7),
            ),
        ),
    ),
}
