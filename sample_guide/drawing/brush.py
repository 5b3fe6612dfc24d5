"""Brushes: curves, shaded shapes and washes, with Pillow alone.

Everything is drawn on a sheet twice as large as the picture and reduced at the end. Lengths and places are in
picture pixels. All chance comes from seeds, so that a picture is drawn the same every time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from random import Random

from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageOps

Point = tuple[float, float]
Colour = tuple[int, int, int]

FINENESS = 2


@dataclass(frozen=True, slots=True)
class Tone:
    """One paint in shade, in plain light and where the light falls full on it."""

    dark: Colour
    mid: Colour
    light: Colour

    @classmethod
    def of(cls, colour: str, *, deep: float = 0.5, lift: float = 0.45) -> Tone:
        """A tone from its plain colour, `rrggbb`; shade leans to blue and light to yellow, as outdoors."""
        red, green, blue = (int(colour[i : i + 2], 16) for i in (0, 2, 4))
        dark = (int(red * (1 - deep)), int(green * (1 - deep * 0.96)), int(blue * (1 - deep * 0.8)))
        light = (
            int(red + (255 - red) * lift),
            int(green + (252 - green) * lift),
            int(blue + (228 - blue) * lift * 0.85) if blue < 228 else blue,
        )
        return cls(dark, (red, green, blue), light)


@dataclass(frozen=True, slots=True)
class Patch:
    """A coloured field inside a shape: its outline, its paint, how soft its edge is (pixels) and how strong."""

    outline: Sequence[Point]
    colour: Colour
    soft: float = 3.0
    strength: float = 1.0


@dataclass(frozen=True, slots=True)
class Pits:
    """Punctures: how many to a square of 100 pixels, their radius in pixels, their colour and strength."""

    density: float
    radius: float
    colour: Colour
    strength: float = 0.8


@dataclass(frozen=True, slots=True)
class Finish:
    """How a shape is modelled: roundness (share of its breadth), depth of shade, mottling, edge, gloss."""

    round: float = 0.16
    depth: float = 1.0
    mottle: float = 0.16
    mottle_size: float = 9.0
    rim: float = 0.55
    gloss: float = 0.0
    pits: Pits | None = None
    patches: Sequence[Patch] = field(default_factory=tuple)


def smooth(points: Sequence[tuple[float, ...]], *, closed: bool = True, steps: int = 14) -> list[Point]:
    """A curve through the points. A point with a third number above 0 is a corner: the curve comes to rest there."""
    count = len(points)
    if count < 3:
        return [(p[0], p[1]) for p in points]

    def slope(i: int) -> Point:
        if len(points[i]) > 2 and points[i][2] > 0:
            return (0.0, 0.0)
        before = points[(i - 1) % count] if closed or i > 0 else points[i]
        after = points[(i + 1) % count] if closed or i < count - 1 else points[i]
        return ((after[0] - before[0]) * 0.5, (after[1] - before[1]) * 0.5)

    curve: list[Point] = []
    for i in range(count if closed else count - 1):
        a, b = points[i], points[(i + 1) % count]
        m, n = slope(i), slope((i + 1) % count)
        for step in range(steps):
            t = step / steps
            p, q = 2 * t**3 - 3 * t**2 + 1, t**3 - 2 * t**2 + t
            r, s = -2 * t**3 + 3 * t**2, t**3 - t**2
            curve.append((p * a[0] + q * m[0] + r * b[0] + s * n[0], p * a[1] + q * m[1] + r * b[1] + s * n[1]))
    if not closed:
        curve.append((points[-1][0], points[-1][1]))
    return curve


def ribbon(path: Sequence[Point], widths: Sequence[float]) -> list[Point]:
    """The outline of a stroke along the path, as wide at each point as `widths` says (spread evenly along it)."""
    left: list[Point] = []
    right: list[Point] = []
    last = len(path) - 1
    for i, (x, y) in enumerate(path):
        ax, ay = path[max(i - 1, 0)]
        bx, by = path[min(i + 1, last)]
        run = math.hypot(bx - ax, by - ay) or 1.0
        nx, ny = -(by - ay) / run, (bx - ax) / run
        place = i / last * (len(widths) - 1)
        low = min(int(place), len(widths) - 2) if len(widths) > 1 else 0
        here = (widths[low] + (widths[low + 1] - widths[low]) * (place - low) if len(widths) > 1 else widths[0]) / 2
        left.append((x + nx * here, y + ny * here))
        right.append((x - nx * here, y - ny * here))
    return left + right[::-1]


def disc(x: float, y: float, rx: float, ry: float | None = None, *, turn: float = 0.0, n: int = 40) -> list[Point]:
    """An ellipse as points; `turn` in degrees."""
    ry = rx if ry is None else ry
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    ring = [(rx * math.cos(2 * math.pi * i / n), ry * math.sin(2 * math.pi * i / n)) for i in range(n)]
    return [(x + u * c - v * s, y + u * s + v * c) for u, v in ring]


def noise(size: tuple[int, int], grain: float, seed: int) -> Image.Image:
    """Soft blotches about `grain` pixels across, grey 0 to 255."""
    small = (max(2, int(size[0] / grain) + 2), max(2, int(size[1] / grain) + 2))
    raw = Image.frombytes("L", small, Random(seed).randbytes(small[0] * small[1]))
    return raw.resize(size, Image.Resampling.BICUBIC)


class Sheet:
    """The paper that is painted on."""

    def __init__(self, width: int, height: int, colour: Colour = (246, 243, 234)) -> None:
        self.width, self.height = width, height
        self.image = Image.new("RGB", (width * FINENESS, height * FINENESS), colour)

    def finished(self) -> Image.Image:
        """The picture at its own size."""
        return self.image.resize((self.width, self.height), Image.Resampling.LANCZOS)

    def _box(self, points: Sequence[Point], margin: float) -> tuple[int, int, int, int] | None:
        xs, ys = [p[0] * FINENESS for p in points], [p[1] * FINENESS for p in points]
        pad = margin * FINENESS
        box = (int(min(xs) - pad), int(min(ys) - pad), int(max(xs) + pad) + 1, int(max(ys) + pad) + 1)
        # What lies wholly outside the sheet is not painted; what lies far outside it is cut, to keep layers small.
        wide, high = self.image.size
        cut = (max(box[0], -200), max(box[1], -200), min(box[2], wide + 200), min(box[3], high + 200))
        return cut if cut[2] > cut[0] + 1 and cut[3] > cut[1] + 1 else None

    @staticmethod
    def _mask(points: Sequence[Point], box: tuple[int, int, int, int]) -> Image.Image:
        wide, high = box[2] - box[0], box[3] - box[1]
        mask = Image.new("L", (wide * 2, high * 2), 0)
        ImageDraw.Draw(mask).polygon([((x * FINENESS - box[0]) * 2, (y * FINENESS - box[1]) * 2) for x, y in points], fill=255)
        return mask.resize((wide, high), Image.Resampling.BOX)

    def paint(self, outline: Sequence[Point], tone: Tone, finish: Finish | None = None, *, seed: int = 1) -> None:
        """A shape modelled by light from the upper left, with mottling, patches, punctures, rim and gloss."""
        finish = finish or Finish()
        span = min(_span(outline, 0), _span(outline, 1)) * FINENESS
        relief = max(1.5, min(span, 1800.0) * finish.round)
        # Room for the blur, so that light does not wrap round from the other side of the layer.
        box = self._box(outline, 4 + relief * 2.4 / FINENESS)
        if box is None:
            return
        mask = self._mask(outline, box)
        layer = self._modelled(mask, tone, finish, relief=relief, seed=seed)
        if finish.pits:
            self._punch(layer, mask, finish.pits, seed)
        for patch in finish.patches:
            self._lay_patch(layer, patch, box)
        if finish.rim:
            inner = mask.filter(ImageFilter.GaussianBlur(max(1.2, relief * 0.22)))
            edge = ImageOps.invert(inner).point(lambda v: min(255, int(v * 1.9 * finish.rim)))
            layer.paste(Image.new("RGB", layer.size, _deeper(tone.dark)), (0, 0), edge)
        if finish.gloss:
            self._shine(layer, mask, relief, finish.gloss)
        self.image.paste(layer, (box[0], box[1]), mask)

    @staticmethod
    def _modelled(mask: Image.Image, tone: Tone, finish: Finish, *, relief: float, seed: int) -> Image.Image:
        height = mask.filter(ImageFilter.GaussianBlur(relief))
        reach = max(1, int(relief * 0.8))
        lit = ImageChops.subtract(
            ImageChops.offset(height, -reach, -reach),
            ImageChops.offset(height, reach, reach),
            1.15 / finish.depth,
            118,
        )
        if finish.mottle:
            blotch = noise(mask.size, finish.mottle_size * FINENESS, seed)
            fine = noise(mask.size, max(2.0, finish.mottle_size * 0.3) * FINENESS, seed + 7)
            lit = Image.blend(lit, Image.blend(blotch, fine, 0.4), finish.mottle)
        return ImageOps.colorize(lit, black=tone.dark, white=tone.light, mid=tone.mid, midpoint=124)

    def _lay_patch(self, layer: Image.Image, patch: Patch, box: tuple[int, int, int, int]) -> None:
        shape = self._mask(patch.outline, box)
        if patch.soft:
            shape = shape.filter(ImageFilter.GaussianBlur(patch.soft * FINENESS / 2))
        # Half of the light and shade beneath is kept, so that a mark lies in the surface and not upon it.
        grey = ImageOps.grayscale(layer)
        deep = tuple(int(c * 0.55) for c in patch.colour)
        high = tuple(int(c + (255 - c) * 0.4) for c in patch.colour)
        tones = [tone for tone, count in enumerate(grey.histogram()) if count]
        mean = max(2, min(253, int((tones[0] + tones[-1]) / 2)))
        stained = ImageOps.colorize(grey, black=deep, white=high, mid=patch.colour, midpoint=mean)
        flat = Image.blend(stained, Image.new("RGB", layer.size, patch.colour), 0.45)
        layer.paste(flat, (0, 0), shape.point(lambda v: int(v * patch.strength)))

    @staticmethod
    def _punch(layer: Image.Image, mask: Image.Image, pits: Pits, seed: int) -> None:
        chance = Random(seed * 31 + 5)
        wide, high = layer.size
        dark = Image.new("L", layer.size, 0)
        glint = Image.new("L", layer.size, 0)
        on_dark, on_glint = ImageDraw.Draw(dark), ImageDraw.Draw(glint)
        step = FINENESS * 10 / math.sqrt(pits.density)
        for row in range(int(high / step) + 1):
            for column in range(int(wide / step) + 1):
                # Spread evenly, as they are on the animal, but never in a grid.
                x, y = (column + chance.uniform(0.05, 0.95)) * step, (row + chance.uniform(0.05, 0.95)) * step
                r = pits.radius * FINENESS * (0.6 + 0.6 * chance.random())
                if x < wide and y < high and mask.getpixel((int(x), int(y))):
                    on_glint.ellipse((x - r + r * 0.6, y - r + r * 0.6, x + r * 1.6, y + r * 1.6), fill=46)
                    on_dark.ellipse((x - r, y - r, x + r, y + r), fill=int(255 * pits.strength))
        layer.paste(Image.new("RGB", layer.size, (255, 252, 232)), (0, 0), glint)
        layer.paste(Image.new("RGB", layer.size, pits.colour), (0, 0), dark.filter(ImageFilter.GaussianBlur(0.7)))

    @staticmethod
    def _shine(layer: Image.Image, mask: Image.Image, relief: float, gloss: float) -> None:
        core = mask.filter(ImageFilter.GaussianBlur(relief * 0.7)).point(lambda v: max(0, (v - 150) * 2))
        moved = ImageChops.offset(core, -int(relief * 0.7), -int(relief * 0.9))
        away = ImageChops.offset(core, int(relief * 0.25), int(relief * 0.3))
        band = ImageChops.subtract(moved, away).filter(ImageFilter.GaussianBlur(relief * 0.18))
        layer.paste(Image.new("RGB", layer.size, (255, 255, 250)), (0, 0), band.point(lambda v: int(v * gloss)))

    def wash(
        self,
        outline: Sequence[Point],
        colour: Colour,
        *,
        soft: float = 0.0,
        strength: float = 1.0,
        within: Sequence[Point] | None = None,
    ) -> None:
        """A flat, soft-edged film of colour; also shadows, bands and lines. `within` is the shape it stays inside."""
        box = self._box(outline, soft * 2.2 + 2)
        if box is None:
            return
        mask = self._mask(outline, box)
        if soft:
            mask = mask.filter(ImageFilter.GaussianBlur(soft * FINENESS))
        if within:
            mask = ImageChops.multiply(mask, self._mask(within, box))
        self.image.paste(Image.new("RGB", mask.size, colour), (box[0], box[1]), mask.point(lambda v: int(v * strength)))

    def line(self, path: Sequence[Point], colour: Colour, width: float, *, strength: float = 1.0, soft: float = 0.0) -> None:
        """A stroke of even width."""
        if len(path) > 1:
            self.wash(ribbon(path, [width]), colour, soft=soft, strength=strength)

    def hairs(self, roots: Sequence[tuple[float, float, float]], colour: Colour, length: float, seed: int) -> None:
        """Fine hairs; each root is x, y and the direction in degrees."""
        chance = Random(seed)
        film = Image.new("L", self.image.size, 0)
        draw = ImageDraw.Draw(film)
        for x, y, towards in roots:
            angle = math.radians(towards + chance.uniform(-24, 24))
            reach = length * chance.uniform(0.6, 1.25)
            start = (x * FINENESS, y * FINENESS)
            end = ((x + math.cos(angle) * reach) * FINENESS, (y + math.sin(angle) * reach) * FINENESS)
            draw.line((*start, *end), fill=165, width=2)
        self.image.paste(Image.new("RGB", self.image.size, colour), (0, 0), film)

    def blur(self, radius: float) -> None:
        """What has been painted so far goes out of focus."""
        self.image = self.image.filter(ImageFilter.GaussianBlur(radius * FINENESS))

    def tint(self, grain: float, strength: float, seed: int) -> None:
        """Uneven paper: light and dark patches over the whole sheet."""
        film = noise(self.image.size, grain * FINENESS, seed)
        shade = ImageOps.colorize(film, black=(214, 205, 184), white=(255, 255, 255))
        self.image = Image.blend(self.image, ImageChops.multiply(self.image, shade), strength)


def _span(points: Sequence[Point], axis: int) -> float:
    values = [point[axis] for point in points]
    return max(values) - min(values)


def _deeper(colour: Colour) -> Colour:
    return (int(colour[0] * 0.6), int(colour[1] * 0.6), int(colour[2] * 0.62))
