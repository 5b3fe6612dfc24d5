"""The columns of a file of sightings: Darwin Core terms, whatever the separator, case and prefix."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import NamedTuple

from guidebuild.reading.sighting_notes import SightingNotes

TERMS = (
    "scientificName", "vernacularName", "eventDate", "year", "month", "day", "lifeStage", "locationID", "locality",
    "decimalLatitude", "decimalLongitude", "verbatimLatitude", "verbatimLongitude", "coordinateUncertaintyInMeters",
    "individualCount", "occurrenceStatus", "kingdom", "identificationQualifier", "occurrenceID",
)  # fmt: skip
# Darwin Core terms that are known and not needed here: no word is said of them.
_UNUSED_WORDS = (
    "basisofrecord recordedby identifiedby sex occurrenceremarks verbatimeventdate eventid geodeticdatum habitat countrycode"
    " country county stateprovince municipality eventtime catalognumber institutioncode collectioncode datasetname license"
    " rightsholder phylum class order family genus specificepithet taxonrank scientificnameauthorship taxonid"
    " associatedtaxa associatedmedia organismquantity organismquantitytype behavior reproductivecondition samplingprotocol"
    " samplingeffort coordinateprecision informationwithheld datageneralizations footprintwkt startdayofyear enddayofyear"
    " island islandgroup verbatimlocality verbatimcoordinates fieldnumber recordnumber typestatus preparations"
)
_UNUSED = frozenset(_UNUSED_WORDS.split())


class Columns(NamedTuple):
    """Where each term stands; a term that is not there points one past the last cell."""

    positions: tuple[int, ...]
    width: int

    def has(self, term: str) -> bool:
        """Whether the file has a column of that term."""
        return self.position(term) < self.width

    def position(self, term: str) -> int:
        """Where the cells of a term stand in a row."""
        return self.positions[TERMS.index(term)]


@dataclass(frozen=True, slots=True)
class Layout:
    """How the file is written: its encoding, separator and header lines."""

    encoding: str
    separator: str
    lines_before: int  # 1 where the file starts with a line such as "sep=;"


def layout_of(path: Path) -> Layout:
    """Find encoding by its mark, and the separator by what the header holds most of."""
    with path.open("rb") as source:
        start = source.read(65536)
    encoding = "utf-16" if start[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    first = start.decode(encoding, errors="replace").partition("\n")[0]
    if first.strip().lower().startswith("sep=") and len(first.strip()) == 5:
        return Layout(encoding, first.strip()[-1], 1)
    separator = max(",;\t|", key=lambda sign: len(next(csv.reader(io.StringIO(first), delimiter=sign), [])))
    return Layout(encoding, separator, 0)


def find_columns(header: list[str], notes: SightingNotes) -> Columns | None:
    """Where the terms stand; None, with a finding, where name or date is missing."""
    plain = [_term(cell) for cell in header]
    known = {term.lower(): term for term in TERMS}
    for cell, term in zip(header, plain, strict=True):
        if term and term not in known and term not in _UNUSED:
            near = get_close_matches(term, known, n=1, cutoff=0.75)
            if near:
                notes.add("sightings-column-unknown", f"The column “{cell.strip()}” is not read", 1,
                          mend=f"Did you mean {known[near[0]]}?")  # fmt: skip
    columns = Columns(tuple(plain.index(term) if term in plain else len(header) for term in known), len(header))
    missing = []
    if not columns.has("scientificName") and not columns.has("vernacularName"):
        missing.append("scientificName")
    if not columns.has("eventDate") and not columns.has("year"):
        missing.append("eventDate")
    if missing:
        notes.add("sightings-column-missing", f"There is no column {' and no column '.join(missing)}", 1)
        return None
    return columns


def _term(cell: str) -> str:
    """`dwc:eventDate` and the term's full address are the term itself."""
    return cell.strip().rsplit("/", 1)[-1].rsplit(":", 1)[-1].strip().lower()
