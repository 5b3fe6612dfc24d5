"""Noted by touch on a phone without a network, changed, given out as a table, and brought into the guide again and counted."""

from __future__ import annotations

import csv
import datetime as dt
import hashlib
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, expect

from guidebuild.cli import exit_code
from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.site.assets import OFFLINE, offline_script, site_assets
from guidebuild.press.outputs.site.offline import list_offline, paths_of_parts
from guidebuild.press.outputs.site.page import render_page
from guidebuild.session import open_session
from guidebuild.views.site.page import note_page
from guidebuild.views.site.pages import SitePages
from tests.browser.built_site import THEME, serve
from tests.browser.remembered import wait_until, wait_until_remembered
from tests.browser.seen_steps import change_stored, count_at_first_stop, count_sightings, give_out, give_tally
from tests.browser.test_accessible import AXE, RULES
from tests.desk.opened import copy_sample

TODAY = dt.date.today()  # the phone's day, which its tables bear
SHOWN = re.compile(
    r"index\.html|(es/)?(accounts/(parent-bug|hawthorn-shieldbug|scarlet-shieldbug|index)|walks/september-hedge|tallies/september-hedge"
    r"|seen|checklist|field|unkept|families/acanthosomatidae)\.html|(es/)?seen-\w+\.js"
)
BY_THE_BIRCHES = {"latitude": 51.506_123_456, "longitude": -1.200_987_654, "accuracy": 12.0}


