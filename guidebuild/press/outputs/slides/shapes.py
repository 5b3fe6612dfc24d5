"""The shapes that slides come in, in pixels and in the millimetres in which they are laid out."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from guidebuild.press.paper.formats import Area

PIXELS = 1080
"""Across, in every shape."""
ACROSS = 80.0
"""Millimetres in which a slide is laid out: what is drawn for paper then is two and a half times as large as a phone's own type."""
DENSITY = PIXELS / ACROSS
LEAST_TYPE = 34 / DENSITY
"""Millimetres: no word on a slide is smaller than 34 pixels at 1080."""
SIZES = tuple(pixels / DENSITY for pixels in (60, 54, 48, 44, 40, 37, 34))
"""Sizes of the text, the largest first."""
MARGIN = 4.0


@dataclass(frozen=True, slots=True)
class Shape:
    """One shape: its height in pixels, and what its players cover at the top and at the foot, in shares of it."""

    name: str
    down: int
    top: float = 0.0
    foot: float = 0.0

    @property
    def page(self) -> Area:
        """The whole slide."""
        return Area(ACROSS, self.down / DENSITY)

    @property
    def is_wide(self) -> bool:
        """Whether picture and words stand beside one another."""
        return self.down < PIXELS * 0.8

    @property
    def margins(self) -> tuple[float, float]:
        """What is kept free at the top and at the foot."""
        return max(MARGIN, self.page.height * self.top), max(MARGIN * 0.7, self.page.height * self.foot)

    @property
    def room(self) -> Area:
        """What words and pictures may take."""
        return Area(ACROSS - 2 * MARGIN, self.page.height - sum(self.margins))


# Players lay their own words over the upper seventh and the lower fifth of a tall picture (common practice, no source).
SHAPES = MappingProxyType(
    {
        shape.name: shape
        for shape in (Shape("portrait", 1350), Shape("square", 1080), Shape("tall", 1920, top=0.14, foot=0.20), Shape("wide", 566))
    }
)
"""Every shape by its name."""
