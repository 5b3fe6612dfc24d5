"""An invented harbour's guide, from an empty folder to one that is publishable, made at the desk: no editor is opened.

There are fourteen photos, a friend's list and a year's notes. Each thing that the author does is counted, beside what a new user
did for as many species without a desk: 747 typed lines, and 48 divisions by hand for places on photos.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from guidebuild.checks.complete import PARTS, find_next_part
from guidebuild.cli import exit_code
from guidebuild.guide.findings import Level
from guidebuild.session import open_session
from tests.bringing.harbour import PHOTOS, SPECIES, lay_offers
from tests.browser.at_the_desk import PATIENCE, Author, make_payload
from tests.desk.opened import open_desk

LINES_BY_HAND, DIVISIONS_BY_HAND = 747, 48
ACCOUNTS = ("redshank", "greenshank", "dunlin", "knot", "curlew", "oystercatcher", "ringed-plover", "grey-plover")
BEGUN = {
    "title": "Waders of Saltgrave Harbour", "region": "Saltgrave", "publisher": "Saltgrave Shore Group", "licence": "CC-BY-4.0",
    "photo credit": "Saltgrave Shore Group", "photo licence": "CC-BY-4.0", "group": "bird", "time zone": "Europe/London",
}  # fmt: skip
PLACES = (("Sea wall", "mudflat, saltmarsh", "52.1000, 1.3000"), ("Outer spit", "shingle", "52.1200, 1.3400"))
SOURCE = {"cite": "Saltgrave notes 2025", "author": "Saltgrave Shore Group", "year": "2025", "title": "Notes from the sea wall"}
CHARACTERS = (
    ("bill", "How is the bill?", "straight\ncurved down\nshort\norange all along"),
    ("legs", "Which colour are the legs?", "red or orange\ngreen\nblack\ngrey"),
)
SCORES = {"redshank": "11", "greenshank": "12", "dunlin": "23", "knot": "32", "curlew": "24", "oystercatcher": "41", "ringed-plover": "31",
          "grey-plover": "33"}  # fmt: skip
"""By account, the digit of its bill and of its legs; as in the friend's notes, invented for the harbour."""
MARKS = {
    "redshank": ("orange-red legs", "white edge to the wing"), "greenshank": ("slightly upturned bill", "green legs"),
    "dunlin": ("black belly in summer", "bill curved at its tip"), "knot": ("short straight bill", "plain grey back"),
    "curlew": ("long downcurved bill", "streaked breast"), "oystercatcher": ("long orange bill", "pink legs"),
    "ringed-plover": ("one black breast band", "orange legs"), "grey-plover": ("black armpits in flight", "thick black bill"),
}  # fmt: skip
BRIEF = {"dunlin": "The small wader of every flock.", "oystercatcher": "Loud, and black and white."}
SECTIONS = {
    "how-to-know-it": "Look at {0} first. Then look for {1}: the two together are enough on this shore.",
    "where-to-look": "Stand on the sea wall two hours before high water, with the light behind you, and go along the edge of the mud.",
    "life-story": "It comes to the harbour when its young are grown, and moults here. In spring it goes back to where it breeds.",
    "in-the-field": "Keep below the top of the wall. A flock that lifts has lost a meal, so wait until it has come to you.",
}
STAGES = {"juvenile": "Like the adult in winter, with neat pale edges to the feathers of its back.",
          "adult": "Plain in winter; in spring its colours come back within a few weeks."}  # fmt: skip
NOTES = {"redshank": "The Greenshank has green legs.", "greenshank": "The Redshank has red legs.",
         "dunlin": "The Knot is larger and its bill is straight.", "knot": "The Dunlin is smaller and its bill is curved."}  # fmt: skip


@pytest.fixture
def author(browser: Browser, tmp_path: Path) -> Iterator[Author]:
    lay_offers(tmp_path)
    (tmp_path / "guide").mkdir()
    with open_desk(tmp_path / "guide", entered=False) as desk:
        context = browser.new_context(viewport={"width": 1280, "height": 900})
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        yield Author(page, desk)
        context.close()


