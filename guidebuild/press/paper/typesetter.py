"""The library that sets type, as far as this machine has what it needs: without Pango all is made but PDFs, and one line says so.

Everything that sets type takes the library's names from here. Where Pango is missing they stand for nothing, and using one raises
`NoTypesetterError`.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from contextlib import redirect_stdout
from io import StringIO
from platform import freedesktop_os_release

from guidebuild.errors import SaidInOneLineError
from guidebuild.press.engine.problems import Problem

_BY_SYSTEM = {"darwin": "brew install pango", "win32": "pacman -S mingw-w64-x86_64-pango, in a window of MSYS2 (msys2.org)"}
_BY_DISTRIBUTION = {
    "debian": "apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
    "fedora": "dnf install pango",
    "rhel": "dnf install pango",
    "suse": "zypper install libpango-1_0-0",
    "arch": "pacman -S pango",
    "alpine": "apk add pango",
}
"""How Pango comes to each system; distributions by their own name or one that they are like (os-release). WeasyPrint 68, “First Steps”,
names most of these packages; that of SUSE is common practice, no source."""


class NoTypesetterError(SaidInOneLineError):
    """Type cannot be set on this machine."""


class _Missing:
    """Stands for each name of the library."""

    def __init__(self, *_given: object, **_options: object) -> None:
        raise NoTypesetterError(say_how_to_get())


def say_how_to_get(system: str = sys.platform, release: Mapping[str, str] | None = None) -> str:
    """What is missing and how it comes to this system."""
    found = _BY_SYSTEM.get(system, "")
    if not found:
        told = _read_release() if release is None else release
        names = [told.get("ID", ""), *told.get("ID_LIKE", "").split()]
        found = next((_BY_DISTRIBUTION[name] for name in names if name in _BY_DISTRIBUTION), "")
    how = f"Get it with: {found}" if found else "Get the package called pango from your system"
    return f"they need the library Pango, which is not found on this machine. {how}, then run guidebuild make again"


def tell_missing() -> tuple[Problem, ...]:
    """The one line for the author where PDFs cannot be made; nothing where they can."""
    return () if HAS_TYPESETTER else (Problem("no-typesetter", "PDFs and slides", f"not made: {say_how_to_get()}"),)


def _read_release() -> Mapping[str, str]:
    try:
        return freedesktop_os_release()
    except OSError:
        return {}


HAS_TYPESETTER = True
try:
    with redirect_stdout(StringIO()):  # it prints a page of advice for programmers
        from weasyprint import CSS, HTML, Document
        from weasyprint.css.counters import CounterStyle
        from weasyprint.formatting_structure import boxes
        from weasyprint.html import UA
        from weasyprint.text.fonts import FontConfiguration
        from weasyprint.urls import URLFetcher, URLFetcherResponse
except OSError:
    HAS_TYPESETTER = False
    CSS = HTML = Document = CounterStyle = FontConfiguration = URLFetcher = URLFetcherResponse = _Missing
    boxes, UA = None, ""

__all__ = (
    "CSS", "HTML", "UA", "CounterStyle", "Document", "FontConfiguration", "URLFetcher", "URLFetcherResponse", "boxes",
)  # fmt: skip
