"""Files beside the pages: style, scripts, typefaces, drawn signs, feeds, and what keeps the guide offline."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from guidebuild.guide.guide import Guide
from guidebuild.press import fonts
from guidebuild.press.fonts import FontFace
from guidebuild.press.site_plate import Pictures
from guidebuild.views.site_page import PageView

SubsetMaker = Callable[[FontFace, str], bytes]

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


def site_assets(
    guide: Guide, pages: Sequence[PageView], pictures: Pictures, theme_folders: tuple[Path, ...], today: dt.date, subset: SubsetMaker = fonts.subset
) -> dict[str, bytes]:
    """Every file of the site that is neither page nor picture: path from the root → bytes.

    `subset` may be a version of `fonts.subset` that remembers its answers.
    """
    assets = {f"assets/{name}": data for name, data in _static(theme_folders).items()}
    assets["assets/guide.css"] = (font_css() + squeezed(assets["assets/guide.css"].decode())).encode()
    assets |= {f"assets/{name}.woff2": data for name, data in web_fonts(signs_of(guide), subset).items()}
    return assets


def _static(folders: Iterable[Path]) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for folder in reversed(tuple(folders)):  # the guide's own come last and win
        static = folder / "static"
        if static.is_dir():
            found |= {path.name: path.read_bytes() for path in sorted(static.iterdir()) if path.is_file()}
    return found


def signs_of(guide: Guide) -> str:
    """All signs that the guide's text may put on a page."""
    return "".join(sorted(set(ALWAYS) | set(repr(guide))))


def web_fonts(signs: str, subset: SubsetMaker = fonts.subset) -> dict[str, bytes]:
    """The typefaces, cut down to the signs: file name without ending → WOFF2."""
    return {name: subset(fonts.face(family, weight=weight, italic=italic), signs) for name, family, weight, italic in WEB_FACES}


def font_css() -> str:
    """`@font-face` rules. `optional`: a face that is late waits for the next page, so that no line ever jumps."""
    return "".join(
        f'@font-face{{font-family:"{family}";font-weight:{weight};font-style:{"italic" if italic else "normal"};'
        f'font-display:optional;src:url("{name}.woff2")format("woff2")}}\n'
        for name, family, weight, italic in WEB_FACES
    )


def squeezed(css: str) -> str:
    """Style without comments and needless space."""
    return _TIGHT.sub(lambda m: m[1] or "", _SPACE.sub(" ", _COMMENT.sub("", css))).strip()
