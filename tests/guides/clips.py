"""Makes the film of the guide of frogs: its drawn pictures one after the other, without sound.

    python -m tests.guides.clips      tests/guides/southern-frogs/films/pobblebonk.webm

It is kept as a file, for its size is told on its page and differs from one coder to the next. Its captions are those of the drafted script.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

import av
from PIL import Image

from tests.guides.whole_guides import HERE, draw_pictures

GUIDE = "southern-frogs"
SIZE = (240, 180)
RATE = 2  # pictures a second
SHOTS = (
    (0.0, "pobblebonk-adult"),
    (20.8, "pobblebonk-egg"),
    (24.4, "pobblebonk-adult"),
    (38.3, "spotted-marsh-frog-adult"),
    (48.4, "pobblebonk-adult"),
    (60.2, "pobblebonk-egg"),
    (63.4, "pobblebonk-larva"),
    (71.3, "pobblebonk-adult"),
    (76.5, "pobblebonk-larva"),
    (79.4, "pobblebonk-adult"),
)
"""From which second on each picture is shown."""
END = 82.0


def make_film(photos: Path, path: Path) -> None:
    """Write the film."""
    with av.open(str(path), "w", options={"fflags": "+bitexact"}) as film:
        stream = film.add_stream("libvpx-vp9", rate=RATE, options={"crf": "50", "b": "0", "flags": "+bitexact", "threads": "1"})
        stream.width, stream.height, stream.pix_fmt = *SIZE, "yuv420p"
        ends = [start for start, _ in SHOTS[1:]] + [END]
        for (start, photo), end in zip(SHOTS, ends, strict=True):
            with Image.open(photos / f"{photo}.jpg") as opened:
                frame = av.VideoFrame.from_image(opened.convert("RGB").resize(SIZE, Image.Resampling.LANCZOS))
            for number in range(round(start * RATE), round(end * RATE)):
                frame.pts = number
                film.mux(stream.encode(frame))
        film.mux(stream.encode())


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as drawn:
        draw_pictures(GUIDE, Path(drawn))
        make_film(Path(drawn), HERE / GUIDE / "films" / "pobblebonk.webm")
