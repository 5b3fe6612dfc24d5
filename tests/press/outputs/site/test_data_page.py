"""The page of the data, as readers and programs see it. Animals, places, people and rows are invented."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup

from guidebuild.cli import exit_code
from guidebuild.resident import Resident
from guidebuild.views.data.occurrences import COLUMNS
from guidebuild.views.site.column_words import MEANINGS
from tests.hostile.small_guide import change, write_small
from tests.views.data.test_sightings_archive import CITED, HEADER, ROWS, SECRET_ROW, SEVEN, TERMS, add_table, open_row

HOME = "https://yard.example/guide"


def write_guide(folder: Path) -> Path:
    """Four rows of the yard, one of somebody's own licence, three of a cited data set."""
    guide = write_small(folder)
    (guide / "sightings/yard.csv").unlink()
    add_table(guide, ROWS, HEADER, "own.csv")
    other = ("f:1", "2023-05-03", SEVEN, "adult", "", "1", "", "", "", "51.4301", "-1.4302", "", "", "", "CC0_1_0", "", "")
    add_table(guide, (other,), TERMS, "other.csv")
    add_table(guide, tuple((f"set:{row[0]}", *row[1:]) for row in ROWS[:3]), HEADER, "set.csv")
    with (guide / "sources.yaml").open("a", encoding="utf-8") as file:
        file.write(CITED)
    (guide / "sightings.yaml").write_text("data sets: {set.csv: yard-set}\n", encoding="utf-8")
    change(guide, "guide.yaml", "languages: [en]", "languages: [en, es]")
    return guide


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = write_guide(tmp_path_factory.mktemp("data") / "guide")
    assert exit_code(["make", str(made), "site", "data", "--quiet", "--workers", "1"]) == 0
    return made


def soup_of(guide: Path, path: str = "data.html") -> BeautifulSoup:
    return BeautifulSoup((guide / "published/site" / path).read_bytes(), "html.parser")


def words_of(soup: BeautifulSoup) -> str:
    main = soup.find("main")
    assert main
    return " ".join(main.get_text(" ").split())


def dataset_of(soup: BeautifulSoup) -> dict[str, Any]:
    found = soup.find("script", type="application/ld+json")
    assert found
    read: dict[str, Any] = json.loads(found.get_text())
    return read


def test_it_says_what_the_tables_hold_and_how_to_cite_them(guide: Path) -> None:
    told = words_of(soup_of(guide))
    assert "8 rows of sightings of 1 species, 2023 to 2025." in told
    assert "2 rows say that it was looked for and not found." in told
    assert "The Yard Group (2025). Beetles of a back yard: sightings. Data set. https://yard.example/guide/data.html" in told
    assert "D. Fen (2026). Beetles of the Fen. Version 1.2. Fen Office. Data set. https://doi.org/10.5555/fen , read on 2 May 2026" in told
    assert "in the column license: CC BY-NC 4.0 (3 rows), CC0 1.0 (1 row)." in told
    spanish = words_of(soup_of(guide, "es/data.html"))
    assert "8 filas de observaciones de 1 especie, de 2023 a 2025." in spanish
    assert "Conjunto de datos" in spanish


def test_every_file_can_be_downloaded_with_its_size(guide: Path) -> None:
    site = guide / "published/site"
    for page in ("data.html", "es/data.html"):
        links = soup_of(guide, page).find_all("a", download=True)
        assert {link.get_text() for link in links} == {path.name for path in (site / "data").iterdir()}
        assert len(links) == 5
        for link in links:
            file = (site / page).parent / str(link["href"])
            size = link.find_next("span", class_="quiet")
            assert size
            assert size.get_text() == f"{max(1, round(file.stat().st_size / 1000))}\u00a0kB"
            assert file.read_bytes() == (guide / "published/data" / file.name).read_bytes()


def test_every_column_of_the_table_is_explained(guide: Path) -> None:
    assert set(MEANINGS) == set(COLUMNS)
    soup = soup_of(guide)
    terms = [tag.get_text() for tag in soup.select("dl.columns dt")]
    assert terms[0] == "occurrenceID"
    assert {"datasetID", "eventDate", "license"} <= set(terms) <= set(COLUMNS)
    assert all(tag.get_text() for tag in soup.select("dl.columns dd"))
    spanish = [tag.get_text() for tag in soup_of(guide, "es/data.html").select("dl.columns dd")]
    assert not set(spanish) & set(MEANINGS.values())