@pytest.mark.slow
def test_a_publishable_guide_is_made_at_the_desk_and_goes_on_by_hand(author: Author) -> None:
    guide = author.desk.folder
    _begin(author)
    _bring(author)
    _see_to_pictures(author)
    _say_of_all(author)
    _write_accounts(author)
    _point_at_marks(author)
    _score(author)
    session = open_session(guide)
    lacking = {part.code for part in PARTS}
    assert [str(f) for f in session.report.findings if f.level is Level.ERROR or f.code in lacking] == []
    made = session.guide
    assert made.settings.level == "publishable"
    assert sorted(made.accounts) == sorted(ACCOUNTS) and len(ACCOUNTS) == len(SPECIES)
    assert [account.id for account in made.accounts.values() if find_next_part(made, account)] == []
    assert all(len([mark for mark in account.diagnostics if mark.point]) == 2 for account in made.accounts.values())
    assert all(photo.account and photo.credit and photo.licence and photo.alt for photo in made.photos.values())
    assert sum(seen.rows for tally in made.sightings for seen in tally.seen()) == 285
    print(f"{author.done} actions, {author.lines} lines typed among them, {author.points} places on photos")
    assert author.done <= LINES_BY_HAND // 3
    assert author.lines <= LINES_BY_HAND // 3
    assert author.points <= DIVISIONS_BY_HAND // 3
    _goes_on_by_hand(author)
    assert exit_code(["make", str(guide), "site", "cards"]) == 0
    assert (guide / "published/site/accounts/knot.html").is_file()


def _begin(author: Author) -> None:
    """guide.yaml, two places, a source and two characters."""
    author.open()
    for key, text in BEGUN.items():
        author.fill(f'form.begin [name="{key}"]', text)
    author.choose('form.begin [name="level"]', "publishable")
    author.choose('form.begin [name="hemisphere"]', "north")
    author.click('form.begin button[type="submit"]')
    author.page.wait_for_url("**/guide/places")
    for name, habitat, position in PLACES:
        _add(author, {"name": name, "habitat": habitat, "position": position}, "places.yaml", position)
    author.follow('a[href$="guide/sources"]')
    _add(author, SOURCE, "sources.yaml", "Notes from")
    author.follow('a[href$="guide/characters"]')
    for label, question, states in CHARACTERS:
        _add(author, {"label": label, "question": question, "states": states}, "characters.yaml", question)


def _add(author: Author, values: dict[str, str], file: str, words: str) -> None:
    for key, text in values.items():
        author.fill(f'form.new [name="{key}"]', text)
    count = author.page.locator(".one-record").count()
    author.click('form.new button[type="submit"]')
    author.wait(file, words)
    expect(author.page.locator(".one-record")).to_have_count(count + 1)


def _bring(author: Author) -> None:
    offered = author.desk.folder.parent
    author.follow('.parts a[href$="/pictures/"]')
    author.drop([make_payload(offered / "fuller.xlsx"), make_payload(offered / "sightings.csv")])
    # A browser that is given files knows no folders; a dropped folder brings its name along.
    author.drop([make_payload(offered / "card" / name, name.removeprefix("DCIM/").replace("/", " ")) for name, _ in PHOTOS])


def _see_to_pictures(author: Author) -> None:
    """Those that no name spoke of get their species, the one of a friend its licence, and all of them words."""
    page = author.page
    expect(page.locator("#contacts li")).to_have_count(len(PHOTOS))
    expect(page.locator("#set-account option")).to_have_count(len(ACCOUNTS) + 1)
    for photo, account in (("little-ringed-plover", "ringed-plover"), ("2026-04-15-dsc01234", "knot"), ("2026-05-16-dsc01235", "curlew")):
        author.click(f'[id="photo-{photo}"] input[type="checkbox"]')
        author.choose("#set-account", account)
        author.click("#set-now")
        author.wait(f"accounts/{account}.md", photo)
        expect(page.locator("#chosen-count")).to_have_text("No picture is chosen")
    author.click("#choose-all")
    author.choose("#set-licence", "CC-BY-4.0")
    author.click("#set-now")
    author.wait("photos.yaml", "credit: Ann Reed\n  licence: CC-BY-4.0")
    expect(page.locator("#chosen-count")).to_have_text("No picture is chosen")
    for photo in page.locator("#contacts li").evaluate_all("rows => rows.map(row => row.dataset.photo)"):
        author.fill(f'[id="alt-{photo}"]', f"A wading bird on wet mud, seen from the side: {photo}")
        author.wait("photos.yaml", f"side: {photo}")


