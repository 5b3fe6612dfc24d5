"""Parts of the guide that can be kept for the field: each family, each walk, and which pages go with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from guidebuild.views.common import LinkView
from guidebuild.views.site_page import PageView, values_of

PARTS = ("family", "walk")
"""Kinds of page that stand for a part; a part is called by its page's path."""

BESIDE = ("index.html", "field.html", "find.html", "glossary.html", "cautions.html")
"""Pages that go with every part, where the guide has them."""


@dataclass(frozen=True, slots=True)
class FieldPage:
    """What can be kept: families and walks by their pages."""

    families: tuple[LinkView, ...]
    walks: tuple[LinkView, ...]


def field_parts(pages: Sequence[PageView]) -> dict[str, tuple[PageView, ...]]:
    """The pages of each part, by the path of the page that stands for it.

    With a family or walk go the accounts that its page names and the comparisons that those lead to.
    """
    by_path = {page.path: page for page in pages}
    return {page.path: tuple(_gathered(page, by_path)) for page in pages if page.kind in PARTS}


def _gathered(page: PageView, by_path: Mapping[str, PageView]) -> Iterator[PageView]:
    beside = [found for name in BESIDE if (found := by_path.get(page.site.base + name))]
    accounts = [linked for linked in _linked(page, by_path) if linked.kind == "account"]
    compared = [linked for account in accounts for linked in _linked(account, by_path) if linked.kind == "compare"]
    yield from {found.path: found for found in (page, *beside, *accounts, *compared)}.values()


def _linked(page: PageView, by_path: Mapping[str, PageView]) -> list[PageView]:
    paths = dict.fromkeys(link.path for link in values_of(LinkView, page.data))
    return [by_path[path] for path in paths if path in by_path]
