"""Addresses of the terms and row types that the guide's data are published under."""

from __future__ import annotations

_DWC = "http://rs.tdwg.org/dwc/terms/"
_GBIF = "http://rs.gbif.org/terms/1.0/"
_DC = "http://purl.org/dc/terms/"

TAXON, OCCURRENCE = f"{_DWC}Taxon", f"{_DWC}Occurrence"
VERNACULAR, DESCRIPTION, PROFILE = f"{_GBIF}VernacularName", f"{_GBIF}Description", f"{_GBIF}SpeciesProfile"
DISTRIBUTION, REFERENCE, MULTIMEDIA = f"{_GBIF}Distribution", f"{_GBIF}Reference", f"{_GBIF}Multimedia"

_DC_NAMES = frozenset(
    {"language", "source", "description", "type", "title", "creator", "license", "rightsHolder", "references", "format",
     "identifier", "bibliographicCitation", "publisher"}
)  # fmt: skip
_GBIF_NAMES = frozenset({"isPreferredName", "sizeInMillimeters"})


def term(name: str) -> str:
    """The full address of a term by its short name: Dublin Core, GBIF, else Darwin Core."""
    if name in _DC_NAMES:
        return _DC + name
    return (_GBIF if name in _GBIF_NAMES else _DWC) + name
