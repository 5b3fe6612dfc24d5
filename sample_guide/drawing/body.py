"""The shape of a grown shieldbug: proportions, the outlines of its parts, and where its field marks lie.

Lengths are shares of the body from the front of the head (y = 0) to the tip of the folded wings (y = 1); x is the
distance from the midline. `Pose` says where that body lies on the sheet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from brush import Point, smooth

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


def mirrored(half: Sequence[tuple[float, ...]]) -> Half:
    """A whole outline from its right half, which runs from the midline at the front to the midline behind."""
    return [*half, *[(-p[0], *p[1:]) for p in reversed(half) if abs(p[0]) > 1e-9]]


def head_outline(form: Form) -> Half:
    """The head with its cheeks; `notched` has cheeks longer than the middle lobe."""
    w, tip = form.head, form.head_tip
    front: Half = [(0.0, 0.012 if form.snout == "notched" else 0.0), (tip * 0.7, 0.003), (tip, 0.022)]
    if form.snout == "narrow":
        front = [(0.0, -0.004), (tip * 0.5, 0.0), (tip * 0.8, 0.02)]
    return mirrored([*front, (w * 0.86, 0.056), (w * 0.97, 0.088), (w * 1.0, 0.13), (0.0, 0.15)])


def pronotum_outline(form: Form) -> Half:
    """The pronotum, with shoulders rounded, pointed, drawn out into thorns, or hooked forward."""
    s, y, back = form.shoulder, form.shoulder_y, form.pronotum_end
    corner: Half
    if form.shoulder_kind == "point":
        corner = [(s * 0.80, y - 0.055), (s + 0.03, y - 0.022, 1), (s * 0.95, y + 0.032)]
    elif form.shoulder_kind == "thorn":
        corner = [(s * 0.78, y - 0.035), (s + 0.118, y - 0.058, 1), (s * 0.98, y + 0.03)]
    elif form.shoulder_kind == "hook":
        corner = [(s * 0.93, y - 0.095), (s + 0.018, y - 0.075), (s + 0.026, y - 0.03), (s * 0.95, y + 0.015)]
    elif form.shoulder_kind == "angle":
        corner = [(s * 0.84, y - 0.045), (s + 0.006, y - 0.006), (s * 0.97, y + 0.032)]
    else:
        corner = [(s * 0.86, y - 0.06), (s * 0.985, y - 0.015), (s * 0.975, y + 0.025)]
    start: Half = [(0.0, 0.118), (form.collar * 0.72, 0.113), (form.collar, 0.106, 1)]
    side: Half = (
        [(form.collar + (s - form.collar) * 0.42, y - 0.105)]
        if form.shoulder_kind != "hook"
        else [(form.collar + (s - form.collar) * 0.5, 0.135)]
    )
    end: Half = [(form.scutellum + 0.035, back - 0.004), (form.scutellum - 0.02, back + 0.002), (0.0, back)]
    return mirrored([*start, *side, *corner, *end])


def scutellum_outline(form: Form) -> Half:
    """The scutellum: a triangle with a rounded tip, or a shield over the whole back."""
    base, tip, top = form.scutellum, form.scutellum_tip, form.pronotum_end - 0.012
    if tip > 0.85:
        return mirrored([(0.0, top), (base, top + 0.005), (base * 1.06, 0.5), (base * 1.02, 0.7), (base * 0.68, 0.89), (0.0, tip)])
    mid = top + (tip - top) * 0.55
    return mirrored([(0.0, top), (base, top, 1), (base * 0.6, mid), (form.blunt * 1.15, tip - form.blunt * 1.1), (0.0, tip)])


def corium_outline(form: Form) -> Half:
    """The leathery part of the right forewing."""
    w, top = form.wing, form.pronotum_end - 0.03
    return [
        (form.scutellum * 0.8, top),
        (min(w, form.shoulder) * 0.97, top, 1),
        (w * 1.03, top + 0.12),
        (w * 1.02, 0.6),
        (w * 0.86, form.corium_end + 0.02, 1),
        (w * 0.5, form.corium_end - 0.045),
        (form.blunt * 0.8, form.scutellum_tip - 0.03, 1),
        (form.scutellum * 0.55, top + 0.12),
    ]


def abdomen_outline(form: Form) -> Half:
    """The abdomen as seen beyond the wings."""
    a, y, end = form.abdomen, form.abdomen_y, form.abdomen_end
    return mirrored(
        [
            (0.0, 0.28),
            (form.shoulder * 0.85, 0.3),
            (a * 0.93, y - 0.16),
            (a, y),
            (a * 0.93, y + 0.13),
            (a * 0.66, end - 0.1),
            (a * 0.28, end - 0.015),
            (0.0, end),
        ]
    )


def membrane_outline(form: Form) -> Half:
    """The filmy ends of the folded wings."""
    w, low = form.wing, form.corium_end
    return mirrored(
        [
            (0.0, form.scutellum_tip - 0.06),
            (w * 0.5, low - 0.07),
            (w * 0.88, low),
            (w * 0.78, low + 0.12),
            (w * 0.45, 0.955),
            (0.0, 1.0),
        ]
    )


def antenna_path(form: Form, side: int) -> list[Point]:
    """The line of an antenna from its socket outwards."""
    reach = form.antenna
    bend = 0.02 * side
    nodes = [
        (0.052, 0.045),
        (0.11, -0.01),
        (0.17 + reach * 0.14, -0.02 - reach * 0.24),
        (0.15 + reach * 0.40, 0.01 - reach * 0.52 + bend),
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
    return [path[a : b + 1] for a, b in pairwise(cuts)]


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
        "shoulder": (form.shoulder + {"thorn": 0.085, "point": 0.015, "hook": 0.0}.get(form.shoulder_kind, -0.015), form.shoulder_y - 0.03),
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
        "antenna ring": fourth[3][len(fourth[3]) * 3 // 4],
        "shin": shin,
        **{f"antenna {i + 1}": part[len(part) // 2] for i, part in enumerate(fourth)},
    }
