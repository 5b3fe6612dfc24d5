"""An account on the desk, in a real browser: facts changed, refused, taken back, met with those of others; links, lists, names."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.held import FirstHeld
from tests.browser.test_accessible import AXE, RULES
from tests.conftest import NOT_COPIED, SAMPLE
from tests.desk.opened import Opened, open_desk

FILE = "accounts/parent-bug.md"
PATIENCE = 20_000


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Opened]:
    folder = tmp_path_factory.mktemp("desk") / "guide"
    shutil.copytree(SAMPLE, folder, ignore=NOT_COPIED)
    with open_desk(folder, entered=False) as opened:
        # Its address lets in one browser only as often as it is opened: one context for all tests.
        yield opened


@pytest.fixture(scope="module")
def page(browser: Browser, desk: Opened) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    opened = context.new_page()
    opened.set_default_timeout(PATIENCE)
    opened.goto(desk.address)
    yield opened
    context.close()


@pytest.fixture
def account(page: Page, desk: Opened) -> Iterator[Page]:
    """The page of one account, whose file is as in the sample."""
    (desk.folder / FILE).write_bytes((SAMPLE / FILE).read_bytes())
    shutil.rmtree(desk.folder / ".guidebuild" / "edited", ignore_errors=True)
    page.goto(f"{desk.origin}/-desk/account/parent-bug")
    expect(page.locator("#field-status")).to_have_value("common")
    yield page


def lines_of(desk: Opened) -> list[str]:
    return (desk.folder / FILE).read_text("utf-8").splitlines()


def changed_lines(desk: Opened) -> tuple[list[str], list[str]]:
    """Lines of the sample's file that are gone, and those that came."""
    before, after = (SAMPLE / FILE).read_text("utf-8").splitlines(), lines_of(desk)
    return [line for line in before if line not in after], [line for line in after if line not in before]


def wait_for_line(account: Page, desk: Opened, line: str) -> None:
    for _ in range(200):
        if line in lines_of(desk):
            return
        account.wait_for_timeout(50)
    pytest.fail(f"{line!r} was not written")


def test_a_fact_is_changed_the_page_follows_and_it_is_taken_back(account: Page, desk: Opened) -> None:
    field = account.locator("#field-status")
    field.fill("local: here # and there")
    field.press("Tab")
    expect(account.locator("#said")).to_have_text("Written.")
    assert changed_lines(desk) == (["status: common"], ['status: "local: here # and there"'])
    expect(account.frame_locator("iframe").get_by_text("local: here # and there").first).to_be_visible(timeout=PATIENCE)
    account.locator("#undo").click()
    expect(account.locator("#said")).to_contain_text("Undone")
    assert changed_lines(desk) == ([], [])
    expect(account.locator("#field-status")).to_have_value("common", timeout=PATIENCE)
    expect(account.locator("#undo")).to_be_hidden()


def test_what_is_refused_is_told_beside_the_field(account: Page, desk: Opened) -> None:
    field = account.locator("#field-size")
    field.fill("quite big")
    field.press("Enter")
    refusal = account.locator("#field-size-refusal")
    expect(refusal).to_contain_text("There is no measurement in 'quite big'. Write a range with its unit, such as 6–9 mm")
    expect(field).to_have_attribute("aria-describedby", "field-size-refusal")
    assert changed_lines(desk) == ([], [])
    field.fill("7–9 mm body length")
    field.press("Enter")
    expect(refusal).to_have_count(0)
    assert changed_lines(desk) == (["size: 6–9 mm body length"], ["size: 7–9 mm body length"])


@pytest.mark.parametrize("choice", ["Leave the file as it is", "Write mine"])
def test_what_was_changed_elsewhere_is_shown_beside_ones_own(account: Page, desk: Opened, choice: str) -> None:
    field = account.locator("#field-status")
    field.fill("mine")
    text = (desk.folder / FILE).read_text("utf-8")
    (desk.folder / FILE).write_text(text.replace("status: common", "status: theirs"), "utf-8")
    account.wait_for_timeout(1500)  # the page has seen the file again by now
    assert field.input_value() == "mine"
    field.press("Enter")
    dialog = account.locator("#elsewhere")
    expect(dialog.locator("[data-theirs]")).to_have_text("theirs")
    expect(dialog.locator("[data-yours]")).to_have_text("mine")
    assert "status: theirs" in lines_of(desk)
    dialog.get_by_role("button", name=choice).click()
    wanted = "mine" if choice == "Write mine" else "theirs"
    wait_for_line(account, desk, f"status: {wanted}")
    expect(account.locator("#field-status")).to_have_value(wanted, timeout=PATIENCE)


