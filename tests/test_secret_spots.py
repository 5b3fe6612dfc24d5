"""Where a sensitive species was seen is searched for, though no places.yaml lists it. Animals, places and sightings are invented."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.fieldwork.leaks import leaks_in, secrets_of
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import makes_data
from guidebuild.reading.whole import read_guide
from guidebuild.session import open_session
from tests.hostile.small_guide import change, write_small

ROWS = """f-1,2025-05-14,Adalia bipunctata,adult,2,,{place},51.43212,-1.43214,25,WGS84,A. Holt,HumanObservation
t-1,2025-05-14,Coccinella septempunctata,adult,2,,{place},51.43212,-1.43214,25,WGS84,A. Holt,HumanObservation
"""
TELLING = ("It winters at the weir pool.", "Look at 51.43212, -1.43214.", "Search 51.4321 N 1.4321 W.", "SU 395 708 holds it.")


def write_guide(folder: Path, place: str = "weir pool", *, secret: bool = True) -> Path:
    guide = write_small(folder / "guide")
    if secret:
        change(guide, "accounts/two-spot.md", "hazards: []\n", "hazards: []\nsensitive: high\n")
    with (guide / "sightings/yard.csv").open("a", encoding="utf-8") as file:
        file.write(ROWS.format(place=place))
    return guide


def told(guide: Path, text: str) -> list[str]:
    read = read_guide(guide).guide
    assert read is not None
    return [str(leak) for leak in leaks_in(text, secrets_of(read))]


@pytest.mark.parametrize("text", TELLING)
def test_a_locality_that_no_list_holds_is_searched_for(text: str, tmp_path: Path) -> None:
    assert told(write_guide(tmp_path), text)


@pytest.mark.parametrize("text", TELLING)
def test_of_a_species_that_is_open_nothing_is_searched_for(text: str, tmp_path: Path) -> None:
    assert told(write_guide(tmp_path, secret=False), text) == []


@pytest.mark.parametrize("place", ["The Wall", "wall", "Yard", "the yard", "garden", "Beetles of a back yard", ""])
def test_what_is_said_anyway_is_not_searched_for(place: str, tmp_path: Path) -> None:
    assert told(write_guide(tmp_path, place), "Under the coping of The Wall in the garden of the yard in Yard.") == []


def test_the_author_is_told_with_the_line_and_of_whom(tmp_path: Path) -> None:
    guide = write_guide(tmp_path)
    change(guide, "accounts/seven-spot.md", "On nettles.", "On nettles by the weir pool.")
    found = [f for f in open_session(guide).report.findings if f.code == "secret-place-named"]
    assert [(f.at.file, f.message) for f in found] == [
        ("accounts/seven-spot.md", "The name “weir pool” gives away the secret place “weir pool of the Two-spot in sightings”.")
    ]


def test_in_nothing_that_is_published_does_it_stand(tmp_path: Path) -> None:
    guide = write_guide(tmp_path)
    change(guide, "accounts/seven-spot.md", "On nettles.", "On nettles. It is found with others at the weir pool, 51.43212, -1.43214.")
    change(guide, "places.yaml", "  access: By the gate.\n", "  access: By the gate.\n  note: The path goes on to the weir pool.\n")
    exit_code(["make", str(guide), "--workers", "1", "--quiet"])
    published = guide / "published"
    assert (published / "site/index.html").is_file()
    for path in published.rglob("*"):
        held = [path.read_bytes()] if path.is_file() else []
        if path.suffix == ".zip":
            with zipfile.ZipFile(path) as archive:
                held += [archive.read(name) for name in archive.namelist()]
        for content in held:
            assert b"weir pool" not in content.lower(), path
            assert b"51.432" not in content, path


def test_a_row_of_the_rare_species_without_a_place_gives_no_day(tmp_path: Path) -> None:
    guide = write_guide(tmp_path)
    exit_code(["make", str(guide), "data", "--workers", "1", "--quiet"])
    with zipfile.ZipFile(guide / "published/data/sightings.zip") as archive:
        rows = archive.read("occurrence.csv").decode().splitlines()
    rare = [row for row in rows if "Adalia" in row]
    assert rare
    assert not [row for row in rare if "2025-05-14" in row or "2025-06-07" in row]


def contents(guide: Path, folder: str) -> bytes:
    files = [path for path in (guide / "published" / folder).rglob("*") if path.suffix in {".html", ".vtt", ".srt", ".txt"}]
    assert files
    return b"\n".join(path.read_bytes() for path in files)


def test_what_stands_is_made_anew_once_a_species_becomes_sensitive(tmp_path: Path) -> None:
    """A script that names its place stands; then the species is kept secret, and only the site is asked for."""
    guide = write_small(tmp_path / "guide")
    change(guide, "places.yaml", "  name: The Wall", "  name: Bat Coping")
    change(guide, "accounts/two-spot.md", "Smaller than the other.", "Smaller than the other. It winters behind Bat Coping.")
    assert exit_code(["make", str(guide), "site", "scripts", "--workers", "1", "--quiet"]) == 0
    assert b"behind Bat Coping" in contents(guide, "scripts")
    assert not (guide / "published/posts").exists()
    change(guide, "accounts/two-spot.md", "hazards: []\n", "hazards: []\nsensitive: high\n")
    assert exit_code(["make", str(guide), "site", "--workers", "1", "--quiet"]) == 0
    assert b"behind Bat Coping" not in contents(guide, "site")
    assert b"behind Bat Coping" not in contents(guide, "scripts")
    assert not (guide / "published/posts").exists()  # what never stood is not made


def test_what_stands_is_made_anew_once_a_place_becomes_secret(tmp_path: Path) -> None:
    guide = write_small(tmp_path / "guide")
    change(guide, "accounts/two-spot.md", "Smaller than the other.", "Smaller than the other. It winters behind The Wall.")
    change(guide, "places.yaml", '  position: "51.5, -1.5"\n  uncertainty: 150 m\n', "")
    change(guide, "sightings/yard.csv", ",51.5001,-1.5002,25", ",,,")
    change(guide, "places.yaml", "  name: The Wall", "  name: Bat Coping")
    change(guide, "accounts/two-spot.md", "behind The Wall", "behind Bat Coping")
    assert exit_code(["make", str(guide), "site", "scripts", "--workers", "1", "--quiet"]) == 0
    assert b"Bat Coping" in contents(guide, "scripts")
    change(guide, "places.yaml", "  area: Yard\n", "  area: Yard\n  sensitive: high\n")
    exit_code(["make", str(guide), "site", "--workers", "1", "--quiet"])
    assert b"Bat Coping" not in contents(guide, "site")
    assert b"Bat Coping" not in contents(guide, "scripts")


def test_rows_that_stand_are_read_again_where_they_are_looked_through_again(tmp_path: Path) -> None:
    """Only the rows say which of their positions tell nothing: without them a new version would hold back what it told before."""
    guide = write_guide(tmp_path)
    exit_code(["make", str(guide), "data", "--workers", "1", "--quiet"])
    read, wishes = open_session(guide).guide, Wishes(("walks",))
    assert not makes_data(wishes, read, guide)
    state = guide / ".guidebuild/published-secrets-looked-for"
    state.write_text("\n".join(["of another version", *state.read_text().split()[1:]]))
    assert makes_data(wishes, read, guide)
    shutil.rmtree(guide / "published/data")
    assert not makes_data(wishes, read, guide)
