"""A grown shieldbug, built of its parts from a form (proportions) and a coat (colours and marks).

Lengths are shares of the body from the front of the head (y = 0) to the tip of the folded wings (y = 1); x is the
distance from the midline. `Pose` says where that body lies on the sheet.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

from brush import Colour, Finish, Patch, Pits, Point, Sheet, Tone, disc, ribbon, smooth

Half = list[tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a body lies: its middle in pixels, its length in pixels, and its turn in degrees (0: head up)."""

    x: float
    y: float
    length: float
    turn: float = 0.0

    def at(self, point: Sequence[float]) -> Point:
        """The place on the sheet of a point of the body."""
        u, v = point[0] * self.length, (point[1] - 0.5) * self.length
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return (self.x + u * c - v * s, self.y + u * s + v * c)

    def all(self, points: Sequence[Sequence[float]]) -> list[Point]:
        """The places on the sheet of many points of the body."""
        return [self.at(point) for point in points]


@dataclass(frozen=True, slots=True)
class Form:
    """Proportions. Half-widths are measured from the midline."""

    head: float = 0.092
    head_tip: float = 0.05
    snout: str = "round"
    collar: float = 0.12
    shoulder: float = 0.285
    shoulder_y: float = 0.265
    shoulder_kind: str = "round"
    pronotum_end: float = 0.335
    scutellum: float = 0.18
    scutellum_tip: float = 0.63
    blunt: float = 0.035
    wing: float = 0.27
    corium_end: float = 0.72
    abdomen: float = 0.312
    abdomen_y: float = 0.6
    abdomen_end: float = 0.955
    antenna: float = 0.46
    antenna_fat: float = 0.014
    segments: Sequence[float] = (0.08, 0.22, 0.22, 0.24, 0.24)
    leg_fat: float = 0.03
    spiny: bool = False
    membrane: bool = True


@dataclass(frozen=True, slots=True)
class Mark:
    """A patch of colour on one part, in body lengths; mirrored unless it is on the midline."""

    part: str
    outline: Sequence[Point]
    colour: Colour
    soft: float = 0.006
    strength: float = 1.0
    mirror: bool = False


BENEATH = {"rostrum": Tone.of("a8743f"), "belly": Tone.of("a89070"), "chest": Tone.of("b59c78")}


@dataclass(frozen=True, slots=True)
class Coat:
    """Colours: one tone a part, the banding of the connexivum, the antennae, punctures, hairs and marks."""

    body: Tone
    parts: Mapping[str, Tone] = field(default_factory=dict)
    connexivum: tuple[Tone, Tone] | None = None
    antenna: Sequence[str] = ("6b7a3a", "6b7a3a", "6b7a3a", "5a4a32", "5a4a32")
    pits: Pits | None = Pits(1.5, 0.0021, (26, 38, 16), 0.55)
    pitted: Sequence[str] = ("pronotum", "scutellum", "corium", "head")
    gloss: float = 0.25
    hairs: Colour | None = None
    marks: Sequence[Mark] = ()
    mottle: float = 0.16

    def tone(self, part: str) -> Tone:
        """The paint of a part; parts that are not named have the colour of the body."""
        return self.parts.get(part, BENEATH.get(part, self.body))


def mirrored(half: Sequence[tuple[float, ...]]) -> Half:
    """A whole outline from its right half, which runs from the midline at the front to the midline behind."""
    return [*half, *[(-p[0], *p[1:]) for p in reversed(half) if abs(p[0]) > 1e-9]]


def head_outline(form: Form) -> Half:
    """The head with its cheeks; `notched` has cheeks longer than the middle lobe."""
    w, tip = form.head, form.head_tip
    front: Half = [(0.0, 0.012 if form.snout == "notched" else 0.0), (tip * 0.7, 0.003), (tip, 0.022)]
    if form.snout == "narrow":
        front = [(0.0, -0.004), (tip * 0.5, 0.0), (tip * 0.8, 0.02)]
    return mirrored([*front, (w * 0.78, 0.058), (w * 0.9, 0.085), (w * 0.98, 0.13), (0.0, 0.15)])


