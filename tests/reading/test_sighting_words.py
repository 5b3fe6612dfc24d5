"""Words in tables of sightings: the shipped lists, a guide's own in sightings.yaml, and those that mean nothing known."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import StageSet
from guidebuild.reading.notes import Notes
from guidebuild.reading.sighting_stages import StageRead, StageReader
from guidebuild.reading.sighting_words import read_words, shipped_words
from guidebuild.reading.whole import read_guide
from guidebuild.reading.yaml_text import read_block
from tests.fieldwork.invented import guide
from tests.guide_files import write_files
from tests.reading.test_sightings import read_all

BIRDS = StageSet(
    "bird", "Birds", (("egg", "egg"), ("chick", "chick"), ("juvenile", "juvenile"), ("winter", "winter plumage"), ("adult", "adult"))
)
STATUS = "identificationVerificationStatus"
MIXED, UNKNOWN = StageRead(mixed=True), StageRead(unknown=True)


def with_words(text: str) -> Guide:
    """The invented guide with a sightings.yaml of its own."""
    notes = Notes()
    base = guide()
    words = read_words(read_block(text, "sightings.yaml", notes), (), base.places, {}, notes)
    assert notes.findings == ()
    return replace(base, sighting_words=words)


@pytest.mark.parametrize(
    ("text", "read"),
    {
        "adult": StageRead("adult"), "Adults": StageRead("adult"), "imago": StageRead("adult"), "ad.": StageRead("adult"),
        "5th instar nymph": StageRead("nymph"), "nymph, 3rd instar": StageRead("nymph"), "Nymph (4)": StageRead("nymph"),
        "adult female": StageRead("adult"), "♂ adult": StageRead("adult"), "adult/imago": StageRead("adult"),
        "subadult/adult": MIXED, "nymph and adult": MIXED, "adult, nymph": MIXED, "nymph | adult": MIXED, "adult + egg": MIXED,
        "subadult": UNKNOWN, "sub-adult": UNKNOWN, "teneral": UNKNOWN, "pupa": UNKNOWN, "adult?": UNKNOWN, "not adult": UNKNOWN,
    }.items(),
)  # fmt: skip
def test_a_stage_is_read_and_a_mixture_stays_one(text: str, read: StageRead) -> None:
    base = guide()
    assert StageReader(base, shipped_words()).read(base.accounts["parent-bug"], text) == read


@pytest.mark.parametrize(
    ("text", "read"),
    {
        "First-winter": UNKNOWN, "1st-winter": UNKNOWN, "first winter": UNKNOWN, "second-winter male": UNKNOWN,
        "winter": StageRead("winter"), "Winter plumage": StageRead("winter"), "adult male": StageRead("adult"),
        "juvenile/1st-winter": MIXED, "chicks": StageRead("chick"),
    }.items(),
)  # fmt: skip
def test_a_first_winter_bird_is_not_in_winter_plumage_by_accident(text: str, read: StageRead) -> None:
    base = guide()
    birds = replace(base, stage_sets={"bird": BIRDS}, accounts={"chat": replace(base.accounts["parent-bug"], id="chat", group="bird")})
    assert StageReader(birds, shipped_words()).read(birds.accounts["chat"], text) == read


HEAD = "scientificName,eventDate,lifeStage,sex,locality,basisOfRecord,identificationVerificationStatus,recordedBy\n"


def test_a_guides_own_words_go_before_the_shipped_ones(tmp_path: Path) -> None:
    own = with_words(
        'places: {"Sea wall, Greyling": north-hedge}\nstages: {teneral: adult, imago: nymph}\nsexes: {hen: female}\n'
        "doubt: {identificationVerificationStatus: [accepted]}\nno doubt: {identificationVerificationStatus: [doubtful]}\n"
        "leave out: {recordedBy: [A. Visitor]}\nabsence: {recordedBy: [nobody]}\n"
    )
    rows = (
        'Parent Bug,2025-06-01,Teneral,Hen,"sea wall,  Greyling",,doubtful,\n'
        "Parent Bug,2025-06-02,imago,,,,,\n"
        "Parent Bug,2025-06-03,,,,,Accepted,\n"
        "Parent Bug,2025-06-04,,,,,,a. visitor\n"
        "Parent Bug,2025-06-05,,,,FossilSpecimen,,\n"
        "Parent Bug,2025-06-06,,,,,,Nobody\n"
    )
    made = read_all(tmp_path, own, table=HEAD + rows)
    assert [(t.stage, t.place, t.rows, t.doubtful, t.absences) for t in made.tallies] == [
        ("", "", 0, 1, 1), ("adult", "north-hedge", 1, 0, 0), ("nymph", "", 1, 0, 0)
    ]  # fmt: skip
    assert made.findings == ()
    assert [(g.words, g.first) for g in made.counts[0].left_out] == [
        ("the identification is in doubt", 4), ("left out by a word: recordedby “a. visitor”", 5),
        ("left out by a word: basisofrecord “fossilspecimen”", 6), ("looked for and not found", 7),
    ]  # fmt: skip


def test_unknown_words_are_listed_once_with_their_rows(tmp_path: Path) -> None:
    rows = "Parent Bug,2025-06-{day:02},{stage},{sex},{place},,{status},\n"
    few = HEAD + "".join(rows.format(day=day, stage="teneral", sex="neuter", place="Old Mill", status="twice seen") for day in range(1, 4))
    assert (
        sorted((f.code, f.message) for f in read_all(tmp_path, table=few).findings)
        == [
            ("sighting-place", "“Old Mill” is no place of this guide (rows 2, 3 and 4)."),
            ("sighting-sex", "“neuter” is no sex that is known (rows 2, 3 and 4)."),
            ("sighting-stage", "“teneral” is no stage of Parent Bug (rows 2, 3 and 4)."),
            (
                "sighting-word",
                "“twice seen” in identificationVerificationStatus is not known, and is taken to mean no doubt (rows 2, 3 and 4).",
            ),
        ]
        or sorted(f.code for f in read_all(tmp_path, table=few).findings) == []
    )
    many = HEAD + "".join(rows.format(day=n % 28 + 1, stage="", sex="", place=f"Mill {n // 2}", status="") for n in range(60))
    (found,) = read_all(tmp_path, table=many).findings
    assert found.message == (
        "30 localities are no place of this guide, in 60 rows: “Mill 0” (2), “Mill 1” (2), “Mill 2” (2), “Mill 3” (2), “Mill 4” (2), "
        "“Mill 5” (2), “Mill 6” (2), “Mill 7” (2), “Mill 8” (2), “Mill 9” (2) and 20 more."
    )


def test_a_slip_among_many_other_species_is_still_told(tmp_path: Path) -> None:
    names = "".join(f"Aliena quaedam{chr(97 + n)},2025-06-02,,,,,,\n" for n in range(20))
    findings = read_all(tmp_path, table=HEAD + names + "Elasmucha griseus,2025-06-02,,,,,,\n").findings
    assert [f.mend for f in findings if "griseus" in f.message] == ["Did you mean “Elasmucha grisea”?"]
    assert [f.message[:59] for f in findings if "griseus" not in f.message] == [
        "20 names are no species of this guide, in 20 rows: “Aliena q"[:59]
    ]


def test_mixed_stages_and_datums_are_told(tmp_path: Path) -> None:
    head = "scientificName,eventDate,lifeStage,decimalLatitude,decimalLongitude,geodeticDatum\n"
    made = read_all(tmp_path, table=head + "Parent Bug,2025-06-02,subadult/adult,51.1034,-1.3121,Martian 1877\n")
    assert sorted((f.code, f.message) for f in made.findings) == [
        ("sighting-datum", "The datum “Martian 1877” is not known, and the position is taken to be on WGS 84 (row 2)."),
        ("sighting-stage-mixed", "“subadult/adult” is several stages together, and counts for none of them (row 2)."),
    ]
    assert [(t.stage, t.place) for t in made.tallies] == [("", "north-hedge")]


def test_a_locality_that_is_no_place_counts_for_the_place_round_its_position_and_is_told(tmp_path: Path) -> None:
    head = "scientificName,eventDate,locality,decimalLatitude,decimalLongitude,coordinateUncertaintyInMeters\n"
    rows = "Parent Bug,2025-06-02,By the stile,51.1034,-1.3121,10\nParent Bug,2025-06-03,Somewhere near,51.1034,-1.3121,5000\n"
    made = read_all(tmp_path, table=head + rows)
    assert [(t.place, t.rows) for t in made.tallies] == [("", 1), ("north-hedge", 1)]
    assert [(f.code, f.message) for f in made.findings] == [
        ("sighting-place-by-position", "“By the stile” counts for north-hedge by its position (row 2)."),
        ("sighting-place", "“Somewhere near” is no place of this guide (row 3)."),
    ]


def test_a_name_that_is_missing_and_the_date_of_an_empty_cell_are_told(tmp_path: Path) -> None:
    made = read_all(tmp_path, table="scientificName,eventDate,sex\n,2025-06-02,male\nParent Bug,1899-12-30,\n,,\n")
    assert [(f.code, f.message) for f in made.findings] == [
        ("sighting-name-missing", "There is no name (row 2)."),
        ("sighting-date-of-nothing", "The date 1899-12-30 stands for an empty cell (row 3)."),
    ]


@pytest.mark.parametrize("empty", [",,", ",,,,", " , ,"])
def test_a_row_without_a_word_is_no_sighting_without_a_name(tmp_path: Path, empty: str) -> None:
    made = read_all(tmp_path, table=f"scientificName,eventDate,sex\nParent Bug,2025-06-02,male\n{empty}\n")
    assert made.findings == ()
    assert [t.rows for t in made.tallies] == [1]


def test_a_word_for_a_place_that_the_guide_has_not_is_told_at_its_line(tmp_path: Path) -> None:
    files = {
        "guide.yaml": "title: T\nregion: R\nhemisphere: north\n",
        "sightings.yaml": "places:\n  Sea wall: sea-wal\nstages: {x: y}\nplcaes: {}\n",
    }
    findings = read_guide(write_files(tmp_path, files)).findings
    assert [(f.code, str(f.at), f.message) for f in findings] == [
        ("sightings-word-unknown", "sightings.yaml:2:13", "“Sea wall” is to be the place “sea-wal”, which is none of places.yaml."),
        ("unknown-key", "sightings.yaml:4:1", "There is no key 'plcaes'."),
    ]
