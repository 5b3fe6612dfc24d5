"""Files beside the pages: style, scripts, typefaces, drawn signs, feeds, and what keeps the guide offline."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from itertools import chain
from pathlib import Path

from guidebuild.guide.guide import Guide
from guidebuild.press import fonts
from guidebuild.press.sandbox import theme_text
from guidebuild.press.sign_font import FAMILY, SIGNS, sign_font
from guidebuild.press.site_files import feed, manifest, site_list
from guidebuild.press.store import Made
from guidebuild.press.trees import inside
from guidebuild.views.site_page import PageView

OFFLINE = "offline.js"

WEB_FACES = (
    ("serif-400", fonts.SERIF, 400, False),
    ("serif-400-italic", fonts.SERIF, 400, True),
    ("serif-600", fonts.SERIF, 600, False),
    ("sans-400", fonts.SANS, 400, False),
    ("sans-600", fonts.SANS, 600, False),
)
"""File name, family, weight, italic: five cuts are all that the theme sets."""

ALWAYS = "".join(map(chr, range(0x20, 0x7F))) + "".join(map(chr, range(0xA0, 0x100))) + "–—‘’“”„…×·•°′″−≤≥→←↑↓½¼¾"
"""Signs that every guide may need, whatever its text."""

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_SPACE = re.compile(r"\s+")
_TIGHT = re.compile(r" ?([{};,>]) ?|(?<=:) ")


def site_assets(pages: Sequence[PageView], theme_folders: tuple[Path, ...], today: dt.date) -> dict[str, bytes]:
    """Every file of the site that costs nothing to make: path from the root → bytes. Typefaces are jobs (`font_work`)."""
    assets = {f"assets/{name}": data for name, data in static_files(theme_folders).items() if name != OFFLINE}
    for name in ("first.css", "guide.css"):
        assets[f"assets/{name}"] = squeezed(theme_text(assets[f"assets/{name}"], f"static/{name}")).encode()
    assets["assets/first.css"] = font_css("optional").encode() + assets["assets/first.css"]
    assets["assets/near.css"] = font_css("swap").encode()
    assets["assets/signs.woff2"] = sign_font()
    home = pages[0]
    assets["guide.webmanifest"] = manifest(home)
    if home.site.address:
        assets["changes.atom"] = feed(pages, today)
        assets["sitemap.xml"] = site_list(pages)
    return assets


def offline_script(theme_folders: tuple[Path, ...]) -> str:
    """The theme's service worker, before it is told which files there are."""
    return theme_text(static_files(theme_folders)[OFFLINE], f"static/{OFFLINE}")


def static_files(folders: Iterable[Path]) -> dict[str, bytes]:
    """The theme's own files by name, the guide's before the shipped ones."""
    found: dict[str, bytes] = {}
    for folder in reversed(tuple(folders)):  # the guide's own come last and win
        static = folder / "static"
        if static.is_dir():
            names = (path.name for path in sorted(static.iterdir()))
            found |= {name: file.read_bytes() for name in names if (file := inside(folder, f"static/{name}")) and file.is_file()}
    return found


def signs_of(guide: Guide) -> str:
    """All signs that the guide's text may put on a page."""
    found = set(ALWAYS)
    for name in (field.name for field in fields(guide)):
        value = getattr(guide, name)
        # One record at a time: all of a large guide as one text would take more memory than everything else.
        for piece in chain(value, value.values()) if isinstance(value, Mapping) else (value,):
            found.update(repr(piece))
    return "".join(sorted(found))


@dataclass(frozen=True, slots=True)
class FontWork:
    """One typeface of the site and the signs it must have."""

    name: str
    family: str
    weight: int
    italic: bool
    signs: str


def font_work(signs: str) -> tuple[FontWork, ...]:
    """The typefaces to make, each published as `assets/<name>.woff2`."""
    return tuple(FontWork(*face, signs) for face in WEB_FACES)


def make_font(work: FontWork) -> Made:
    """One typeface cut down to its signs."""
    return Made((fonts.subset(fonts.face(work.family, weight=work.weight, italic=work.italic), work.signs),))


def font_css(display: str) -> str:
    """`@font-face` rules (`display` as in CSS Fonts Level 4, section 4.9).

    `optional`, on the web: a face that is late waits for the next page, so that no line ever jumps. Stand-ins of like width
    would let a late one be swapped in nearly without a jump, but not quite: some line always breaks elsewhere.
    """
    signs = ",".join(f"U+{ord(sign):X}" for sign in SIGNS)
    return (
        f'@font-face{{font-family:"{FAMILY}";font-weight:400 700;unicode-range:{signs};src:url("signs.woff2")format("woff2")}}\n'
        + "".join(
            f'@font-face{{font-family:"{family}";font-weight:{weight};font-style:{"italic" if italic else "normal"};'
            f'font-display:{display};src:url("{name}.woff2")format("woff2")}}\n'
            for name, family, weight, italic in WEB_FACES
        )
    )


def squeezed(css: str) -> str:
    """Style without comments and needless space."""
    return _TIGHT.sub(lambda m: m[1] or "", _SPACE.sub(" ", _COMMENT.sub("", css))).strip()
