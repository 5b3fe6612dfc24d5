"""Takes the pictures of the README from a published sample guide: `python -m tests.pictures.take sample_guide`.

Every page kind at 390, 820 and 1280 px in light, dark and high contrast becomes one sheet; a card and a script are turned
from their PDFs with pdftoppm.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, sync_playwright

from tests.desk.opened import open_desk

HERE = Path(__file__).parent
WIDTHS = (390, 820, 1280)
SCHEMES = ("light", "dark", "contrast")
HEIGHT = 1500
PAGES = {
    "home": "index.html",
    "account": "accounts/parent-bug.html",
    "caution": "accounts/hawthorn-shieldbug.html",
    "compare": "compare/birch-shieldbug--parent-bug.html",
    "key": "key.html",
    "finder": "finder.html",
    "practice": "practice.html",
    "find": "find.html",
    "plant": "plants/silver-birch.html",
    "place": "places/birch-clump.html",
    "family": "families/acanthosomatidae.html",
    "year": "seasons/index.html",
    "dekad": "seasons/06-2.html",
    "walk": "walks/september-hedge.html",
    "glossary": "glossary.html",
    "sources": "sources.html",
    "cautions": "cautions.html",
    "spanish": "es/accounts/parent-bug.html",
}


def main(argv: list[str]) -> int:
    """Take them all; the guide must have been made."""
    published = Path(argv[0]).resolve() / "published"
    chromium = shutil.which("chromium")
    if chromium is None or not (published / "site/index.html").is_file():
        print("Needs Chromium, and a guide that was made: make guide")
        return 2
    with sync_playwright() as play, tempfile.TemporaryDirectory() as work:
        browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        shots = Path(work)
        for kind, page in PAGES.items():
            if (published / "site" / page).is_file():
                sheet([shot(browser, published / "site" / page, shots, w, s) for s in SCHEMES for w in WIDTHS], HERE / f"{kind}.jpg")
            else:
                print(f"no page {page}")
        single(shot(browser, published / "site" / PAGES["account"], shots, 1280, "light", height=1150), HERE / "account.png", 900)
        single(shot(browser, published / "site" / PAGES["account"], shots, 390, "dark", height=844), HERE / "phone.png", 390)
        single(shot(browser, published / "scripts/parent-bug-short.html", shots, 1100, "light", height=1000), HERE / "script.png", 900)
        desk(browser, Path(argv[0]), shots)
        browser.close()
        card(published / "cards/parent-bug.pdf", shots, HERE / "card.png")
    return 0


def shot(browser: Browser, page: Path, folder: Path, width: int, scheme: str, *, height: int = HEIGHT) -> Path:
    """One page at a width in a colour scheme; high contrast as the system asks for it."""
    context = browser.new_context(
        viewport={"width": width, "height": height},
        color_scheme="dark" if scheme == "dark" else "light",
        contrast="more" if scheme == "contrast" else "no-preference",
    )
    tab = context.new_page()
    tab.goto(page.as_uri())
    tab.wait_for_load_state("networkidle")
    tab.evaluate("() => document.fonts.ready")
    file = folder / f"{page.stem}-{width}-{scheme}-{height}.png"
    tab.screenshot(path=file)
    context.close()
    return file


DESK = {
    "week": "week/", "account": "account/parent-bug", "pictures": "pictures/", "plate": "plate/parent-adult", "scores": "scores/",
    "seasons": "seasons/parent-bug", "sightings": "sightings/", "scripts": "scripts/parent-bug/full",
    "translation": "translation/parent-bug/es",
}  # fmt: skip
"""The parts of the desk, each with an address that shows what it does."""


def desk(browser: Browser, guide: Path, folder: Path) -> None:
    """Each part of the desk, wide by day and narrow by night; the plate for the README too."""
    copy = folder / "desk"
    shutil.copytree(guide, copy, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing"))
    with open_desk(copy, entered=False) as opened:
        for width, scheme in ((1280, "light"), (390, "dark")):
            context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme="dark" if scheme == "dark" else "light")
            tab = context.new_page()
            tab.goto(opened.address)
            for part, address in DESK.items():
                tab.goto(f"{opened.origin}/-desk/{address}")
                tab.wait_for_timeout(2500)  # its page beside it, which listens for ever to what changes
                tab.screenshot(path=folder / f"desk-{part}-{width}.png")
            context.close()
    for part in DESK:
        beside([folder / f"desk-{part}-1280.png", folder / f"desk-{part}-390.png"], HERE / f"desk-{part}.jpg")
    single(folder / "desk-plate-1280.png", HERE / "desk.png", 900)


def beside(shots: list[Path], target: Path) -> None:
    """Shots side by side, at 60 % of their size."""
    pictures = [picture.resize((round(picture.width * 0.6), round(picture.height * 0.6))) for picture in _opened(shots)]
    whole = Image.new("RGB", (sum(picture.width for picture in pictures) + 36, pictures[0].height + 24), "#8a8f8b")
    left = 12
    for picture in pictures:
        whole.paste(picture, (left, 12))
        left += picture.width + 12
    whole.save(target, quality=78, optimize=True)


def sheet(shots: list[Path], target: Path) -> None:
    """Nine shots in three rows, at a third of their size."""
    pictures = [small(path) for path in shots]
    gap = 12
    widths = [max(pictures[column + 3 * row].width for row in range(3)) for column in range(3)]
    height = pictures[0].height
    whole = Image.new("RGB", (sum(widths) + 4 * gap, 3 * height + 4 * gap), "#8a8f8b")
    for place, picture in enumerate(pictures):
        row, column = divmod(place, 3)
        whole.paste(picture, (gap + sum(widths[:column]) + column * gap, gap + row * (height + gap)))
    whole.save(target, quality=72, optimize=True)


def small(path: Path) -> Image.Image:
    """A shot at 40 % of its size."""
    with Image.open(path) as picture:
        return picture.convert("RGB").resize((round(picture.width * 0.4), round(picture.height * 0.4)), Image.Resampling.LANCZOS)


def single(path: Path, target: Path, width: int) -> None:
    """A shot for the README, in few colours so that it weighs little."""
    with Image.open(path) as picture:
        scaled = picture.convert("RGB").resize((width, round(picture.height * width / picture.width)), Image.Resampling.LANCZOS)
    scaled.quantize(192, dither=Image.Dither.FLOYDSTEINBERG).save(target, optimize=True)


def card(pdf: Path, folder: Path, target: Path) -> None:
    """Front and back side by side."""
    subprocess.run(["pdftoppm", "-r", "150", "-png", pdf, folder / "card"], check=True)
    sides = list(_opened(sorted(folder.glob("card-*.png"))[:2]))
    whole = Image.new("RGB", (sum(s.width for s in sides) + 36, sides[0].height + 24), "#8a8f8b")
    left = 12
    for side in sides:
        whole.paste(side, (left, 12))
        left += side.width + 12
    whole.quantize(192, dither=Image.Dither.FLOYDSTEINBERG).save(target, optimize=True)


def _opened(paths: list[Path]) -> Iterator[Image.Image]:
    for path in paths:
        with Image.open(path) as picture:
            yield picture.convert("RGB")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
