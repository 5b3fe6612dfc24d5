"""Sightings under a hand: words explained by mouse and by keys, and what stands in the files afterwards."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.test_accessible import AXE, RULES
from tests.desk.opened import Opened, open_desk

SAMPLE = Path(__file__).resolve().parents[2] / "sample_guide"
PATIENCE = 20_000
# Invented sightings.
ROWS = """scientificName,eventDate,locality,lifeStage
Elasmucha grisea,2025-06-04,old Birch clump,adult
Elasmucha grisea,2025-06-05,The far field,nimph
Elasmuca grisea,2025-06-06,Birch clump,adult
Nettle weevil,2025-06-06,Birch clump,adult
Elasmucha grisea,soon,Birch clump,adult
"""


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Opened]:
    folder = tmp_path / "hedge"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing"))
    (folder / "sightings" / "club.csv").write_text(ROWS, "utf-8")
    with open_desk(folder, entered=False) as opened:
        yield opened


@pytest.fixture
def page(browser: Browser, desk: Opened) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto(desk.address)
    page.goto(f"{desk.origin}/-desk/sightings/")
    yield page
    context.close()


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


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize(("width", "scheme"), [(390, "dark"), (1280, "light")])
def test_axe_finds_nothing_and_nothing_is_cut_off(browser: Browser, desk: Opened, width: int, scheme: str) -> None:
    context = browser.new_context(
        viewport={"width": width, "height": 844},
        color_scheme=scheme,  # type: ignore[arg-type]
        bypass_csp=True,
    )
    page = context.new_page()
    page.goto(desk.address)
    page.goto(f"{desk.origin}/-desk/sightings/")
    page.wait_for_load_state("load")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    result = page.evaluate("rules => axe.run({runOnly: rules, iframes: false})", RULES)
    assert [(v["id"], [n["html"][:90] for n in v["nodes"]]) for v in result["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    context.close()
