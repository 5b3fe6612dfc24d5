"""Single rows of sightings as they were typed, for those who hand them on; everything else asks the tallies."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from guidebuild.guide.text.inline import Unshown

CARRIED = (
    "occurrenceID", "scientificName", "identificationQualifier", "identificationVerificationStatus", "basisOfRecord", "recordedBy",
    "identifiedBy", "individualCount", "organismQuantity", "organismQuantityType", "sex", "lifeStage", "reproductiveCondition",
    "eventDate", "verbatimEventDate", "locality", "verbatimLocality", "countryCode", "decimalLatitude", "decimalLongitude",
    "geodeticDatum", "coordinateUncertaintyInMeters", "coordinatePrecision", "verbatimLatitude", "verbatimLongitude", "samplingProtocol",
    "occurrenceRemarks", "license", "rightsHolder", "datasetName",
)  # fmt: skip
"""Terms of Darwin Core whose cells are handed on."""
_AT = {term: number for number, term in enumerate(CARRIED)}


@dataclass(frozen=True, slots=True)
class SightingRecord:
    """One row of a species of the guide. `cells` are those of `CARRIED` as typed, "" where there are none.

    `event_date` is its day, month, year or interval after ISO 8601, `day` the ordinal of the day that it counts for (0: none), and
    `spot` its degrees on WGS 84, where these are known.
    `foreign` is a row of a file that says whose it is and under which licence, or that was downloaded: without a licence it is not
    the guide's to give away. `doubtful` and `absent` are rows that no season counts.
    """

    account: Unshown
    stage: Unshown
    place: Unshown
    file: Unshown
    event_date: Unshown
    day: int
    cells: tuple[Unshown, ...]
    spot: tuple[float, float] | None = None
    foreign: bool = False
    absent: bool = False
    doubtful: bool = False

    def cell(self, term: str) -> str:
        """The cell of a term of `CARRIED`."""
        return self.cells[_AT[term]]

    def without(self, terms: Iterable[str]) -> SightingRecord:
        """The row with the cells of these terms emptied, and no spot."""
        emptied = {_AT[term] for term in terms}
        return replace(self, cells=tuple("" if at in emptied else cell for at, cell in enumerate(self.cells)), spot=None)