def test_another_field_that_changed_elsewhere_is_no_conflict(account: Page, desk: Opened) -> None:
    field = account.locator("#field-status")
    field.fill("mine")
    text = (desk.folder / FILE).read_text("utf-8")
    (desk.folder / FILE).write_text(text.replace("say: el-az-MOO-ka GRIZ-ee-a", "say: another"), "utf-8")
    expect(account.locator("#field-say")).to_have_value("another", timeout=PATIENCE)
    field.press("Enter")
    wait_for_line(account, desk, "status: mine")
    assert "say: another" in lines_of(desk)


def test_two_fields_that_are_left_one_upon_the_other_are_both_written(account: Page, desk: Opened) -> None:
    file = desk.folder / FILE
    file.write_text(re.sub(r"^size: .*$", "size: [6–9 mm]", file.read_text("utf-8"), flags=re.MULTILINE), "utf-8")  # as no field has it
    account.reload()
    typed = account.locator('[data-kind="typed"]')
    expect(typed).to_have_count(1)
    first = FirstHeld(account, "edit")
    account.fill("#field-status", "local")
    account.press("#field-status", "Tab")
    typed.fill("[7–9 mm]")
    typed.press("Tab")
    account.wait_for_timeout(300)
    first.let_go()
    wait_for_line(account, desk, "status: local")
    expect(account.locator("[data-unsaved]")).to_have_count(0, timeout=PATIENCE)
    assert not account.locator("#elsewhere").is_visible()
    assert "size: [7–9 mm]" in lines_of(desk)


def test_lists_and_records_grow_move_and_shrink(account: Page, desk: Opened) -> None:
    account.locator("#field-habitat .blank input").fill("hedgerow")
    account.locator("#field-habitat .blank input").press("Enter")
    wait_for_line(account, desk, "habitat: [woodland edge, park, hedgerow]")
    account.locator("#field-habitat li", has=account.locator("input[value=park]")).get_by_role("button").click()
    wait_for_line(account, desk, "habitat: [woodland edge, hedgerow]")
    hosts = account.locator("#field-host-plants")
    hosts.locator(".blank summary").click()
    hosts.locator(".blank [data-path*='\"part\"']").fill("bark")
    hosts.locator(".blank [data-path*='\"plant\"']").fill("oak")
    hosts.locator(".blank [data-path*='\"plant\"']").press("Enter")
    wait_for_line(account, desk, "  - plant: oak")
    assert lines_of(desk)[lines_of(desk).index("  - plant: oak") + 1] == "    part: bark"
    account.get_by_role("button", name="Move up: host plants 3").click()
    account.get_by_role("button", name="Move up: host plants 2").click()
    for _ in range(100):
        if next(line for line in lines_of(desk) if line.startswith("  - plant:")) == "  - plant: oak":
            break
        account.wait_for_timeout(50)
    account.get_by_role("button", name="Take away: host plants 1").click()
    expect(hosts.locator("[data-record][data-there]")).to_have_count(2)
    account.locator("#field-characters-legs").fill("brown, orange-red")
    account.locator("#field-characters-legs").press("Enter")
    wait_for_line(account, desk, "  legs: [brown, orange-red]")
    assert changed_lines(desk) == (
        ["  legs: [greenish, brown]", "habitat: [woodland edge, park]"],
        ["  legs: [brown, orange-red]", "habitat: [woodland edge, hedgerow]"],
    )


def test_a_record_is_kept_once_what_it_needs_is_there(account: Page, desk: Opened) -> None:
    similar = account.locator("#field-similar .blank")
    similar.locator("summary").click()
    similar.locator("[data-path*='\"note\"']").fill("Greener.")
    similar.locator("[data-path*='\"note\"']").press("Tab")
    expect(account.locator("#said")).to_have_text("It is kept once this is filled in too: account")
    assert changed_lines(desk) == ([], [])
    similar.locator("[data-path*='\"account\"']").fill("green-shieldbug")
    similar.locator("[data-path*='\"account\"']").press("Enter")
    wait_for_line(account, desk, "  - account: green-shieldbug")
    assert changed_lines(desk) == ([], ["  - account: green-shieldbug", "    note: Greener."])


