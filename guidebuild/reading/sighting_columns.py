"""The columns of a table of sightings: Darwin Core terms, whatever their case and prefix, and the guide's own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from operator import itemgetter

from guidebuild.reading.sighting_notes import SightingNotes

NAMES = (
    "scientificName", "acceptedNameUsage", "species", "genus", "specificEpithet", "infraspecificEpithet", "verbatimScientificName",
    "vernacularName", "kingdom", "identificationQualifier",
)  # fmt: skip
"""What says which species a row is of."""
DATES = ("eventDate", "year", "month", "day", "startDayOfYear", "endDayOfYear", "verbatimEventDate", "eventTime")
"""What says when it was."""
PLACES = ("locationID", "locality")
"""What names the place."""
POSITIONS = (
    "decimalLatitude", "decimalLongitude", "verbatimLatitude", "verbatimLongitude", "geodeticDatum", "coordinateUncertaintyInMeters",
)  # fmt: skip
"""Where it was by figures."""
OTHERS = ("lifeStage", "sex", "individualCount", "organismQuantity", "occurrenceStatus", "identificationVerificationStatus", "occurrenceID")
_READ = (*NAMES, *DATES, *PLACES, *POSITIONS, *OTHERS)
# Columns of Darwin Core and of public downloads that have a use of their own: no word is said of them.
_USED_ELSEWHERE = frozenset(
    [
        "basisofrecord",
        "recordedby",
        "identifiedby",
        "occurrenceremarks",
        "eventid",
        "habitat",
        "countrycode",
        "scientificnameid",
        "taxonid",
        "acceptednameusageid",
        "country",
        "county",
        "stateprovince",
        "municipality",
        "catalognumber",
        "institutioncode",
        "collectioncode",
        "datasetname",
        "license",
        "datasetid",
        "type",
        "rightsholder",
        "phylum",
        "class",
        "order",
        "family",
        "taxonrank",
        "scientificnameauthorship",
        "recordedbyid",
        "identifiedbyid",
        "dateidentified",
        "associatedtaxa",
        "associatedmedia",
        "organismquantitytype",
        "behavior",
        "reproductivecondition",
        "samplingprotocol",
        "vernacularnameid",
        "samplingeffort",
        "coordinateprecision",
        "informationwithheld",
        "datageneralizations",
        "footprintwkt",
        "nameaccordingto",
        "island",
        "islandgroup",
        "verbatimlocality",
        "verbatimcoordinates",
        "fieldnumber",
        "recordnumber",
        "typestatus",
        "preparations",
        "eventremarks",
        "verbatimcoordinatesystem",
        "verbatimsrs",
        "acceptedscientificname",
        "verbatimtaxonrank",
        "taxonomicstatus",
        "genericname",
        "higherclassification",
        "locationremarks",
        "verbatimelevation",
        "verbatimdepth",
        "eventtype",
        "parenteventid",
        "modified",
        "references",
        "accessrights",
        "ownerinstitutioncode",
    ]
)
# Columns that make each row another: rows alike in all else are told as alike.
_IDS = frozenset(
    {"id", "occurrenceid", "gbifid", "catalognumber", "recordnumber", "othercatalognumbers", "identifier", "references", "coreid"}
)


Cells = str | tuple[str, ...]
"""The cells of some terms; of one term alone, the cell itself, since that is quicker."""


def name_cells(terms: Sequence[str], cells: Cells) -> dict[str, str]:
    """Cells by their terms."""
    return dict(zip(terms, (cells,) if isinstance(cells, str) else cells, strict=True)) if terms else {}


@dataclass(frozen=True, slots=True)
class Columns:
    """Where each term stands, by its word in lower case; `width` is the number of columns."""

    where: dict[str, int]
    width: int

    def has(self, term: str) -> bool:
        """Whether the table has a column of that term."""
        return term.lower() in self.where

    def position(self, term: str) -> int:
        """Where the cells of a term stand in a row; one past the last where there is no such column."""
        return self.where.get(term.lower(), self.width)

    def present(self, terms: Iterable[str]) -> tuple[str, ...]:
        """Those of the terms that the table has."""
        return tuple(term for term in terms if self.has(term))

    def picker(self, terms: Sequence[str]) -> Callable[[Sequence[str]], Cells]:
        """What takes the cells of the terms out of a row that has one empty cell more than columns; of one term, its bare cell."""
        return itemgetter(*map(self.position, terms)) if terms else lambda row: ""

    def without_ids(self) -> Callable[[Sequence[str]], object]:
        """What takes all the cells that do not merely number a row."""
        kept = [at for term, at in self.where.items() if term not in _IDS]
        return itemgetter(*kept) if kept else tuple


def find_columns(header: Sequence[str], notes: SightingNotes) -> Columns | None:
    """Where the terms stand; None, with a finding, where name or date is missing."""
    plain = [plain_term(cell) for cell in header]
    where: dict[str, int] = {}
    for at, term in enumerate(plain):
        where.setdefault(term, at)
    columns = Columns(where, len(header))
    if notes.file.lower().endswith(".txt") and not columns.present(_READ):
        notes.add("sightings-no-table", "This text is no table of sightings", 0)
        return None
    _tell_unknown(header, plain, notes)
    missing = []
    if not any(columns.has(term) for term in NAMES if term not in ("kingdom", "identificationQualifier")):
        missing.append("scientificName")
    if not any(columns.has(term) for term in ("eventDate", "year", "verbatimEventDate")):
        missing.append("eventDate")
    if missing:
        notes.add("sightings-column-missing", f"There is no column {' and no column '.join(missing)}", 1)
        return None
    return columns


def _tell_unknown(header: Sequence[str], plain: Sequence[str], notes: SightingNotes) -> None:
    """Columns whose names are nearly those of a term that the table lacks."""
    known = {term.lower(): term for term in _READ}
    for cell, term in zip(header, plain, strict=True):
        if not term or term in known or term in _USED_ELSEWHERE:
            continue
        near = get_close_matches(term, [word for word in known if word not in plain], n=1, cutoff=0.75)
        if near:
            notes.add("sightings-column-unknown", f"The column “{cell.strip()}” is not read", 1, mend=f"Did you mean {known[near[0]]}?")


def plain_term(cell: str) -> str:
    """`dwc:eventDate` and the term's full address are the term itself."""
    return cell.strip().strip("\ufeff").rsplit("/", 1)[-1].rsplit(":", 1)[-1].strip().lower()
