"""A page as WeasyPrint reads it, without the styles of footnotes and list markers where it has neither.

WeasyPrint's own stylesheet gives each element of a page six styles more, for markers of lists, footnotes and notes. Working them
out takes 3 to 9 % of the time that our prints take, and nothing of them is ever seen.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from guidebuild.press.paper.fetching import BASE, GuideFetcher
from guidebuild.press.paper.typesetter import CSS, HTML, UA, CounterStyle

_SELDOM_SEEN = re.compile(r"footnote|list-item|marker|position\s*:\s*note|note-")
"""What a stylesheet says that makes footnotes, notes at the side, or list items of other elements."""


class PageSource(HTML):  # type: ignore[misc]  # WeasyPrint carries no types
    """One HTML document with the addresses that it may load."""

    def __init__(self, html: str, fetcher: GuideFetcher, styles: Iterable[str]) -> None:
        """`styles` are the texts of all stylesheets that it is laid out with."""
        super().__init__(string=html, base_url=BASE, url_fetcher=fetcher)
        self._is_plain = not any(map(_SELDOM_SEEN.search, (html, *styles)))

    def _ua_stylesheets(self, forms: bool = False) -> list[CSS]:
        own: list[CSS] = super()._ua_stylesheets(forms)
        return [_plain_stylesheet(), *own[1:]] if self._is_plain else own


@cache
def _plain_stylesheet() -> CSS:
    """WeasyPrint's own, whose markers are those of list items and whose notes are left out."""
    lines = (f"li{line}" if line.startswith("::marker") else line for line in UA.splitlines() if not line.startswith(("::foot", "::note")))
    return CSS(string="\n".join(lines), counter_style=CounterStyle())
