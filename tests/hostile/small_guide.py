"""A small guide that uses every kind of file, written anew for each test. Animals, places and sightings in it are invented."""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageDraw

from tests.guide_files import write_files

COLUMNS = (
    "occurrenceID,eventDate,scientificName,lifeStage,individualCount,locationID,locality,"
    "decimalLatitude,decimalLongitude,coordinateUncertaintyInMeters,geodeticDatum,recordedBy,basisOfRecord"
)
FILES = {
    "guide.yaml": """title: Beetles of a back yard
region: the yard
description: Two beetles, for trying things out.
languages: [en]
address: https://yard.example/guide
publisher: The Yard Group
contact: yard@yard.example
licence: CC-BY-4.0
group: beetle
level: sketch
hemisphere: north
time zone: Europe/London
region box: 51.0, -2.0, 52.0, -1.0
dates: day first
greeting: Hello from the yard.
sign off: Good night from the yard.
hashtags: [beetles]
episodes:
  - {name: short, length: 60–90 s}
""",
    "accounts/seven-spot.md": """---
name: Coccinella septempunctata
authority: Linnaeus, 1758
vernacular: Seven-spot
family: Coccinellidae
size: 5–8 mm body length
status: common
diagnostics:
  - mark: seven black spots
    stage: adult
    view: upperside
    photo: seven-adult
    at: 50, 40
characters:
  spots: seven
  body length: 5–8 mm
similar:
  - account: two-spot
    tell by: [spots]
    note: The Two-spot has two spots.
host plants:
  - {plant: nettle, part: leaves, use: hunts aphids there}
prey: aphids
habitat: [garden]
seasons:
  egg: May
  larva: June
  pupa: July
  adult: March – October
life stages:
  egg: A row of yellow eggs.
  larva: Grey with yellow spots.
  pupa: Orange, on a leaf.
  adult: Red with seven spots.
photos: [seven-adult]
hazards: []
sources: [yard-notes]
---
## In brief

Red, round, and [known](term:elytra) to all. See also the [other one](account:two-spot).

## How to know it

Seven *black* spots.

## Where to look

On nettles.
""",
    "accounts/two-spot.md": """---
name: Adalia bipunctata
authority: (Linnaeus, 1758)
vernacular: Two-spot
family: Coccinellidae
size: 4–5 mm body length
status: common
diagnostics:
  - mark: two black spots
    stage: adult
characters:
  spots: two
  body length: 4–5 mm
similar:
  - account: seven-spot
    tell by: [spots]
    note: The Seven-spot has seven spots.
host plants:
  - {plant: nettle}
prey: aphids
habitat: [garden]
seasons:
  adult: April – September
life stages:
  adult: Red with two spots.
photos: [two-adult]
hazards: []
sources: [yard-notes]
---
## In brief

Smaller than the other.
""",
    "plants.yaml": """nettle:
  name: Urtica dioica
  vernacular: Nettle
  note: By the wall.
""",
    "places.yaml": """wall:
  name: The Wall
  area: Yard
  habitat: [garden]
  position: "51.5, -1.5"
  uncertainty: 150 m
  access: By the gate.
  plants: [nettle]
""",
    "characters.yaml": """spots:
  label: spots
  question: How many spots?
  stage: adult
  states: {two: two, seven: seven}
body-length:
  label: body length
  kind: range
  question: How long is it?
  stage: adult
  unit: mm
  margin: 0.5 mm
""",
    "glossary.yaml": "elytra:\n  word: elytra\n  meaning: The hard forewings.\n",
    "sources.yaml": "yard-notes:\n  cite: Yard notes\n  author: Yard Group (invented)\n  year: 2025\n  title: Notes from the yard\n",
    "photos.yaml": """seven-adult:
  file: photos/seven-adult.jpg
  shows: Adult from above
  account: seven-spot
  stage: adult
  view: upperside
  alt: A round red beetle with seven black spots, from above.
  credit: Yard Group
  licence: CC-BY-4.0
two-adult:
  file: photos/two-adult.png
  shows: Adult from above
  account: two-spot
  stage: adult
  view: upperside
  alt: A small round red beetle with two black spots, from above.
  credit: Yard Group
  licence: CC-BY-4.0
""",
    "walks/round-the-yard.yaml": """title: Round the yard
date: 2026-06-14
start: 10:30
time zone: Europe/London
meet: The gate
leader: Ada Holt (invented)
contact: yard@yard.example
length: 60 min
stops:
  - {place: wall, minutes: 30, metres: 50, note: Look under leaves.}
bring: [hand lens]
hazards: [ticks]
""",
    "episodes/seven-short.md": """---
title: Seven spots
account: seven-spot
kind: short
length: 10–90 s
---
## Opening

{greeting} [show seven-adult 6 s]
This is the {name}, and it is {size}. [pause 2 s]

## Close

{sign off}
""",
    "sightings/yard.csv": COLUMNS
    + """
yard-1,2025-05-03,Coccinella septempunctata,adult,3,wall,The Wall,51.5001,-1.5002,25,WGS84,A. Holt,HumanObservation
yard-2,2025-06-07,Adalia bipunctata,adult,1,wall,The Wall,51.5001,-1.5002,25,WGS84,A. Holt,HumanObservation
""",
}


def write_small(folder: Path) -> Path:
    """Write the guide into a folder; that folder."""
    write_files(folder, FILES)
    (folder / "photos").mkdir(exist_ok=True)
    draw_beetle(folder / "photos" / "seven-adult.jpg", 7)
    draw_beetle(folder / "photos" / "two-adult.png", 2)
    return folder


def draw_beetle(file: Path, spots: int) -> None:
    """A red disc with spots."""
    picture = Image.new("RGB", (420, 320), "#b8d8a0")
    brush = ImageDraw.Draw(picture)
    brush.ellipse((90, 40, 330, 280), fill="#c02818", outline="#301008", width=6)
    for spot in range(spots):
        across, down = 140 + 40 * (spot % 4), 100 + 70 * (spot // 4)
        brush.ellipse((across, down, across + 24, down + 24), fill="#100808")
    picture.save(file)


def change(folder: Path, name: str, old: str, new: str) -> None:
    """Put `new` where `old` stands in a file, once; the file must have it."""
    file = folder / name
    text = file.read_text(encoding="utf-8")
    assert old in text, f"{name} has no {old!r}"
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
