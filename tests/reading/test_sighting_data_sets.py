"""Files of sightings that come from a data set: what they say of themselves, what is proposed, and what the guide then knows.

Data sets, people and DOIs are invented.
"""

from __future__ import annotations

import re
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.guide.problem import Unreadable
from guidebuild.reading.archive_about import About, read_about
from guidebuild.reading.dois import parse_doi
from guidebuild.reading.sightings import read_records
from guidebuild.reading.whole import read_guide
from tests.hostile.small_guide import change, write_small

META = """<archive xmlns="http://rs.tdwg.org/dwc/text/" metadata="{about}"><core encoding="UTF-8" fieldsTerminatedBy=","
 linesTerminatedBy="\\n" fieldsEnclosedBy="" ignoreHeaderLines="1" rowType="http://rs.tdwg.org/dwc/terms/Occurrence"><files><location>occurrence.csv</location></files>
 <id index="0"/>{fields}</core></archive>"""
FIELDS = ("occurrenceID", "scientificName", "eventDate", "lifeStage")
ROWS = "id,name,date,stage\nfen:1,Coccinella septempunctata,2025-05-03,adult\nfen:2,Coccinella septempunctata,2025-05-04,adult\n"
EML = """<eml:eml xmlns:eml="https://eml.ecoinformatics.org/eml-2.2.0" packageId="x" system="x" scope="system">
<dataset><alternateIdentifier>7c7b1b7e-0000-4000-8000-000000000000</alternateIdentifier>
<alternateIdentifier>https://doi.org/10.5555/fen.2026</alternateIdentifier>
<title xml:lang="en">Beetles of the Fen: all records</title>
<creator><individualName><givenName>Dora</givenName><surName>Fen</surName></individualName>
<organizationName>Fen Survey</organizationName></creator>
<creator><organizationName>Fen Survey</organizationName></creator>
<pubDate>2026-03-01</pubDate><abstract><para>All.</para></abstract>
<intellectualRights><para>This work is licensed under a <ulink url="http://creativecommons.org/licenses/by/4.0/legalcode"><citetitle>
Creative Commons Attribution (CC-BY) 4.0 License</citetitle></ulink>.</para></intellectualRights>
<contact><organizationName>Fen Survey</organizationName></contact>
<publisher><organizationName>Fen Records Office</organizationName></publisher>
</dataset></eml:eml>"""
FEN = About("Dora Fen, Fen Survey", "2026", "Beetles of the Fen: all records", "Fen Records Office", "10.5555/fen.2026", "CC-BY-4.0")


def write_archive(path: Path, eml: str | None = EML, *, about: str = "eml.xml", folder: str = "") -> Path:
    fields = "".join(f'<field index="{at}" term="http://rs.tdwg.org/dwc/terms/{term}"/>' for at, term in enumerate(FIELDS))
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr(f"{folder}meta.xml", META.format(about=about, fields=fields))
        packed.writestr(f"{folder}occurrence.csv", ROWS)
        if eml is not None:
            packed.writestr(f"{folder}{about}", eml)
    return path


def write_guide(folder: Path) -> Path:
    guide = write_small(folder / "guide")
    write_archive(guide / "sightings/fen.zip")
    return guide


def read(guide: Path) -> tuple[Guide, list[Finding]]:
    found = read_guide(guide)
    assert found.guide
    told = [finding for finding in found.findings if finding.code in ("sightings-uncited", "sightings-word-unknown")]
    return replace(found.guide, records=read_records(guide, found.guide)), told


def publish(guide: Path) -> Published:
    return make_published(read(guide)[0])


def add(guide: Path, file: str, text: str) -> None:
    path = guide / file
    before = path.read_text(encoding="utf-8") if path.exists() else ""
    path.write_text(f"{before}{text}\n", encoding="utf-8")


def test_an_archive_is_read_for_what_it_says_of_itself(tmp_path: Path) -> None:
    assert read_about(write_archive(tmp_path / "a.zip")) == FEN
    assert read_about(write_archive(tmp_path / "b.zip", about="metadata.xml", folder="dwca-fen/")) == FEN


@pytest.mark.parametrize(
    ("before", "after", "changed"),
    [
        ("https://doi.org/10.5555/fen.2026", "doi:10.5555/FEN", {"doi": "10.5555/FEN"}),
        ("https://doi.org/10.5555/fen.2026", "fen-2026", {"doi": ""}),
        (
            "http://creativecommons.org/licenses/by/4.0/legalcode",
            "https://creativecommons.org/publicdomain/zero/1.0/",
            {"licence": "CC0-1.0"},
        ),
        ("http://creativecommons.org/licenses/by/4.0/legalcode", "https://example.org/terms", {"licence": ""}),
        ("<pubDate>2026-03-01</pubDate>", "", {"year": ""}),
        ("<givenName>Dora</givenName>", "", {"author": "Fen, Fen Survey"}),
        (
            "</dataset>",
            "</dataset><additionalMetadata><metadata><gbif><dateStamp>2026-03-01T00:00:00Z</dateStamp><citation identifier='10.5555/other'>"
            "Fen D (2026).</citation></gbif></metadata></additionalMetadata>",
            {},
        ),
    ],
)
def test_what_it_says_is_taken_from_where_it_stands(tmp_path: Path, before: str, after: str, changed: dict[str, str]) -> None:
    assert EML.count(before) == 1
    assert read_about(write_archive(tmp_path / "a.zip", EML.replace(before, after))) == replace(FEN, **changed)


