"""Parts of the guide that can be kept for the field: each family, each walk, and which pages go with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from guidebuild.views.pieces.common import LinkView
from guidebuild.views.site.page import PageNote

PARTS = ("family", "walk")
"""Kinds of page that stand for a part; a part is called by its page's path."""

BESIDE = ("field.html", "find.html", "glossary.html", "cautions.html")
"""Pages that go with every part, where the guide has them."""

WAY_IN = "index.html"
"""The page that leads to a part. It goes along without its pictures: most are of species that the part does not hold."""


@dataclass(frozen=True, slots=True)
class FieldPage:
    """What can be kept: families and walks by their pages."""

    families: tuple[LinkView, ...]
    walks: tuple[LinkView, ...]


def field_parts(notes: Sequence[PageNote]) -> dict[str, tuple[PageNote, ...]]:
    """The pages of each part with the pictures that go along, by the path of the page that stands for it.

    With a family or walk go the accounts that its page names and the comparisons that those lead to.
    """
    by_path = {note.page.path: note for note in notes}
    return {note.page.path: tuple(_gathered(note, by_path)) for note in notes if note.page.kind in PARTS}


def _gathered(note: PageNote, by_path: Mapping[str, PageNote]) -> Iterator[PageNote]:
    base = note.page.site.base
    beside = [note_there for name in BESIDE if (note_there := by_path.get(base + name))]
    way_in = [replace(note_there, photos=()) for note_there in [by_path.get(base + WAY_IN)] if note_there]
    accounts = list(_linked(note, by_path, "account"))
    compared = [linked for account in accounts for linked in _linked(account, by_path, "compare")]
    yield from {note_there.page.path: note_there for note_there in (note, *way_in, *beside, *accounts, *compared)}.values()


def _linked(note: PageNote, by_path: Mapping[str, PageNote], kind: str) -> Iterator[PageNote]:
    return (found for path in note.links if (found := by_path.get(path)) and found.page.kind == kind)