@pytest.fixture(scope="module")
def hedge(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the sample, with those pages of its site that these tests open beside it."""
    folder = tmp_path_factory.mktemp("seen")
    guide = make_published(open_session(copy_sample(folder / "guide")).guide)
    pages = [page.make() for page in SitePages(guide, TODAY).list_all() if SHOWN.fullmatch(page.path)]
    files = {page.path: render_page(page, {}, THEME) for page in pages} | site_assets(pages, THEME, TODAY)
    notes = [note_page(page) for page in pages]
    told = {path: (len(data), hashlib.sha256(data).hexdigest()) for path, data in files.items()}
    files |= list_offline(told, paths_of_parts(notes, {}), notes) | {OFFLINE: offline_script(THEME)}
    for path, data in files.items():
        (folder / "site" / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / "site" / path).write_bytes(data)
    return folder


@pytest.fixture(scope="module")
def address(hedge: Path) -> Iterator[str]:
    server = serve(hedge)
    yield f"http://127.0.0.1:{server.server_port}/site/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, geolocation=BY_THE_BIRCHES, permissions=["geolocation"], bypass_csp=True
    )
    yield context
    context.close()


def test_what_is_noted_offline_comes_into_the_guide_and_counts_once(
    phone: BrowserContext, address: str, hedge: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = phone.new_page()
    page.goto(f"{address}field.html")
    page.get_by_label("Haws and shieldbugs").check()
    page.get_by_role("button", name="Keep what is ticked").tap()
    expect(page.locator(".keeping .kept")).to_contain_text("Kept for the field", timeout=30_000)
    phone.set_offline(True)

    page.goto(f"{address}walks/september-hedge.html")
    seen = page.locator(".entry", has_text="Hawthorn Shieldbug").first.get_by_role("button", name="Seen")
    box = seen.bounding_box()
    assert box and box["height"] >= 44 and box["width"] >= 44
    seen.tap()
    expect(page.locator(".seen-said")).to_contain_text("Noted: Hawthorn Shieldbug")
    expect(page.get_by_label("Place")).to_have_value("long-hedge")  # of the stop
    page.get_by_role("button", name="One more").tap()
    page.locator(".noted").get_by_text("adult").tap()
    wait_until(page, "guideSeen.list().then(([record]) => record.stage === 'adult')")
    page.reload()
    expect(seen).to_contain_text("2 today")

    page.wait_for_timeout(1100)  # the list is in the order of the seconds
    page.goto(f"{address}accounts/parent-bug.html")
    page.get_by_role("button", name="Seen").tap()
    page.locator(".noted").get_by_text("nymph").tap()
    page.get_by_role("button", name="Where am I?").tap()
    expect(page.get_by_label("Place")).to_have_value("birch-clump")
    page.wait_for_timeout(600)  # a finger that bounces notes once
    page.get_by_role("button", name="Seen").tap()
    page.get_by_role("button", name="Undo").tap()
    expect(page.get_by_role("button", name="Seen")).to_contain_text("1 today")

    page.goto(f"{address}seen.html")
    lines = page.locator(".mine li")
    expect(lines).to_have_count(2)
    lines.last.get_by_role("button", name="Delete").tap()
    expect(lines).to_have_count(1)
    page.get_by_role("button", name="Undo").tap()
    expect(lines).to_have_count(2)
    lines.last.get_by_role("button", name="Change").tap()
    page.get_by_role("button", name="One more").tap()
    page.get_by_role("button", name="Done").tap()
    expect(lines.last).to_contain_text("2 × Parent Bug, nymph")
    page.get_by_label("Your name").fill("A. Walker")
    page.get_by_label("Your name").blur()
    rows = give_out(page, tmp_path / "first.csv")
    assert [row["individualCount"] for row in rows] == ["2", "2"]
    assert {row["recordedBy"] for row in rows} == {"A. Walker"}
    assert [row["decimalLatitude"] for row in rows] == ["", "51.50612"]
    expect(page.get_by_role("button", name="Give out")).to_contain_text("(0)")
    lines.last.get_by_role("button", name="Delete").tap()  # it stands in the guide, where this cannot delete it
    expect(page.locator(".takeback")).to_contain_text("It was given out on")
    page.get_by_role("button", name="Undo").tap()
    page.get_by_label("Also what was given out before").check()
    assert give_out(page, tmp_path / "again.csv") == rows

    guide = shutil.copytree(hedge / "guide", tmp_path / "guide")
    wanted = [("hawthorn-shieldbug", "long-hedge", "adult"), ("parent-bug", "birch-clump", "nymph")]
    before = [count_sightings(guide, *one) for one in wanted]
    assert exit_code(["bring", str(tmp_path / "first.csv"), "--in", str(guide)]) == 0
    told = capsys.readouterr().out
    assert "2 sightings, of which 2 count" in told
    assert not [word for word in ("alike", "unknown", "not read", "left out") if word in told], told
    assert [count_sightings(guide, *one) for one in wanted] == [number + 1 for number in before]
    shutil.copy(tmp_path / "again.csv", guide / "sightings" / "again.csv")  # by hand, where `bring` would see that it is the same
    (guide / "sightings" / "again.csv").write_text((tmp_path / "again.csv").read_text(encoding="utf-8") + "\n", encoding="utf-8")
    assert [count_sightings(guide, *one) for one in wanted] == [number + 1 for number in before]


def test_a_leader_counts_for_the_group_offline_and_gives_out_what_nobody_saw_only_when_told(
    phone: BrowserContext, address: str, hedge: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = phone.new_page()
    page.goto(f"{address}walks/september-hedge.html")
    page.evaluate("navigator.serviceWorker.ready")
    page.reload()  # read once under the service worker, it opens without a network
    page.get_by_role("link", name="Count for the whole group").tap()
    # Of the page that comes: a count other than one would be true of the page that is left too.
    expect(page.get_by_label("Another species").first.locator("option[value=gorse-shieldbug]")).to_have_count(1)
    wait_until_remembered(page)
    phone.set_offline(True)
    page.reload()
    first, second = page.locator(".stop").nth(0), page.locator(".stop").nth(1)
    row = first.locator("li", has_text="Hawthorn Shieldbug")
    row.get_by_role("combobox").select_option("nymph")
    more = row.get_by_role("button", name="One more")
    box = more.bounding_box()
    assert box and box["height"] >= 44 and box["width"] >= 44
    for _ in range(5):  # as fast as a thumb can
        more.evaluate("(button) => button.click()")
    expect(row.locator("output")).to_have_text("5")
    row.get_by_role("button", name="One fewer").tap()
    page.get_by_role("button", name="Undo").tap()
    expect(row.locator("output")).to_have_text("5")
    expect(page.locator(".seen-said")).to_contain_text("Taken back: Hawthorn Shieldbug, nymph")
    second.get_by_label("Another species").select_option("gorse-shieldbug")
    page.keyboard.press("Enter")  # its plus has the focus
    expect(page.locator(".running")).to_contain_text("6 counted, 2 species")
    wait_until(page, "guideSeen.list().then((all) => all.length === 2)")  # shown at once, written in its turn
    page.reload()
    expect(row).to_contain_text("nymph 5")
    expect(second.locator("li", has_text="Gorse Shieldbug").locator("output")).to_have_text("1")
    assert page.locator("[data-seen*=scarlet], option[value=scarlet-shieldbug]").count() == 0  # a stop would be its place
    letters = phone.new_cdp_session(page)
    for size in (16, 32):  # a reader who takes letters of twice the size
        letters.send("Page.setFontSizes", {"fontSizes": {"standard": size}})
        page.set_viewport_size({"width": 320, "height": 700})
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), size
    letters.send("Page.setFontSizes", {"fontSizes": {"standard": 16}})
    page.set_viewport_size({"width": 390, "height": 844})
    page.evaluate(AXE.read_text(encoding="utf-8"))
    told = page.evaluate("(only) => axe.run(document, {runOnly: {type: 'tag', values: only}})", RULES)
    assert [(one["id"], one["nodes"][0]["target"]) for one in told["violations"]] == []

    expected = page.locator(".counts-of li").count()
    page.get_by_label("The tally is whole").check()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Give out").tap()
    waiting.value.save_as(tmp_path / "tally.csv")
    rows = list(csv.DictReader((tmp_path / "tally.csv").read_text(encoding="utf-8").splitlines()))
    present, absent = ([row for row in rows if row["occurrenceStatus"] == word] for word in ("present", "absent"))
    assert sorted((row["scientificName"], row["lifeStage"], row["individualCount"], row["locationID"]) for row in present) == [
        ("Acanthosoma haemorrhoidale", "nymph", "5", "long-hedge"),
        ("Piezodorus lituratus", "", "1", "birch-clump"),
    ]
    assert len(absent) == expected - 2
    assert {row["individualCount"] for row in absent} == {"0"}
    guide = shutil.copytree(hedge / "guide", tmp_path / "guide")
    before = count_sightings(guide, "hawthorn-shieldbug", "long-hedge", "nymph")
    assert exit_code(["bring", str(tmp_path / "tally.csv"), "--in", str(guide)]) == 0
    assert f"{len(rows)} sightings, of which 2 count" in capsys.readouterr().out
    assert count_sightings(guide, "hawthorn-shieldbug", "long-hedge", "nymph") == before + 1
    expect(page.get_by_role("button", name="Give out")).to_contain_text("(0)")
    more.tap()  # seen after all: the nought is none any more
    page.get_by_role("button", name="Start anew").tap()
    expect(page.locator(".running")).to_contain_text("0 counted")
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator(".running")).to_contain_text("7 counted")


def test_a_tally_given_out_days_later_is_of_its_own_day_and_what_changes_then_goes_out_again(
    phone: BrowserContext, address: str, hedge: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = phone.new_page()
    count_at_first_stop(page, address)
    change_stored(page, "(r) => ({ ...r, date: '2026-09-06', time: '11:00:00' })")
    page.reload()
    expect(page.locator(".tally .old")).to_contain_text("6 September 2026")
    page.get_by_label("The tally is whole").check()
    rows = give_tally(page, tmp_path / "first.csv")
    assert len(rows) > 5
    assert {row["eventDate"] for row in rows} == {"2026-09-06"}
    assert {row["eventTime"] for row in rows if row["occurrenceStatus"] == "absent"} == {""}
    expect(page.get_by_role("button", name="Give out")).to_contain_text("(0)")

    # One more than was given out, and one where nothing had been: both go out again under the ID that they had.
    stop = page.locator(".stop").first
    stop.locator("li", has_text="Hawthorn Shieldbug").get_by_role("button", name="One more").tap()
    stop.locator("li").nth(1).get_by_role("button", name="One more").tap()
    expect(page.get_by_role("button", name="Give out")).to_contain_text("(2)")
    page.goto(f"{address}seen.html")
    expect(page.locator(".mine li", has_text="2 × Hawthorn Shieldbug")).to_contain_text("changed since")
    page.goto(f"{address}tallies/september-hedge.html")
    again = give_tally(page, tmp_path / "second.csv")
    assert sorted(row["individualCount"] for row in again) == ["1", "2"]
    assert {row["occurrenceID"] for row in again} < {row["occurrenceID"] for row in rows}
    # Down to nothing after it went out: the nought is what goes out, and not silence.
    page.locator(".stop").first.locator("li").nth(1).get_by_role("button", name="One fewer").tap()
    expect(page.get_by_role("button", name="Give out")).to_contain_text("(1)")

    guide = shutil.copytree(hedge / "guide", tmp_path / "guide")
    assert exit_code(["bring", str(tmp_path / "first.csv"), "--in", str(guide)]) == 0
    before = count_sightings(guide, "hawthorn-shieldbug", "long-hedge", "adult")
    capsys.readouterr()
    assert exit_code(["bring", str(tmp_path / "second.csv"), "--in", str(guide)]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "2 sightings, of which 0 count" in told
    assert "individualCount “2” instead of “1”" in told
    assert "individualCount “1” instead of “0”" in told
    assert count_sightings(guide, "hawthorn-shieldbug", "long-hedge", "adult") == before


def test_counts_of_a_stop_that_the_walk_has_no_more_stand_below_the_others(phone: BrowserContext, address: str, tmp_path: Path) -> None:
    page = phone.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    count_at_first_stop(page, address)
    expect(page.get_by_text("Elsewhere")).to_be_hidden()
    change_stored(page, "(r) => ({ ...r, place: 'hay-meadow', tally: { ...r.tally, stop: 9 } })")
    page.reload()
    below = page.locator(".elsewhere")
    expect(below.locator("li")).to_have_count(1)
    expect(below.locator("li")).to_contain_text("Hawthorn Shieldbug, Parson's Hay Meadow")
    below.get_by_role("button", name="One more").tap()
    expect(below.locator("output")).to_have_text("2")
    expect(page.locator(".running")).to_contain_text("2 counted, 1 species")
    # Where only the order of stops changed, counts go with their place.
    wait_until(page, "guideSeen.list().then(([r]) => r.count === 2)")
    change_stored(page, "(r) => ({ ...r, place: 'birch-clump', tally: { ...r.tally, stop: 1 } })")
    page.reload()
    expect(page.locator("[data-place=birch-clump] li", has_text="Hawthorn Shieldbug").locator("output")).to_have_text("2")
    expect(below).to_be_hidden()
    assert faults == []


def test_fewer_than_none_stays_none(phone: BrowserContext, address: str) -> None:
    page = phone.new_page()
    count_at_first_stop(page, address)
    change_stored(page, "(r) => ({ ...r, count: 0 })")
    page.goto(f"{address}seen.html")
    page.get_by_role("button", name="Change").tap()
    shown = page.get_by_role("group", name="How many").locator("output")
    for button, count in (("One fewer", "0"), ("One more", "1"), ("One fewer", "0")):
        page.get_by_role("button", name=button).tap()
        expect(shown).to_have_text(count)
    expect(page.locator(".mine li")).to_contain_text("looked for, not found")


def test_of_a_secret_species_no_place_no_hour_and_no_finer_position_is_kept(phone: BrowserContext, address: str, tmp_path: Path) -> None:
    page = phone.new_page()
    page.goto(f"{address}accounts/scarlet-shieldbug.html")
    page.get_by_role("button", name="Seen").tap()
    expect(page.get_by_text("Where it lives is kept secret")).to_be_visible()
    expect(page.get_by_label("Place")).to_be_hidden()
    page.get_by_role("button", name="Where am I?").tap()
    expect(page.locator(".seen-said")).to_contain_text("as roughly as the guide tells it")
    (kept,) = page.evaluate("guideSeen.list()")
    assert (kept["place"], kept["time"]) == ("", "")
    assert kept["at"] == {"lat": 51.5, "lon": -1.2, "within": 15750, "decimals": 1}
    page.goto(f"{address}seen.html")
    (row,) = give_out(page, tmp_path / "secret.csv")
    assert (row["decimalLatitude"], row["decimalLongitude"], row["locationID"], row["eventTime"]) == ("51.5", "-1.2", "", "")


def test_secret_places_are_not_among_those_that_can_be_chosen(hedge: Path) -> None:
    offered = (hedge / "site" / "seen-places.js").read_text(encoding="utf-8")
    assert "long-hedge" in offered
    secret = [place for place in open_session(hedge / "guide").guide.places.values() if place.sensitivity]
    assert secret
    assert not [place.id for place in secret if place.id in offered or place.name in offered]


def test_ticks_stand_beside_what_was_seen_and_a_list_is_noted_from(phone: BrowserContext, address: str) -> None:
    page = phone.new_page()
    page.goto(f"{address}checklist.html")
    row = page.locator(".checks li", has_text="Parent Bug")
    row.get_by_role("button", name="Seen").tap()
    expect(row.locator(".ticked")).to_have_text("seen: 1")
    for path in ("accounts/index.html", "families/acanthosomatidae.html", "index.html"):
        page.goto(f"{address}{path}")
        expect(page.locator(".ticked").first).to_have_text("seen: 1")
    page.goto(f"{address}es/accounts/parent-bug.html")
    expect(page.get_by_role("button", name="Visto")).to_contain_text("hoy: 1")  # one list for all languages


def test_by_keyboard_and_for_screen_readers(phone: BrowserContext, address: str) -> None:
    page = phone.new_page()
    axe = AXE.read_text(encoding="utf-8")
    page.goto(f"{address}accounts/parent-bug.html")
    page.get_by_role("button", name="Seen").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("group", name="How many").locator("output")).to_have_text("1")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_role("group", name="How many").locator("output")).to_have_text("2")
    found = []
    for path in ("accounts/parent-bug.html", "checklist.html", "seen.html"):
        page.goto(f"{address}{path}")
        page.get_by_role("button", name="Change" if path == "seen.html" else "Seen").first.press("Enter")
        expect(page.locator(".noted")).to_be_visible()
        page.evaluate(axe)
        for width in (320, 390, 1280):
            page.set_viewport_size({"width": width, "height": 844})
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), (path, width)
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            told = page.evaluate("(only) => axe.run(document, {runOnly: {type: 'tag', values: only}})", RULES)
            found += [(path, scheme, one["id"], one["nodes"][0]["target"]) for one in told["violations"]]
    assert found == []


def test_where_the_browser_keeps_nothing_one_line_says_so(browser: Browser, address: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    context.add_init_script("Object.defineProperty(window, 'indexedDB', {get() { throw new DOMException('shut', 'SecurityError'); }})")
    page = context.new_page()
    page.goto(f"{address}accounts/parent-bug.html")
    expect(page.locator(".seen-said")).to_contain_text("This browser keeps nothing here")
    expect(page.get_by_role("button", name="Seen")).to_be_disabled()
    context.close()


def test_without_scripts_nothing_of_it_shows(browser: Browser, address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    for path in ("accounts/parent-bug.html", "walks/september-hedge.html", "checklist.html"):
        page.goto(f"{address}{path}")
        assert page.locator(".see:visible, a[href$='seen.html']:visible").count() == 0
    context.close()


def test_noted_from_disk_too_and_on_the_day_of_the_phones_own_clock(browser: Browser, hedge: Path) -> None:
    context = browser.new_context(timezone_id="Pacific/Auckland")
    page = context.new_page()
    page.clock.set_fixed_time(dt.datetime(2026, 9, 5, 11, 59, 58, tzinfo=dt.UTC))  # two seconds to midnight there
    page.goto((hedge / "site/accounts/parent-bug.html").as_uri())
    page.get_by_role("button", name="Seen").click()
    expect(page.get_by_label("Place").locator("option").nth(1)).to_be_attached()  # they come from disk as well
    page.clock.set_fixed_time(dt.datetime(2026, 9, 5, 12, 0, 1, tzinfo=dt.UTC))
    page.reload()
    expect(page.get_by_role("button", name="Seen")).not_to_contain_text("today")  # a new day
    page.get_by_role("button", name="Seen").click()
    expect(page.locator(".what-noted")).to_contain_text("00:00")
    kept = page.evaluate("guideSeen.list()")
    assert sorted((record["date"], record["time"]) for record in kept) == [("2026-09-05", "23:59:58"), ("2026-09-06", "00:00:01")]
    context.close()
