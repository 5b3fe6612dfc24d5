"""The eml.xml of the archives: the GBIF metadata profile for EML 2.2.0, version 1.3, and what python-dwca-reader makes of it.

The order of elements, which are needed, and the form of values are those of `eml-gbif-profile.xsd` (gbif/eml-profile, version 1.3).
The schema itself comes in no package, so the part of it that is used stands here as a table. The sentence on rights, and the words
`Checklist` and `Occurrence`, are what GBIF's publishing guide asks for, from memory.
"""

from __future__ import annotations

import datetime as dt
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest
from dwca.read import DwCAReader

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.accounts import Review
from guidebuild.guide.guide import Guide, Licence, Settings
from guidebuild.guide.records import Source
from guidebuild.press.data_tables import archive_file
from guidebuild.views.data.darwin_core import Archive, taxa_archive
from guidebuild.views.data.occurrences import sightings_archive
from tests.fieldwork.invented import BIRCH, PARENT, RARE, guide, tally

SPACE = "{https://eml.ecoinformatics.org/eml-2.2.0}"
XML_LANG = "{http://www.w3.org/XML/1998/namespace}lang"
# Element: its children in the schema's order; those with ! are needed, those with * may be many. Coverage is a choice in any order.
ORDER = {
    "eml": "dataset! additionalMetadata",
    "dataset": "alternateIdentifier* shortName title!* creator!* metadataProvider* associatedParty* pubDate! language abstract! "
    "keywordSet* additionalInfo intellectualRights licensed* distribution coverage purpose maintenance contact!* publisher methods project "
    "literatureCited*",
    "creator": "organizationName! address* phone* electronicMailAddress* onlineUrl* userId*",
    "abstract": "para!*",
    "keywordSet": "keyword!* keywordThesaurus!",
    "intellectualRights": "para!",
    "licensed": "licenseName! url identifier",
    "geographicCoverage": "geographicDescription! boundingCoordinates!",
    "boundingCoordinates": "westBoundingCoordinate! eastBoundingCoordinate! northBoundingCoordinate! southBoundingCoordinate!",
    "temporalCoverage": "rangeOfDates!",
    "rangeOfDates": "beginDate! endDate!",
    "beginDate": "calendarDate!",
    "endDate": "calendarDate!",
    "taxonomicCoverage": "generalTaxonomicCoverage taxonomicClassification!*",
    "taxonomicClassification": "taxonRankName taxonRankValue! commonName",
}
ORDER |= {
    "additionalMetadata": "metadata!",
    "metadata": "gbif!",
    "gbif": "dateStamp! hierarchyLevel citation bibliography physical* resourceLogoUrl collection* formationPeriod* "
    "specimenPreservationMethod* livingTimePeriod* jgtiCuratorialUnit* replaces",
    "bibliography": "citation!*",
}
ORDER |= dict.fromkeys(("metadataProvider", "contact", "publisher"), ORDER["creator"])
DATES = {"pubDate": r"\d{4}(-\d\d-\d\d)?", "calendarDate": r"\d{4}(-\d\d-\d\d)?", "dateStamp": r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ"}
SEEN = (
    tally("parent-bug", "adult", "north-hedge", {"2024-06-18": 2, "2025-06-25": 1}),
    tally("rare-bug", "adult", "weir-pool", {"2024-06-19": 1}),
)
LICENCE = Licence("CC-BY-4.0", "CC BY 4.0", "https://creativecommons.org/licenses/by/4.0/")


def made(**settings: object) -> Published:
    return make_published(written(**settings))


def written(**settings: object) -> Guide:
    found = guide(replace(PARENT, reviewed=Review("Ada Holt (invented)", dt.date(2026, 2, 14))), BIRCH, RARE, sightings=SEEN)
    told = {"address": "https://vale.example/guide", "publisher": "Vale Group", "contact": "ada@vale.example", "licence": "CC-BY-4.0",
            "description": "Bugs & others\nof the vale.", "region_box": (51.05, -1.4, 51.2, -1.2)} | settings  # fmt: skip
    return replace(found, settings=replace(found.settings, **told), licences={"CC-BY-4.0": LICENCE})  # type: ignore[arg-type]


BOTH = pytest.mark.parametrize("archive_of", [taxa_archive, sightings_archive])


def faults(element: ET.Element) -> list[str]:
    """Where an element departs from the schema's order or needs."""
    name = element.tag.removeprefix(SPACE)
    known = ORDER.get(name, "").split()
    bare = [child.rstrip("!*") for child in known]
    found = [child.tag for child in element]
    if name in ORDER:
        wrong = [f"{name} holds {tag}" for tag in found if tag not in bare]
        places = [bare.index(tag) for tag in found if tag in bare]
        wrong += [f"{name}: {found} is out of order"] if places != sorted(places) else []
        wrong += [f"{name} lacks {child}" for child in known if "!" in child and child.rstrip("!*") not in found]
        wrong += [f"{name} holds several {child}" for child in known if "*" not in child and found.count(child.rstrip("!")) > 1]
    else:
        wrong = []
    if not len(element) and not (element.text or "").strip():
        wrong.append(f"{name} is empty")
    if name in DATES and not re.fullmatch(DATES[name], element.text or ""):
        wrong.append(f"{name} is no date: {element.text}")
    return wrong + [fault for child in element for fault in faults(child)]


def read(archive: Archive, folder: Path) -> ET.Element:
    """What a reader of archives finds where meta.xml says that it is."""
    path = folder / "archive.zip"
    path.write_bytes(archive_file(archive))
    with DwCAReader(str(path)) as reader:
        assert reader.descriptor.metadata_filename == "eml.xml"
        assert isinstance(reader.metadata, ET.Element)
        return reader.metadata


@BOTH
@pytest.mark.parametrize(
    "settings", [{}, {"address": "", "publisher": "", "contact": "", "licence": "", "description": "", "region_box": None, "region": ""}]
)
def test_metadata_follow_the_profile(archive_of: type, settings: dict[str, object], tmp_path: Path) -> None:
    root = read(archive_of(made(**settings)), tmp_path)
    assert root.tag == f"{SPACE}eml"
    assert faults(root) == []
    assert root.get("scope") == "system"
    assert root.get("packageId")


def test_cited_data_sets_are_a_bibliography(tmp_path: Path) -> None:
    fen = Source("fen", "Fen 2026", author="D. Fen", year="2026", title="Beetles of the Fen", version="1.2", publisher="Fen Office",
                 doi="10.5555/fen", accessed=dt.date(2026, 5, 2))  # fmt: skip
    bog = Source("bog", "Bog notes")
    found = made()
    rows = tuple(replace(row, data_set="fen" if number else "bog") for number, row in enumerate(found.rows))
    root = read(sightings_archive(replace(found, sources={"fen": fen, "bog": bog, "unused": Source("unused", "x")}, rows=rows)), tmp_path)
    assert faults(root) == []
    listed = [(one.text, one.get("identifier")) for one in root.iterfind("additionalMetadata/metadata/gbif/bibliography/citation")]
    # DataCite metadata schema 4: Creator (PublicationYear). Title. Version. Publisher. ResourceType. Identifier.
    assert listed == [
        ("D. Fen (2026). Beetles of the Fen. Version 1.2. Fen Office. Data set. https://doi.org/10.5555/fen, read on 2 May 2026",
         "https://doi.org/10.5555/fen"),
        ("Bog notes. Data set.", None),
    ]  # fmt: skip
    assert root.findtext("additionalMetadata/metadata/gbif/dateStamp") == "2026-02-14T00:00:00Z"


def test_the_check_itself_finds_departures() -> None:
    wrong = ET.fromstring(f"<e:eml xmlns:e='{SPACE[1:-1]}'><dataset><contact/><title>a</title><x>b</x></dataset></e:eml>")
    assert {"dataset holds x", "dataset: ['contact', 'title', 'x'] is out of order", "dataset lacks pubDate!", "contact is empty"} <= set(
        faults(wrong)
    )


def test_the_guide_s_own_facts_are_told(tmp_path: Path) -> None:
    root = read(sightings_archive(made()), tmp_path)
    dataset = root[0]
    assert dataset.findtext("title") == "Bugs of the Vale: sightings"
    assert dataset.findtext("abstract/para") == "Bugs & others of the vale."
    assert dataset.findtext("language") == root.get(XML_LANG) == "en"
    assert dataset.findtext("pubDate") == "2026-02-14"
    assert dataset.findtext("contact/electronicMailAddress") == "ada@vale.example"
    assert dataset.findtext("creator/organizationName") == "Vale Group"
    assert dataset.findtext("keywordSet/keyword") == "Occurrence"
    said = dataset.find("intellectualRights/para")
    assert said is not None
    assert "".join(said.itertext()).startswith("This work is licensed under a CC BY 4.0 licence.")
    link = said.find("ulink")
    assert link is not None
    assert link.get("url") == "https://creativecommons.org/licenses/by/4.0/"
    dates = [dataset.findtext(f"coverage/temporalCoverage/rangeOfDates/{end}Date/calendarDate") for end in ("begin", "end")]
    assert dates == ["2024-06-18", "2025-06-25"]
    taxa = [taxon.findtext("taxonRankValue") for taxon in dataset.iter("taxonomicClassification")]
    assert taxa == ["Elasmucha grisea", "Inventus rarus"]


def test_without_a_region_box_only_shown_positions_are_covered(tmp_path: Path) -> None:
    root = read(sightings_archive(made(region_box=None)), tmp_path)
    bounds = {corner.tag: corner.text for corner in root.iter() if corner.tag.endswith("BoundingCoordinate")}
    # The secret pool at 51.1278, -1.2846 is shown rounded to a tenth of a degree.
    assert bounds == {
        "westBoundingCoordinate": "-1.3121",
        "eastBoundingCoordinate": "-1.3",
        "northBoundingCoordinate": "51.1034",
        "southBoundingCoordinate": "51.1",
    }
    assert "Weir Pool" not in ET.tostring(root, encoding="unicode")
    assert not list(read(taxa_archive(made(region_box=None)), tmp_path).iter("geographicCoverage"))


@BOTH
def test_another_version_has_another_id(archive_of: type) -> None:
    first, same = (ET.fromstring(archive_of(made()).about).get("packageId") for _ in range(2))
    other = ET.fromstring(archive_of(make_published(replace(written(), accounts={"birch-bug": BIRCH}))).about).get("packageId")
    assert first == same != other
    assert str(first).startswith("https://vale.example/guide/data/")


def test_a_guide_of_a_title_and_one_species_is_enough() -> None:
    assert faults(ET.fromstring(taxa_archive(make_published(Guide(Settings("Toads"), {"parent-bug": PARENT}))).about)) == []
