"""What the guide publishes as Darwin Core, read back by python-dwca-reader and held against the standard's text."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from dwca.read import DwCAReader

from guidebuild.fieldwork.leaks import leaks_in, secrets_of
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import record_stage
from guidebuild.guide.measures import Measure
from guidebuild.guide.records import Section, Source
from guidebuild.guide.text.inline import Inline
from guidebuild.press.data_tables import archive_file
from guidebuild.reading.sightings import read_records
from guidebuild.reading.whole import read_guide
from guidebuild.views.data.darwin_core import Archive, taxa_archive
from guidebuild.views.data.media import MediaFile
from guidebuild.views.data.occurrences import sightings_archive
from tests.fieldwork.invented import BIRCH, PARENT, RARE, guide, season, tally
from tests.guides.whole_guides import HERE

DWC = "http://rs.tdwg.org/dwc/terms/"
GBIF = "http://rs.gbif.org/terms/1.0/"
DC = "http://purl.org/dc/terms/"
SEEN = (
    tally("parent-bug", "adult", "north-hedge", {"2024-06-18": 2, "2025-06-25": 1}),
    tally("rare-bug", "adult", "weir-pool", {"2024-06-18": 1}),
    tally("rare-bug", "adult", "meadow", {"2024-06-18": 1}),
    tally("birch-bug", "", "", {"2025-05-02": 1}),
)
WRITTEN = replace(
    PARENT,
    name=replace(PARENT.name, authority="(Linnaeus, 1758)"),
    sections=(Section("In brief", 'Guards her *eggs*, "sitting" on them.\n\nTwice, a year.'), Section("In the field", "Kneel.")),
    size=Measure("6–9 mm", 6, 9),
    sources=("book",),
    other_vernaculars=("=Mother Bug",),
    status=Inline("common"),
)


def made() -> Guide:
    return guide(WRITTEN, BIRCH, RARE, sightings=SEEN, sources={"book": Source("book", "A book, 1959.", address="https://book.example")})


def read(folder: Path, archive: Archive) -> tuple[list[dict[str, str]], dict[str, list[dict[str, str]]], DwCAReader]:
    """Core rows, extension rows by file, and the reader."""
    path = folder / "archive.zip"
    path.write_bytes(archive_file(archive))
    with DwCAReader(str(path)) as reader:
        core = [row.data for row in reader]
        extensions: dict[str, list[dict[str, str]]] = {}
        for row in reader:
            for more in row.extensions:
                extensions.setdefault(more.rowtype.rpartition("/")[2], []).append({**more.data, "core": more.core_id})
        return core, extensions, reader


def test_taxa_read_back(tmp_path: Path) -> None:
    core, extensions, reader = read(tmp_path, taxa_archive(make_published(made())))
    assert reader.descriptor.core.type == f"{DWC}Taxon"
    parent = core[0]
    assert parent[f"{DWC}scientificName"] == "Elasmucha grisea (Linnaeus, 1758)"
    assert (parent[f"{DWC}genus"], parent[f"{DWC}specificEpithet"], parent[f"{DWC}taxonRank"]) == ("Elasmucha", "grisea", "species")
    assert parent[f"{DWC}datasetName"] == "Bugs of the Vale"  # a constant of meta.xml, in no column
    synonym = core[1]
    assert (synonym[f"{DWC}scientificName"], synonym[f"{DWC}taxonomicStatus"]) == ("Elasmucha betulae", "synonym")
    assert synonym[f"{DWC}acceptedNameUsageID"] == parent[f"{DWC}taxonID"] == "parent-bug"
    assert set(extensions) == {"VernacularName", "Description", "SpeciesProfile", "Distribution", "Reference"}


def test_texts_and_names_read_back(tmp_path: Path) -> None:
    _, extensions, _ = read(tmp_path, taxa_archive(make_published(made())))
    texts = [(d[f"{DC}type"], d[f"{DC}description"]) for d in extensions["Description"] if d["core"] == "parent-bug"]
    assert texts == [
        ("general", 'Guards her eggs, "sitting" on them. Twice, a year.'),
        ("associations", '"host":"Silver Birch"'),
        ("cyclicity", "nymph: mid June – August"),
        ("cyclicity", "adult: all year; most seen May–June"),
    ]
    names = [(d[f"{DWC}vernacularName"], d[f"{GBIF}isPreferredName"]) for d in extensions["VernacularName"] if d["core"] == "parent-bug"]
    assert names == [("Parent Bug", "true"), ("'=Mother Bug", "false")]
    profiles = [d[f"{GBIF}sizeInMillimeters"] for d in extensions["SpeciesProfile"] if d["core"] == "parent-bug"]
    assert profiles == ["9"]


# Terms of the extension "Audubon Media Description" (rs.gbif.org, extension/ac/audubon_2020_10_06.xml, attribute qualName) that we use.
AUDUBON = {
    *(f"{DC}{name}" for name in ("identifier", "type", "title", "rights", "description")),
    *(f"http://purl.org/dc/elements/1.1/{name}" for name in ("type", "creator", "format")),
    *(f"http://rs.tdwg.org/ac/terms/{name}" for name in ("metadataLanguageLiteral", "providerLiteral", "caption", "accessURI",
                                                         "furtherInformationURL")),
    "http://ns.adobe.com/xap/1.0/rights/UsageTerms", "http://ns.adobe.com/xap/1.0/rights/WebStatement",
    "http://ns.adobe.com/photoshop/1.0/Credit",
    *(f"{DWC}{name}" for name in ("scientificName", "sex", "lifeStage")),
}  # fmt: skip


def test_pictures_read_back_with_an_address_and_a_type(tmp_path: Path) -> None:
    found = made()
    found = replace(found, settings=replace(found.settings, address="https://vale.example/guide/"))
    files = {photo: MediaFile(f"photos/{photo}-720.jpg", "image/jpeg") for photo in found.photos}
    _, extensions, reader = read(tmp_path, taxa_archive(make_published(found), files))
    media = next(table for table in reader.descriptor.extensions if table.type == "http://rs.tdwg.org/ac/terms/Multimedia")
    assert {field["term"] for field in media.fields} == AUDUBON
    assert extensions["Multimedia"]
    for row in extensions["Multimedia"]:
        assert row[f"{DC}identifier"] == row["http://rs.tdwg.org/ac/terms/accessURI"]
        assert row[f"{DC}identifier"].startswith("https://vale.example/guide/photos/")
        assert row["http://purl.org/dc/elements/1.1/format"] == "image/jpeg"
        assert row["http://purl.org/dc/elements/1.1/creator"]
        # Both are asked for: at least one of the rights, and of the two types, must stand there.
        assert row[f"{DC}type"] == "http://purl.org/dc/dcmitype/StillImage"
        assert row["http://ns.adobe.com/xap/1.0/rights/UsageTerms"]


def test_a_picture_that_cannot_be_fetched_has_no_row(tmp_path: Path) -> None:
    files = {photo: MediaFile(f"photos/{photo}-720.jpg", "image/jpeg") for photo in made().photos}
    for address, found in (("", files), ("https://vale.example", {})):
        guide_there = replace(made(), settings=replace(made().settings, address=address))
        assert not any(table.file == "multimedia.csv" for table in taxa_archive(make_published(guide_there), found).tables)


def test_a_season_over_new_year_is_two_rows(tmp_path: Path) -> None:
    """startDayOfYear: 1 is 1 January, 365 is 31 December (Darwin Core term list)."""
    winter = replace(BIRCH, seasons=(replace(BIRCH.seasons[1], season=season("Nov–Feb")),))
    _, extensions, _ = read(tmp_path, taxa_archive(make_published(guide(winter))))
    days = [(d[f"{DWC}startDayOfYear"], d[f"{DWC}endDayOfYear"]) for d in extensions["Distribution"] if d[f"{DWC}lifeStage"]]
    assert days == [("305", "365"), ("1", "59")]


def test_sightings_read_back(tmp_path: Path) -> None:
    core, _, reader = read(tmp_path, sightings_archive(make_published(made())))
    assert reader.descriptor.core.type == f"{DWC}Occurrence"
    assert {row[f"{DWC}basisOfRecord"] for row in core} == {"HumanObservation"}
    first = next(row for row in core if row[f"{DWC}taxonID"] == "parent-bug")
    assert first[f"{DWC}eventDate"] == "2024-06-18"
    assert (first[f"{DWC}decimalLatitude"], first[f"{DWC}decimalLongitude"]) == ("51.10340", "-1.31210")
    assert (first[f"{DWC}geodeticDatum"], first[f"{DWC}coordinateUncertaintyInMeters"]) == ("EPSG:4326", "100")
    assert first[f"{DWC}individualCount"] == "2"


def test_sensitive_sightings_are_generalised_and_never_blank(tmp_path: Path) -> None:
    core, _, _ = read(tmp_path, sightings_archive(make_published(made())))
    rare = [row for row in core if row[f"{DWC}taxonID"] == "rare-bug"]
    assert {(row[f"{DWC}locality"], row[f"{DWC}decimalLatitude"], row[f"{DWC}coordinatePrecision"]) for row in rare} == {
        ("Upper Larkfold", "51.1", "0.1"),
        ("Larkfold Vale", "51.1", "0.1"),
    }
    for row in rare:
        assert (
            row[f"{DWC}dataGeneralizations"]
            == "Coordinates rounded to 0.1 degree; place given by the name of the wider area. Date given as the month."
        )
        assert row[f"{DWC}informationWithheld"].startswith(
            "The place's name and exact position are withheld because the species is sensitive"
        )
        assert int(row[f"{DWC}coordinateUncertaintyInMeters"]) > 13_000


@pytest.mark.parametrize(
    "archive", [taxa_archive(make_published(made())), sightings_archive(make_published(made()))], ids=["taxa", "sightings"]
)
def test_no_archive_gives_a_secret_away(archive: Archive) -> None:
    secrets = secrets_of(made())
    with zipfile.ZipFile(io.BytesIO(archive_file(archive))) as held:
        for name in held.namelist():
            assert [str(leak) for leak in leaks_in(held.read(name).decode(), secrets)] == []


def test_the_same_guide_gives_the_same_bytes() -> None:
    assert archive_file(taxa_archive(make_published(made()))) == archive_file(taxa_archive(make_published(made())))


def test_every_row_has_a_cell_for_each_column_and_its_own_id() -> None:
    for archive in (taxa_archive(make_published(made())), sightings_archive(make_published(made()))):
        ids = [row[0] for row in archive.core.rows]
        assert len(ids) == len(set(ids))
        for table in archive.tables:
            assert {len(row) for row in table.rows} == {len(table.columns)}
            assert {row[0] for row in table.rows} <= set(ids)


@pytest.mark.parametrize(
    ("name", "lines"),
    [
        # Darwin Core (TDWG, list of terms): lifeStage is an age class; reproductiveCondition has the examples "in bloom", "fruit-bearing".
        ("spring-flowers", {("", "in flower", ""), ("", "in fruit", ""), ("", "", "in leaf")}),
        ("estuary-waders", {("adult", "", "in winter plumage"), ("adult", "", "in breeding plumage"), ("juvenile", "", "")}),
        ("wood-fungi", {("button", "", ""), ("fresh fruit body", "", ""), ("old fruit body", "", "")}),
        ("southern-frogs", {("spawn", "", ""), ("tadpole", "", ""), ("young", "", ""), ("adult", "", "")}),
    ],
)
def test_a_stage_stands_under_the_term_that_it_is_a_value_of(name: str, lines: set[tuple[str, str, str]]) -> None:
    read = read_guide(HERE / name).guide
    assert read
    made = make_published(replace(read, records=read_records(HERE / name, read)))
    group = made.stage_set(next(iter(made.accounts.values())))
    recorded = {record_stage(group, stage) for tally in made.sightings for stage in (tally.stage,) if stage}
    assert {(r.life_stage, r.reproductive_condition, r.remark) for r in recorded} <= lines
    core, about = sightings_archive(made).core, taxa_archive(made).core
    assert ("reproductiveCondition" in core.columns) == (name == "spring-flowers")
    kingdoms = {row[about.columns.index("kingdom")] for row in about.rows}
    assert kingdoms <= {"Plantae", "Animalia", "Fungi"}
    remarks = {row[core.columns.index("occurrenceRemarks")].partition("; ")[0] for row in core.rows}
    assert {remark for _, _, remark in lines if remark} & remarks == {r.remark for r in recorded if r.remark}
