"""Ten tables in the shapes that different makers' downloads have. Everything in them is invented: species, people, places and days.

Each says the same forty sightings of the invented guide in `tests.fieldwork.invented`, and what else its maker adds.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NamedTuple

SIGHTINGS = 40
_NAMES = ("Elasmucha grisea", "Elasmostethus interstinctus")
_STAGES = ("adult", "nymph")
_AUTHORS = {"Elasmucha grisea": "(Linnaeus, 1758)", "Elasmostethus interstinctus": "(Linnaeus, 1758)"}
_META = """<?xml version="1.0" encoding="UTF-8"?>
<archive xmlns="http://rs.tdwg.org/dwc/text/" metadata="eml.xml">{tables}</archive>
"""


class Sighting(NamedTuple):
    """One invented sighting."""

    number: int
    name: str
    day: str
    stage: str
    north: str
    east: str


def sightings() -> list[Sighting]:
    """Forty of them, on different days."""
    return [
        Sighting(
            n, _NAMES[n % 2], f"2024-{5 + n // 28:02}-{n % 28 + 1:02}", ("adult", "nymph")[n % 3 == 0], f"51.10{34 + n % 3}", "-1.3121"
        )
        for n in range(SIGHTINGS)
    ]


def _zip(path: Path, members: Mapping[str, bytes]) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in members.items():
            packed.writestr(name, data)


def _field(index: int, term: str) -> str:
    return f'<field index="{index}" term="http://rs.tdwg.org/dwc/terms/{term}"/>'


_ID = '<id index="0"/>'


def _core(
    attributes: str, file: str, fields: str, *, kind: str = "core", row_type: str = "Occurrence", key: str = '<id index="0"/>'
) -> str:
    return (f'<{kind} {attributes} rowType="http://rs.tdwg.org/dwc/terms/{row_type}"><files><location>{file}</location></files>'
            f"{key}{fields}</{kind}>")  # fmt: skip


_TABS = 'encoding="UTF-8" fieldsTerminatedBy="\\t" linesTerminatedBy="\\n" fieldsEnclosedBy="" ignoreHeaderLines="1"'


def aggregator_archive(path: Path) -> None:
    """A large aggregator's download: tabs, no quoting, stray marks in remarks, interpreted and verbatim names, two extensions."""
    terms = ["gbifID", "basisOfRecord", "occurrenceID", "scientificName", "species", "verbatimScientificName", "eventDate", "year", "month",
             "day", "decimalLatitude", "decimalLongitude", "coordinateUncertaintyInMeters", "lifeStage", "occurrenceStatus",
             "occurrenceRemarks", "kingdom"]  # fmt: skip
    lines = ["\t".join(terms)]
    for s in sightings():
        remark = 'found on a 5" pot' if s.number % 7 else '"on the third leaf'
        year, month, day = s.day.split("-")
        lines.append("\t".join([str(9_000_000 + s.number), "HUMAN_OBSERVATION", f"urn:invented:{s.number:06}",
                                f"{s.name} {_AUTHORS[s.name]}",
                                s.name, s.name, f"{s.day}T10:1{s.number % 10}:00", year, str(int(month)), str(int(day)), s.north, s.east,
                                "31.0", s.stage.title(), "PRESENT", remark, "Animalia"]))  # fmt: skip
    fields = "".join(_field(n, term) for n, term in enumerate(terms))
    more = "".join(_core(_TABS, f"{file}.txt", _field(1, "type"), kind="extension", row_type=file.title(), key='<coreid index="0"/>')
                   for file in ("multimedia", "verbatim"))  # fmt: skip
    meta = _META.format(tables=_core(_TABS, "occurrence.txt", fields) + more)
    _zip(path, {"occurrence.txt": "\n".join(lines).encode(), "meta.xml": meta.encode(), "rights.txt": b"invented",
                "citations.txt": b"invented",
                "multimedia.txt": b"gbifID\ttype\n9000000\tStillImage\n", "verbatim.txt": b"gbifID\ttype\n"})  # fmt: skip


def publisher_archive(path: Path) -> None:
    """A national publisher's archive in a folder: commas, quoted, CRLF, constants instead of columns, no header line."""
    rows = io.StringIO()
    table = csv.writer(rows, lineterminator="\r\n", quoting=csv.QUOTE_ALL)
    for s in sightings():
        table.writerow(
            [f"urn:invented:{s.number:06}", s.day, s.north, s.east, s.name.split()[0], s.name.split()[1], f"said “{s.number}”,\nthen left"]
        )
    fields = "".join(_field(n, t) for n, t in enumerate(("eventDate", "decimalLatitude", "decimalLongitude", "genus", "specificEpithet",
                                                          "occurrenceRemarks"), 1))  # fmt: skip
    constants = "".join(f'<field term="http://rs.tdwg.org/dwc/terms/{term}" default="{value}"/>'
                        for term, value in (("kingdom", "Animalia"), ("geodeticDatum", "EPSG:4326"), ("lifeStage", "imago")))  # fmt: skip
    attributes = 'fieldsTerminatedBy="," linesTerminatedBy="\\r\\n" fieldsEnclosedBy="&quot;"'
    meta = _META.format(tables=_core(attributes, "data.csv", fields + constants))
    _zip(path, {"invented-set/data.csv": rows.getvalue().encode(), "invented-set/meta.xml": meta.encode()})


