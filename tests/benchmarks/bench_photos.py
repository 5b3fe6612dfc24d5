"""The copies of a camera's photo, beside bare Pillow that decodes no more than it needs, into the same widths, formats and settings.

    python -m tests.benchmarks photos

The risk: photos of 12 and 24 megapixels take most of a make. The floor decodes a JPEG at the scale that libjpeg offers next above the
largest copy, which is quicker than ours and comes out softer (DEVELOPERS.md, “Pictures”). Invented pictures with a camera's grain.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from PIL import Image

from guidebuild.press.photos.copies import Recipe, prepare_copies
from tests.benchmarks.floor import WIDTHS, picture
from tests.benchmarks.rows import Row, told
from tests.benchmarks.synthetic import draw_picture

SIZES = ((4000, 3000), (6000, 4000))
ROUNDS = 3
SITE = Recipe(widths=WIDTHS, jpeg_widths=(720,))


def camera_picture(number: int, pixels: tuple[int, int]) -> Image.Image:
    """An invented picture as large as a camera's, with grain in every pixel."""
    grain = Image.frombytes("L", pixels, random.Random(f"camera {number}").randbytes(pixels[0] * pixels[1])).convert("RGB")
    return Image.blend(draw_picture(number).resize(pixels, Image.Resampling.BICUBIC), grain, 0.08)


def least_seconds(work: Callable[[], object]) -> float:
    """The least of a few runs, in seconds of the processor."""
    taken = []
    for _ in range(ROUNDS):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def rows() -> Iterator[Row]:
    """One row a size."""
    with tempfile.TemporaryDirectory() as here:
        for number, pixels in enumerate(SIZES):
            path = Path(here) / f"photo-{number}.jpg"
            camera_picture(number, pixels).save(path, quality=92)
            floor = least_seconds(lambda p=path: picture(p, Path(here)))
            ours = least_seconds(lambda p=path: prepare_copies(p.read_bytes(), SITE, p.name))
            what = f"copies of a photo of {pixels[0] * pixels[1] / 1e6:.0f} megapixels for the site"
            yield Row(what, f"{floor:.2f} s", f"{ours:.2f} s", ours / floor)


if __name__ == "__main__":
    sys.exit(told(rows))
