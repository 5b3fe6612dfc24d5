"""What tests of sightings noted in a browser do again and again: count, change what is stored, give it out as a table."""

from __future__ import annotations

import csv
from pathlib import Path

from playwright.sync_api import Page, expect

from guidebuild.session import open_session
from tests.browser.remembered import wait_until


def count_sightings(folder: Path, account: str, place: str, stage: str) -> int:
    tallies = open_session(folder).guide.sightings
    return sum(sum(t.counts) for t in tallies if (t.account, t.place, t.stage) == (account, place, stage))


def give_out(page: Page, to: Path) -> list[dict[str, str]]:
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Give out").tap()
    waiting.value.save_as(to)
    expect(page.locator(".mine small").first).to_contain_text("given out on")
    with to.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def change_stored(page: Page, change: str) -> None:
    """Change every record that the page keeps, by the text of a function."""
    page.evaluate(f"guideSeen.list().then((all) => Promise.all(all.map((r) => guideSeen.put(({change})(r)))))")


def count_at_first_stop(page: Page, address: str) -> None:
    page.goto(f"{address}tallies/september-hedge.html")
    page.locator(".stop").first.locator("li", has_text="Hawthorn Shieldbug").get_by_role("button", name="One more").tap()
    wait_until(page, "guideSeen.list().then((all) => all.length === 1)")


def give_tally(page: Page, to: Path) -> list[dict[str, str]]:
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Give out").tap()
    waiting.value.save_as(to)
    with to.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
