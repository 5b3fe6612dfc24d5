"""Every kind of page against axe's rules for WCAG 2.2 AA, and against the Nu HTML checker."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import Browser

PACKAGES = Path(__file__).parent / "node_modules"
AXE = PACKAGES / "axe-core" / "axe.min.js"
CHECKER = PACKAGES / "vnu-jar" / "build" / "dist" / "vnu.jar"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
KINDS = [
    "index.html",
    "accounts/parent-bug.html",
    "accounts/index.html",
    "families/acanthosomatidae.html",
    "plants/silver-birch.html",
    "plants/index.html",
    "places/long-hedge.html",
    "places/index.html",
    "seasons/index.html",
    "seasons/06-2.html",
    "compare/birch-bug--parent-bug.html",
    "compare/index.html",
    "key.html",
    "finder.html",
    "practice.html",
    "find.html",
    "glossary.html",
    "sources.html",
    "cautions.html",
    "field.html",
    "checklist.html",
    "seen.html",
    "tallies/june.html",
    "unkept.html",
    "walks/june.html",
    "walks/index.html",
    "films/parent-film.html",
    "films/index.html",
    "es/walks/june.html",
    "es/index.html",
    "es/accounts/parent-bug.html",
]


WIDTHS = (320, 1280)
LOOKS = {"light": ("light", "no-preference"), "dark": ("dark", "no-preference"), "high contrast": ("light", "more")}
OF_LOOK = ["color-contrast", "link-in-text-block", "target-size"]
"""The rules that a change of look can break; all others judge the page's elements, which every look shares."""


@pytest.mark.slow
@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
def test_axe_finds_no_violation_in_any_look(browser: Browser, site: Path) -> None:
    # The page's own policy forbids scripts that are not its own: axe is let in by the test alone.
    context = browser.new_context(reduced_motion="reduce", bypass_csp=True)
    page, axe = context.new_page(), AXE.read_text(encoding="utf-8")
    assert set(KINDS) <= {path.relative_to(site).as_posix() for path in site.rglob("*.html")}
    found = []
    for path in KINDS:
        page.goto((site / path).as_uri())
        page.evaluate(axe)
        for look, (scheme, contrast) in LOOKS.items():
            page.emulate_media(color_scheme=scheme, contrast=contrast)  # type: ignore[arg-type]
            for width in WIDTHS:
                page.set_viewport_size({"width": width, "height": 800})
                only = {"type": "tag", "values": RULES} if look == "light" else {"type": "rule", "values": OF_LOOK}
                told = page.evaluate("(only) => axe.run(document, {preload: false, runOnly: only})", only)
                found += [(path, look, width, one["id"], one["nodes"][0]["target"]) for one in told["violations"]]
    context.close()
    assert found == []


@pytest.mark.skipif(not (CHECKER.is_file() and shutil.which("java")), reason="needs Java and `npm install` in tests/browser")
def test_nu_html_checker_finds_no_error(site: Path) -> None:
    command = ["java", "-jar", str(CHECKER), "--errors-only", "--skip-non-html", str(site)]
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    assert told.stderr.strip() == ""
    assert told.returncode == 0
