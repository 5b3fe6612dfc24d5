"""Sightings under a hand: words explained by mouse and by keys, and what stands in the files afterwards."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.at_the_desk import PATIENCE, UNEXPLAINED
from tests.desk.opened import Opened, copy_sample, open_desk


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Opened]:
    folder = copy_sample(tmp_path / "hedge")
    (folder / "sightings" / "club.csv").write_text(UNEXPLAINED, "utf-8")
    with open_desk(folder, entered=False) as opened:
        yield opened


@pytest.fixture
def page(desk: Opened, wide: Page) -> Page:
    wide.goto(f"{desk.origin}/-desk/sightings/")
    return wide


def _written(page: Page) -> None:
    expect(page.locator("#said")).to_have_text("Written.", timeout=PATIENCE)


def test_a_place_and_a_name_are_explained_by_mouse(desk: Opened, page: Page) -> None:
    form = page.locator('form[data-word="old Birch clump"]')
    expect(form.locator("select")).to_have_value("birch-clump")
    form.locator("button").click()
    _written(page)
    expect(form).to_have_count(0)
    assert (desk.folder / "sightings.yaml").read_text("utf-8") == "places:\n  old Birch clump: birch-clump\n"
    account = desk.folder / "accounts/parent-bug.md"
    before = account.read_text("utf-8").splitlines()
    form = page.locator('form[data-word="Elasmuca grisea"]')
    expect(form.locator('[name="meaning"]')).to_have_value("parent-bug")
    expect(form.locator('[name="key"]')).to_have_value("synonyms")
    form.locator("button").click()
    expect(form).to_have_count(0, timeout=PATIENCE)
    changed = [line for line in account.read_text("utf-8").splitlines() if line not in before]
    assert len(changed) == 1 and "Elasmuca grisea" in changed[0]
    page.locator("#undo").click()
    expect(form).to_have_count(1, timeout=PATIENCE)
    assert account.read_text("utf-8").splitlines() == before


def test_a_stage_is_explained_and_a_genus_refused_by_keys(desk: Opened, page: Page) -> None:
    select = page.locator('form[data-word="nimph"] select')
    select.focus()
    expect(select).to_have_value("nymph")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    _written(page)
    assert (desk.folder / "sightings.yaml").read_text("utf-8") == "stages:\n  nimph: nymph\n"
    form = page.locator('form[data-word="Nettle weevil"]')
    form.locator("select").first.focus()
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")  # nothing is chosen: it leads back to the choice, and writes nothing
    expect(form.locator('[name="meaning"]')).to_be_focused()
    assert "Nettle" not in "".join(file.read_text("utf-8") for file in (desk.folder / "accounts").iterdir())
