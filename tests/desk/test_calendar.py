"""The plan of posts as a calendar: what stands in which week, and what is written when a species is put into another."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.desk.parts.calendar import CalendarView, PostCard, move_post, note_posted, show_calendar
from guidebuild.errors import SaidInOneLineError
from tests.desk.opened import changed_lines, copy_sample, desk_on

WEDNESDAY = "1780444800"  # 3 June 2026


@pytest.fixture
def hedge(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", WEDNESDAY)
    return copy_sample(tmp_path / "hedge")


def shown(folder: Path, weeks: str = "") -> CalendarView:
    with desk_on(folder) as desk:
        view = show_calendar(desk, "", {"weeks": weeks} if weeks else {})
        assert view is not None
        assert show_calendar(desk, "parent-bug", {}) is None
        return view


def cards_of(view: CalendarView) -> dict[str, list[PostCard]]:
    return {week.monday: list(week.cards) for month in view.months for week in month.weeks}


def add(folder: Path, account: str, line: str) -> None:
    file = folder / "accounts" / f"{account}.md"
    head, facts, rest = file.read_text("utf-8").partition("---\n")
    file.write_text(f"{head}{facts}{line}\n{rest}", "utf-8")


def out_in(folder: Path, account: str, season: str) -> None:
    """Let its adult be out then, and nothing else at any time."""
    file = folder / "accounts" / f"{account}.md"
    head, _, rest = file.read_text("utf-8").partition("\nseasons:\n")
    file.write_text(f"{head}\nseasons:\n  adult: {season}\nlife stages:{rest.partition('life stages:')[2]}", "utf-8")


def test_the_calendar_has_every_week_of_a_quarter_by_months_and_of_a_year_where_asked(hedge: Path) -> None:
    view = shown(hedge)
    assert [(month.title, len(month.weeks)) for month in view.months] == [("June 2026", 4), ("July 2026", 4), ("August 2026", 5)]
    assert view.months[0].weeks[0].title == "8 June"
    every = cards_of(view)
    assert [len(cards) for cards in every.values()] == [1] * 13
    planned = {card.account for cards in every.values() for card in cards}
    assert {account for account, *_ in view.others}.isdisjoint(planned)
    assert len(planned) + len(view.others) == len(list((hedge / "accounts").glob("*[a-z][a-z][a-z].md")))
    assert sum(len(month.weeks) for month in shown(hedge, "52").months) == 52
    assert sum(len(month.weeks) for month in shown(hedge, "9999999").months) == 13


def test_a_card_says_whether_its_post_is_ready_and_in_which_weeks_a_stage_is_out(hedge: Path) -> None:
    cards = {card.account: card for cards in cards_of(shown(hedge)).values() for card in cards}
    assert all(card.photo and not card.lacks and len(card.out) == 13 for card in cards.values())
    account = next(iter(cards))
    out_in(hedge, account, "June")
    (card,) = (card for cards in cards_of(shown(hedge)).values() for card in cards if card.account == account)
    assert card.out == "1111000000000"


def test_a_species_is_put_into_a_week_taken_back_and_left_to_the_plan(hedge: Path) -> None:
    file = hedge / "accounts" / "parent-bug.md"
    before = file.read_text("utf-8")
    with desk_on(hedge) as desk:
        answer = move_post(desk, {"account": "parent-bug", "week": "2026-06-22"})
        assert answer["message"] == "Parent Bug: the week of 22 June."
        assert changed_lines(before, file) == ["+ to post: 2026-06-22"]
        desk.resident.follow(frozenset())
        view = show_calendar(desk, "", {})
        assert view is not None
        assert [(card.account, card.chosen) for card in cards_of(view)["2026-06-22"]] == [("parent-bug", True)]
        move_post(desk, {"account": "parent-bug", "week": "", "digest": answer["digest"]})
        assert file.read_text("utf-8") == before
        desk.writer.undo()
        desk.writer.undo()
        assert file.read_text("utf-8") == before


def test_the_week_under_way_is_shown_where_a_post_before_a_walk_stands_in_it(hedge: Path) -> None:
    assert next(iter(cards_of(shown(hedge)))) == "2026-06-08"
    stop = "  - place: long-hedge\n    minutes: 20\n    metres: 100\n"
    walk = f"title: Invented walk\ndate: 2026-06-06\nstart: 10:30\nmeet: The gate\nstops:\n{stop}"
    (hedge / "walks" / "soon.yaml").write_text(walk, "utf-8")
    weeks = cards_of(shown(hedge))
    assert len(weeks) == 13
    assert next(iter(weeks)) == "2026-06-01"
    (card,) = weeks["2026-06-01"]
    assert "walk on Saturday, 6 June 2026" in card.why
    add(hedge, "dock-bug", "to post: 2026-06-01")
    view = shown(hedge)
    assert [card.account for card in cards_of(view)["2026-06-01"]] == ["dock-bug"], "its author may choose that week too"
    assert view.past == ()


def test_a_day_of_this_week_on_which_it_was_posted_stays(hedge: Path) -> None:
    add(hedge, "parent-bug", "posted: 2026-06-02")
    with desk_on(hedge) as desk:
        move_post(desk, {"account": "parent-bug", "week": "2026-07-06"})
    assert "posted: 2026-06-02" in (hedge / "accounts/parent-bug.md").read_text("utf-8")


def test_a_week_in_which_no_stage_is_out_is_told(hedge: Path) -> None:
    out_in(hedge, "parent-bug", "May")
    with desk_on(hedge) as desk:
        assert move_post(desk, {"account": "parent-bug", "week": "2026-06-22"})["message"].endswith("No stage is out then.")


def test_a_day_to_come_under_posted_gives_way_and_one_that_is_past_stays(hedge: Path) -> None:
    add(hedge, "parent-bug", "posted: 2026-06-25")
    dock = (hedge / "accounts/dock-bug.md").read_text("utf-8")
    with desk_on(hedge) as desk:
        move_post(desk, {"account": "parent-bug", "week": "2026-07-06"})
        move_post(desk, {"account": "dock-bug", "week": "2026-07-06"})
    text = (hedge / "accounts/parent-bug.md").read_text("utf-8")
    assert "to post: 2026-07-06" in text
    assert "posted:" not in text
    assert changed_lines(dock, hedge / "accounts/dock-bug.md") == ["+ to post: 2026-07-06"]
    weeks = cards_of(shown(hedge))
    assert {card.account for card in weeks["2026-07-06"]} == {"parent-bug", "dock-bug"}


@pytest.mark.parametrize(("wanted", "noted"), [("2026-05-28", "2026-05-28"), ("2026-06-05", "2026-06-03")])
def test_what_went_out_is_noted_with_a_day_that_is_not_to_come(hedge: Path, wanted: str, noted: str) -> None:
    add(hedge, "parent-bug", f"to post: {wanted}")
    assert [card.account for card in shown(hedge).past] == ["parent-bug"]
    with desk_on(hedge) as desk:
        note_posted(desk, {"account": "parent-bug"})
    text = (hedge / "accounts/parent-bug.md").read_text("utf-8")
    assert f"posted: {noted}" in text
    said = (hedge / "posts/parent-bug.said.yaml").read_text("utf-8")
    assert f"  - day: {noted}\n    says:\n" in said and '{fact: "size", words: "6–9 mm"}' in said
    assert "to post" not in text
    assert shown(hedge).past == ()


def test_what_went_out_and_what_it_said_are_taken_back_as_one(hedge: Path) -> None:
    add(hedge, "parent-bug", "to post: 2026-05-28")
    account, note = hedge / "accounts/parent-bug.md", hedge / "posts/parent-bug.said.yaml"
    before = (account.read_bytes(), note.read_bytes() if note.exists() else None)
    with desk_on(hedge) as desk:
        note_posted(desk, {"account": "parent-bug"})
        assert note.exists() and note.read_bytes() != before[1]
        desk.writer.undo()
        assert (account.read_bytes(), note.read_bytes() if note.exists() else None) == before
        assert desk.writer.undo() is None


@pytest.mark.parametrize(
    "asked", [{}, {"account": "nobody", "week": ""}, {"account": "parent-bug"}, {"account": "parent-bug", "week": "soon"}]
)
def test_what_a_page_did_not_say_is_refused(hedge: Path, asked: dict[str, str]) -> None:
    before = (hedge / "accounts/parent-bug.md").read_bytes()
    with desk_on(hedge) as desk, pytest.raises(SaidInOneLineError, match="Load the page anew"):
        move_post(desk, asked)
    assert (hedge / "accounts/parent-bug.md").read_bytes() == before


def test_a_guide_that_cannot_be_read_has_an_empty_calendar(hedge: Path) -> None:
    (hedge / "guide.yaml").write_text("title: [\n", "utf-8")
    assert shown(hedge) == CalendarView()
