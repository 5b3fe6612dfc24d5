"""Draws every picture of the sample guide, or says where the field marks lie on them.

    python sample_guide/drawing/draw.py                all pictures, into sample_guide/photos
    python sample_guide/drawing/draw.py parent-adult   one picture
    python sample_guide/drawing/draw.py --marks        a table of marks, in hundredths across and down

The same code with the same version of Pillow gives the same bytes.
"""

from __future__ import annotations

import sys
from pathlib import Path

from beneath import underside
from body import Pose
from brush import Sheet, Tone
from hosts import HOSTS
from leaves import leaf, paper
from nymphs import NYMPHS
from painter import Painter
from PIL import Image
from plate import Plate, leaf_tone
from plates import PLATES
from scenes import scene
from species import ADULTS
from young import eggs, nymph

PHOTOS = Path(__file__).resolve().parent.parent / "photos"
QUALITY = 88

# An invented spot. It is here so that the tool can be seen to take it out of everything that it publishes.
LATITUDE = ("N", (51.0, 30.0, 11.11))
LONGITUDE = ("W", (1.0, 11.0, 11.11))


def draw(plate: Plate) -> Image.Image:
    """The picture of one plate."""
    seed = sum(map(ord, plate.name))
    if plate.subject == "host":
        return HOSTS[plate.animal]().finished()
    if plate.subject == "place":
        return scene(plate.animal, *plate.size, seed).finished()
    sheet = paper(*plate.size, seed)
    for below in plate.leaves:
        leaf(sheet, below.kind, below.base, below.length, below.angle, tone=leaf_tone(below.colour), seed=seed, veins=below.veins)
    _subject(sheet, plate, seed)
    return sheet.finished()


def _subject(sheet: Sheet, plate: Plate, seed: int) -> None:
    if plate.subject in ("adult", "underside"):
        form, coat = ADULTS[plate.animal]
        if plate.subject == "adult":
            Painter(sheet, plate.pose, form, coat, seed).upperside()
        else:
            underside(sheet, plate.pose, form, coat, rostrum=plate.rostrum, seed=seed)
    elif plate.subject == "nymph":
        nymph(sheet, plate.pose, NYMPHS[plate.animal], plate.instar, seed=seed)
    elif plate.subject == "nymphs":
        _instars(sheet, plate, seed)
    elif plate.subject == "eggs":
        middle = (plate.pose.x, plate.pose.y)
        eggs(sheet, middle, plate.pose.length, Tone.of(plate.colour), rows=plate.rows, seed=seed, spines=plate.spines)
    else:
        _guard(sheet, plate, seed)


def _instars(sheet: Sheet, plate: Plate, seed: int) -> None:
    """The five nymphs of one species in a row, at one scale."""
    x = 40.0
    for instar, length in zip(range(1, 6), (84, 134, 198, 274, 360), strict=True):
        x += length * 0.56 + 46
        nymph(sheet, Pose(x, 340, length, 3), NYMPHS[plate.animal], instar, seed=seed + instar)
        x += length * 0.56


def _guard(sheet: Sheet, plate: Plate, seed: int) -> None:
    """A female over her eggs, with the first of her young beside her."""
    form, coat = ADULTS[plate.animal]
    x, y = plate.pose.x, plate.pose.y
    eggs(sheet, (x, y + 30), 27, Tone.of(plate.colour), rows=plate.rows, seed=seed)
    for i, (dx, dy, turn) in enumerate([(-190, 360, -30), (-70, 420, 12), (60, 400, -8), (180, 350, 34), (-10, 510, 5)]):
        nymph(sheet, Pose(x + dx, y + dy, 84, turn), NYMPHS[plate.animal], 1, seed=seed + i)
    Painter(sheet, plate.pose, form, coat, seed).upperside()


def save(picture: Image.Image, plate: Plate, folder: Path) -> Path:
    """Writes the picture as a JPEG with the facts that a camera would have written."""
    facts = Image.Exif()
    facts[271], facts[272] = "Drawn for the sample", "Drawn for the sample"
    facts[306] = plate.taken
    inner = facts.get_ifd(34665)
    inner[36867] = plate.taken
    place = facts.get_ifd(34853)
    place[1], place[2] = LATITUDE
    place[3], place[4] = LONGITUDE
    path = folder / f"{plate.name}.jpg"
    picture.save(path, "JPEG", quality=QUALITY, optimize=True, exif=facts)
    return path


def main(wanted: list[str]) -> int:
    """Draws what is asked for; 2 for a name that is no picture's."""
    if wanted == ["--marks"]:
        for plate in PLATES:
            for name, (across, down) in plate.marks().items():
                print(f"{plate.name:28} {name:14} {across:5} {down:5}")
        return 0
    unknown = sorted(set(wanted) - {plate.name for plate in PLATES})
    if unknown:
        print(f"no picture is called {', '.join(unknown)}", file=sys.stderr)
        return 2
    PHOTOS.mkdir(exist_ok=True)
    for plate in PLATES:
        if not wanted or plate.name in wanted:
            print(save(draw(plate), plate, PHOTOS).name)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
