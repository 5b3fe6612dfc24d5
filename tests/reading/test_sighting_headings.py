"""Plain headings over columns of sightings: understood where they can mean one thing, asked where they can mean several."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.guide.guide import Guide
from guidebuild.reading.sighting_columns import KNOWN_TERMS
from guidebuild.reading.sighting_headings import fold_heading
from guidebuild.reading.sighting_words import shipped_words
from guidebuild.reading.sightings import read_records
from guidebuild.reading.whole import GuideReading, read_guide
from guidebuild.session import read_unchecked
from tests.guide_files import write_files

GUIDE = {
    "guide.yaml": "title: Waders\ngroup: bird\nhemisphere: north\n",
    "accounts/knot.md": "---\nname: Calidris canutus\nvernacular: Knot\n---\n",
    "places.yaml": "sea-wall:\n  name: Sea wall\n",
}


def read(folder: Path, table: str, columns: str = "") -> GuideReading:
    own = {"sightings.yaml": f"columns:\n{columns}"} if columns else {}
    return read_guide(write_files(folder, {**GUIDE, **own, "sightings/a.csv": table}))


def counted(reading: GuideReading) -> tuple[int, tuple[str, ...]]:
    assert reading.guide is not None
    (count,) = reading.guide.sighting_counts
    return count.counted, tuple(one.word for one in count.unknown)


def told(reading: GuideReading, code: str) -> list[str]:
    return [f.message for f in reading.findings if f.code == code]


@pytest.mark.parametrize(
    "table",
    [
        "Date,Species,Site,Count,Observer,Time,Notes,Grid ref\n2025-05-03,Knot,Sea wall,12,Ann,10:15,flock,TM 123 456\n",
        "SEEN ON,Latin_Name,place\n2025-05-03,Calidris canutus,Sea wall\n",
        "Scientific Name,Event Date,Locality\nCalidris canutus,2025-05-03,Sea wall\n",
        "Recorder;Common name;Location;Date of visit\nAnn;Knot;Sea wall;2025-05-03\n",
        "dwc:eventDate,dwc:scientificName,Site\n2025-05-03,Calidris canutus,Sea wall\n",
    ],
)
def test_the_headings_of_members_are_understood(tmp_path: Path, table: str) -> None:
    reading = read(tmp_path, table)
    assert counted(reading) == (1, ())
    assert reading.guide is not None and reading.guide.sightings[0].place == "sea-wall"
    assert [f for f in reading.findings if f.code.startswith("sightings-column")] == []


def test_what_stands_below_them_is_handed_on(tmp_path: Path) -> None:
    read(tmp_path, "Date,Species,Observer,Count\n2025-05-03,Knot,Ann Reed,12\n")
    guide: Guide = read_unchecked(tmp_path)
    (record,) = read_records(tmp_path, guide)
    assert "Ann Reed" in str(record) and "12" in str(record)


def test_a_heading_of_two_meanings_is_asked_and_not_guessed(tmp_path: Path) -> None:
    reading = read(tmp_path, "Date,Name\n2025-05-03,Knot\n")
    assert counted(reading) == (0, ("Name",))
    assert told(reading, "sightings-column-unclear") == [
        "The column “Name” may be scientificName or vernacularName or recordedBy, and is not read (row 1)."
    ]
    assert counted(read(tmp_path / "said", "Date,Name\n2025-05-03,Knot\n", "  name: vernacularName\n")) == (1, ())
    # Nor is it guessed because the other columns are there.
    reading = read(tmp_path / "beside", "Date,scientificName,vernacularName,Name\n2025-05-03,Calidris canutus,Knot,Ann\n")
    assert counted(reading) == (1, ("Name",))


def test_two_columns_of_one_meaning_are_asked_until_the_guide_says_which(tmp_path: Path) -> None:
    table = "Date,Recorded on,Species\n2025-05-03,2025-06-01,Knot\n"
    reading = read(tmp_path, table)
    assert counted(reading) == (0, ("Date", "Recorded on"))
    assert (
        told(reading, "sightings-column-unclear")[0] == "“Date” is one of several columns that may be eventDate, and is not read (row 1)."
    )
    said = read(tmp_path / "said", table, "  Date: eventDate\n")
    assert counted(said) == (1, ())
    assert said.guide is not None and [seen.day.month for seen in said.guide.sightings[0].seen()] == [5]


def test_a_term_comes_before_any_plain_word(tmp_path: Path) -> None:
    reading = read(tmp_path, "Date,eventDate,scientificName\n2024-01-01,2025-05-03,Calidris canutus\n")
    assert reading.guide is not None and [seen.day.year for seen in reading.guide.sightings[0].seen()] == [2025]


def test_the_guide_says_what_its_own_headings_mean(tmp_path: Path) -> None:
    reading = read(tmp_path, "Dag,Soort,Weer\n2025-05-03,Knot,wet\n", "  Dag: eventDate\n  Soort: vernacularName\n  Weer: none\n")
    assert counted(reading) == (1, ())


def test_a_term_that_is_none_is_told_with_the_nearest(tmp_path: Path) -> None:
    reading = read(tmp_path, "Date,Species,Ort\n2025-05-03,Knot,Sea wall\n", "  Ort: locallity\n")
    (finding,) = (f for f in reading.findings if f.code == "sightings-word-unknown")
    assert (finding.at.file, finding.at.line) == ("sightings.yaml", 2)
    assert finding.message == "“Ort” is to be the column “locallity”, which is no term of Darwin Core that is read."
    assert finding.mend == "Did you mean locality? A column that says nothing is `none`."


def test_an_unknown_heading_is_told_where_it_is_near_to_one(tmp_path: Path) -> None:
    reading = read(tmp_path, "Dates seen,Species,Page in my book\n2025-05-03,Knot,7\n")
    assert counted(reading) == (0, ("Dates seen", "Page in my book"))
    assert told(reading, "sightings-column-unknown") == ["The column “Dates seen” is not read (row 1)."]


def test_rows_are_left_out_by_a_heading_as_it_is_typed(tmp_path: Path) -> None:
    folder = write_files(
        tmp_path,
        {**GUIDE, "sightings.yaml": "leave out:\n  Notes: [escaped]\n", "sightings/a.csv": "Date,Species,Notes\n2025-05-03,Knot,escaped\n"},
    )
    assert counted(read_guide(folder)) == (0, ())


def test_the_list_that_comes_with_the_tool_is_sound() -> None:
    columns = shipped_words().columns
    assert len(columns) > 50
    assert all(term.lower() in KNOWN_TERMS for terms in columns.values() for term in terms)
    assert all(heading == fold_heading(heading) for heading in columns)
    # Words that lists of species have over a season, and so are no days of sightings.
    assert not {"when", "months", "season", "dates"} & set(columns)
