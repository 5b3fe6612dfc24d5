"""What a Darwin Core archive is, in the Ecological Metadata Language: title, people, rights, and what it covers.

EML 2.2.0 in the profile that GBIF asks for (version 1.3, rs.gbif.org/schema/eml-gbif-profile). Elements stand in the profile's
order. Only facts of guide.yaml and of the archive's own rows come in here, so that what is kept secret stays so.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from hashlib import sha256

from guidebuild.fieldwork.published import Published
from guidebuild.guide.guide import Settings
from guidebuild.guide.records import Source
from guidebuild.views.pieces.citations import cite_source
from guidebuild.words import words

FILE = "eml.xml"
_SPACE = "https://eml.ecoinformatics.org/eml-2.2.0"
_INSTANCE = "http://www.w3.org/2001/XMLSchema-instance"
_SCHEMA = f"{_SPACE} https://rs.gbif.org/schema/eml-gbif-profile/1.3/eml.xsd"
_LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
# The name, its address and the words Checklist and Occurrence are those of vocabulary/gbif/dataset_type_2015-07-10.xml of rs.gbif.org.
_KINDS_LIST = "GBIF Dataset Type Vocabulary: http://rs.gbif.org/vocabulary/gbif/dataset_type_2015-07-10.xml"
_A_DAY = 10
"""Signs of a day; a year alone is told as its first."""
Taxon = tuple[str, str, str]
"""Rank, scientific name, the name people use."""
Box = tuple[float, float, float, float]
"""South, west, north, east in degrees."""


@dataclass(frozen=True, slots=True)
class Covered:
    """What the rows of an archive cover: taxa, days (ISO 8601), and a box round the positions that it shows.

    `own_terms` says that some rows have licences of their own, and `cited` are data sets that rows come from.
    """

    taxa: tuple[Taxon, ...]
    days: tuple[str, ...] = ()
    box: Box | None = None
    own_terms: bool = False
    cited: tuple[Source, ...] = ()


def eml_xml(guide: Published, *, file: str, kind: str, covered: Covered, rows: Iterable[object]) -> bytes:
    """The file eml.xml of an archive.

    `file` is where the archive is published, `kind` GBIF's word for it (`Checklist`, `Occurrence`); `rows` give this very
    version its own id.
    """
    settings = guide.settings
    ET.register_namespace("eml", _SPACE)
    ET.register_namespace("xsi", _INSTANCE)
    root = ET.Element(f"{{{_SPACE}}}eml", {"system": "guidebuild", "scope": "system", _LANGUAGE: settings.language,
                                           f"{{{_INSTANCE}}}schemaLocation": _SCHEMA})  # fmt: skip
    dataset = ET.SubElement(root, "dataset")
    _text(
        dataset, "title", f"{settings.title}: {'sightings' if kind == 'Occurrence' else 'species accounts'}", {_LANGUAGE: settings.language}
    )
    for role in ("creator", "metadataProvider"):
        _party(dataset, role, settings)
    _text(dataset, "pubDate", find_newest_fact(guide, covered.days))
    _text(dataset, "language", settings.language)
    _text(ET.SubElement(dataset, "abstract"), "para", settings.description or settings.title)
    keywords = ET.SubElement(dataset, "keywordSet")
    _text(keywords, "keyword", kind)
    _text(keywords, "keywordThesaurus", _KINDS_LIST)
    _rights(dataset, guide, own_terms=covered.own_terms)
    if settings.address:
        online = ET.SubElement(ET.SubElement(dataset, "distribution", {"scope": "document"}), "online")
        _text(online, "url", settings.address, {"function": "information"})
    _coverage(dataset, settings, covered)
    _party(dataset, "contact", settings)
    _party(dataset, "publisher", settings)
    if covered.cited:
        _cite(root, covered.cited, find_newest_fact(guide, covered.days))
    mark = sha256(ET.tostring(root) + repr(tuple(rows)).encode()).hexdigest()[:16]
    root.set("packageId", f"{settings.address.rstrip('/')}/{file}#{mark}".lstrip("/"))
    ET.indent(root)
    for link in root.iter("ulink"):  # a sentence runs on
        link.text = link[-1].tail = ""
    written: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return written + b"\n"


def _cite(root: ET.Element, sources: Iterable[Source], day: str) -> None:
    """The data sets as a bibliography, each with its DOI or address; GBIF asks for the day of the metadata beside it."""
    gbif = ET.SubElement(ET.SubElement(ET.SubElement(root, "additionalMetadata"), "metadata"), "gbif")
    _text(gbif, "dateStamp", f"{f'{day}-01-01'[:_A_DAY]}T00:00:00Z")
    listed = ET.SubElement(gbif, "bibliography")
    for source in sources:
        _text(listed, "citation", cite_source(source, words("en")), {"identifier": source.link} if source.link else {})


def _text(parent: ET.Element, name: str, text: str, attributes: dict[str, str] | None = None) -> None:
    ET.SubElement(parent, name, attributes or {}).text = " ".join(text.split())


def _party(parent: ET.Element, role: str, settings: Settings) -> None:
    party = ET.SubElement(parent, role)
    _text(party, "organizationName", settings.publisher or settings.title)
    contact = settings.contact
    if "@" in contact and " " not in contact:
        _text(party, "electronicMailAddress", contact)
    address = contact if contact.startswith(("https://", "http://")) else settings.address
    if address:
        _text(party, "onlineUrl", address)


def find_newest_fact(guide: Published, days: Sequence[str]) -> str:
    """The day of the newest fact; the day of the guide where none has a date."""
    reviews = [account.reviewed.on.isoformat() for account in guide.accounts.values() if account.reviewed]
    return max((*reviews, *days), default=guide.as_of.isoformat() if guide.as_of else "1970")


def _rights(parent: ET.Element, guide: Published, *, own_terms: bool) -> None:
    """The sentence that GBIF reads licences from, and the licence's own fields."""
    licence = guide.licences.get(guide.settings.licence)
    if licence is None:
        if guide.settings.licence:
            _text(ET.SubElement(parent, "intellectualRights"), "para", guide.settings.licence)
        return
    said = ET.SubElement(ET.SubElement(parent, "intellectualRights"), "para")
    if not licence.address:
        said.text = licence.title
        return
    said.text = "This work is licensed under a "
    link = ET.SubElement(said, "ulink", {"url": licence.address})
    _text(link, "citetitle", licence.title)
    rows = " So have rows whose field license names another." if own_terms else ""
    link.tail = f" licence. Pictures have licences of their own.{rows}"
    licensed = ET.SubElement(parent, "licensed")
    _text(licensed, "licenseName", licence.title)
    _text(licensed, "url", licence.address)
    _text(licensed, "identifier", licence.id)


