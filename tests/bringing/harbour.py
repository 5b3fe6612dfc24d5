"""An invented harbour of wading birds, as its leader has it before there is a guide: a card of photos, a friend's list, a year's notes.

Pictures are drawn here; places, people, days and counts are invented.
"""

from __future__ import annotations

import csv
import datetime as dt
import random
from pathlib import Path

import openpyxl
from PIL import ExifTags, Image, ImageDraw

SPECIES = (
    ("Redshank", "Tringa totanus", "(Linnaeus, 1758)", "Scolopacidae", "common", "all year", "Red legs and a white edge to the wing."),
    ("Greenshank", "Tringa nebularia", "(Gunnerus, 1767)", "Scolopacidae", "passage", "Apr–May", "Grey, green legs."),
    ("Dunlin", "Calidris alpina", "(Linnaeus, 1758)", "Scolopacidae", "common in winter", "Aug–Apr", ""),
    ("Knot", "Calidris canutus", "(Linnaeus, 1758)", "Scolopacidae", "winter", "when it freezes", "Huge flocks."),
    ("Curlew", "Numenius arquata", "(Linnaeus, 1758)", "Scolopacidae", "common", "all year", "Long curved bill."),
    ("Oystercatcher", "Haematopus ostralegus", "Linnaeus, 1758", "Haematopodidae", "common", "all year", ""),
    ("Ringed Plover", "Charadrius hiaticula", "Linnaeus, 1758", "Charadriidae", "fairly common", "all year", "Black band."),
    (
        "Grey Plover",
        "Pluvialis squatarola",
        "(Linnaeus, 1758)",
        "Charadriidae",
        "winter",
        "Sept–April",
        "Black armpits: look when it flies.",
    ),
)
"""Names after general knowledge; status, season and notes are those of the invented harbour."""

GUIDE = """\
title: Waders of Saltgrave Harbour
region: Saltgrave
languages: [en]
publisher: Saltgrave Shore Group
licence: CC-BY-4.0
photo credit: Saltgrave Shore Group
photo licence: CC-BY-4.0
group: bird
level: sketch
hemisphere: north
time zone: Europe/London
dates: day first
"""
PLACES = """\
sea-wall:
  name: Sea wall
  position: 52.1000, 1.3000
outer-spit:
  name: Outer spit
  position: 52.1200, 1.3400
"""
PHOTOS = (
    ("DCIM/redshank/IMG_0001.JPG", ""), ("DCIM/redshank/IMG_0002.JPG", ""), ("DCIM/Greenshank 1.jpg", ""),
    ("DCIM/Calidris alpina 2.jpg", ""), ("DCIM/dunlin juvenile.jpg", ""), ("DCIM/curlew/juvenile 3.jpg", ""),
    ("DCIM/curlew/IMG_0007.JPG", ""),
    ("DCIM/Oystercatcher.png", ""), ("DCIM/ringed plover adult.jpg", ""), ("DCIM/Little Ringed Plover.jpg", ""),
    ("DCIM/grey-plover-sea-wall.jpg", ""), ("DCIM/knots.jpg", "Ann Reed"), ("DCIM/DSC01234.JPG", ""), ("DCIM/DSC01235.JPG", ""),
)  # fmt: skip
"""Names as cameras and people give them, and who is named in the head."""


def draw_photos(folder: Path) -> None:
    """Fourteen pictures, each with the day and the position that its camera noted."""
    for number, (name, artist) in enumerate(PHOTOS):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        picture = Image.new("RGB", (480, 360), (150 + 5 * number, 180, 190))
        pen = ImageDraw.Draw(picture)
        pen.ellipse((140, 120, 320, 230), fill=(110, 90, 70 + 8 * number))
        pen.line((320, 150, 400, 165), fill=(160, 60, 40), width=6)
        exif = Image.Exif()
        exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = f"2026:{number % 9 + 1:02}:{number + 3:02} 10:15:00"
        exif.get_ifd(ExifTags.IFD.GPSInfo).update(
            {ExifTags.GPS.GPSLatitudeRef: "N", ExifTags.GPS.GPSLatitude: (52.0, 6.0, 3.0 + number),
             ExifTags.GPS.GPSLongitudeRef: "E", ExifTags.GPS.GPSLongitude: (1.0, 18.0, 0.0)}
        )  # fmt: skip
        if artist:
            exif[ExifTags.Base.Artist] = artist
        picture.save(path, exif=exif)


def write_list(path: Path) -> None:
    """A friend's workbook of the eight species."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Common name", "Latin name", "Author", "Family", "How common", "When", "Notes", "Page in my book"])
    for number, row in enumerate(SPECIES):
        sheet.append([*row, number + 30])
    book.save(path)


FULLER = {
    "Redshank": ("24–27 cm length", "mudflat; saltmarsh", "worms, small shellfish", "Greenshank"),
    "Greenshank": ("30–34 cm length", "mudflat", "small fish and shrimps", "Redshank"),
    "Dunlin": ("17–21 cm length", "mudflat", "worms and small shellfish", "Knot"),
    "Knot": ("23–26 cm length", "mudflat", "small shellfish", "Dunlin"),
    "Curlew": ("48–57 cm length", "mudflat; wet meadow", "worms and crabs", "none"),
    "Oystercatcher": ("39–44 cm length", "mussel bank", "mussels and cockles", "none"),
    "Ringed Plover": ("17–19 cm length", "shingle", "worms and sandhoppers", "none"),
    "Grey Plover": ("26–29 cm length", "mudflat", "worms", "none"),
}
"""What a fuller list says beside: length, habitat, food and look-alikes; lengths from memory, the rest invented for the harbour."""


def write_fuller_list(path: Path) -> None:
    """The same list from a friend who wrote more down."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(
        ["Common name", "Latin name", "Author", "Family", "How common", "When", "Notes", "Length", "Habitat", "Eats", "Looks like"]
    )
    for row in SPECIES:
        sheet.append([*row, *FULLER[row[0]]])
    book.save(path)


def write_sightings(path: Path) -> None:
    """300 rows of a year on the sea wall."""
    chance = random.Random(5)
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file)
        table.writerow(["scientificName", "eventDate", "locationID", "lifeStage", "individualCount", "recordedBy"])
        for number in range(300):
            day = dt.date(2025, 1, 1) + dt.timedelta(days=chance.randrange(365))
            name = chance.choice(SPECIES)[1] if number % 20 else "Larus canus"
            table.writerow([name, day.isoformat(), chance.choice(["sea-wall", "outer-spit"]), "adult", chance.randrange(1, 80), "Ann Reed"])


def lay_out(folder: Path) -> Path:
    """The harbour's folder: `card/`, `friends.xlsx`, `sightings.csv`, and the guide begun in `guide/`, which is answered."""
    lay_offers(folder)
    guide = folder / "guide"
    (guide / "accounts").mkdir(parents=True)
    (guide / "guide.yaml").write_text(GUIDE, encoding="utf-8")
    (guide / "places.yaml").write_text(PLACES, encoding="utf-8")
    return guide


def lay_offers(folder: Path) -> None:
    """What there is before any guide: `card/`, `friends.xlsx`, `fuller.xlsx` and `sightings.csv`."""
    draw_photos(folder / "card")
    write_list(folder / "friends.xlsx")
    write_fuller_list(folder / "fuller.xlsx")
    write_sightings(folder / "sightings.csv")
