"""The site in a real browser: from disk, by keyboard, without a network, within its weight."""

from __future__ import annotations

import gzip
import random
import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from guidebuild.guide.characters import Ease
from guidebuild.identify.finder import FinderCharacter, FinderTable, rank_taxa
from guidebuild.identify.readings import Scope
from tests.benchmarks.bench_paint import ACCOUNT, WATCH, WEIGHTS, served, visit
from tests.browser.built_site import THEME

STATIC = THEME[0] / "static"


@pytest.mark.parametrize("path", ["index.html", "accounts/parent-bug.html", "es/finder.html", "practice.html"])
def test_page_works_from_disk_and_asks_nobody_else(page: Page, site: Path, path: str) -> None:
    said: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto((site / path).as_uri())
    page.wait_for_load_state("networkidle")
    assert said == []
    assert all(url.startswith((site.as_uri(), "data:")) for url in asked)
    assert page.evaluate("[...document.images].filter(i => i.complete && !i.naturalWidth).length") == 0
    assert page.evaluate("getComputedStyle(document.querySelector('h1')).fontFamily").startswith('"Guide Serif"')


def test_page_reads_without_javascript(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "practice.html").as_uri())
    page.locator(".question .answer summary").first.click()
    expect(page.locator(".question .verdict").first).to_be_visible()
    page.goto((site / "find.html").as_uri())
    expect(page.get_by_role("link", name="Parent Bug")).to_be_visible()
    context.close()


def test_mark_and_pointer_answer_each_other(page: Page, site: Path) -> None:
    page.goto((site / "accounts/parent-bug.html").as_uri())
    page.locator("#mark-2 .number").focus()
    expect(page.locator("#point-2")).to_have_class(re.compile("lit"))
    expect(page.locator("#point-1")).not_to_have_class(re.compile("lit"))
    page.locator("#point-1").focus()
    expect(page.locator("#mark-1")).to_have_class(re.compile("lit"))


def test_finder_leaves_what_fits_and_marks_what_does_not(page: Page, site: Path) -> None:
    page.goto((site / "finder.html").as_uri())
    page.get_by_label("a dark spot on it").focus()
    page.keyboard.press("Space")
    expect(page.locator(".tray .many")).to_have_text("1")
    page.get_by_role("button", name="List").click()
    names = page.locator(".tray li:visible b").all_inner_texts()
    assert names[0] == "Parent Bug"
    expect(page.locator(".tray li:visible .against").last).to_contain_text("scutellum")
    page.get_by_role("button", name="Start again").click()
    expect(page.locator(".tray .many")).to_have_text("2")


def test_finder_ranks_as_the_guides_maker_does(page: Page) -> None:
    page.goto("about:blank")
    page.add_script_tag(path=STATIC / "finder.js")
    chance = random.Random(7)
    for _ in range(40):
        characters, taxa = chance.randint(1, 6), chance.randint(2, 9)
        states = [chance.randint(2, 5) for _ in range(characters)]
        rows = tuple(tuple(chance.choice([-1, 0, *range(1, 1 << n)]) for n in states) for _ in range(taxa))
        made = tuple(
            FinderCharacter(str(c), str(c), "", int(Ease.CLOSE_UP), chance.choice([10, 15, 20, 22]), ("x",) * n)
            for c, n in enumerate(states)
        )
        table = FinderTable(tuple(f"t{t}" for t in range(taxa)), made, rows, rows, Scope())
        ticks = {c: chance.randrange(1 << states[c]) for c in chance.sample(range(characters), chance.randint(0, characters))}
        told = page.evaluate("([table, ticks]) => guideFinder.rank(table, ticks)", [table.plain(), {str(c): b for c, b in ticks.items()}])
        expected = rank_taxa(table, ticks)
        assert [(table.taxa[f["taxon"]], tuple(f["against"]), f["fits"]) for f in told["left"]] == [
            (f.taxon, f.against, f.fits) for f in expected.left
        ]
        assert tuple(told["next"]) == expected.next


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("parent", True),
        ("PARENT BUG", True),
        ("prent", True),
        ("parentt", True),
        ("elasmuhca", True),
        ("grisea", True),
        ("ciméx griseus", True),
        ("betula", True),
        ("spot", True),
        ("bu", True),
        ("moth", False),
        ("xyz", False),
    ],
)
def test_names_are_found_despite_case_accents_and_a_slip(page: Page, site: Path, typed: str, found: bool) -> None:
    page.goto((site / "find.html").as_uri())
    page.get_by_role("searchbox").fill(typed)
    shown = page.locator(".index li:visible a").all_inner_texts()
    assert ("Parent Bug" in shown) is found