def event_archive(path: Path) -> None:
    """A monitoring scheme's archive: events in the core, occurrences in an extension; semicolons; two files for one table."""
    events = [f"v{s.number};{s.day};{s.north};{s.east};Transect {s.number % 4}" for s in sightings()]
    found = [f"v{s.number};urn:invented:{s.number:06};{s.name};{s.stage}" for s in sightings()]
    attributes = 'encoding="ISO-8859-1" fieldsTerminatedBy=";" fieldsEnclosedBy="" linesTerminatedBy="\\n" ignoreHeaderLines="1"'
    core = _core(attributes, "event.csv", "".join(_field(n, t) for n, t in enumerate(("eventDate", "decimalLatitude", "decimalLongitude",
                 "locality"), 1)), row_type="Event")  # fmt: skip
    extension = _core(attributes, "a.csv</location><location>b.csv", "".join(_field(n, t) for n, t in enumerate(("occurrenceID",
                      "scientificName", "lifeStage"), 1)), kind="extension", key='<coreid index="0"/>')  # fmt: skip
    head = "eventID;occurrenceID;scientificName;lifeStage"
    _zip(path, {"meta.xml": _META.format(tables=core + extension).encode(),
                "event.csv": "\n".join(("eventID;eventDate;lat;lon;Ort", *events)).replace("Transect", "Gehölz").encode("latin-1"),
                "a.csv": "\n".join((head, *found[:25])).encode(), "b.csv": "\n".join((head, *found[25:])).encode()})  # fmt: skip


def simple_zip(path: Path) -> None:
    """An aggregator's simple download: one .csv in a zip that is parted by tabs and quotes nothing."""
    lines = ["gbifID\toccurrenceID\tspecies\teventDate\tdecimalLatitude\tdecimalLongitude\tlocality"]
    lines += [f'{s.number}\turn:invented:{s.number:06}\t{s.name}\t{s.day}\t{s.north}\t{s.east}\tthe "Old Mill' for s in sightings()]
    _zip(path, {"0001-invented.csv": "\n".join(lines).encode()})


def tab_text(path: Path) -> None:
    """A recording site's .txt: tabs, CRLF, trailing empty cells left off, year, month and day in columns of their own."""
    lines = ["scientificName\tyear\tmonth\tday\tlifeStage\toccurrenceRemarks\tsex"]
    for s in sightings():
        year, month, day = s.day.split("-")
        lines.append(f"{s.name}\t{year}\t{int(month)}\t{int(day)}" if s.number % 2 else f"{s.name}\t{year}\t{month}\t{day}\t{s.stage}\t\tf")
    path.write_bytes("\r\n".join(lines).encode())


def semicolon_windows(path: Path) -> None:
    """A member's spreadsheet saved in a country of decimal commas: semicolons, Windows-1252, typed days."""
    rows = [
        f"{s.name};{s.day[8:]}.{s.day[5:7]}.{s.day[:4]};{s.north.replace('.', ',')};{s.east.replace('.', ',')};Hölzl" for s in sightings()
    ]
    path.write_bytes("\r\n".join(("scientificName;eventDate;decimalLatitude;decimalLongitude;recordedBy", *rows)).encode("cp1252"))


def unicode_text(path: Path) -> None:
    """A spreadsheet's “Unicode text”: UTF-16 with tabs, cells with commas in quotation marks."""
    rows = [f'{s.name}\t"Sea wall, Greyling"\t{s.day.replace("-", "/")}' for s in sightings()]
    path.write_bytes("\n".join(("scientificName\tlocality\teventDate", *rows)).encode("utf-16"))


def torn_csv(path: Path) -> None:
    """A leader's CSV with two quotation marks that nobody closed, and one cell of two lines that is as it should be."""
    marks = {3: '"', 30: '"'}
    rows = [f"{s.name},{s.day},{s.stage},{marks.get(s.number, '')}Sea wall{s.number},note,x" for s in sightings()]
    rows[10] = rows[10].replace("note", '"two\nlines"')
    path.write_text("\n".join(("scientificName,eventDate,lifeStage,locality,occurrenceRemarks,recordedBy", *rows)), encoding="utf-8")


def old_mac_csv(path: Path) -> None:
    """An old program's CSV: lines end in a carriage return alone, the first names the separator."""
    rows = [f"{s.name}|{s.day}|{s.stage}" for s in sightings()]
    path.write_bytes("\r".join(("sep=|", "dwc:scientificName|dwc:eventDate|dwc:lifeStage", *rows)).encode())


def iso_intervals(path: Path) -> None:
    """A museum's .tsv: whole days as intervals of times, ranks of names in parts, an aggregate of empty columns at the end."""
    rows = [f"{s.name.split()[0]}\t{s.name.split()[1]}\t{s.day}T08:00Z/{s.day}T17:30Z\t{s.stage}\t\t\t\t" for s in sightings()]
    path.write_bytes(("\ufeff" + "\n".join(("genus\tspecificEpithet\teventDate\tlifeStage\t\t\t", *rows)) + "\n\n").encode())


SHAPES: Mapping[str, Callable[[Path], None]] = {
    "aggregator.zip": aggregator_archive, "publisher.zip": publisher_archive, "events.zip": event_archive, "simple.ZIP": simple_zip,
    "site.txt": tab_text, "member.csv": semicolon_windows, "unicode.txt": unicode_text, "leader.csv": torn_csv, "old.csv": old_mac_csv,
    "museum.tsv": iso_intervals,
}  # fmt: skip