def _say_of_all(author: Author) -> None:
    author.follow('.parts a[href$="/account/"]')
    expect(author.page.locator("#all-accounts li")).to_have_count(len(ACCOUNTS))
    author.click("#choose-all")
    for key, text in {"host plants": "none", "hazards": "none", "sources": "saltgrave-notes-2025", "reviewed.by": "Ann Reed",
                      "reviewed.on": "2026-11-20"}.items():  # fmt: skip
        author.fill(f'#many [name="{key}"]', text)
    author.click("#many-now")
    author.wait("accounts/redshank.md", "2026-11-20")


def _write_accounts(author: Author) -> None:
    """What the list did not say: words, seasons of the young, and how the look-alikes differ."""
    page = author.page
    for account in sorted(ACCOUNTS):
        file = f"accounts/{account}.md"
        author.follow("#all-accounts li:first-child a" if account == min(ACCOUNTS) else 'a[rel="next"]')
        for heading, words in SECTIONS.items():
            author.fill(f'textarea[data-kind="section"][id*="{heading}"]', words.format(*MARKS[account]))
        if account in BRIEF:
            author.fill('textarea[data-kind="section"][id*="in-brief"]', BRIEF[account])
        for stage, words in STAGES.items():
            author.fill(f'[id="field-life-stages-{stage}"]', words)
        author.fill('[id="field-seasons-juvenile"]', "July – November")
        if account == "knot":
            author.fill('[id="field-seasons-adult"]', "August – May")
        if account in NOTES:
            author.fill('[id="field-similar-0-note"]', NOTES[account])
            author.wait(file, NOTES[account])
        author.wait(file, "July – November")
        author.wait(file, STAGES["adult"])
        expect(page.locator("[data-unsaved]")).to_have_count(0)


def _point_at_marks(author: Author) -> None:
    """On each account's first photo: a press where the mark is, and what it is."""
    author.follow('a[href*="/plate/"]')
    while author.page.locator('a[rel="prev"]').count():
        author.follow('a[rel="prev"]')
    met: set[str] = set()
    while True:
        file = author.page.locator(".plate").get_attribute("data-account-file") or ""
        account = file.removeprefix("accounts/").removesuffix(".md")
        if account not in met:
            met.add(account)
            for number, mark in enumerate(MARKS[account]):
                author.press_on_photo(0.5 - 0.2 * number, 0.4)
                author.fill("#new-mark", mark, leave="Enter")
                author.wait(file, f"mark: {mark}")
                expect(author.page.locator(".marks li")).to_have_count(number + 1, timeout=PATIENCE)
        if len(met) == len(ACCOUNTS):
            return
        author.follow('a[rel="next"]')


def _score(author: Author) -> None:
    """The whole table by keys: a digit, an arrow."""
    author.follow('.parts a[href$="/scores/"]')
    rows = author.page.locator("tbody th a").evaluate_all("links => links.map(link => link.getAttribute('href').split('/').at(-1))")
    author.click("tbody tr:first-child td:nth-of-type(1) button")
    for row, account in enumerate(rows):
        for column, digit in enumerate(SCORES[account]):
            author.press(digit)
            expect(author.page.locator(f"tbody tr:nth-child({row + 1}) td:nth-of-type({column + 1}) button")).to_have_attribute(
                "data-state", "scored"
            )
            if column == 0:
                author.press("ArrowRight")
        if row + 1 < len(rows):
            author.press("ArrowDown")
            author.press("ArrowLeft")


def _goes_on_by_hand(author: Author) -> None:
    """The files are those of anyone's editor: a line changed there is on the desk at once, and what the desk wrote stays."""
    file = author.desk.folder / "accounts/redshank.md"
    author.page.goto(f"{author.desk.origin}/-desk/account/redshank")
    text = file.read_text("utf-8")
    file.write_text(text.replace("status: common", "status: common, fewer each year"), "utf-8")
    expect(author.page.locator("#field-status")).to_have_value("common, fewer each year", timeout=PATIENCE)
    author.page.fill("#field-family", "Sandpipers")
    author.page.press("#field-family", "Tab")
    author.wait("accounts/redshank.md", "family: Sandpipers")
    assert "status: common, fewer each year" in file.read_text("utf-8")
    assert "at: 50, 40" in file.read_text("utf-8")