def test_hybrid_is_found_with_x_or_the_sign(page: Page) -> None:
    # Case A08.
    page.goto("about:blank")
    page.add_script_tag(path=STATIC / "find.js")
    for typed in ("x fictilis", "×fictilis", "Rana x fictilis", "rana × fictilis"):
        worth = page.evaluate("(t) => guideFind.weigh(guideFind.parts(t), guideFind.parts('Rana ×fictilis'))", typed)
        assert worth > 0, typed


def test_practice_by_keyboard_says_which_mark_decides(page: Page, site: Path) -> None:
    page.goto((site / "practice.html").as_uri())
    expect(page.locator(".question:visible")).to_have_count(1)
    right = page.locator(".question:visible input[data-right]")
    right.focus()
    expect(page.locator(".question:visible .answer")).not_to_be_visible()
    page.keyboard.press("Space")
    expect(page.locator(".question:visible .said")).to_have_text("Right.")
    expect(page.locator(".score")).to_have_text("1 of 1 right")
    expect(page.locator(".question:visible .answer .tell")).to_be_visible()
    page.get_by_role("button", name="Next").click()
    expect(page.locator(".question:visible .said")).to_have_text("")
    expect(page.locator(".question:visible input").first).to_be_focused()


def test_home_shows_todays_third_of_a_month(page: Page, site: Path) -> None:
    page.clock.set_fixed_time("2026-12-20T12:00:00")
    page.goto((site / "index.html").as_uri())
    expect(page.locator(".now .dekad")).to_have_text("mid December")
    assert page.locator(".now .entry:visible a b").all_inner_texts() == ["Parent Bug"]
    assert page.locator(".now .dekad").get_attribute("href").endswith("seasons/12-2.html")
    expect(page.locator(".also")).to_be_hidden()


@pytest.mark.parametrize(
    ("day", "walk"), [("2026-06-12", "Haws and shieldbugs"), ("2026-11-28", "First sun on the gorse"), ("2028-02-01", "")]
)
def test_home_shows_five_with_pictures_and_names_the_rest(page: Page, sample_published: Path, day: str, walk: str) -> None:
    page.clock.set_fixed_time(f"{day}T12:00:00")
    page.goto((sample_published / "published/site/index.html").as_uri())
    dekad = page.evaluate("guide.dekad")
    ranked = page.locator(".now .likeliest").get_attribute("data-ranked") or ""
    out = ranked.split("|")[dekad].split("_")
    shown = page.locator(".now .entry:visible a b").all_inner_texts()
    named = page.locator(".also li:visible").all_inner_texts()
    assert len(shown) == 5
    assert len(shown) + len(named) == len(out)
    assert not set(shown) & set(named)
    assert page.locator(".ahead p:visible a").all_inner_texts() == ([walk] if walk else [])


def _shown_now(page: Page) -> list[tuple[str, str]]:
    return [
        (one.locator("a b").inner_text(), one.locator(".chance").inner_text()) for one in page.locator(".now .grid .entry:visible").all()
    ]


