"""An author at the desk, whose every press, choice, drop and text is counted."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import FilePayload, Page, expect

from tests.desk.opened import Opened

PATIENCE = 40_000
UNEXPLAINED = """scientificName,eventDate,locality,lifeStage
Elasmucha grisea,2025-06-04,old Birch clump,adult
Elasmucha grisea,2025-06-05,The far field,nimph
Elasmuca grisea,2025-06-06,Birch clump,adult
Nettle weevil,2025-06-06,Birch clump,adult
Elasmucha grisea,soon,Birch clump,adult
"""
"""Invented sightings, with words that the sample does not explain."""
_LINE = 100
"""Signs that a line of a text has in an editor."""


class Author:
    """Whoever sits at the desk. `done` counts actions, `lines` the lines that were typed, `points` the places shown on photos."""

    def __init__(self, page: Page, desk: Opened) -> None:
        self.page, self.desk, self.done, self.lines, self.points = page, desk, 0, 0, 0

    def open(self) -> None:
        """The desk itself: one command."""
        self.done += 1
        self.page.goto(self.desk.address)

    def go(self, path: str) -> None:
        """A page by its address, for what is a press or two elsewhere."""
        self.done += 1
        self.page.goto(f"{self.desk.origin}/-desk/{path}")
        self.page.wait_for_load_state("load")

    def follow(self, selector: str) -> None:
        """A link to another page."""
        self.done += 1
        before = self.page.url
        self.page.click(selector)
        self.page.wait_for_function("before => location.href !== before", arg=before)
        self.page.wait_for_load_state("load")

    def click(self, selector: str) -> None:
        self.done += 1
        self.page.click(selector)

    def press(self, key: str) -> None:
        self.done += 1
        self.page.keyboard.press(key)

    def fill(self, selector: str, text: str, leave: str = "Tab") -> None:
        """A field filled in, and left by a key."""
        self.done += 1
        self.lines += sum(-(-len(line) // _LINE) for line in text.splitlines())
        self.page.fill(selector, text)
        self.page.press(selector, leave)

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
        self.points += 1
        box = self.page.locator("#stage").bounding_box()
        assert box
        self.page.mouse.click(box["x"] + box["width"] * across, box["y"] + box["height"] * down)

    def wait(self, file: str, words: str) -> None:
        """Until a file of the guide says it."""
        path = self.desk.folder / file
        for _ in range(400):
            if path.is_file() and words in path.read_text("utf-8"):
                return
            self.page.wait_for_timeout(50)
        pytest.fail(f"{words!r} was not written to {file}")


def make_payload(path: Path, name: str = "") -> FilePayload:
    """A file as a browser is given it."""
    return {"name": name or path.name, "mimeType": "application/octet-stream", "buffer": path.read_bytes()}
