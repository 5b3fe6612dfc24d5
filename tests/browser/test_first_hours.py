"""An invented harbour's guide made at the desk: fourteen photos, a friend's list, a year's notes, and no editor opened.

Each thing that the author does is counted, beside what a new user typed for as many species without a desk: 747 lines, and 48
divisions by hand for places on photos. The accounts come to what a sketch asks, with one mark on a photo each.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, FilePayload, Page, expect

from guidebuild.guide.findings import Level
from guidebuild.session import open_session
from tests.bringing.harbour import PHOTOS, SPECIES, lay_out
from tests.desk.opened import Opened, open_desk

LINES_BY_HAND, DIVISIONS_BY_HAND = 747, 48
PATIENCE = 40_000
MARKS = {
    "redshank": "orange-red legs", "greenshank": "slightly upturned bill", "dunlin": "black belly in summer", "knot": "short straight bill",
    "curlew": "long downcurved bill", "oystercatcher": "long orange bill", "ringed-plover": "one black breast band",
    "grey-plover": "black armpits in flight",
}  # fmt: skip
BRIEF = {"dunlin": "The small wader of every flock.", "oystercatcher": "Loud, and black and white."}


class Author:
    """Whoever sits at the desk; `done` counts each press, choice, drop and text."""

    def __init__(self, page: Page, desk: Opened) -> None:
        self.page, self.desk, self.done = page, desk, 0

    def go(self, path: str) -> None:
        self.done += 1
        self.page.goto(f"{self.desk.origin}/-desk/{path}")
        self.page.wait_for_load_state("load")

    def click(self, selector: str) -> None:
        self.done += 1
        self.page.click(selector)

    def fill(self, selector: str, text: str) -> None:
        self.done += 1
        self.page.fill(selector, text)
        self.page.press(selector, "Tab")

    def choose(self, selector: str, value: str) -> None:
        self.done += 1
        self.page.select_option(selector, value)

    def drop(self, files: list[FilePayload]) -> None:
        """Files into the box, and the word that they shall be brought."""
        self.done += 2
        self.page.set_input_files("#bring input", files)
        expect(self.page.locator("#bring .do")).to_be_visible(timeout=PATIENCE)
        self.page.click("#bring .do")
        expect(self.page.locator("#bring .comes")).to_be_hidden(timeout=PATIENCE)

    def press_on_photo(self, across: float, down: float) -> None:
        self.done += 1
        box = self.page.locator("#stage").bounding_box()
        assert box
        self.page.mouse.click(box["x"] + box["width"] * across, box["y"] + box["height"] * down)


@pytest.fixture
def author(browser: Browser, tmp_path: Path) -> Iterator[Author]:
    guide = lay_out(tmp_path)
    with open_desk(guide, entered=False) as desk:
        context = browser.new_context(viewport={"width": 1280, "height": 900})
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        page.goto(desk.address)
        yield Author(page, desk)
        context.close()


def _payload(path: Path, name: str = "") -> FilePayload:
    return {"name": name or path.name, "mimeType": "application/octet-stream", "buffer": path.read_bytes()}


def _wait(author: Author, path: Path, words: str) -> None:
    for _ in range(400):
        if path.is_file() and words in path.read_text("utf-8"):
            return
        author.page.wait_for_timeout(100)
    pytest.fail(f"{words!r} was not written to {path.name}")


@pytest.mark.slow
def test_a_guide_is_made_at_the_desk_and_goes_on_by_hand(author: Author) -> None:
    guide = author.desk.folder
    offered = guide.parent
    author.go("week/")
    author.drop([_payload(offered / "friends.xlsx"), _payload(offered / "sightings.csv")])
    # A browser that is given files knows no folders; a dropped folder brings its name along.
    author.drop([_payload(offered / "card" / name, name.removeprefix("DCIM/").replace("/", " ")) for name, _ in PHOTOS])
    _assign_pictures(author)
    for account, brief in BRIEF.items():
        author.go(f"account/{account}")
        author.fill('textarea[data-kind="section"][id*="in-brief"]', brief)
        _wait(author, guide / f"accounts/{account}.md", brief)
    author.go("seasons/knot")
    author.click('#stage-adult button[data-at="30"]')
    _wait(author, guide / "accounts/knot.md", "\nseasons:")
    for account, mark in MARKS.items():
        _point_at(author, account, mark)
    session = open_session(guide)
    assert [str(f) for f in session.report.findings if f.level is Level.ERROR] == []
    made = session.guide
    assert len(made.accounts) == len(SPECIES)
    assert all(account.photos and account.diagnostics[0].point for account in made.accounts.values())
    assert all(photo.account and photo.credit and photo.licence for photo in made.photos.values())
    assert sum(seen.rows for tally in made.sightings for seen in tally.seen()) == 285
    assert author.done <= LINES_BY_HAND // 3
    assert len(MARKS) <= DIVISIONS_BY_HAND // 3
    _goes_on_by_hand(author)


def _assign_pictures(author: Author) -> None:
    """Those that no name spoke of get their species, and all of them their maker's terms."""
    page, photos = author.page, author.desk.folder / "photos.yaml"
    author.go("pictures/")
    expect(page.locator("#contacts li")).to_have_count(len(PHOTOS))
    for photo, account in (("little-ringed-plover", "ringed-plover"), ("2026-04-15-dsc01234", "knot"), ("2026-05-16-dsc01235", "curlew")):
        author.click(f"#photo-{photo} input" if photo[0].isalpha() else f'[id="photo-{photo}"] input')
        author.choose("#set-account", account)
        author.click("#set-now")
        _wait(author, author.desk.folder / f"accounts/{account}.md", photo)
        expect(page.locator("#chosen-count")).to_have_text("No picture is chosen")
    author.click("#contacts li:first-child input")
    author.done += 1
    page.locator("#contacts li:last-child input").click(modifiers=["Shift"])
    author.choose("#set-licence", "CC-BY-4.0")
    author.click("#set-now")
    _wait(author, photos, "credit: Ann Reed\n  licence: CC-BY-4.0")


def _point_at(author: Author, account: str, mark: str) -> None:
    """A mark in words, and where it is on the account's first photo."""
    file = author.desk.folder / f"accounts/{account}.md"
    author.go(f"account/{account}")
    author.click("#field-diagnostics details.blank summary")
    author.fill("#field-diagnostics details.blank .part:first-of-type :is(input, textarea)", mark)
    _wait(author, file, mark)
    photo = open_session(author.desk.folder).guide.accounts[account].photos[0]
    author.go(f"plate/{photo}")
    author.click('input[value="mark-1"]')
    author.press_on_photo(0.5, 0.4)
    _wait(author, file, "at: 50, 40")


def _goes_on_by_hand(author: Author) -> None:
    """The files are those of anyone's editor: a line changed there is on the desk at once, and what the desk wrote stays."""
    file = author.desk.folder / "accounts/redshank.md"
    author.page.goto(f"{author.desk.origin}/-desk/account/redshank")
    text = file.read_text("utf-8")
    file.write_text(text.replace("status: common", "status: common, fewer each year"), "utf-8")
    expect(author.page.locator("#field-status")).to_have_value("common, fewer each year", timeout=PATIENCE)
    author.page.fill("#field-family", "Sandpipers")
    author.page.press("#field-family", "Tab")
    _wait(author, file, "family: Sandpipers")
    assert "status: common, fewer each year" in file.read_text("utf-8")
    assert "at: 50, 40" in file.read_text("utf-8")
