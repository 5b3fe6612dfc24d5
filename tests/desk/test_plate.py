"""The plate and the contact sheet: what they show, and what is written when something is placed or said of many pictures."""

from __future__ import annotations

import difflib
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from guidebuild.desk.desk import Desk
from guidebuild.desk.parts.pictures import PicturesView, locate_pictures, make_cover, set_pictures, show_pictures
from guidebuild.desk.parts.plate import NoPlate, PlateView, locate_plate, show_plate
from guidebuild.errors import SaidInOneLineError
from guidebuild.guide.findings import At
from guidebuild.resident import Resident
from guidebuild.session import read_for_draft
from tests.desk.opened import open_desk

SAMPLE = Path(__file__).resolve().parents[2] / "sample_guide"


@pytest.fixture
def hedge(tmp_path: Path) -> Path:
    folder = tmp_path / "hedge"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing"))
    return folder


@contextmanager
def desk_on(folder: Path) -> Iterator[Desk]:
    with Resident(folder) as resident:
        resident.follow(frozenset())
        yield Desk(folder, resident)


def _plate(folder: Path, photo: str) -> PlateView:
    with desk_on(folder) as desk:
        view = show_plate(desk, photo, {})
    assert isinstance(view, PlateView)
    return view


def test_the_plate_shows_what_is_pointed_at_where_and_how_large_it_is(hedge: Path) -> None:
    view = _plate(hedge, "parent-adult")
    assert [(mark.number, mark.point, mark.elsewhere) for mark in view.marks] == [
        (1, (50.2, 50.4), ""), (2, (62.2, 62.6), ""), (3, None, "parent-nymph"),
    ]  # fmt: skip
    assert view.marks[0].scope == "adult, upperside"
    assert view.measured == (51.9, 25.1, 48.1, 83.2)
    # 3.8 % of the width and 58.1 % of the height are 8 mm: by Pythagoras, from the figures above and the picture's shape.
    pixels = ((view.width * 0.038) ** 2 + (view.height * 0.581) ** 2) ** 0.5
    assert view.scale == f"The whole picture is {view.width * 8 / pixels:.3g} mm wide."
    assert [one.file for one in view.files] == ["photos.yaml", "accounts/parent-bug.md"]


def test_photos_of_one_account_follow_each_other(hedge: Path) -> None:
    order = []
    photo = _plate(hedge, "").photo
    while photo:
        order.append(photo)
        photo = _plate(hedge, photo).after
    assert len(order) == len(set(order))
    parents = [number for number, one in enumerate(order) if one in read_for_draft(hedge).accounts["parent-bug"].photos]
    assert parents == list(range(parents[0], parents[0] + len(parents)))
    assert _plate(hedge, order[0]).before == ""
    assert _plate(hedge, order[5]).before == order[4]


def test_a_guide_without_photos_says_so_and_an_unknown_one_is_no_page(hedge: Path) -> None:
    with desk_on(hedge) as desk:
        assert show_plate(desk, "nobody", {}) is None
        assert show_plate(desk, "../guide", {}) is None
    (hedge / "photos/parent-adult.jpg").write_bytes(b"no picture")
    with desk_on(hedge) as desk:
        view = show_plate(desk, "parent-adult", {})
    assert isinstance(view, NoPlate)
    assert "parent-adult.jpg" in view.why
    (hedge / "photos.yaml").unlink()
    with desk_on(hedge) as desk:
        assert show_plate(desk, "", {}) == NoPlate("There is no photo yet.")


def _changed_lines(before: str, after: str) -> list[str]:
    return [line for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line[:2] in ("- ", "+ ")]


