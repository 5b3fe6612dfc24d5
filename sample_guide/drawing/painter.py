"""Paints a grown shieldbug from its form and its coat, from the shadow on the ground upwards."""

from __future__ import annotations

import math
from collections.abc import Sequence
from random import Random

from body import (
    Form,
    Half,
    Pose,
    abdomen_outline,
    antenna_parts,
    corium_outline,
    head_outline,
    leg_joints,
    membrane_outline,
    pronotum_outline,
    scutellum_outline,
)
from brush import Colour, Finish, Patch, Pits, Point, Sheet, Tone, disc, ribbon, smooth
from coat import Coat


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
                mark.colour,
                self._px(mark.soft),
                mark.strength,
            )
            for mark in coat.marks
            if mark.part == part
            for sign in ((1, -1) if mark.mirror else (1,))
        ]
        pits = coat.pits
        if pits and part in coat.pitted:
            pits = Pits(pits.density * (900 / self.pose.length) ** 2, self._px(pits.radius), pits.colour, pits.strength)
        finish = Finish(
            round=round_,
            depth=1.0,
            mottle=coat.mottle,
            mottle_size=self._px(0.014),
            gloss=coat.gloss,
            pits=pits if part in coat.pitted else None,
            patches=patches,
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
                        ribbon(piece, [self._px(fat * w) for w in (0.8, 1.15, 1.0)]),
                        Tone.of(paint),
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
                self.sheet.paint(self.pose.all([(side * u, v) for u, v in [*rim, *inner]]), bands[1], Finish(round=0.1, rim=0.25), seed=i)

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
        seam = smooth(
            [(side * f.scutellum * 1.02, f.pronotum_end), (side * f.scutellum * 0.86, 0.48), (side * f.wing * 0.4, f.corium_end - 0.06)],
            closed=False,
        )
        vein = smooth(
            [(side * f.wing * 0.86, f.pronotum_end + 0.02), (side * f.wing * 0.8, 0.5), (side * f.wing * 0.66, 0.66)], closed=False
        )
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
            x, y = self.pose.at((side * self.form.head * 0.93, 0.094))
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
