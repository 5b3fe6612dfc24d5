"""Scripts on the desk: the draft with its times, a copy of one's own, and its time with other words."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from guidebuild.authoring import CannotWriteError
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import RefusedError
from guidebuild.desk.parts.scripts import ScriptsView, add_section, locate_scripts, make_own, show_scripts, tell_times
from guidebuild.guide.findings import At
from guidebuild.resident import Resident
from guidebuild.speech.timing import write_clock
from guidebuild.views.scripts.script import make_script_views

SAMPLE = Path(__file__).resolve().parents[2] / "sample_guide"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    folder = tmp_path / "hedge"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing"))
    with Resident(folder) as resident:
        resident.follow(frozenset())
        yield Desk(folder, resident)


def page(desk: Desk, rest: str) -> ScriptsView:
    view = show_scripts(desk, rest, {})
    assert view is not None
    return view


def as_typed(view: ScriptsView) -> list[list[str]]:
    return [[section.key, section.text] for section in view.sections]


def test_every_account_has_its_kinds_and_the_authors_own_are_told_apart(desk: Desk) -> None:
    listed = {account: {offer.kind: offer.own for offer in offers} for account, _, offers in page(desk, "").accounts}
    assert listed["parent-bug"]["full"] is True
    assert set(listed) == set(desk.published.accounts if desk.published else ())
    assert not any(own for account, kinds in listed.items() for own in kinds.values() if account != "parent-bug")


def test_the_page_says_what_the_published_script_says(desk: Desk) -> None:
    assert desk.published is not None
    for script in make_script_views(desk.published):
        if script.account != "parent-bug":
            continue
        view = page(desk, f"parent-bug/{script.kind}")
        assert view.times is not None and script.slot is not None
        assert (view.own, view.times.total) == (not script.drafted, write_clock(script.seconds))
        within = script.slot[0] <= script.seconds <= script.slot[1]
        assert (view.times.verdict == "within") is within
        assert [len(section.lines) for section in view.sections] == [len(section.lines) for section in script.sections]


def test_other_words_take_another_time_and_nothing_is_written(desk: Desk) -> None:
    file = desk.folder / "episodes/parent-bug-full.md"
    before = file.read_bytes()
    view = page(desk, "parent-bug/full")
    typed = as_typed(view)
    asked = {"account": "parent-bug", "kind": "full", "texts": typed}
    same = tell_times(desk, asked)
    assert view.times is not None
    assert (same["times"]["total"], same["times"]["verdict"]) == (view.times.total, view.times.verdict)
    longer = [[key, "\n".join([text] * 3)] for key, text in typed]
    assert tell_times(desk, {**asked, "texts": longer})["times"]["verdict"] == "over"
    empty = tell_times(desk, {**asked, "texts": [[key, ""] for key, _ in typed]})
    assert empty["times"]["verdict"] == "under"
    assert len(empty["sections"]) == len(typed)
    assert file.read_bytes() == before


def test_a_mark_decides_what_is_seen_from_there(desk: Desk) -> None:
    typed = [["## Opening", "First words.\n[show parent-adult] Second words.\n[show no-such-photo] Third words."]]
    told = tell_times(desk, {"account": "parent-bug", "kind": "full", "texts": typed})
    first, second, third = told["sections"][0]["lines"]
    assert first["seen"] == ""
    assert second["seen"] and second["seen"] != third["seen"]
    assert third["seen"] == "to film: no-such-photo"


def test_a_draft_becomes_ones_own_and_says_the_same(desk: Desk) -> None:
    draft = page(desk, "hairy-shieldbug/full")
    assert not draft.own and draft.times is not None
    assert make_own(desk, {"account": "hairy-shieldbug", "kind": "full"}) == {"file": "episodes/hairy-shieldbug-full.md"}
    with Resident(desk.folder) as resident:
        resident.follow(frozenset())
        own = page(Desk(desk.folder, resident), "hairy-shieldbug/full")
    assert own.own and own.file == "episodes/hairy-shieldbug-full.md"
    assert own.times == draft.times
    with pytest.raises(CannotWriteError, match="exists already"):
        make_own(desk, {"account": "hairy-shieldbug", "kind": "full"})


@pytest.mark.parametrize(
    "asked",
    [
        {"account": "no-such", "kind": "full", "texts": []},
        {"account": "parent-bug", "kind": "short", "texts": []},
        {"account": "parent-bug", "kind": "full", "texts": [["## Opening"]]},
        {"account": "parent-bug", "kind": "full", "texts": [["## Opening", "Words.\n## Another\nMore."]]},
    ],
)
def test_what_is_no_script_is_refused(desk: Desk, asked: dict[str, object]) -> None:
    with pytest.raises(RefusedError):
        tell_times(desk, asked)


def test_a_line_of_an_episode_leads_to_its_page(desk: Desk) -> None:
    assert locate_scripts(desk, At("episodes/parent-bug-full.md", 9)) == "parent-bug/full"
    assert locate_scripts(desk, At("episodes/other.md", 9)) is None
    assert locate_scripts(desk, At("accounts/parent-bug.md", 9)) is None
    for rest in ("parent-bug", "parent-bug/long", "no-such/full"):
        assert show_scripts(desk, rest, {}) is None


def test_a_section_that_is_not_there_yet_is_made_as_the_last(desk: Desk) -> None:
    file = "episodes/parent-bug-full.md"
    before = page(desk, "parent-bug/full")
    asked = {"file": file, "digest": before.digest, "heading": "What I heard", "text": "A tap, and then nothing.\n"}
    text = (desk.folder / file).read_text("utf-8")
    add_section(desk, asked)
    after = (desk.folder / file).read_text("utf-8")
    assert after.startswith(text.rstrip()) and after.endswith("## What I heard\n\nA tap, and then nothing.\n")
    for wrong, told in (
        ({"heading": "What I heard"}, "already"), ({"heading": ""}, "Give the section a heading"), ({"heading": "# Two"}, "without #"),
        ({"heading": "New", "text": " "}, "Write what is said"), ({"heading": "New", "text": "a\n## b\nc"}, "section of its own"),
        ({"file": "guide.yaml"}, "which script"),
    ):  # fmt: skip
        with pytest.raises(RefusedError, match=told):
            add_section(desk, asked | {"digest": desk.writer.read(file).digest} | wrong)
    assert (desk.folder / file).read_text("utf-8") == after