def test_home_turns_to_a_place_that_is_chosen_and_keeps_it(browser: Browser, sample_published: Path) -> None:
    root = (sample_published / "published/site").as_uri()
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    page.clock.set_fixed_time("2026-06-12T12:00:00")
    page.goto(f"{root}/index.html")
    anywhere = _shown_now(page)
    page.get_by_role("combobox", name="Where").select_option(label="Gorse Bank")
    expect(page.locator(".now .by")).to_contain_text("meeting each here")
    here = _shown_now(page)
    assert 0 < len(here) <= 5
    assert here != anywhere
    assert any("its host plant is here: Gorse" in why for _, why in here)
    page.goto(f"{root}/index.html")
    expect(page.get_by_role("combobox", name="Where")).to_have_value("gorse-bank")
    expect(page.locator(".now .by")).to_contain_text("meeting each here")
    assert _shown_now(page) == here
    page.goto(f"{root}/places/gorse-bank.html")
    expect(page.locator(".now .by")).to_be_attached()
    assert _shown_now(page) == here
    page.goto(f"{root}/es/index.html")
    page.get_by_role("combobox", name="Dónde").select_option("")
    page.goto(f"{root}/index.html")
    page.get_by_role("combobox", name="Where").focus()
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("combobox", name="Where")).not_to_have_value("gorse-bank")
    context.close()