def test_a_link_is_picked_into_the_words_and_the_page_shows_it(account: Page, desk: Opened) -> None:
    words = account.locator("#field-in-the-field")
    words.evaluate("field => { const at = field.value.indexOf('twig'); field.focus(); field.setSelectionRange(at, at + 4); }")
    account.get_by_role("button", name="Link: In the field").click()
    expect(account.locator("#picker-find")).to_have_value("twig")
    account.locator("#picker-find").fill("Silver")
    account.locator("#picker-find").press("Enter")
    assert "[twig](plant:silver-birch)" in words.input_value()
    expect(account.frame_locator("iframe").locator("a[href$='plants/silver-birch.html']", has_text="twig")).to_be_attached(timeout=PATIENCE)
    gone, come = changed_lines(desk)
    assert (len(gone), len(come)) == (1, 1)
    assert come[0] == gone[0].replace("twig", "[twig](plant:silver-birch)")


def test_both_sides_of_the_card_follow_the_facts(account: Page, desk: Opened) -> None:
    account.locator("#card summary").click()
    front, back = account.get_by_alt_text("The front of its card"), account.get_by_alt_text("The back of its card")
    expect(front).to_be_visible(timeout=4 * PATIENCE)
    expect(back).to_be_visible(timeout=PATIENCE)
    seen = front.get_attribute("src")
    assert seen is not None
    assert front.evaluate("image => image.naturalWidth") > 600
    account.locator("#field-vernacular").fill("Mothering Bug")
    account.locator("#field-vernacular").press("Enter")
    expect(front).not_to_have_attribute("src", seen, timeout=4 * PATIENCE)


def test_an_address_opens_its_field(account: Page, desk: Opened) -> None:
    line = (
        lines_of(desk).index("synonyms: []") + 1 if "synonyms: []" in lines_of(desk) else lines_of(desk).index("  egg: late May – June") + 1
    )
    account.goto(f"{desk.origin}/-desk/open?at={FILE}:{line}")
    expect(account.locator("#field-seasons-egg")).to_be_focused()
    account.goto(f"{desk.origin}/-desk/account/parent-bug#field-synonyms")
    expect(account.locator("#field-synonyms .blank input")).to_be_focused()


def test_an_account_is_begun_and_renamed(page: Page, desk: Opened) -> None:
    page.goto(f"{desk.origin}/-desk/account/")
    page.locator("#new-name").fill("not a name")
    page.locator("#new-name").press("Enter")
    expect(page.locator("#new-name-refusal")).not_to_be_empty()
    page.locator("#new-name").fill("Eysarcoris venustissimus (Schrank, 1776)")
    page.locator("#new-vernacular").fill("Woundwort Shieldbug")
    page.locator("#new-vernacular").press("Enter")
    page.wait_for_url("**/account/woundwort-shieldbug")
    expect(page.locator("#whole .missing a").first).to_be_visible(timeout=PATIENCE)
    page.locator("#whole .missing a").first.click()
    expect(page.locator(":focus")).to_have_attribute("data-path", '["family"]')
    page.locator(":focus").fill("Pentatomidae")
    page.locator(":focus").press("Tab")
    expect(page.locator("#said")).to_have_text("Written.")
    page.locator("#renaming summary").click()
    page.locator("#rename-id").fill("woundwort-bug")
    page.locator("#rename-id").press("Enter")
    plan = page.locator("#rename-plan")
    expect(plan).to_contain_text("accounts/woundwort-shieldbug.md → accounts/woundwort-bug.md")
    assert not (desk.folder / "accounts/woundwort-bug.md").exists()
    plan.get_by_role("button", name="Rename it now").click()
    page.wait_for_url("**/account/woundwort-bug")
    text = (desk.folder / "accounts/woundwort-bug.md").read_text("utf-8")
    assert "family: Pentatomidae\n" in text
    assert "formerly: [woundwort-shieldbug]\n" in text


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_all_can_be_read_and_reached(account: Page, width: int, scheme: str) -> None:
    account.set_viewport_size({"width": width, "height": 900})
    account.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    try:
        assert account.evaluate("document.documentElement.scrollWidth") <= width
        account.evaluate(AXE.read_text("utf-8"))
        found = account.evaluate("rules => axe.run({exclude: ['iframe']}, {runOnly: rules, iframes: false})", RULES)
        assert [(one["id"], [node["target"] for node in one["nodes"][:3]]) for one in found["violations"]] == []
    finally:
        account.set_viewport_size({"width": 1280, "height": 900})
        account.emulate_media(color_scheme="light")
