"""Draws in per cent of a picture, so that shapes and the pointers of an account are measured alike."""

from __future__ import annotations

from collections.abc import Sequence

from PIL import Image, ImageDraw

SIZE = (800, 600)
OUTLINE = "#2b2620"
Spot = tuple[float, float]


class Brush:
    """One picture with its own background."""

    def __init__(self, background: str) -> None:
        """An empty picture."""
        self.picture = Image.new("RGB", SIZE, background)
        self._draw = ImageDraw.Draw(self.picture)

    def blob(self, x: float, y: float, across: float, down: float, colour: str) -> None:
        """An ellipse round a spot, with half its width and height."""
        box = [*self._pixels([(x - across, y - down)])[0], *self._pixels([(x + across, y + down)])[0]]
        self._draw.ellipse(box, fill=colour, outline=OUTLINE, width=3)

    def patch(self, spots: Sequence[Spot], colour: str) -> None:
        """A filled shape through spots."""
        self._draw.polygon(self._pixels(spots), fill=colour, outline=OUTLINE, width=3)

    def stroke(self, spots: Sequence[Spot], colour: str, width: float = 1.0) -> None:
        """A line through spots; `width` in per cent of the picture's width."""
        self._draw.line(self._pixels(spots), fill=colour, width=max(1, round(width * SIZE[0] / 100)), joint="curve")

    def speckle(self, spots: Sequence[Spot], radius: float, colour: str) -> None:
        """Dots of one colour."""
        for x, y in spots:
            self.blob(x, y, radius, radius * SIZE[0] / SIZE[1], colour)

    @staticmethod
    def _pixels(spots: Sequence[Spot]) -> list[tuple[float, float]]:
        return [(x * SIZE[0] / 100, y * SIZE[1] / 100) for x, y in spots]
