"""Whose scripts may run in a reader's browser: ours, and those of a theme that the author has said yes to, once, by its digest.

A theme comes by mail with a guide; its scripts would run for every reader, with all that other pages of the same host hold. The
yes is kept with the author's own settings and never in the guide, since all of that comes by mail
too. A theme that changes is asked for again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path, PurePosixPath

import click

from guidebuild.press.engine.digest import digest_folder
from guidebuild.press.engine.problems import PressError, Problem
from guidebuild.press.engine.trees import files_below, find_inside
from guidebuild.press.theme.folders import find_theme
from guidebuild.shipped import on_disk, themes

POLICY = (
    "default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; font-src 'self'; media-src 'self'; "
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"
)
"""Nothing from another host, nothing inline. `data:` is for the small stand-ins of pictures."""
_STATE = "trusted-themes"
_RUNS = frozenset((".js", ".mjs", ".cjs", ".html", ".htm", ".xhtml", ".xht", ".xml", ".xsl", ".xslt", ".wasm", ".swf", ".hta", ".svgz"))
_TEMPLATES = frozenset((".html", ".xml"))
_IN_DRAWING = re.compile(rb"<script|\bon\w+\s*=|javascript:|<!entity|<foreignobject", re.IGNORECASE)
_INLINE = re.compile(r"<script(?![^>]*\b(?:src\s*=|type\s*=\s*[\"']?application/))|<[a-z][^<>]*\son[a-z]+\s*=|javascript:", re.IGNORECASE)
_DOCTYPE = re.compile(rb"\A(?:\xef\xbb\xbf|\s)*<!doctype[^>]*>", re.IGNORECASE)
_FIRST = f'<!DOCTYPE html>\n<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="{POLICY}">'.encode()


def is_trusted(theme: Path) -> bool:
    """Whether scripts of the theme in this folder may run."""
    return theme.resolve().is_relative_to(on_disk(themes()).resolve()) or digest_folder(theme) in _read_trusted()


def trust_theme(guide: Path) -> None:
    """Remember the guide's own theme, as it is now, as one whose scripts may run; raises `PressError` where that cannot be written down."""
    trusted = _read_trusted()
    for theme in find_theme(guide)[:-1]:
        trusted[digest_folder(theme)] = str(theme)
    try:
        _state().parent.mkdir(parents=True, exist_ok=True)
        _state().write_text("".join(f"{mark} {place}\n" for mark, place in trusted.items()), encoding="utf-8")
    except OSError as error:
        raise PressError(f"{error.filename or _state()} cannot be written: {error.strerror}; so the theme is not trusted yet") from error


def has_closed_theme(guide: Path) -> bool:
    """Whether the guide has a theme whose scripts may not run."""
    return not all(map(is_trusted, find_theme(guide)))


def may_be_put_out(theme: Path, path: str, data: bytes) -> bool:
    """Whether a file of a theme may stand beside the pages: of one that is not trusted nothing that a browser would run."""
    ending = PurePosixPath(path).suffix.lower()
    if ending in _RUNS:
        return is_trusted(theme)
    if ending == ".svg":
        plain = b"\0" not in data and b"&#" not in data
        return (plain and not _IN_DRAWING.search(data)) or is_trusted(theme)
    return True


def close_page(page: bytes) -> bytes:
    """A page on which no script runs but those beside it: the rule stands before anything that its template has put there."""
    return _FIRST + _DOCTYPE.sub(b"", page, count=1)


def tell_of_scripts(guide: Path) -> Iterator[Problem]:
    """Each file of the guide's theme whose scripts are left out as it is not trusted."""
    for theme in find_theme(guide)[:-1]:
        if is_trusted(theme):
            continue
        for path in sorted(files_below(theme)):
            file = find_inside(theme, path)
            if file is None or not file.is_file():
                continue
            data = file.read_bytes()
            template = PurePosixPath(path).suffix.lower() in _TEMPLATES and not path.startswith("static/")
            if template and _INLINE.search(data.decode("utf-8", "replace")):
                yield _untrusted(path, "the scripts that stand in this template do not run")
            elif not template and not may_be_put_out(theme, path, data):
                yield _untrusted(path, "this file can run in a reader's browser and is left out")


def _untrusted(path: str, what: str) -> Problem:
    mend = "If you know what it does, write `guidebuild make --trust-theme` once"
    return Problem("theme-scripts", f"theme/{path}", f"{what}, as the theme is not trusted. {mend}.")


def _state() -> Path:
    return Path(click.get_app_dir("guidebuild")) / _STATE


def _read_trusted() -> dict[str, str]:
    try:
        lines = _state().read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        return {}
    return {mark: place for mark, _, place in (line.partition(" ") for line in lines) if mark}


def script_folders(folders: Sequence[Path]) -> tuple[Path, ...]:
    """Those of a theme's folders from which scripts may come."""
    return tuple(folder for folder in folders if is_trusted(folder))