def pronotum_outline(form: Form) -> Half:
    """The pronotum, with shoulders rounded, pointed, drawn out into thorns, or hooked forward."""
    s, y, back = form.shoulder, form.shoulder_y, form.pronotum_end
    corner: Half
    if form.shoulder_kind == "point":
        corner = [(s * 0.80, y - 0.055), (s + 0.03, y - 0.022, 1), (s * 0.95, y + 0.032)]
    elif form.shoulder_kind == "thorn":
        corner = [(s * 0.78, y - 0.035), (s + 0.088, y - 0.05, 1), (s * 0.98, y + 0.03)]
    elif form.shoulder_kind == "hook":
        corner = [(s * 0.93, y - 0.095), (s + 0.018, y - 0.075), (s + 0.026, y - 0.03), (s * 0.95, y + 0.015)]
    elif form.shoulder_kind == "angle":
        corner = [(s * 0.84, y - 0.045), (s + 0.006, y - 0.006), (s * 0.97, y + 0.032)]
    else:
        corner = [(s * 0.86, y - 0.06), (s * 0.985, y - 0.015), (s * 0.975, y + 0.025)]
    start: Half = [(0.0, 0.118), (form.collar * 0.72, 0.113), (form.collar, 0.106, 1)]
    side: Half = [(form.collar + (s - form.collar) * 0.42, y - 0.105)] if form.shoulder_kind != "hook" else [
        (form.collar + (s - form.collar) * 0.5, 0.135)
    ]
    end: Half = [(form.scutellum + 0.035, back - 0.004), (form.scutellum - 0.02, back + 0.002), (0.0, back)]
    return mirrored([*start, *side, *corner, *end])


def scutellum_outline(form: Form) -> Half:
    """The scutellum: a triangle with a rounded tip, or a shield over the whole back."""
    base, tip, top = form.scutellum, form.scutellum_tip, form.pronotum_end - 0.012
    if tip > 0.85:
        return mirrored([
            (0.0, top), (base, top + 0.005), (base * 1.06, 0.5), (base * 1.02, 0.7), (base * 0.68, 0.89), (0.0, tip)
        ])
    mid = top + (tip - top) * 0.55
    return mirrored([
        (0.0, top), (base, top, 1), (base * 0.6, mid), (form.blunt * 1.15, tip - form.blunt * 1.1), (0.0, tip)
    ])


def corium_outline(form: Form) -> Half:
    """The leathery part of the right forewing."""
    w, top = form.wing, form.pronotum_end - 0.03
    return [
        (form.scutellum * 0.8, top), (min(w, form.shoulder) * 0.97, top, 1), (w * 1.03, top + 0.12), (w * 1.02, 0.6),
        (w * 0.86, form.corium_end + 0.02, 1), (w * 0.5, form.corium_end - 0.045),
        (form.blunt * 0.8, form.scutellum_tip - 0.03, 1), (form.scutellum * 0.55, top + 0.12),
    ]


def abdomen_outline(form: Form) -> Half:
    """The abdomen as seen beyond the wings."""
    a, y, end = form.abdomen, form.abdomen_y, form.abdomen_end
    return mirrored([
        (0.0, 0.28), (form.shoulder * 0.85, 0.3), (a * 0.93, y - 0.16), (a, y), (a * 0.93, y + 0.13),
        (a * 0.66, end - 0.1), (a * 0.28, end - 0.015), (0.0, end),
    ])


def membrane_outline(form: Form) -> Half:
    """The filmy ends of the folded wings."""
    w, low = form.wing, form.corium_end
    return mirrored([
        (0.0, form.scutellum_tip - 0.06), (w * 0.5, low - 0.07), (w * 0.88, low), (w * 0.78, low + 0.12),
        (w * 0.45, 0.955), (0.0, 1.0),
    ])


def antenna_path(form: Form, side: int) -> list[Point]:
    """The line of an antenna from its socket outwards."""
    reach = form.antenna
    bend = 0.02 * side
    nodes = [
        (0.052, 0.045), (0.11, -0.01), (0.17 + reach * 0.14, -0.02 - reach * 0.24), (0.15 + reach * 0.40, 0.01 - reach * 0.52 + bend),
        (0.13 + reach * 0.74, -reach * 0.64 + bend * 2),
    ]
    return smooth([(side * x, y) for x, y in nodes], closed=False)


def antenna_parts(form: Form, side: int) -> list[list[Point]]:
    """The path of each segment of an antenna."""
    path = antenna_path(form, side)
    total = sum(form.segments)
    cuts = [0]
    run = 0.0
    for share in form.segments:
        run += share / total
        cuts.append(round(run * (len(path) - 1)))
    return [path[a : b + 1] for a, b in zip(cuts, cuts[1:], strict=False)]