def test_something_is_said_of_many_pictures_and_nothing_else_changes(hedge: Path) -> None:
    photos, account = hedge / "photos.yaml", hedge / "accounts/parent-bug.md"
    before, stood = photos.read_text("utf-8"), account.read_text("utf-8")
    with desk_on(hedge) as desk:
        view = show_pictures(desk, "", {})
        assert view is not None
        asked = {
            "photos": ["plant-gorse", "place-gorse-bank"],
            "digest": view.digest,
            "values": {"account": "parent-bug", "stage": "nymph"},
        }
        answer = set_pictures(desk, asked)
    assert _changed_lines(before, photos.read_text("utf-8")) == ["+   account: parent-bug", "+   stage: nymph"] * 2
    assert answer["file"] == "photos.yaml"
    named = read_for_draft(hedge).accounts["parent-bug"].photos
    assert named[-2:] == ("plant-gorse", "place-gorse-bank")
    assert len(_changed_lines(stood, account.read_text("utf-8"))) <= 2


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({}, "did not say which pictures"),
        ({"photos": ["parent-adult"], "values": {}}, "did not say which pictures"),
        ({"photos": ["parent-adult"], "values": {"file": "../../etc/passwd"}}, "did not say which pictures"),
        ({"photos": "parent-adult", "values": {"stage": "adult"}}, "did not say which pictures"),
        ({"photos": ["nobody"], "values": {"stage": "adult"}}, "There is no photo nobody any more"),
        ({"photos": ["parent-adult"], "values": {"account": "nobody"}}, "There is no account “nobody”"),
        ({"photos": ["parent-adult"], "values": {"sex": "sideways"}}, "is not a sex"),
    ],
)
def test_what_cannot_be_said_of_pictures_is_refused_and_nothing_is_written(hedge: Path, asked: dict[str, object], told: str) -> None:
    before = (hedge / "photos.yaml").read_bytes()
    with desk_on(hedge) as desk:
        digest = desk.writer.read("photos.yaml").digest
        with pytest.raises(SaidInOneLineError, match=told):
            set_pictures(desk, {"digest": digest, **asked})
    assert (hedge / "photos.yaml").read_bytes() == before


@pytest.mark.parametrize(
    "photos", ["[parent-adult, parent-guarding, parent-nymph]", "\n  - parent-adult\n  - parent-nymph # small", "parent-adult", "[]", ""]
)
def test_a_cover_comes_first_however_the_list_is_written(hedge: Path, photos: str) -> None:
    account = hedge / "accounts/parent-bug.md"
    lines = account.read_text("utf-8").split("\n")
    at = next(number for number, line in enumerate(lines) if line.startswith("photos:"))
    lines[at] = f"photos: {photos}" if photos else "# none yet"
    account.write_text("\n".join(lines), "utf-8")
    with desk_on(hedge) as desk:
        make_cover(desk, {"photo": "parent-nymph"})
    named = read_for_draft(hedge).accounts["parent-bug"].photos
    assert named[0] == "parent-nymph"
    assert len(named) == len(set(named))
    assert ("parent-adult" in named) is ("parent-adult" in photos)
    with desk_on(hedge) as desk:
        stood = account.read_bytes()
        make_cover(desk, {"photo": "parent-nymph"})
        assert account.read_bytes() == stood
        with pytest.raises(SaidInOneLineError, match="belongs to an account"):
            make_cover(desk, {"photo": "plant-gorse"})


def test_lines_of_photos_lead_to_the_page_that_mends_them(hedge: Path) -> None:
    lines = (hedge / "photos.yaml").read_text("utf-8").split("\n")
    start = lines.index("parent-adult:")
    measured = next(number for number in range(start, len(lines)) if lines[number].startswith("  measured:")) + 1
    with desk_on(hedge) as desk:
        assert locate_plate(desk, At("photos.yaml", measured)) == "parent-adult"
        assert locate_plate(desk, At("photos.yaml", start + 2)) is None
        assert locate_pictures(desk, At("photos.yaml", start + 2)) == "#photo-parent-adult"
        assert locate_plate(desk, At("plants.yaml", measured)) is None


def test_pictures_that_nobody_has_come_first_with_what_they_lack(hedge: Path) -> None:
    shutil.copy(hedge / "photos/parent-adult.jpg", hedge / "photos/new.jpg")
    with (hedge / "photos.yaml").open("a", encoding="utf-8") as file:
        file.write("new:\n  shows: something\n")
    with desk_on(hedge) as desk:
        view = show_pictures(desk, "", {})
    assert isinstance(view, PicturesView)
    first = view.rows[0]
    assert (first.id, first.account, first.shown) == ("new", "", False)
    assert first.lacks == "account, credit, licence and alt text"
    assert view.without_account == 1
    cover = next(row for row in view.rows if row.id == "parent-adult")
    assert cover.cover
    assert "Parent Bug" in cover.used


def test_copies_are_sent_of_photos_of_the_guide_alone(hedge: Path) -> None:
    with open_desk(hedge) as opened:
        answer = opened.look("/-desk/picture/parent-adult?wide=1600")
        assert (answer.status, answer.headers["content-type"]) == (200, "image/jpeg")
        with Image.open(BytesIO(answer.body)) as picture:
            assert max(picture.size) <= 1600
            assert not picture.getexif()
        for path in ("/-desk/picture/nobody", "/-desk/picture/..%2f..%2fguide.yaml", "/-desk/picture/"):
            assert opened.look(path).status == 404
        assert opened.ask("/-desk/picture/parent-adult").status == 403
