"""The whole site of a guide, every page put together."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterator

from guidebuild.fieldwork.published import Published
from guidebuild.views.site.page import PIECE, PageView
from guidebuild.views.site.pages import SitePages


def site_pages(guide: Published, today: dt.date) -> Iterator[PageView]:
    """Every page of the site, one after another."""
    return (page.make() for page in SitePages(guide, today).list_all())


def html_pages(guide: Published, today: dt.date) -> Iterator[PageView]:
    """Every page that a reader opens: no pieces, which are scripts."""
    return (page for page in site_pages(guide, today) if page.kind != PIECE)


def unwrap_piece(made: bytes) -> str:
    """The HTML in a piece of pages, as the script of one finds it."""
    _, html = json.loads(f"[{made.decode().strip().removeprefix('guidePiece(').removesuffix(')')}]")
    return str(html)
