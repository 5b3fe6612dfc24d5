"""The author's pages in a real browser: nothing for axe to find, and a prompter that keeps the pace it was timed for."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from guidebuild.press.engine.progress import Silence
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import publish
from tests.browser.test_accessible import AXE, RULES
from tests.press.outputs.scripts.test_scripts_output import TODAY, photos_of, small

PAGES = ("scripts/index.html", "scripts/red-bug-short.html", "scripts/red-bug-short.prompter.html", "posts/index.html", "posts/plan.html")
PROMPTER = "scripts/red-bug-short.prompter.html"
NOON = dt.datetime(2026, 6, 12, 12)


@pytest.fixture(scope="module")
def working(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("working")
    photos_of(folder)
    made = publish(folder, small(), today=TODAY, progress=Silence(), wishes=Wishes(outputs=("scripts", "posts"), workers=1))
    assert [problem for problem in made.problems if problem.what != "drafts-off-slot"] == []
    assert made.leaks == ()
    return folder / "published"


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_axe_finds_nothing_on_a_working_page(browser: Browser, working: Path, width: int, scheme: str) -> None:
    context = browser.new_context(
        viewport={"width": width, "height": 800},
        color_scheme=scheme,  # type: ignore[arg-type]
        bypass_csp=True,
    )
    page = context.new_page()
    found = {}
    for path in PAGES:
        page.goto((working / path).as_uri())
        page.evaluate(AXE.read_text(encoding="utf-8"))
        result = page.evaluate("rules => axe.run({runOnly: rules})", RULES)
        found[path] = [(v["id"], [n["html"][:80] for n in v["nodes"]]) for v in result["violations"]]
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), path
    context.close()
    assert found == {path: [] for path in PAGES}


@pytest.fixture(params=["no-preference", "reduce"])
def prompter(browser: Browser, working: Path, request: pytest.FixtureRequest) -> Iterator[Page]:
    """The prompter with a clock that the test turns by hand."""
    context = browser.new_context(viewport={"width": 1280, "height": 800}, reduced_motion=request.param)
    page = context.new_page()
    page.clock.install(time=NOON)
    page.goto((working / PROMPTER).as_uri())
    page.clock.pause_at(NOON + dt.timedelta(hours=1))  # until then it runs on by itself, as long as the machine takes
    yield page
    context.close()


def at_eye_line(page: Page) -> str:
    """What is being said: the words at the line that the eyes rest on."""
    return str(
        page.evaluate("""() => {
        const eye = innerHeight * 0.45;
        const line = [...document.querySelectorAll("p[data-start]")].find((p) => {
            const box = p.getBoundingClientRect();
            return box.top <= eye + 1 && box.bottom > eye - 1;
        });
        return line ? line.dataset.start : "";
    }""")
    )


def test_the_words_stand_at_the_line_when_they_are_to_be_said(prompter: Page) -> None:
    starts = prompter.eval_on_selector_all("p[data-start]", "ps => ps.map(p => Number(p.dataset.start))")
    prompter.keyboard.press("Space")
    prompter.clock.run_for(20_000)
    assert prompter.text_content("#clock").startswith("0:20 of ")
    now = [start for start in starts if start <= 20.1][-1]
    before = [start for start in starts if start <= 19.8][-1]
    assert float(at_eye_line(prompter)) in (now, before)


def test_space_stops_and_home_goes_to_the_top(prompter: Page) -> None:
    prompter.keyboard.press("Space")
    prompter.clock.run_for(8_000)
    prompter.keyboard.press("Space")
    stood = prompter.evaluate("scrollY")
    prompter.clock.run_for(5_000)
    assert prompter.evaluate("scrollY") == stood > 0
    assert prompter.text_content("#run") == "Run"
    assert prompter.get_attribute("#run", "aria-pressed") == "false"
    prompter.keyboard.press("Home")
    assert prompter.text_content("#clock").startswith("0:00 of ")
    assert prompter.evaluate("scrollY") < stood


def test_keys_change_pace_size_and_mirror(prompter: Page) -> None:
    for _ in range(5):
        prompter.keyboard.press("ArrowRight")
    assert prompter.text_content("#clock").endswith(", 125 %")
    prompter.keyboard.press("Space")
    prompter.clock.run_for(8_000)
    assert prompter.text_content("#clock").startswith("0:10 of ")
    was = prompter.evaluate("getComputedStyle(document.querySelector('main p')).fontSize")
    prompter.keyboard.press("+")
    now = prompter.evaluate("getComputedStyle(document.querySelector('main p')).fontSize")
    assert float(now.removesuffix("px")) == float(was.removesuffix("px")) + 4
    prompter.keyboard.press("m")
    assert prompter.evaluate("getComputedStyle(document.querySelector('main')).transform") == "matrix(-1, 0, 0, 1, 0, 0)"
    assert prompter.get_attribute("#mirror", "aria-pressed") == "true"


def test_who_wants_less_motion_gets_one_step_a_line(prompter: Page) -> None:
    reduced = prompter.evaluate("matchMedia('(prefers-reduced-motion: reduce)').matches")
    prompter.keyboard.press("Space")
    stops = set()
    for _ in range(60):
        prompter.clock.run_for(200)
        stops.add(prompter.evaluate("scrollY"))
    lines = prompter.eval_on_selector_all("p[data-start]", "ps => ps.filter(p => Number(p.dataset.start) <= 12.1).length")
    assert (len(stops) <= lines + 1) == reduced
