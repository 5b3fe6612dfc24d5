"""Sightings on the desk: the totals of each file, words that the guide does not know, and what a choice writes."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.desk.editing.wanted import RefusedError, SetValue
from guidebuild.desk.parts.sightings import SightingsView, explain_name, locate_sightings, show_sightings
from guidebuild.guide.findings import At
from tests.desk.opened import desk_on

# Invented sightings of an invented pond.
ROWS = """scientificName,eventDate,locality,lifeStage
Rana temporaria,2025-03-04,the old Village Pond,tadpol
Rana temporaria,2025-03-05,the old Village Pond,adult
Rana temporarja,2025-03-06,Village Pond,adult
Rana temporarja,2025-03-07,Village Pond,adult
Garden frog,2025-03-08,Village Pond,adult
Bufo bufo,2025-03-08,Village Pond,adult
Rana,2025-03-09,Village Pond,adult
Rana temporaria,soon,"x: # [y]",adult
Rana temporaria,2025-03-10,"x: # [y]",adult
"""
WORDS = ("the old Village Pond", "x: # [y]")


@pytest.fixture
def pond(tmp_path: Path) -> Path:
    folder = tmp_path / "pond"
    assert exit_code(["start", str(folder)]) == 0
    (folder / "places.yaml").write_text("pond:\n  name: Village Pond\n", "utf-8")
    (folder / "sightings").mkdir(exist_ok=True)
    for file in (folder / "sightings").iterdir():
        file.unlink()
    (folder / "sightings" / "club.csv").write_text(ROWS, "utf-8")
    return folder


def shown_on(folder: Path) -> SightingsView:
    with desk_on(folder) as desk:
        view = show_sightings(desk, "", {})
        assert view is not None
        return view


def words_of(view: SightingsView, kind: str) -> list[tuple[str, int, str]]:
    return [(one.word, one.rows, one.nearest) for of_kind in view.kinds if of_kind.kind == kind for one in of_kind.words]


def test_every_row_is_in_the_totals_of_its_file(pond: Path) -> None:
    (file,) = shown_on(pond).totals
    assert (file.file, file.rows, file.counted, file.share) == ("sightings/club.csv", 9, 3, 33.3)
    assert file.counted + sum(reason.rows for reason in file.left_out) == file.rows
    reasons = {reason.words: (reason.rows, reason.first) for reason in file.left_out}
    assert reasons == {"no species of this guide": (5, 4), "the date cannot be read": (1, 9)}
    assert any("soon" in found for found in file.findings)
    assert not any("is no place of this guide" in found for found in file.findings)


def test_unknown_words_stand_with_their_rows_and_the_nearest_that_is_known(pond: Path) -> None:
    view = shown_on(pond)
    assert words_of(view, "place") == [("the old Village Pond", 2, "pond"), ("x: # [y]", 2, "")]
    assert words_of(view, "stage") == [("tadpol", 1, "larva")]
    # The one that is near stands first, then those of most rows, as they come.
    assert words_of(view, "name") == [("Rana temporarja", 2, "common-frog"), ("Garden frog", 1, ""), ("Bufo bufo", 1, ""), ("Rana", 1, "")]
    guessed = {one.word: one.key for kind in view.kinds for one in kind.words if one.kind == "name"}
    assert guessed == {"Rana temporarja": "synonyms", "Garden frog": "also called", "Bufo bufo": "also called", "Rana": "synonyms"}
    kinds = {kind.kind: dict(kind.meanings) for kind in view.kinds}
    assert kinds["place"] == {"pond": "Village Pond"}
    assert kinds["name"] == {"common-frog": "Common Frog"}


@pytest.mark.parametrize("word", WORDS)
def test_a_place_that_was_said_counts_from_then_on(pond: Path, word: str) -> None:
    with desk_on(pond) as desk:
        desk.writer.change("sightings.yaml", "", [SetValue(("places", word), "pond")], desk.guide)
    assert [one for one, _, _ in words_of(shown_on(pond), "place")] == [other for other in WORDS if other != word]


@pytest.mark.parametrize(("word", "key"), [("Rana temporarja", "synonyms"), ("Garden frog", "also called")])
def test_a_name_is_written_into_its_account_alone_and_its_rows_count(pond: Path, word: str, key: str) -> None:
    account = pond / "accounts" / "common-frog.md"
    before = account.read_text("utf-8").splitlines()
    counted = shown_on(pond).counted
    with desk_on(pond) as desk:
        answer = explain_name(desk, {"word": word, "meaning": "common-frog", "key": key})
        assert answer["file"] == "accounts/common-frog.md"
        said = desk.writer.read("accounts/common-frog.md").values[key]
    assert isinstance(said, list) and word in said
    after = account.read_text("utf-8").splitlines()
    assert [line for line in before if line not in after] in ([], [line for line in before if line.startswith(f"{key}:")])
    view = shown_on(pond)
    assert word not in [one for one, _, _ in words_of(view, "name")]
    assert view.counted == counted + ROWS.count(word)


@pytest.mark.parametrize("key", ["synonyms", "also called"])
@pytest.mark.parametrize("word", ["Rana", "Rana sp.", "Rana cf. arvalis"])
def test_a_name_of_no_certain_species_is_refused(pond: Path, word: str, key: str) -> None:
    account = (pond / "accounts" / "common-frog.md").read_bytes()
    with desk_on(pond) as desk, pytest.raises(RefusedError, match="not the name of one species"):
        explain_name(desk, {"word": word, "meaning": "common-frog", "key": key})
    assert (pond / "accounts" / "common-frog.md").read_bytes() == account


def test_a_name_that_is_known_or_of_no_account_is_refused(pond: Path) -> None:
    with desk_on(pond) as desk:
        with pytest.raises(RefusedError, match="already"):
            explain_name(desk, {"word": "rana temporaria", "meaning": "common-frog"})
        with pytest.raises(RefusedError, match="scientific name"):
            explain_name(desk, {"word": "Garden frog", "meaning": "common-frog"})
        for meaning in ("", "common-toad"):
            with pytest.raises(RefusedError, match="Choose the account"):
                explain_name(desk, {"word": "Garden frog", "meaning": meaning})


def test_a_row_that_a_finding_names_leads_to_its_file(pond: Path) -> None:
    with desk_on(pond) as desk:
        view = show_sightings(desk, "", {})
        assert view is not None
        assert locate_sightings(desk, At("sightings/club.csv", 9)) == f"#{view.totals[0].anchor}"
        assert locate_sightings(desk, At("sightings/other.csv", 9)) is None
        assert show_sightings(desk, "other", {}) is None


def test_without_sightings_the_page_says_so(pond: Path) -> None:
    (pond / "sightings" / "club.csv").unlink()
    view = shown_on(pond)
    assert (view.totals, view.kinds, view.rows) == ((), (), 0)


def test_headings_that_are_not_read_are_offered_with_the_nearest_and_none_where_it_is_not_clear(pond: Path) -> None:
    (pond / "sightings/club.csv").write_text("Dates seen,Name,Page\n2025-03-04,Rana temporaria,7\n", "utf-8")
    view = shown_on(pond)
    (kind,) = view.kinds
    assert {(one.word, one.nearest) for one in kind.words} == {("Dates seen", "eventDate"), ("Name", ""), ("Page", "")}
    assert ("scientificName", "Species, by its scientific name") in kind.meanings and ("none", "Not to be read") in kind.meanings
    with desk_on(pond) as desk:
        digest = desk.writer.read("sightings.yaml").digest
        said = [("Dates seen", "eventDate"), ("Name", "scientificName"), ("Page", "none")]
        desk.writer.change("sightings.yaml", digest, [SetValue(("columns", word), term) for word, term in said], desk.guide)
    after = shown_on(pond)
    assert (after.counted, after.kinds) == (1, ())
