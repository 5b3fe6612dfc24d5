"""The columns of a table of sightings: Darwin Core terms, whatever their case and prefix, and the guide's own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from operator import itemgetter

from guidebuild.guide.sighting_words import SightingWords
from guidebuild.reading.sighting_headings import Headings, fold_heading, plain_term, read_headings
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
_NO_WORDS = SightingWords()
_HANDED_ON = ("recordedBy", "identifiedBy", "occurrenceRemarks", "catalogNumber", "verbatimCoordinates", "informationWithheld")
_SPELT = {term.lower(): term for term in (*_READ, *_HANDED_ON)}
KNOWN_TERMS = frozenset((*_SPELT, *_USED_ELSEWHERE))
"""All terms that have a use, in small letters."""
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


def find_columns(header: Sequence[str], notes: SightingNotes, words: SightingWords = _NO_WORDS) -> Columns | None:
    """Where the terms stand; None, with a finding, where name or date is missing. `words` say what plain headings mean."""
    read = read_headings(header, KNOWN_TERMS, words)
    where: dict[str, int] = {}
    for at, term in enumerate(read.terms):
        where.setdefault(term or plain_term(header[at]), at)
    # A column can still be asked for by its own words, as under “leave out” in sightings.yaml.
    for at, cell in enumerate(header):
        where.setdefault(plain_term(cell), at)
    columns = Columns(where, len(header))
    if notes.file.lower().endswith(".txt") and not columns.present(_READ):
        notes.add("sightings-no-table", "This text is no table of sightings", 0)
        return None
    _tell_unclear(read, notes)
    _tell_unknown(read, notes, words)
    missing = find_missing(read.terms)
    if missing:
        notes.add("sightings-column-missing", f"There is no column {' and no column '.join(missing)}", 1)
        return None
    return columns


def find_missing(terms: Sequence[str]) -> list[str]:
    """What a table of sightings needs and these terms lack."""
    named = {term.lower() for term in NAMES if term not in ("kingdom", "identificationQualifier")}
    lacking = [] if named & set(terms) else ["scientificName"]
    return lacking if {"eventdate", "year", "verbatimeventdate"} & set(terms) else [*lacking, "eventDate"]


def _tell_unclear(read: Headings, notes: SightingNotes) -> None:
    """Columns that may mean several things: none is guessed."""
    for cell, terms in read.unclear:
        named = " or ".join(spell_term(term) for term in terms)
        told = f"The column “{cell}” may be {named}" if len(terms) > 1 else f"“{cell}” is one of several columns that may be {named}"
        notes.add("sightings-column-unclear", f"{told}, and is not read", 1)
        notes.note_column(cell)


def _tell_unknown(read: Headings, notes: SightingNotes, words: SightingWords) -> None:
    """Columns whose names are nearly those of a term, or of a word for one, that the table lacks."""
    plain = {word: word for word in _SPELT} | {word: terms[0].lower() for word, terms in words.columns.items() if len(terms) == 1}
    lacking = {word: term for word, term in plain.items() if term in _SPELT and term not in read.terms}
    for cell in read.unknown:
        notes.note_column(cell)
        near = get_close_matches(fold_heading(cell), list(lacking), n=1, cutoff=0.75)
        near = near or get_close_matches(plain_term(cell), list(lacking), n=1, cutoff=0.75)
        if near:
            mend = f"Did you mean {_SPELT[lacking[near[0]]]}?"
            notes.add("sightings-column-unknown", f"The column “{cell}” is not read", 1, mend=mend)


def spell_term(term: str) -> str:
    """A term as Darwin Core spells it; "" for what is none that is known."""
    return _SPELT.get(term.lower(), term if term.lower() in _USED_ELSEWHERE else "")
