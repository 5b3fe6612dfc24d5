"""This week: what is out and wanted, the next questions, findings with their lines, the next walk and posts."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.desk.mending_keys import mend_keys, show_mending
from guidebuild.desk.parts.week import WeekView, show_week
from guidebuild.errors import SaidInOneLineError
from tests.desk.opened import desk_on

APRIL = "1775736000"  # 9 April 2026


@pytest.fixture
def pond(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", APRIL)
    assert exit_code(["start", str(tmp_path / "pond")]) == 0
    return tmp_path / "pond"


def week_of(folder: Path) -> WeekView:
    with desk_on(folder) as desk:
        view = show_week(desk, "", {})
        assert view is not None
        return view


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new), "utf-8")


def test_what_is_out_today_is_told_with_all_that_is_wanted_the_soonest_over_first(pond: Path) -> None:
    view = week_of(pond)
    told = [(one.stage, one.wants, one.until) for one in view.out]
    assert told == [
        ("spawn", "a photo and a sighting", "until 30 April 2026 (22 days)"),
        ("tadpole", "a photo and a sighting", "until 30 June 2026 (83 days)"),
        ("", "a review", "until 31 October 2026 (206 days)"),
        ("adult", "a photo and a sighting", "until 31 October 2026 (206 days)"),
    ]
    assert (view.day, view.errors, view.files) == ("9 April 2026", 0, ())


def test_the_next_question_is_the_first_thing_that_is_missing_at_the_lowest_level(pond: Path) -> None:
    account = pond / "accounts" / "common-frog.md"
    assert week_of(pond).questions == ()
    change(pond / "guide.yaml", "level: sketch", "level: publishable")
    (asked,) = week_of(pond).questions
    assert 0 < asked.said < asked.asked
    before = asked.question
    text = account.read_text("utf-8")
    change(account, "family: Ranidae\n", "")
    (asked,) = week_of(pond).questions
    assert asked.question != before and "family" in asked.question.lower()
    assert asked.address == "/-desk/open?at=accounts%2Fcommon-frog.md&field=family"
    account.write_text(text, "utf-8")
    assert week_of(pond).questions[0].question == before


def test_progress_counts_what_is_said(pond: Path) -> None:
    view = week_of(pond)
    assert (view.whole, view.accounts[0].said, view.accounts[0].asked, view.accounts[0].share) == (1, 3, 3, 100)
    change(pond / "guide.yaml", "level: sketch", "level: publishable")
    view = week_of(pond)
    assert view.whole == 0
    assert view.accounts[0].share == round(100 * view.accounts[0].said / view.accounts[0].asked) < 100


def test_findings_stand_by_file_with_their_lines_the_file_with_errors_first(pond: Path) -> None:
    change(pond / "accounts" / "common-frog.md", "size: 6–9 cm body length", "size: rather large")
    change(pond / "guide.yaml", "card: a6", "card: a6\nfrogs: many")
    view = week_of(pond)
    files = {file.file: file for file in view.files}
    line = (pond / "accounts" / "common-frog.md").read_text("utf-8").splitlines().index("size: rather large") + 1
    found = [one for one in files["accounts/common-frog.md"].findings if one.line == line]
    assert found and found[0].at.startswith(f"accounts/common-frog.md:{line}")
    assert view.files[0].errors == max(file.errors for file in view.files)
    assert view.errors == sum(file.errors for file in view.files) > 0
    assert "guide.yaml" in files


def test_a_key_that_has_another_name_today_is_mended_by_itself_once_its_change_was_shown(pond: Path) -> None:
    account, settings = pond / "accounts" / "common-frog.md", pond / "guide.yaml"
    change(account, "family: Ranidae\n", "Family: Ranidae\nfamilly: Ranidae\n")
    change(settings, "card: a6", "Card: a6")
    before = {file: file.read_bytes() for file in (account, settings)}
    with desk_on(pond) as desk:
        view = show_week(desk, "", {})
        assert view is not None
        unknown = [one for file in view.files for one in file.findings if one.rule == "unknown-key"]
        assert {one.message.split("'")[1]: one.by_itself for one in unknown} == {"Family": True, "Card": True, "familly": False}
        shown = show_mending(desk, {})
        assert shown["title"] == "2 keys get their names of today"
        lines = [line for one in shown["files"] for line in one["lines"]]
        assert {"-Family: Ranidae", "+family: Ranidae", "-Card: a6", "+card: a6"} <= set(lines)
        assert {file: file.read_bytes() for file in before} == before
        with pytest.raises(SaidInOneLineError, match="Look again"):
            mend_keys(desk, {})
        change(settings, "Card: a6", "Card: a5")
        with pytest.raises(SaidInOneLineError, match="Look again"):
            mend_keys(desk, {"seen": shown["seen"]})
        mend_keys(desk, {"seen": show_mending(desk, {})["seen"]})
        assert b"\nfamily: Ranidae\n" in account.read_bytes()
        assert b"\ncard: a5\n" in settings.read_bytes()
        assert show_mending(desk, {})["files"] == []
        desk.writer.undo()
        assert account.read_bytes() == before[account]
        assert b"\nCard: a5\n" in settings.read_bytes()


def test_a_guide_that_cannot_be_read_shows_what_is_to_mend(pond: Path) -> None:
    (pond / "guide.yaml").write_text("title: [\n", "utf-8")
    view = week_of(pond)
    assert (view.accounts, view.out, view.walk, view.posts) == ((), (), None, ())
    assert [file.file for file in view.files] == ["guide.yaml"]
    assert view.errors > 0


def test_the_next_walk_is_the_first_that_is_not_over(pond: Path) -> None:
    assert week_of(pond).walk is None
    (pond / "places.yaml").write_text("pond:\n  name: Village Pond\n  coordinates: 51.5, -1.2\n", "utf-8")
    (pond / "walks").mkdir()
    for name, day in (("past", "2026-04-08"), ("later", "2026-06-01"), ("near", "2026-04-11"), ("today", "2026-04-09")):
        text = f"title: Walk {name}\ndate: {day}\nstart: 10:30\nmeet: The gate\nstops:\n  - place: pond\n    minutes: 20\n    metres: 100\n"
        (pond / "walks" / f"{name}.yaml").write_text(text, "utf-8")
    walk = week_of(pond).walk
    assert walk is not None and (walk.title, walk.when, walk.days, walk.stops) == ("Walk today", "9 April 2026, 10:30", "today", 1)
    (pond / "walks" / "today.yaml").unlink()
    walk = week_of(pond).walk
    assert walk is not None and (walk.id, walk.days) == ("near", "in 2 days")


def test_posts_are_those_of_the_plan_of_weeks(pond: Path) -> None:
    posts = week_of(pond).posts
    assert [monday for monday, _ in posts] == ["13 April 2026", "20 April 2026", "27 April 2026"]
    assert posts[0][1].why[1:] == ("never posted", "still lacks a picture")


def test_there_is_one_page_and_none_below_it(pond: Path) -> None:
    with desk_on(pond) as desk:
        assert show_week(desk, "other", {}) is None


def test_a_secret_place_is_told_to_be_one(pond: Path) -> None:
    (pond / "places.yaml").write_text("old:\n  name: Old Pond\n  sensitive: high\nnew:\n  name: New Pond\n", "utf-8")
    change(pond / "accounts/common-frog.md", "family: Ranidae\n", "family: Ranidae\nplaces: [old, new]\n")
    assert "Old Pond (kept secret) and New Pond" in {one.places for one in week_of(pond).out}