LEGS: tuple[tuple[Point, ...], ...] = (
    ((0.13, 0.25), (0.315, 0.135), (0.395, -0.015), (0.445, -0.085)),
    ((0.17, 0.40), (0.435, 0.395), (0.555, 0.54), (0.625, 0.59)),
    ((0.16, 0.55), (0.42, 0.685), (0.51, 0.92), (0.56, 1.0)),
)


def leg_joints(number: int, side: int) -> tuple[Point, ...]:
    """Hip, knee, ankle and toe of leg 0, 1 or 2; the left side stands a little differently from the right."""
    chance = Random(number * 7 + side)
    hip, *rest = LEGS[number]
    return tuple(
        (side * (x + chance.uniform(-0.012, 0.012) * (i > 0)), y + chance.uniform(-0.022, 0.022) * (i > 0))
        for i, (x, y) in enumerate([hip, *rest])
    )


def landmarks(form: Form) -> dict[str, Point]:
    """The places that a pointer can name, in body lengths."""
    fourth = antenna_parts(form, 1)
    knee, ankle = leg_joints(1, 1)[1:3]
    shin = ((knee[0] + ankle[0]) / 2, (knee[1] + ankle[1]) / 2)
    return {
        "head": (0.0, 0.07),
        "pronotum": (0.0, 0.23),
        "shoulder": (form.shoulder + {"thorn": 0.06, "point": 0.015, "hook": 0.0}.get(form.shoulder_kind, -0.015), form.shoulder_y - 0.03),
        "scutellum": (0.0, form.pronotum_end + 0.1),
        "scutellum tip": (0.0, form.scutellum_tip - 0.03),
        "corium": (form.wing * 0.72, 0.56),
        "membrane": (0.0, 0.87),
        "connexivum": (form.abdomen * 0.955, form.abdomen_y + 0.02),
        "legs": leg_joints(1, 1)[1],
        "front dots": (0.0, 0.352),
        "white patch": (form.wing * 0.8, 0.43),
        "wing spot": (0.185, 0.67),
        "red spots": (0.19, 0.25),
        "shin": shin,
        **{f"antenna {i + 1}": part[len(part) // 2] for i, part in enumerate(fourth)},
    }


class Painter:
    """Paints one bug on a sheet."""

    def __init__(self, sheet: Sheet, pose: Pose, form: Form, coat: Coat, seed: int = 11) -> None:
        self.sheet, self.pose, self.form, self.coat, self.seed = sheet, pose, form, coat, seed

    def upperside(self) -> None:
        """The whole animal from above, from the shadow on the ground upwards."""
        self.shadow()
        self.legs()
        self.antennae()
        self._abdomen()
        if self.form.membrane:
            self._membrane()
        for side in (1, -1):
            self._part("corium", [(side * p[0], *p[1:]) for p in corium_outline(self.form)], seed=side + 5)
            self._wing_lines(side)
        self._part("head", head_outline(self.form))
        self._head_lines()
        self._cast(scutellum_outline(self.form))
        self._part("scutellum", scutellum_outline(self.form))
        self._cast(pronotum_outline(self.form), 0.5)
        self._part("pronotum", pronotum_outline(self.form), round_=0.13)
        self.eyes()
        if self.coat.hairs:
            self._hairs(self.coat.hairs)

    def _px(self, share: float) -> float:
        return share * self.pose.length

    def _part(self, part: str, outline: Half, *, seed: int = 0, round_: float = 0.16) -> None:
        coat = self.coat
        patches = [
            Patch(
                self.pose.all([(sign * x, y) for x, y in mark.outline]),
                mark.colour, self._px(mark.soft), mark.strength,
            )
            for mark in coat.marks if mark.part == part
            for sign in ((1, -1) if mark.mirror else (1,))
        ]
        pits = coat.pits
        if pits and part in coat.pitted:
            pits = Pits(pits.density * (900 / self.pose.length) ** 2, self._px(pits.radius), pits.colour, pits.strength)
        finish = Finish(
            round=round_, depth=1.0, mottle=coat.mottle, mottle_size=self._px(0.014), gloss=coat.gloss,
            pits=pits if part in coat.pitted else None, patches=patches,
        )
        self.sheet.paint(self.pose.all(smooth(outline)), coat.tone(part), finish, seed=self.seed + seed + len(part))

    def _cast(self, outline: Half, strength: float = 0.4) -> None:
        drop = self._px(0.006)
        points = [(x + drop, y + drop) for x, y in self.pose.all(smooth(outline))]
        self.sheet.wash(points, (24, 22, 16), soft=self._px(0.005), strength=strength)

    def shadow(self) -> None:
        """Its shadow on what it stands on."""
        drop = self._px(0.035)
        shapes = [smooth(abdomen_outline(self.form)), smooth(pronotum_outline(self.form)), smooth(head_outline(self.form))]
        if self.form.membrane:
            shapes.append(smooth(membrane_outline(self.form)))
        for number in range(3):
            for side in (1, -1):
                shapes.append(ribbon(leg_joints(number, side), [0.03, 0.02, 0.012]))
        for shape in shapes:
            points = [(x + drop, y + drop * 1.25) for x, y in self.pose.all(shape)]
            self.sheet.wash(points, (58, 52, 40), soft=drop * 0.55, strength=0.34)

    def legs(self) -> None:
        """Six legs, each with a claw pair."""
        fat = self.form.leg_fat
        thigh, shin = self.coat.tone("femur"), self.coat.tone("tibia")
        foot = self.coat.tone("tarsus")
        for number in (2, 1, 0):
            for side in (1, -1):
                hip, knee, ankle, toe = self.pose.all(leg_joints(number, side))
                self._rod([hip, knee], [fat * 0.8, fat * 1.1, fat * 0.8], thigh)
                self._rod([knee, ankle], [fat * 0.62, fat * 0.5, fat * 0.62], shin)
                if self.form.spiny:
                    self._spines(knee, ankle)
                for i in range(3):
                    a, b = i / 3, (i + 0.86) / 3
                    self._rod([_between(ankle, toe, a), _between(ankle, toe, b)], [fat * 0.36, fat * 0.5], foot)
                for spread in (-0.35, 0.35):
                    along = math.atan2(toe[1] - ankle[1], toe[0] - ankle[0]) + spread
                    tip = (toe[0] + math.cos(along) * self._px(0.02), toe[1] + math.sin(along) * self._px(0.02))
                    self.sheet.line([_between(ankle, toe, 0.94), tip], (40, 30, 20), self._px(0.005))

    def _spines(self, knee: Point, ankle: Point) -> None:
        along = math.atan2(ankle[1] - knee[1], ankle[0] - knee[0])
        for i in range(2, 9):
            for lean in (0.8, -0.8):
                x, y = _between(knee, ankle, i / 9)
                tip = (x + math.cos(along + lean) * self._px(0.035), y + math.sin(along + lean) * self._px(0.035))
                self.sheet.line([(x, y), tip], (20, 18, 18), self._px(0.0045))

    def _rod(self, path: Sequence[Point], widths: Sequence[float], tone: Tone) -> None:
        line = [_between(path[0], path[1], i / 8) for i in range(9)]
        outline = ribbon(line, [self._px(w) for w in widths])
        ends = [disc(*path[i], self._px(widths[-i]) * 0.5, n=14) for i in (0, 1)]
        for end in ends:
            self.sheet.paint(end, tone, Finish(rim=0.3))
        self.sheet.paint(outline, tone, Finish(round=0.2, depth=1.2, mottle=0.2, mottle_size=self._px(0.01), rim=0.4))

    def antennae(self) -> None:
        """Both antennae, segment by segment."""
        fat = self.form.antenna_fat
        for side in (1, -1):
            for colour, part in zip(self.coat.antenna, antenna_parts(self.form, side), strict=True):
                path = self.pose.all(part)
                halves = colour.split("/")
                cut = len(path) // 2
                pieces = [path] if len(halves) == 1 else [path[: cut + 1], path[cut:]]
                for paint, piece in zip(halves, pieces, strict=True):
                    self.sheet.paint(
                        ribbon(piece, [self._px(fat * w) for w in (0.8, 1.15, 1.0)]), Tone.of(paint),
                        Finish(round=0.2, rim=0.5, mottle=0.1),
                    )

    def _abdomen(self) -> None:
        outline = smooth(abdomen_outline(self.form))
        bands = self.coat.connexivum
        self.sheet.paint(self.pose.all(outline), bands[0] if bands else self.coat.tone("abdomen"), Finish(round=0.1), seed=3)
        if not bands:
            return
        a, y, end = self.form.abdomen, self.form.abdomen_y, self.form.abdomen_end
        right = [p for p in outline if p[0] > 0.0 and p[1] > 0.3]
        count = 6
        span = end - 0.06 - 0.36
        for i in range(count):
            low, high = 0.36 + span * (i + 0.28) / count, 0.36 + span * (i + 0.78) / count
            rim = [p for p in right if low <= p[1] <= high]
            if len(rim) < 2:
                continue
            inner = [(x - a * 0.36, v + (0.03 if v > y else 0.0)) for x, v in reversed(rim)]
            for side in (1, -1):
                self.sheet.paint(
                    self.pose.all([(side * u, v) for u, v in [*rim, *inner]]), bands[1], Finish(round=0.1, rim=0.25), seed=i
                )

    def _membrane(self) -> None:
        tone = self.coat.tone("membrane")
        outline = smooth(membrane_outline(self.form))
        self.sheet.paint(self.pose.all(outline), tone, Finish(round=0.08, mottle=0.25, mottle_size=self._px(0.02), rim=0.35), seed=8)
        low, w = self.form.corium_end, self.form.wing
        for i in range(5):
            x = w * (0.12 + 0.15 * i)
            for side in (1, -1):
                run = [(side * x, low - 0.06 + i * 0.008), (side * x * 1.02, low + 0.08), (side * x * 0.72, 0.97 - i * 0.028)]
                path = self.pose.all(smooth(run, closed=False))
                self.sheet.line(path, tone.dark, self._px(0.0035), strength=0.5, soft=0.4)
        fold = self.pose.all(smooth([(0.01, self.form.scutellum_tip), (0.07, low + 0.08), (0.03, 0.93), (-0.04, 0.99)], closed=False))
        self.sheet.line(fold, _dark(tone), self._px(0.005), strength=0.6, soft=0.5)
        self.sheet.line([(x - 2, y - 1) for x, y in fold], tone.light, self._px(0.004), strength=0.5, soft=0.6)

    def _wing_lines(self, side: int) -> None:
        tone = self.coat.tone("corium")
        f = self.form
        seam = smooth([(side * f.scutellum * 1.02, f.pronotum_end), (side * f.scutellum * 0.86, 0.48), (side * f.wing * 0.4, f.corium_end - 0.06)], closed=False)
        vein = smooth([(side * f.wing * 0.86, f.pronotum_end + 0.02), (side * f.wing * 0.8, 0.5), (side * f.wing * 0.66, 0.66)], closed=False)
        for path in (seam, vein):
            dip = self.pose.all(path)
            self.sheet.line(dip, tone.dark, self._px(0.006), strength=0.55, soft=0.8)
            self.sheet.line([(x + 2.5, y + 2.5) for x, y in dip], tone.light, self._px(0.004), strength=0.3, soft=0.8)

    def _head_lines(self) -> None:
        tone = self.coat.tone("head")
        for side in (1, -1):
            path = self.pose.all(smooth([(side * 0.02, 0.004), (side * 0.024, 0.05), (side * 0.03, 0.1)], closed=False))
            self.sheet.line(path, tone.dark, self._px(0.005), strength=0.7, soft=0.5)

    def eyes(self) -> None:
        """Eyes and ocelli."""
        for side in (1, -1):
            x, y = self.pose.at((side * self.form.head * 0.9, 0.09))
            eye = self.coat.parts.get("eye", Tone.of("4a2d22"))
            self.sheet.paint(disc(x, y, self._px(0.021), self._px(0.027)), eye, Finish(round=0.3, gloss=0.6, mottle=0.1))
            x, y = self.pose.at((side * self.form.head * 0.42, 0.103))
            self.sheet.paint(disc(x, y, self._px(0.008)), Tone.of("8c3b22"), Finish(round=0.3, gloss=0.8, mottle=0))

    def _hairs(self, colour: Colour) -> None:
        chance = Random(self.seed)
        roots: list[tuple[float, float, float]] = []
        for outline in (pronotum_outline(self.form), head_outline(self.form), abdomen_outline(self.form)):
            for x, y in smooth(outline, steps=26):
                px, py = self.pose.at((x, y))
                roots.append((px, py, math.degrees(math.atan2(y - 0.5, x)) + self.pose.turn))
        for _ in range(1500):
            x, y = chance.uniform(-0.29, 0.29), chance.uniform(0.02, 0.7)
            if abs(x) < 0.06 + y * 0.85:
                px, py = self.pose.at((x, y))
                roots.append((px, py, 90 + self.pose.turn))
        self.sheet.hairs(roots, colour, self._px(0.024), self.seed)


def _between(a: Point, b: Point, t: float) -> Point:
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)


def _dark(tone: Tone) -> Colour:
    return (tone.dark[0] // 2, tone.dark[1] // 2, tone.dark[2] // 2)