def _coverage(parent: ET.Element, settings: Settings, covered: Covered) -> None:
    box = settings.region_box or covered.box
    if not (box or covered.days or covered.taxa):
        return
    coverage = ET.SubElement(parent, "coverage")
    if box:
        _place(coverage, settings.region or settings.title, box)
    if covered.days:
        _days(coverage, min(covered.days), max(covered.days))
    if covered.taxa:
        taxonomic = ET.SubElement(coverage, "taxonomicCoverage")
        for rank, name, common in covered.taxa:
            taxon = ET.SubElement(taxonomic, "taxonomicClassification")
            _text(taxon, "taxonRankName", rank)
            _text(taxon, "taxonRankValue", name)
            if common:
                _text(taxon, "commonName", common)


def _place(parent: ET.Element, name: str, box: Box) -> None:
    south, west, north, east = box
    place = ET.SubElement(parent, "geographicCoverage")
    _text(place, "geographicDescription", name)
    bounds = ET.SubElement(place, "boundingCoordinates")
    for side, value in (("west", west), ("east", east), ("north", north), ("south", south)):
        _text(bounds, f"{side}BoundingCoordinate", f"{value:.5f}".rstrip("0").rstrip("."))


def _days(parent: ET.Element, first: str, last: str) -> None:
    dates = ET.SubElement(ET.SubElement(parent, "temporalCoverage"), "rangeOfDates")
    for name, day in (("beginDate", first), ("endDate", last)):
        _text(ET.SubElement(dates, name), "calendarDate", day)
