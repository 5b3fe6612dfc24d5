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
    "walks/june.html",
    "es/accounts/parent-bug.html",
]


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize(
    ("width", "scheme", "contrast", "paths"),
    [
        (320, "light", "no-preference", KINDS),
        (1280, "dark", "no-preference", KINDS[::3]),
        (1280, "light", "more", KINDS[1::3]),
    ],
    ids=["light-320", "dark-1280", "contrast-1280"],
)
def test_axe_finds_no_violation(browser: Browser, site: Path, width: int, scheme: str, contrast: str, paths: list[str]) -> None:
    # The page's own policy forbids scripts that are not its own: axe is let in by the test alone.
    context = browser.new_context(
        viewport={"width": width, "height": 800},
        color_scheme=scheme,  # type: ignore[arg-type]
        contrast=contrast,  # type: ignore[arg-type]
        reduced_motion="reduce",
        bypass_csp=True,
    )
    page = context.new_page()
    axe = AXE.read_text(encoding="utf-8")
    found = []
    for path in paths:
        page.goto((site / path).as_uri())
        page.evaluate(axe)
        told = page.evaluate("(rules) => axe.run(document, {preload: false, runOnly: rules})", RULES)
        found += [(path, one["id"], one["nodes"][0]["target"]) for one in told["violations"]]
    context.close()
    assert found == []


@pytest.mark.skipif(not (CHECKER.is_file() and shutil.which("java")), reason="needs Java and `npm install` in tests/browser")
def test_nu_html_checker_finds_no_error(site: Path) -> None:
    command = ["java", "-jar", str(CHECKER), "--errors-only", "--skip-non-html", str(site)]
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    assert told.stderr.strip() == ""
    assert told.returncode == 0