@pytest.mark.parametrize(
    ("at", "place", "said"),
    [
        ((51.5112, -1.2093), "gorse-bank", "0.1 km from you"),
        ((51.42, -1.19), "chapel-garden", "9.0 km from you"),
        ((40.0, 3.0), "", "None of these places is within 30 km of you."),
        (None, "", "This device does not say where it is."),
    ],
)
def test_the_nearest_place_is_found_on_the_device(
    browser: Browser, sample_served: str, at: tuple[float, float] | None, place: str, said: str
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    if at:
        context.grant_permissions(["geolocation"])
        context.set_geolocation({"latitude": at[0], "longitude": at[1]})
    page = context.new_page()
    page.goto(sample_served)
    page.wait_for_load_state("networkidle")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.get_by_role("button", name="Nearest to me").click()
    expect(page.locator(".whereabouts [role=status]")).to_have_text(said)
    expect(page.get_by_role("combobox", name="Where")).to_have_value(place)
    expect(page.locator(".now.awaited")).to_have_count(0)
    page.wait_for_load_state("networkidle")
    # Nothing of where it is goes out: at most the list of the place is asked for, and pictures in it; nothing but the place is kept.
    assert [url.removeprefix(sample_served) for url in asked if not url.endswith((".webp", ".jpg", ".svg"))] == (
        [f"now/places/{place}.js"] if place else []
    )
    assert page.evaluate("Object.values(localStorage)") == ([place] if place else [])
    context.close()


def test_the_year_is_ordered_and_narrowed_by_keyboard(page: Page, site: Path) -> None:
    page.goto((site / "seasons/index.html").as_uri())
    shown = page.locator(".whole .rows li:visible b")
    # The later start under the earlier name, so that each order is another.
    page.evaluate("for (const li of document.querySelectorAll('.whole .rows li')) li.dataset.start = /Birch/.test(li.textContent) ? 20 : 9")
    page.get_by_role("combobox", name="Order").focus()
    page.keyboard.press("ArrowDown")
    expect(shown).to_have_text(["Birch Bug", "Parent Bug"])
    page.keyboard.press("ArrowUp")
    expect(shown).to_have_text(["Parent Bug", "Birch Bug"])
    page.get_by_role("combobox", name="Stage").select_option("nymph")
    expect(shown).to_have_text(["Parent Bug"])
    # Of the nymph alone: June, its second third, to August.
    expect(page.locator(".whole .rows li:visible .present")).to_have_attribute("d", "M16 6h8v2h-8z")
    expect(page.locator(".choose [role=status]")).to_have_text("1 shown")


def test_today_stands_in_its_place_where_the_year_starts_in_july(page: Page, site: Path) -> None:
    copy = site / "accounts/july.html"
    copy.write_text((site / "accounts/parent-bug.html").read_text("utf-8").replace("<body ", '<body data-first="18" '), "utf-8")
    for day, across in (("2026-07-01", 0.05), ("2026-06-30", 35.95), ("2026-01-01", 18.05)):
        page.clock.set_fixed_time(f"{day}T12:00:00")
        page.goto(copy.as_uri())
        drawn = page.locator(".bar .today").first.get_attribute("d") or ""
        assert float(drawn[1:].split()[0]) == pytest.approx(across, abs=0.02)
    copy.unlink()


def test_a_page_is_shared_with_the_part_that_is_read_and_never_as_a_file(page: Page, site: Path) -> None:
    # The invented guide has an address: its pages say it even from disk.
    page.add_init_script("navigator.share = async (what) => { globalThis.shared = what; }")
    page.goto(f"{(site / 'accounts/parent-bug.html').as_uri()}#not-this")
    page.get_by_role("button", name="Share this page").click()
    assert page.evaluate("shared.url") == "https://bugs.example/guide/accounts/parent-bug.html#not-this"
    # Without one a page from disk has nothing to give out.
    copy = site / "accounts/unaddressed.html"
    copy.write_text(re.sub(r'<link rel="canonical"[^>]*>', "", (site / "accounts/parent-bug.html").read_text("utf-8")), "utf-8")
    page.goto(copy.as_uri())
    expect(page.locator(".hand-on")).to_be_hidden()
    copy.unlink()


def test_chosen_look_stays(page: Page, site: Path) -> None:
    page.goto((site / "index.html").as_uri())
    page.get_by_label("Dark").check()
    page.goto((site / "glossary.html").as_uri())
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(16, 23, 19)"


@pytest.mark.parametrize(
    "path",
    ["index.html", "accounts/parent-bug.html", "compare/birch-bug--parent-bug.html", "key.html", "seasons/index.html", "finder.html"],
)
def test_nothing_is_wider_than_a_narrow_phone_with_large_text(page: Page, site: Path, path: str) -> None:
    page.set_viewport_size({"width": 320, "height": 700})
    page.goto((site / path).as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    # WCAG 2.2, 1.4.4: text at 200 per cent.
    page.set_viewport_size({"width": 640, "height": 700})
    page.evaluate("document.documentElement.style.setProperty('font-size', '225%')")
    assert page.evaluate("document.documentElement.scrollWidth") <= 640
    # The device's own letters twice as large, on the narrowest phone: nothing runs sideways, and nothing stands over what is read.
    page.evaluate("document.documentElement.style.removeProperty('font-size')")
    page.context.new_cdp_session(page).send("Page.setFontSizes", {"fontSizes": {"standard": 32}})
    page.set_viewport_size({"width": 320, "height": 700})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    expect(page.locator(".ways")).to_have_css("position", "static")


def test_nothing_jumps_while_a_page_loads(browser: Browser, address: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    page = context.new_page()
    watch = """globalThis.jumps = [];
        new PerformanceObserver((list) => { for (const entry of list.getEntries()) jumps.push(entry.value); })
            .observe({type: 'layout-shift', buffered: true});"""
    page.add_init_script(watch)
    page.goto(f"{address}accounts/parent-bug.html")
    page.wait_for_load_state("networkidle")
    page.mouse.wheel(0, 3000)
    page.wait_for_load_state("networkidle")
    assert page.evaluate("jumps") == []
    context.close()


@pytest.mark.parametrize("width", [390, 820, 1280])
def test_first_screen_stands_before_the_rest_of_the_style_and_stays_where_it_is(browser: Browser, address: str, width: int) -> None:
    context = browser.new_context(viewport={"width": width, "height": 844}, service_workers="block")
    page = context.new_page()
    page.add_init_script(WATCH)
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/guide.css", hold)
    page.goto(f"{address}accounts/parent-bug.html", wait_until="commit")
    page.evaluate("new Promise((painted) => new PerformanceObserver(painted).observe({type: 'paint', buffered: true}))")
    expect(page.locator(".marks li")).to_have_count(3)
    expect(page.locator(".marks .number").first).to_have_css("border-radius", "50%")
    assert page.locator(".not").count() == 0  # not in the page yet, so it cannot stand there without its style
    held[0].continue_()
    page.wait_for_load_state("networkidle")
    expect(page.locator(".not")).to_be_attached()
    assert page.evaluate("jumps") == 0
    context.close()


def test_the_ways_are_not_seen_to_grow_while_the_page_still_comes(page: Page, site: Path) -> None:
    page.goto((site / "accounts/parent-bug.html").as_uri())
    expect(page.locator(".ways")).to_be_visible()
    page.evaluate("while (document.querySelector('.top').nextSibling) document.querySelector('.top').nextSibling.remove()")
    expect(page.locator(".ways")).to_be_hidden()


def test_page_from_disk_stands_in_its_own_typefaces(browser: Browser, site: Path) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto((site / "accounts/parent-bug.html").as_uri())
    expect(page.locator("html:not([data-waiting])")).to_be_attached()
    tools = context.new_cdp_session(page)
    tools.send("DOM.enable")
    tools.send("CSS.enable")
    root = tools.send("DOM.getDocument")["root"]["nodeId"]
    for choice, family in (("h1", "Guide Serif"), (".family a", "Guide Sans")):
        node = tools.send("DOM.querySelector", {"nodeId": root, "selector": choice})["nodeId"]
        used = tools.send("CSS.getPlatformFontsForNode", {"nodeId": node})["fonts"]
        assert [(font["familyName"], font["isCustomFont"]) for font in used] == [(family, True)]
    context.close()


def test_the_list_of_a_chosen_place_ticks_what_was_seen(browser: Browser, sample_served: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    page = context.new_page()
    page.goto(f"{sample_served}accounts/parent-bug.html")
    page.locator(".see").first.click()
    expect(page.locator(".see .today").first).to_have_text("1 today")
    page.goto(sample_served)
    page.get_by_role("combobox", name="Where").select_option("birch-clump")
    expect(page.locator(".likeliest .by")).to_contain_text("here")  # the place's own list, which came later than the page
    expect(page.locator(".likeliest .ticked").first).to_have_text("seen: 1")
    context.close()


def test_account_page_keeps_its_weight(site: Path) -> None:
    def packed(*paths: str) -> int:
        return sum(len(gzip.compress((site / path).read_bytes(), 9)) for path in paths)

    assert packed("assets/look.js", "assets/guide.js", "assets/find.js", "assets/finder.js", "assets/practice.js") <= 14_000
    assert packed("assets/seen.js") <= 8_000 and packed("assets/giving.js", "assets/mine.js", "assets/tally.js") <= 8_000
    # All that an account's page asks for by itself, with its film, its sound and the button that notes what was seen.
    html = (site / "accounts/parent-bug.html").read_text(encoding="utf-8")
    scripts = {f"assets/{name}" for name in re.findall(r'<script src="\.\./assets/([^"]+)"', html)}
    styles = {f"assets/{name}" for name in re.findall(r'<link rel="stylesheet" href="\.\./assets/([^"]+)"', html)}
    assert scripts >= {"assets/look.js", "assets/guide.js", "assets/seen.js", "assets/film.js", "assets/sound.js"}
    assert styles >= {"assets/first.css", "assets/guide.css", "assets/seen.css", "assets/film.css", "assets/sound.css"}
    assert packed(*scripts) <= 15_000
    assert packed("accounts/parent-bug.html", *scripts, *styles) <= 40_000


@pytest.mark.slow
def test_sample_account_keeps_its_weight_on_the_line(browser: Browser, sample_published: Path) -> None:
    with served(sample_published / "published" / "site") as port:
        once = visit(browser, f"http://127.0.0.1:{port}/{ACCOUNT}", slow=False)
    for what, suffixes, limit in WEIGHTS:
        assert 0 < once.weight(*suffixes) <= limit, what
    assert once.shift == 0