# Properties of Dataset, DataDownload, Place and GeoShape in schema.org's vocabulary (from memory).
DATASET = {"@context", "@type", "name", "description", "url", "identifier", "inLanguage", "isAccessibleForFree", "license", "creator",
           "publisher", "creditText", "citation", "temporalCoverage", "spatialCoverage", "distribution"}  # fmt: skip


def test_programs_read_a_dataset(guide: Path) -> None:
    told = dataset_of(soup_of(guide))
    assert set(told) == DATASET
    assert (told["@type"], told["name"], told["license"]) == (
        "Dataset", "Beetles of a back yard: sightings", "https://creativecommons.org/licenses/by/4.0/",
    )  # fmt: skip
    assert told["identifier"] == told["url"] == f"{HOME}/data.html"
    assert told["creator"] == {"@type": "Organization", "name": "The Yard Group", "url": HOME}
    assert told["temporalCoverage"] == "2023-05-03/2025-06-02"
    assert told["spatialCoverage"] == {"@type": "Place", "name": "the yard", "geo": {"@type": "GeoShape", "box": "51 -2 52 -1"}}
    assert len(told["citation"]) == 1
    archive = told["distribution"][0]
    file = guide / "published/site" / archive["contentUrl"].removeprefix(f"{HOME}/")
    assert archive["contentSize"] == f"{file.stat().st_size} B"
    assert archive["encodingFormat"] == "application/zip"


def test_it_is_found_from_the_sources_from_every_page_and_by_search_engines(guide: Path) -> None:
    assert "data.html" in {str(link["href"]) for link in soup_of(guide, "sources.html").select("main a[href]")}
    assert "../es/data.html" in {str(link["href"]) for link in soup_of(guide, "es/cautions.html").select("footer a[href]")}
    assert f"<loc>{HOME}/es/data.html</loc>" in (guide / "published/site/sitemap.xml").read_text(encoding="utf-8")
    # What is kept for the field is what one reads there.
    kept = "".join(list_.read_text(encoding="utf-8") for list_ in (guide / "published/site/offline/all").iterdir())
    assert '"data.html"' in kept
    assert '"data/' not in kept


def test_a_preview_shows_the_same_page_and_files(guide: Path) -> None:
    site = guide / "published/site"
    with Resident(guide) as resident:
        resident.follow(frozenset())
        for path in ("data.html", "es/data.html", "data/sightings.zip", "data/taxa.zip", "data/checklist.csv"):
            shown = resident.read(path)
            assert shown, path
            assert shown[0] == (site / path).read_bytes(), path
        assert resident.read("data/none.csv") is None


def test_a_guide_without_sightings_or_address_offers_its_species(tmp_path: Path) -> None:
    bare = write_small(tmp_path / "guide")
    (bare / "sightings/yard.csv").unlink()
    change(bare, "guide.yaml", f"address: {HOME}\n", "")
    change(bare, "guide.yaml", "licence: CC-BY-4.0\n", "")
    assert exit_code(["make", str(bare), "site", "--quiet", "--workers", "1"]) == 0
    soup = soup_of(bare)
    assert {link.get_text() for link in soup.find_all("a", download=True)} == {"taxa.zip", "checklist.csv"}
    assert not soup.select("dl.columns")
    told = dataset_of(soup)
    assert not {"url", "identifier", "license", "temporalCoverage", "citation"} & set(told)
    assert "No licence is given" in words_of(soup)


def test_no_word_and_no_number_tells_of_a_row_that_is_held_back(tmp_path: Path) -> None:
    told = []
    for name, rows in (("without", ()), ("held", (open_row("o:1", "51.60000", "-1.60000"), open_row("o:2", locality="Weir Pool")))):
        guide = write_small(tmp_path / name)
        (guide / "sightings/yard.csv").unlink()
        add_table(guide, (*ROWS, SECRET_ROW, *rows), HEADER, "own.csv")
        change(guide, "accounts/two-spot.md", "hazards: []\n", "hazards: []\nsensitive: high\n")
        assert exit_code(["make", str(guide), "site", "--quiet", "--workers", "1"]) == 0
        text = re.sub(r"\d+\u00a0kB", "", words_of(soup_of(guide)))
        told.append((text, *((guide / "published/site/data" / file).read_bytes() for file in ("sightings.zip", "seen-by-place.csv"))))
    assert told[0] == told[1]
    assert "kept secret" in told[0][0]
