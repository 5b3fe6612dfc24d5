"""One picture: what it shows, on what it stands, where its subject and its field marks lie on the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from beneath import underside_landmarks
from body import Pose, landmarks
from brush import Point, Tone
from species import ADULTS
from young import nymph_landmarks

WIDE, HIGH, LONG = (1600, 1200), (1200, 1600), (1600, 640)


MIDDLE = Pose(800, 640, 700)


@dataclass(frozen=True, slots=True)
class Leaf:
    """A leaf under the subject: kind, base, length, angle, colour."""

    kind: str
    base: Point
    length: float
    angle: float
    colour: str = "7f9a6a"
    veins: int = 6


@dataclass(frozen=True, slots=True)
class Plate:
    """One picture. `subject` is `adult`, `nymph`, `nymphs`, `eggs`, `underside`, `guard`, `host` or `place`."""

    name: str
    subject: str
    animal: str
    size: tuple[int, int] = WIDE
    pose: Pose = MIDDLE
    leaves: Sequence[Leaf] = ()
    instar: int = 5
    taken: str = "2025:06:14 10:20:00"
    rows: Sequence[int] = ()
    colour: str = "9fc06a"
    spines: bool = False
    rostrum: float = 0.03

    def marks(self) -> dict[str, Point]:
        """Where each field mark lies, in hundredths across and down; only those on the sheet."""
        if self.subject == "adult" or self.subject == "guard":
            places = {**landmarks(ADULTS[self.animal][0]), "front": (0.0, 0.0), "tip": (0.0, 1.0)}
        elif self.subject == "nymph":
            places = {**nymph_landmarks(self.instar), "front": (0.0, 0.0), "tip": (0.0, 1.0)}
        elif self.subject == "underside":
            places = {**underside_landmarks(), "front": (0.0, 0.0), "tip": (0.0, 0.955)}
        elif self.subject == "eggs":
            return {"eggs": (round(self.pose.x / self.size[0] * 100, 1), round(self.pose.y / self.size[1] * 100, 1))}
        else:
            return {}
        spots = {name: self.pose.at(place) for name, place in places.items()}
        share = {n: (round(x / self.size[0] * 100, 1), round(y / self.size[1] * 100, 1)) for n, (x, y) in spots.items()}
        return {name: (x, y) for name, (x, y) in share.items() if 0 <= x <= 100 and 0 <= y <= 100}


def leaf_tone(colour: str) -> Tone:
    """The paint of a leaf under a subject: quieter than the subject."""
    return Tone.of(colour, deep=0.38, lift=0.36)
