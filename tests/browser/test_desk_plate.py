"""The plate and the contact sheet under a hand: by mouse, by keys, and what stands in the files afterwards."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import FilePayload, Page, expect

from guidebuild.press.photos.copies import Focus, crop_box
from guidebuild.session import read_for_draft
from tests.browser.at_the_desk import PATIENCE
from tests.desk.opened import Opened, changed_lines


def _show(page: Page, desk: Opened, path: str) -> None:
    page.goto(f"{desk.origin}/-desk/{path}")
    page.wait_for_load_state("load")


def _written(page: Page) -> None:
    expect(page.locator("#said")).to_have_text("Written.", timeout=PATIENCE)


def test_a_mark_is_placed_by_a_click_moved_by_a_drag_and_taken_back(desk: Opened, wide: Page) -> None:
    file = desk.folder / "accounts/parent-bug.md"
    before = file.read_text("utf-8")
    _show(wide, desk, "plate/parent-adult")
    box = wide.locator("#stage").bounding_box()
    assert box
    wide.check('input[value="mark-1"]')
    wide.mouse.click(box["x"] + box["width"] * 0.25, box["y"] + box["height"] * 0.75)
    _written(wide)
    assert changed_lines(before, file) == ["-     at: 50.2, 50.4", "+     at: 25, 75"]
    disc = wide.locator('[data-thing="mark-1"]')
    expect(wide.locator(".marks .figure").first).to_have_text("25.0, 75.0", timeout=PATIENCE)
    disc.hover()
    box = wide.locator("#stage").bounding_box()  # the page may have moved to show the disc
    assert box
    wide.mouse.down()
    wide.mouse.move(box["x"] + box["width"] * 0.4, box["y"] + box["height"] * 0.4, steps=4)
    wide.mouse.up()
    expect(wide.locator(".marks .figure").first).to_have_text("40.0, 40.0", timeout=PATIENCE)
    assert changed_lines(before, file) == ["-     at: 50.2, 50.4", "+     at: 40, 40"]
    wide.click("#undo")
    expect(wide.locator(".marks .figure").first).to_have_text("25.0, 75.0", timeout=PATIENCE)
    wide.click("#undo")
    expect(wide.locator(".marks .figure").first).to_have_text("50.2, 50.4", timeout=PATIENCE)
    assert file.read_text("utf-8") == before


def test_everything_on_the_plate_is_done_by_keys_alone(desk: Opened, wide: Page) -> None:
    photos, account = desk.folder / "photos.yaml", desk.folder / "accounts/parent-bug.md"
    stood, before = account.read_text("utf-8"), photos.read_text("utf-8")
    _show(wide, desk, "plate/parent-adult")
    wide.locator('[data-thing="mark-2"]').focus()
    for key in ("ArrowRight", "ArrowRight", "Shift+ArrowDown"):
        wide.keyboard.press(key)
    expect(wide.locator(".marks .figure").nth(1)).to_have_text("63.2, 67.6", timeout=PATIENCE)
    assert changed_lines(stood, account) == ["-     at: 62.2, 62.6", "+     at: 63.2, 67.6"]
    wide.locator('[data-thing="scale-end"]').focus()
    wide.keyboard.press("ArrowUp")
    _written(wide)
    expect(wide.locator('input[value="scale"]')).to_have_attribute("data-line", "51.9 25.1 48.1 82.7", timeout=PATIENCE)
    assert changed_lines(before, photos) == ['-   measured: "51.9, 25.1 – 48.1, 83.2"', '+   measured: "51.9, 25.1 – 48.1, 82.7"']
    wide.locator('input[value="focus"]').focus()
    wide.keyboard.press("Space")
    wide.locator("#stage").focus()
    wide.keyboard.press("Shift+ArrowLeft")
    expect(wide.locator('input[value="focus"]')).to_have_attribute("data-x", "45.0", timeout=PATIENCE)
    assert "+   focus: 45, 50" in changed_lines(before, photos)
    wide.locator("#forget").focus()
    wide.keyboard.press("Enter")
    expect(wide.locator('[data-thing="focus"]')).to_have_count(0)
    expect(wide.locator('input[value="focus"]')).not_to_have_attribute("data-x", "45.0", timeout=PATIENCE)
    assert len(changed_lines(before, photos)) == 2


def test_a_number_leaves_the_place_where_another_mark_is_put(desk: Opened, wide: Page) -> None:
    _show(wide, desk, "plate/parent-adult")
    second = wide.locator('[data-thing="mark-2"]')
    box = second.bounding_box()
    assert box
    # Where the number of the second mark would stand if nothing were there.
    x, y = box["x"] + box["width"] / 2 + 26, box["y"] + box["height"] / 2 - 26
    wide.check('input[value="mark-1"]')
    wide.mouse.click(x, y)
    _written(wide)
    expect(second).not_to_have_attribute("data-corner", "top right", timeout=PATIENCE)
    number = second.locator(".number").bounding_box()
    assert number
    assert not (number["x"] <= x <= number["x"] + number["width"] and number["y"] <= y <= number["y"] + number["height"])


def test_the_card_beside_the_plate_is_that_of_the_account(desk: Opened, wide: Page) -> None:
    _show(wide, desk, "plate/parent-adult")
    wide.click("#card summary")
    expect(wide.get_by_alt_text("The front of its card")).to_be_visible(timeout=3 * PATIENCE)


def test_cuts_are_those_that_are_made(desk: Opened, wide: Page) -> None:
    """The page reckons them by itself, so that they follow the finger: with the figures of `crop_box`."""
    _show(wide, desk, "plate/parent-adult")
    for key in ("focus",):
        wide.check(f'input[value="{key}"]')
    box = wide.locator("#stage").bounding_box()
    assert box
    wide.mouse.click(box["x"] + box["width"] * 0.9, box["y"] + box["height"] * 0.1)
    shape = wide.locator(".plate").evaluate("plate => [Number(plate.dataset.width), Number(plate.dataset.height)]")
    for cut in wide.locator(".cut").all():
        across, down = (int(part) for part in str(cut.get_attribute("data-ratio")).split())
        shown = [float(part) for part in str(cut.get_attribute("data-box")).split()]
        focus = wide.locator('[data-thing="focus"]').evaluate("thing => [parseFloat(thing.style.left), parseFloat(thing.style.top)]")
        made = crop_box(shape[0], shape[1], (across, down), Focus(focus[0] / 100, focus[1] / 100))
        assert shown == pytest.approx(made, abs=1.0)


def test_a_length_that_cannot_be_read_is_told_beside_its_field(desk: Opened, wide: Page) -> None:
    before = (desk.folder / "photos.yaml").read_text("utf-8")
    _show(wide, desk, "plate/parent-adult")
    wide.fill("#length", "about a thumb")
    wide.keyboard.press("Tab")
    expect(wide.locator("#length-refusal")).to_contain_text("about a thumb", timeout=PATIENCE)
    assert (desk.folder / "photos.yaml").read_text("utf-8") == before
    wide.fill("#length", "9 mm")
    wide.keyboard.press("Tab")
    _written(wide)
    expect(wide.locator("#length-refusal")).to_have_count(0)
    assert "+   length: 9 mm" in changed_lines(before, desk.folder / "photos.yaml")


def test_what_was_changed_elsewhere_is_shown_before_anything_is_written(desk: Opened, wide: Page) -> None:
    file = desk.folder / "photos.yaml"
    _show(wide, desk, "plate/parent-adult")
    wide.route("**/-preview/events", lambda route: route.abort())  # a page that has not heard of it yet
    wide.reload()
    file.write_text(file.read_text("utf-8").replace('"51.9, 25.1 – 48.1, 83.2"', '"10, 10 – 20, 20"'), "utf-8")
    wide.locator('[data-thing="scale-end"]').focus()
    wide.keyboard.press("ArrowUp")
    expect(wide.locator("#elsewhere")).to_be_visible(timeout=PATIENCE)
    expect(wide.locator("[data-theirs]")).to_have_text("10, 10 – 20, 20")
    wide.click('#elsewhere button[value="yours"]')
    _written(wide)
    assert 'measured: "51.9, 25.1 – 48.1, 82.7"' in file.read_text("utf-8")


def test_pictures_are_dropped_chosen_with_shift_and_said_of_together(desk: Opened, wide: Page) -> None:
    _show(wide, desk, "pictures/")
    wide.set_input_files("#bring input", [_new(name) for name in ("IMG_1.jpg", "IMG_2.jpg", "IMG_3.jpg")])
    expect(wide.locator("#bring .coming li")).to_have_count(3, timeout=PATIENCE)
    wide.click("#bring .do")
    expect(wide.locator("#photo-img-3")).to_be_visible(timeout=PATIENCE)
    wide.check("#photo-img-1 input[name=photo]")
    wide.locator("#photo-img-3 input[name=photo]").click(modifiers=["Shift"])
    expect(wide.locator("#chosen-count")).to_have_text("3 pictures are chosen")
    wide.select_option("#set-account", "gorse-shieldbug")
    wide.select_option("#set-stage", "nymph")
    wide.fill("#set-credit", "Ann Reed")
    wide.click("#set-now")
    _written(wide)
    guide = read_for_draft(desk.folder)
    assert [(guide.photos[f"img-{n}"].account, guide.photos[f"img-{n}"].stage, guide.photos[f"img-{n}"].credit) for n in (1, 2, 3)] == [
        ("gorse-shieldbug", "nymph", "Ann Reed")
    ] * 3
    assert guide.accounts["gorse-shieldbug"].photos[-3:] == ("img-1", "img-2", "img-3")


def _new(name: str) -> FilePayload:
    out = BytesIO()
    Image.new("RGB", (320, 240), (40, 90, int(name[4]) * 20)).save(out, "JPEG")
    return {"name": name, "mimeType": "image/jpeg", "buffer": out.getvalue()}
