"""The archives against the schema of meta.xml and the lists of words that GBIF registers.

Element order and attributes are those of `tdwg_dwc_text.xsd` (tdwg/dwc, text/, attached to the Darwin Core text guide); words are
those of the lists at rs.gbif.org, vocabulary/gbif/. Schema and lists come in no package, so what of them is used stands here.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.guide import Guide
from guidebuild.press.data_tables import archive_file
from guidebuild.reading.sightings import read_records
from guidebuild.reading.whole import read_guide
from guidebuild.views.data.darwin_core import Archive, Table, meta_xml, taxa_archive
from guidebuild.views.data.media import MediaFile
from guidebuild.views.data.occurrences import sightings_archive
from tests.conftest import SAMPLE
from tests.guides.whole_guides import HERE, copy_guide

GUIDES = ("estuary-waders", "southern-frogs", "spring-flowers", "wood-fungi")
SPACE = "{http://rs.tdwg.org/dwc/text/}"
# Element: attributes (those with ! are needed) and children in order (those with * may be many).
OF_TABLE = "linesTerminatedBy fieldsTerminatedBy fieldsEnclosedBy ignoreHeaderLines rowType encoding dateFormat"
SCHEMA = {
    "archive": ("metadata", "core! extension*"),
    "core": (OF_TABLE, "files! id field!*"),
    "extension": (OF_TABLE, "files! coreid! field!*"),
    "files": ("", "location!*"),
    "location": ("", ""),
    "id": ("index", ""),
    "coreid": ("index", ""),
    "field": ("index term! default vocabulary delimitedBy", ""),
}  # fmt: skip
# dataset_type_2015-07-10.xml, occurrence_status_2020-07-15.xml, distribution_status_2020-07-15.xml (all its words), and the words of
# description_type.xml that we use.
DATASET_TYPES = {"Occurrence", "Checklist", "Sampling event", "Metadata-only", "Other"}
OCCURRENCE_STATUS = {"present", "absent"}
DISTRIBUTION_STATUS = {"present", "common", "rare", "irregular", "doubtful", "absent", "excluded"}
DESCRIPTION_TYPES = {"general", "diagnostic", "habitat", "biology", "cyclicity", "associations"}


def read(folder: Path) -> Guide:
    found = read_guide(folder).guide
    assert found
    return replace(found, records=read_records(folder, found))


def archives_of(made: Published) -> tuple[Archive, Archive]:
    files = {photo: MediaFile(f"photos/{photo}-720.jpg", "image/jpeg") for photo in made.photos}
    return taxa_archive(made, files), sightings_archive(made)


def faults(element: ET.Element) -> list[str]:
    """Where an element departs from the schema."""
    name = element.tag.removeprefix(SPACE)
    if name not in SCHEMA:
        return [f"{name} is no element of it"]
    attributes, children = (known.split() for known in SCHEMA[name])
    bare, found = [child.rstrip("!*") for child in children], [child.tag.removeprefix(SPACE) for child in element]
    wrong = [f"{name} has {key}" for key in element.attrib if key not in {known.rstrip("!") for known in attributes}]
    wrong += [
        f"{name} lacks {known.rstrip('!')}" for known in attributes if known.endswith("!") and known.rstrip("!") not in element.attrib
    ]
    wrong += [f"{name} lacks {child.rstrip('!*')}" for child in children if "!" in child and child.rstrip("!*") not in found]
    wrong += [f"{name} has several {child.rstrip('!')}" for child in children if "*" not in child and found.count(child.rstrip("!")) > 1]
    places = [bare.index(child) for child in found if child in bare]
    wrong += [f"{name} is out of order"] if places != sorted(places) else []
    wrong += [f"{name}: {key} is no number" for key in ("index", "ignoreHeaderLines") if not re.fullmatch(r"\d+", element.get(key, "0"))]
    return wrong + [fault for child in element for fault in faults(child)]


@pytest.mark.parametrize("name", GUIDES)
def test_archives_follow_the_schema_and_the_lists_of_words(name: str) -> None:
    taxa, sightings = archives_of(make_published(read(HERE / name)))
    for archive in (taxa, sightings):
        root = ET.fromstring(meta_xml(archive))
        assert root.tag == f"{SPACE}archive"
        assert faults(root) == []
        told = ET.fromstring(archive.about)
        assert told.findtext("dataset/keywordSet/keyword") in DATASET_TYPES
        assert "dataset_type_2015-07-10.xml" in (told.findtext("dataset/keywordSet/keywordThesaurus") or "")
    assert words_of(sightings.core, "occurrenceStatus") <= OCCURRENCE_STATUS
    by_file = {table.file: table for table in taxa.tables}
    assert words_of(by_file["distribution.csv"], "occurrenceStatus") <= DISTRIBUTION_STATUS
    assert words_of(by_file["description.csv"], "type") <= DESCRIPTION_TYPES
    assert words_of(by_file["description.csv"], "type")


def words_of(table: Table, column: str) -> set[str]:
    at = table.columns.index(column)
    return {row[at] for row in table.rows}


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("<core><files><location>a</location></files></core>", "core lacks field"),
        ("<core><id index='0'/><files><location>a</location></files><field index='0' term='x'/></core>", "core is out of order"),
        ("<core><files><location>a</location></files><field index='one' term='x'/></core>", "field: index is no number"),
        ("<core><files><location>a</location></files><field index='0'/></core>", "field lacks term"),
        ("<core colour='red'><files/><field term='x'/></core>", "core has colour"),
    ],
)
def test_the_check_itself_finds_departures(text: str, fault: str) -> None:
    assert fault in faults(ET.fromstring(f"<archive xmlns='{SPACE[1:-1]}'>{text}</archive>"))


WITH_STATES = ("estuary-waders", "spring-flowers")
"""Plumages and states of a plant are told as remarks and as reproductiveCondition, which are not read as a stage."""


def counts_of(guide: Guide, accounts: set[str], *, stages: bool) -> Counter[tuple[str, ...]]:
    """Rows by account, stage, place and day; those without a day, absences and doubtful ones by these words."""
    counted: Counter[tuple[str, ...]] = Counter()
    for tally in guide.sightings:
        key = (tally.account, tally.stage if stages else "", tally.place)
        for day, rows in zip(tally.days, tally.counts, strict=True):
            counted[*key, str(day)] += rows
        for word, rows in (("loose", tally.loose), ("absent", tally.absences), ("doubtful", tally.doubtful)):
            counted[*key, word] += rows
    return Counter({key: rows for key, rows in counted.items() if rows and key[0] in accounts})


@pytest.mark.parametrize("name", (*GUIDES, "sample"))
def test_an_archive_is_read_by_the_tool_itself_to_the_same_counts(name: str, tmp_path: Path) -> None:
    """All rows of a guide's species that keep nothing secret, at places that are open: they come back as they went in."""
    folder = SAMPLE if name == "sample" else HERE / name
    before = read(folder)
    archive = archive_file(sightings_archive(make_published(before)))
    after_folder = copy_guide(name, tmp_path) if name != "sample" else copy_sample(tmp_path)
    for table in (after_folder / "sightings").iterdir():
        table.unlink()
    (after_folder / "sightings/back.zip").write_bytes(archive)
    after = read(after_folder)
    secret_places = {place.id for place in before.places.values() if place.sensitivity}
    open_to_all = {account.id for account in before.accounts.values() if not account.sensitivity}
    open_to_all -= {tally.account for tally in before.sightings if tally.place in secret_places}
    assert len(open_to_all) > 1
    stages = name not in WITH_STATES
    assert counts_of(after, open_to_all, stages=stages) == counts_of(before, open_to_all, stages=stages)
    (count,) = after.sighting_counts
    assert count.rows == count.counted + sum(group.rows for group in count.left_out)


def copy_sample(folder: Path) -> Path:
    """The sample without what is made of it, and without pictures."""
    for file in SAMPLE.rglob("*"):
        within = file.relative_to(SAMPLE)
        if file.suffix in {".yaml", ".md", ".csv"} and not {"published", ".guidebuild"} & set(within.parts):
            to = folder / within
            to.parent.mkdir(parents=True, exist_ok=True)
            to.write_bytes(file.read_bytes())
    return folder
