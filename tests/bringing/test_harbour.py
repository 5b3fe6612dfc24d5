"""An invented harbour: what its leader has becomes a guide by one command, and nothing of it is lost or written over."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from guidebuild.bringing.doing import do_bringing
from guidebuild.bringing.planning import Planned, plan_bringing
from guidebuild.cli import exit_code
from guidebuild.guide.findings import Level
from guidebuild.session import open_session, read_for_draft
from tests.bringing.harbour import PHOTOS, SPECIES, lay_out


@pytest.fixture(scope="module")
def harbour(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("harbour")
    lay_out(folder)
    return folder


@pytest.fixture(scope="module")
def planned(harbour: Path) -> Planned:
    return plan_bringing(harbour / "guide", read_for_draft(harbour / "guide"), _given(harbour))


def _given(harbour: Path) -> list[Path]:
    return [harbour / "card", harbour / "friends.xlsx", harbour / "sightings.csv"]


def test_saying_what_would_come_writes_nothing(harbour: Path, planned: Planned) -> None:
    assert planned.plan.files
    assert sorted(path.name for path in (harbour / "guide").rglob("*") if path.is_file()) == ["guide.yaml", "places.yaml"]


def test_everything_is_brought_and_the_guide_can_be_read(harbour: Path, planned: Planned) -> None:
    guide = harbour / "guide"
    do_bringing(guide, planned.plan)
    session = open_session(guide)
    assert len(session.guide.accounts) == len(SPECIES)
    assert len(session.guide.photos) == len(PHOTOS)
    (count,) = planned.counts
    assert (count.rows, count.counted) == (300, 285)
    assert sum(seen.rows for tally in session.guide.sightings for seen in tally.seen()) == 285
    # What one cannot know is asked: whether Ann Reed's picture may be published.
    errors = [finding for finding in session.report.findings if finding.level is Level.ERROR]
    assert [(error.code, error.account) for error in errors] == [("no-licence", "knot")]


def test_what_the_list_says_stands_in_the_drafts(harbour: Path) -> None:
    guide = open_session(harbour / "guide").guide
    for vernacular, name, authority, family, status, _, notes in SPECIES:
        account = next(account for account in guide.accounts.values() if account.name.plain == name)
        assert (account.vernacular, account.name.authority, account.family, account.status.text) == (vernacular, authority, family, status)
        assert (notes in Path(harbour / "guide" / account.at.file).read_text(encoding="utf-8")) is True
    seasons = {account.id: [stated.season.typed for stated in account.seasons] for account in guide.accounts.values()}
    assert seasons["greenshank"] == ["Apr–May"]
    assert seasons["knot"] == []
    knot = (harbour / "guide/accounts/knot.md").read_text(encoding="utf-8").split("\n")
    asked = next(number for number, line in enumerate(knot) if line.startswith("# seasons:"))
    assert knot[asked + 1] == "#   friends.xlsx says: when it freezes"
    assert "#   friends.xlsx says: Page in my book: 33" in knot


def test_pictures_find_their_species_stage_day_and_maker(harbour: Path) -> None:
    photos = open_session(harbour / "guide").guide.photos
    assert {photo.account for photo in photos.values()} == {
        "redshank", "greenshank", "dunlin", "curlew", "oystercatcher", "ringed-plover", "grey-plover", "knot", "",
    }  # fmt: skip
    assert photos["dunlin-juvenile"].stage == photos["curlew-juvenile"].stage == "juvenile"
    assert photos["ringed-plover-adult"].stage == "adult"
    assert photos["knot"].credit == "Ann Reed"
    assert photos["knot"].licence == ""
    assert photos["redshank"].taken == dt.date(2026, 1, 3)
    assert (photos["redshank"].credit, photos["redshank"].licence) == ("Saltgrave Shore Group", "CC-BY-4.0")


def test_a_longer_name_is_not_taken_for_a_species_that_is_part_of_it(harbour: Path) -> None:
    """A Little Ringed Plover among the Ringed Plovers would mislead all who come to the walk."""
    text = (harbour / "guide/photos.yaml").read_text(encoding="utf-8")
    assert open_session(harbour / "guide").guide.photos["little-ringed-plover"].account == ""
    assert "  # account: ringed-plover   # perhaps: “Little Ringed Plover” names it among other words\n" in text


def test_drafts_name_the_photos_that_came_with_them(harbour: Path) -> None:
    guide = open_session(harbour / "guide").guide
    assert guide.accounts["redshank"].photos == ("redshank", "redshank-2")


def test_where_the_camera_was_is_written_nowhere(harbour: Path) -> None:
    written = [path.read_text(encoding="utf-8") for path in (harbour / "guide").rglob("*") if path.suffix in (".md", ".yaml")]
    assert not [text for text in written if "52.10" in text.replace("position: 52.1000", "") or "1.30" in text.replace("1.3000", "")]
    assert any("# place: sea-wall   # the nearest place; the camera was some " in text for text in written)


def test_bringing_again_brings_nothing(harbour: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = {path: path.read_bytes() for path in (harbour / "guide").rglob("*") if path.is_file()}
    assert exit_code(["bring", *map(str, _given(harbour)), "--in", str(harbour / "guide")]) == 1
    assert "There is nothing to bring." in capsys.readouterr().out
    assert {path: path.read_bytes() for path in (harbour / "guide").rglob("*") if path.is_file()} == before


def test_a_photo_of_an_account_that_stands_is_named_there_and_nothing_else_changes(harbour: Path) -> None:
    guide = harbour / "guide"
    file = guide / "accounts/greenshank.md"
    before = file.read_text(encoding="utf-8")
    new = harbour / "greenshank in flight.jpg"
    new.write_bytes((harbour / "card/DCIM/DSC01234.JPG").read_bytes() + b"\0")
    do_bringing(guide, plan_bringing(guide, read_for_draft(guide), [new]).plan)
    after = file.read_text(encoding="utf-8")
    assert after == before.replace("photos: [greenshank]", "photos: [greenshank, greenshank-2]")
    assert read_for_draft(guide).accounts["greenshank"].photos == ("greenshank", "greenshank-2")
