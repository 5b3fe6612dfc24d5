"""The colours of a grown shieldbug: one tone a part, bands, antennae, punctures, hairs and marks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from brush import Colour, Pits, Point, Tone


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


PLAIN_PITS = Pits(1.5, 0.0021, (26, 38, 16), 0.55)


@dataclass(frozen=True, slots=True)
class Coat:
    """Colours: one tone a part, the banding of the connexivum, the antennae, punctures, hairs and marks."""

    body: Tone
    parts: Mapping[str, Tone] = field(default_factory=dict)
    connexivum: tuple[Tone, Tone] | None = None
    antenna: Sequence[str] = ("6b7a3a", "6b7a3a", "6b7a3a", "5a4a32", "5a4a32")
    pits: Pits | None = PLAIN_PITS
    pitted: Sequence[str] = ("pronotum", "scutellum", "corium", "head")
    gloss: float = 0.25
    hairs: Colour | None = None
    marks: Sequence[Mark] = ()
    mottle: float = 0.16

    def tone(self, part: str) -> Tone:
        """The paint of a part; parts that are not named have the colour of the body."""
        return self.parts.get(part, BENEATH.get(part, self.body))
