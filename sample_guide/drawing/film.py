"""Makes the sample's film: the drawn pictures one after the other, as its script wants them; it has no sound.

    python sample_guide/drawing/film.py      sample_guide/films/parent-bug.webm

It needs PyAV (`pip install av`). What it says is in films/parent-bug.vtt beside it: the captions of the drafted script.
"""

from __future__ import annotations

import sys
from pathlib import Path

import av
from PIL import Image, ImageDraw

HERE = Path(__file__).resolve().parent.parent
SIZE = (480, 270)
RATE = 2
"""Pictures a second: nothing moves in them."""
QUALITY = "46"
RING = (152, 31, 24)

# From which second on: a picture, the middle of what is shown of it and its width, all in hundredths, and whether a ring stands there.
SHOTS = (
    (0.0, "place-birch-clump", 50, 50, 100, False),
    (5.6, "parent-guarding", 50, 50, 96, False),
    (12.1, "parent-adult", 50, 50, 100, False),
    (17.6, "parent-adult", 50, 49, 46, True),
    (20.5, "parent-adult", 44, 58, 40, False),
    (24.5, "parent-nymph", 50, 50, 80, False),
    (28.3, "parent-adult", 50, 50, 100, False),
    (31.6, "birch-adult", 50, 50, 100, False),
    (34.2, "parent-adult", 50, 49, 52, True),
    (38.6, "birch-adult", 50, 52, 52, True),
    (45.8, "hairy-adult", 50, 50, 100, False),
    (51.3, "hairy-adult", 50, 34, 46, False),
    (55.1, "plant-silver-birch", 50, 50, 100, False),
    (63.8, "place-birch-clump", 50, 60, 70, False),
    (69.0, "parent-nymph", 50, 50, 80, False),
    (71.8, "parent-adult", 50, 50, 100, False),
    (78.4, "place-birch-clump", 50, 50, 100, False),
)
END = 82.0


def cut_shot(name: str, across: float, down: float, wide: float, *, ring: bool) -> Image.Image:
    """A part of a picture in the shape of the film."""
    with Image.open(HERE / "photos" / f"{name}.jpg") as opened:
        picture = opened.convert("RGB")
    width = picture.width * wide / 100
    height = min(width * SIZE[1] / SIZE[0], picture.height)
    width = height * SIZE[0] / SIZE[1]
    left = min(max(picture.width * across / 100 - width / 2, 0), picture.width - width)
    top = min(max(picture.height * down / 100 - height / 2, 0), picture.height - height)
    shot = picture.resize(SIZE, Image.Resampling.LANCZOS, (left, top, left + width, top + height))
    if ring:
        x, y = (picture.width * across / 100 - left) / width * SIZE[0], (picture.height * down / 100 - top) / height * SIZE[1]
        ImageDraw.Draw(shot).ellipse((x - 42, y - 42, x + 42, y + 42), outline=RING, width=3)
    return shot


def make_film(path: Path) -> None:
    """Write the film."""
    with av.open(str(path), "w", options={"fflags": "+bitexact"}) as film:
        film.metadata["title"] = "Drawn for the sample"
        stream = film.add_stream(
            "libvpx-vp9", rate=RATE, options={"crf": QUALITY, "b": "0", "flags": "+bitexact", "g": "24", "threads": "1"}
        )
        stream.width, stream.height, stream.pix_fmt = *SIZE, "yuv420p"
        starts = [*(shot[0] for shot in SHOTS), END]
        for number, (_, name, across, down, wide, ring) in enumerate(SHOTS):
            frame = cut_shot(name, across, down, wide, ring=ring)
            for _ in range(round(starts[number] * RATE), round(starts[number + 1] * RATE)):
                film.mux(stream.encode(av.VideoFrame.from_image(frame)))
        film.mux(stream.encode())


if __name__ == "__main__":
    make_film(HERE / "films" / "parent-bug.webm")
    sys.exit(0)