@pytest.mark.parametrize(
    "eml",
    [
        None,
        "",
        "no xml",
        "<eml/>",
        "<eml><dataset/></eml>",
        "<!DOCTYPE eml [<!ENTITY a 'b'>]><eml><dataset><title>&a;</title></dataset></eml>",
        "<!DOCTYPE eml SYSTEM 'https://elsewhere.example/eml.dtd'><eml><dataset><title>Fen</title></dataset></eml>",
        f"<eml><dataset><title>Fen</title><abstract>{'x' * 2_000_001}</abstract></dataset></eml>",
    ],
)
def test_an_archive_that_says_nothing_is_read_all_the_same(tmp_path: Path, eml: str | None) -> None:
    assert read_about(write_archive(tmp_path / "a.zip", eml)) is None
    guide = write_guide(tmp_path)
    write_archive(guide / "sightings/fen.zip", eml)
    found, told = read(guide)
    assert told == []
    assert [(count.rows, count.counted) for count in found.sighting_counts if count.file.endswith("fen.zip")] == [(2, 2)]


def test_lines_are_proposed_and_are_right_as_they_stand(tmp_path: Path) -> None:
    guide = write_guide(tmp_path)
    _, (told,) = read(guide)
    assert told.message == (
        "The archive says what it is, and no source is given for it: Dora Fen, Fen Survey; 2026; Beetles of the Fen: all records; "
        "Fen Records Office; 10.5555/fen.2026; CC-BY-4.0."
    )
    assert [(one.file, one.why, one.rows) for one in publish(guide).rows_left_out] == [("sightings/fen.zip", "no licence is given", 2)]
    for file, line in zip(("sources.yaml", "sightings.yaml"), re.findall("“([^”]*)”", told.mend), strict=True):
        add(guide, file, line)
    found, told_then = read(guide)
    assert told_then == []
    source = found.sources["beetles-of-the-fen-all-records"]
    assert (source.author, source.doi, source.kind, source.licence) == ("Dora Fen, Fen Survey", "10.5555/fen.2026", "data set", "CC-BY-4.0")
    made = publish(guide)
    assert made.rows_left_out == ()
    assert [row.data_set for row in made.rows if row.record and row.record.file.endswith("fen.zip")] == [source.id] * 2


def test_what_sightings_yaml_names_must_be_there(tmp_path: Path) -> None:
    guide = write_guide(tmp_path)
    add(guide, "sightings.yaml", "data sets:\n  fen.zip: fen\n  bog.zip: yard-notes")
    assert [(str(one.at), one.message, one.mend) for one in read(guide)[1]] == [
        ("sightings.yaml:2:12", "“fen.zip” is to be of the data set “fen”, which is none of sources.yaml.",
         "Use the id of a source in sources.yaml."),
        ("sightings.yaml:3:3", "“bog.zip” is said to be of a data set, and is no file in sightings/.",
         "Write the file's name as it stands in sightings/."),
    ]  # fmt: skip


def test_a_table_of_ones_own_that_is_said_to_be_of_a_data_set_has_its_licence(tmp_path: Path) -> None:
    guide = write_guide(tmp_path)
    (guide / "sightings/fen.zip").unlink()
    add(guide, "sources.yaml", "yard-set: {cite: Yard 2025, author: B. Lee, licence: CC BY-NC 4.0}")
    add(guide, "sightings.yaml", "data sets: {yard.csv: yard-set}")
    assert {row.licence for row in publish(guide).rows} == {"https://creativecommons.org/licenses/by-nc/4.0/"}
    change(guide, "sources.yaml", ", licence: CC BY-NC 4.0", "")
    assert {one.why for one in publish(guide).rows_left_out} == {"no licence is given"}
    change(guide, "sources.yaml", ", author: B. Lee", ", licence: CC BY-ND 4.0")
    assert {one.why for one in publish(guide).rows_left_out} == {"CC BY-ND 4.0 does not allow it"}


@pytest.mark.parametrize(
    ("typed", "doi"),
    [
        ("10.5555/12345678", "10.5555/12345678"),
        ("doi:10.5555/12345678", "10.5555/12345678"),
        ("DOI: 10.5555/12345678", "10.5555/12345678"),
        ("https://doi.org/10.15468/dl.abc123", "10.15468/dl.abc123"),
        ("http://dx.doi.org/10.1002/(SICI)1099-1565(199601)7:1<1::AID-PCA281>3.0.CO;2-N",
         "10.1002/(SICI)1099-1565(199601)7:1<1::AID-PCA281>3.0.CO;2-N"),
        ("https://doi.org/10.5555%2F12345678", "10.5555/12345678"),
        ("10.5555", None),
        ("https://example.org/10.5555/12345678", None),
        ("11.5555/12345678", None),
        ("10.5555/with a space", None),
    ],
)  # fmt: skip
def test_a_doi_is_read_however_it_is_written(typed: str, doi: str | None) -> None:
    found = parse_doi(typed)
    assert (None if isinstance(found, Unreadable) else found) == doi
