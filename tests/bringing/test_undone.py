"""What was brought is taken back at the desk, with everything that came with it, unless something of it was changed since."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.bringing.doing import do_bringing
from guidebuild.bringing.planning import plan_bringing
from guidebuild.changes import CannotChangeError
from guidebuild.desk.editing.wanted import SetValue
from guidebuild.desk.editing.writer import ConflictError, Writer
from guidebuild.former_texts import FormerTexts
from guidebuild.session import read_for_draft
from tests.bringing.harbour import lay_out


@pytest.fixture
def guide(tmp_path: Path) -> Path:
    return lay_out(tmp_path)


def bring(guide: Path) -> None:
    given = [guide.parent / name for name in ("fuller.xlsx", "sightings.csv", "card")]
    do_bringing(guide, plan_bringing(guide, read_for_draft(guide), given).plan)


def list_files(guide: Path) -> dict[str, bytes]:
    found = (path for path in guide.rglob("*") if path.is_file() and ".guidebuild" not in path.parts)
    return {path.relative_to(guide).as_posix(): path.read_bytes() for path in found}


def test_all_that_came_goes_again_and_what_stood_stays(guide: Path) -> None:
    (guide / "photos.yaml").write_text("old:\n  file: photos/old.jpg   # mine\n")
    before = list_files(guide)
    bring(guide)
    assert len(list_files(guide)) == len(before) + 8 + 14 + 1
    written = Writer(guide).undo()
    assert written is not None and written.files == 8 + 14 + 1 + 1
    assert list_files(guide) == before
    assert Writer(guide).undo() is None


def test_later_changes_are_taken_back_first(guide: Path) -> None:
    bring(guide)
    one = Writer(guide)
    one.change("accounts/knot.md", one.read("accounts/knot.md").digest, [SetValue(("status",), "rare")], read_for_draft(guide))
    undone = one.undo()
    assert undone is not None and (undone.file, undone.files) == ("accounts/knot.md", 1)
    assert (guide / "accounts/knot.md").is_file()
    undone = one.undo()
    assert undone is not None and undone.files == 24


def test_nothing_is_removed_where_something_of_it_was_changed_by_hand(guide: Path) -> None:
    bring(guide)
    draft = guide / "accounts/knot.md"
    draft.write_text(draft.read_text("utf-8") + "\nSeen in flocks.\n", "utf-8")
    before = list_files(guide)
    with pytest.raises(ConflictError, match=r"^accounts/knot\.md has been changed elsewhere"):
        Writer(guide).undo()
    assert list_files(guide) == before


def test_what_cannot_be_brought_leaves_nothing_to_take_back(guide: Path) -> None:
    plan = plan_bringing(guide, read_for_draft(guide), [guide.parent / "sightings.csv"]).plan
    (guide / "sightings").mkdir()
    (guide / "sightings/sightings.csv").write_text("mine")
    with pytest.raises(CannotChangeError):
        do_bringing(guide, plan)
    assert FormerTexts(guide).latest_first() == []
    assert (guide / "sightings/sightings.csv").read_text() == "mine"


def test_fifty_changes_are_kept_however_many_files_each_has(guide: Path) -> None:
    bring(guide)
    one = Writer(guide)
    for number in range(60):
        one.change("accounts/knot.md", one.read("accounts/knot.md").digest, [SetValue(("status",), f"n{number}")], read_for_draft(guide))
        if number == 48:
            assert len(one.list_undoable()) == 50
    assert len(one.list_undoable()) == 50
    assert all(len(batch) == 1 for batch in FormerTexts(guide).latest_first())


def test_a_fuller_list_fills_in_what_it_says(guide: Path) -> None:
    bring(guide)
    made = read_for_draft(guide)
    knot, curlew = made.accounts["knot"], made.accounts["curlew"]
    assert knot.size is not None and knot.size.typed == "23–26 cm length"
    assert (knot.prey.words, [one.account for one in knot.similar]) == ("small shellfish", ["dunlin"])
    assert [kind.words for kind in curlew.habitat] == ["mudflat", "wet meadow"]
    assert "similar: none" in (guide / "accounts/curlew.md").read_text("utf-8")
