"""Addresses of the terms and row types that the guide's data are published under."""

from __future__ import annotations

_DWC = "http://rs.tdwg.org/dwc/terms/"
_GBIF = "http://rs.gbif.org/terms/1.0/"
_DC = "http://purl.org/dc/terms/"

TAXON, OCCURRENCE = f"{_DWC}Taxon", f"{_DWC}Occurrence"
VERNACULAR, DESCRIPTION, PROFILE = f"{_GBIF}VernacularName", f"{_GBIF}Description", f"{_GBIF}SpeciesProfile"
DISTRIBUTION, REFERENCE = f"{_GBIF}Distribution", f"{_GBIF}Reference"
MEDIA = "http://rs.tdwg.org/ac/terms/Multimedia"
_PREFIXES = {
    "ac": "http://rs.tdwg.org/ac/terms/",
    "dc": "http://purl.org/dc/elements/1.1/",
    "photoshop": "http://ns.adobe.com/photoshop/1.0/",
    "xmpRights": "http://ns.adobe.com/xap/1.0/rights/",
}
"""Vocabularies whose terms are named with a prefix, as several have a term of one name (Audubon Core term list, section 2.2)."""

_DC_NAMES = frozenset(
    {"language", "source", "description", "type", "title", "creator", "license", "rightsHolder", "references", "format",
     "identifier", "bibliographicCitation", "publisher", "rights"}
)  # fmt: skip
_GBIF_NAMES = frozenset({"isPreferredName", "sizeInMillimeters"})


def term(name: str) -> str:
    """The full address of a term by its short name: with a prefix that of its vocabulary, else Dublin Core, GBIF or Darwin Core."""
    prefix, colon, bare = name.partition(":")
    if colon:
        return _PREFIXES[prefix] + bare
    if name in _DC_NAMES:
        return _DC + name
    return (_GBIF if name in _GBIF_NAMES else _DWC) + name
