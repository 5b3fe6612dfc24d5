"""Files beside the pages: style, scripts, typefaces, drawn signs, feeds, and what keeps the guide offline."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from guidebuild.press.engine.trees import find_inside
from guidebuild.press.outputs.site.files import site_list, write_feed, write_manifest
from guidebuild.press.theme.sandbox import theme_text
from guidebuild.press.theme.sign_font import sign_font
from guidebuild.press.theme.trust import may_be_put_out
from guidebuild.press.theme.typefaces import font_css
from guidebuild.views.site.page import PageView

OFFLINE = "offline.js"
_TOKENS = "tokens.css"
"""Colours and typefaces: part of `first.css` when published."""
_SQUEEZED = (_TOKENS, "first.css", "guide.css", "telling.css", "asking.css", "map.css", "seen.css", "film.css", "sound.css")
"""Styles that an account's page waits for, or much that is read out of doors."""

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_SPACE = re.compile(r"\s+")
_TIGHT = re.compile(r" ?([{};,>]) ?|(?<=:) ")


def site_assets(pages: Sequence[PageView], theme_folders: tuple[Path, ...], today: dt.date) -> dict[str, bytes]:
    """Every file of the site that costs nothing to make: path from the root → bytes. Typefaces are jobs (`font_work`)."""
    assets = look_assets(theme_folders)
    home = pages[0]
    assets["guide.webmanifest"] = write_manifest(home)
    if home.site.address:
        assets["changes.atom"] = write_feed(pages, today)
        assets["sitemap.xml"] = site_list(pages)
    return assets


def look_assets(theme_folders: tuple[Path, ...]) -> dict[str, bytes]:
    """Styles, scripts and drawn signs: what depends on the theme alone."""
    static = static_files(theme_folders)
    styles = {name: squeeze_style(theme_text(static[name], f"static/{name}")) for name in _SQUEEZED}
    assets = {f"assets/{name}": data for name, data in static.items() if name not in (OFFLINE, _TOKENS)}
    assets |= {f"assets/{name}": style.encode() for name, style in styles.items() if name != _TOKENS}
    assets["assets/first.css"] = f"{font_css('optional')}{styles[_TOKENS]}{styles['first.css']}".encode()
    assets["assets/near.css"] = font_css("swap").encode()
    assets["assets/signs.woff2"] = sign_font()
    return assets


def offline_script(theme_folders: tuple[Path, ...]) -> bytes:
    """The theme's service worker: it stands at the root of the site, as it may keep only what stands beside and below it."""
    return static_files(theme_folders)[OFFLINE]


def static_files(folders: Iterable[Path]) -> dict[str, bytes]:
    """The theme's own files by name, the guide's before the shipped ones."""
    files: dict[str, bytes] = {}
    for folder in reversed(tuple(folders)):  # the guide's own come last and win
        static = folder / "static"
        if static.is_dir():
            for name in sorted(path.name for path in static.iterdir()):
                file = find_inside(folder, f"static/{name}")
                if file is not None and file.is_file() and may_be_put_out(folder, name, data := file.read_bytes()):
                    files[name] = data
    return files


def squeeze_style(css: str) -> str:
    """Style without comments and needless space."""
    return _TIGHT.sub(lambda m: m[1] or "", _SPACE.sub(" ", _COMMENT.sub("", css))).strip()
