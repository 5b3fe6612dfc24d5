"""Parts of the guide that can be kept for the field: each family, each walk, and which pages go with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from guidebuild.views.pieces.common import LinkView
from guidebuild.views.site.finder import TABLE_MARK
from guidebuild.views.site.likeliest import NOW_MARK
from guidebuild.views.site.page import PageNote
from guidebuild.views.site.pairs import PAIR_PIECES, PAIRS_MARK
from guidebuild.views.site.seen import CHECKLIST, PLACES_MARK, SEEN
from guidebuild.views.site.tally import SPECIES_MARK, TALLY
from guidebuild.views.telling.compare import TWO

PARTS = ("family", "walk")
"""Kinds of page that stand for a part; a part is called by its page's path."""

FIELD = "field.html"
UNKEPT = "unkept.html"
"""What is shown, without a network, instead of a page that is not kept."""

TOOLS = frozenset(
    {FIELD, UNKEPT, "find.html", "find_names.html", "finder.html", "finder_species.html", TABLE_MARK, "key.html", "key_couplets.html"}
    | {"practice.html", "seasons.html", "dekad.html", "tell.html", "two.html", PAIRS_MARK, "glossary.html", "cautions.html"}
    | {CHECKLIST, SEEN, PLACES_MARK, SPECIES_MARK}
)
"""Templates of the pages that go with every part."""

WAYS_IN = ("index.html", "accounts/index.html")
"""Pages that lead to a part, as what is likeliest at each place does. They go along without their pictures: most are of species
that the part does not hold."""

MOST_PICTURES = 150
"""Pictures of the tools that go with every part: of a larger guide only those that practice asks about, and those of the part."""


@dataclass(frozen=True, slots=True)
class FieldPage:
    """What can be kept: families and walks by their pages."""

    families: tuple[LinkView, ...]
    walks: tuple[LinkView, ...]


@dataclass(frozen=True, slots=True)
class FieldPart:
    """The pages of one part, each with the pictures that go along: the tools, which all parts of a language share, and its own."""

    tools: tuple[PageNote, ...]
    own: tuple[PageNote, ...]


def field_parts(notes: Sequence[PageNote]) -> dict[str, FieldPart]:
    """What goes with each part, by the path of the page that stands for it.

    With a family or walk go the accounts that its page names, what those are compared with, their plants and places, and the tools.
    """
    by_path = {note.page.path: note for note in notes}
    shared = {base: _share_pictures(tuple(_find_tools(notes, base))) for base in dict.fromkeys(note.page.site.base for note in notes)}
    parts: dict[str, FieldPart] = {}
    for note in notes:
        if note.page.kind in PARTS:
            tools, left = shared[note.page.site.base]
            parts[note.page.path] = FieldPart(tools, tuple(_gather(note, by_path, left)))
    return parts


def _find_tools(notes: Iterable[PageNote], base: str) -> Iterator[PageNote]:
    for note in notes:
        if note.page.site.base == base:
            if note.page.path.removeprefix(base) in WAYS_IN or note.page.template == NOW_MARK:
                yield replace(note, photos=())
            elif note.page.template in TOOLS:
                yield note


def _share_pictures(tools: tuple[PageNote, ...]) -> tuple[tuple[PageNote, ...], frozenset[str]]:
    """The tools with the pictures that go with every part, and those that go only with the parts they belong to."""
    pictures = frozenset(photo for note in tools for photo in note.photos)
    if len(pictures) <= MOST_PICTURES:
        return tools, frozenset()
    asked = next((note.photos for note in tools if note.page.template == "practice.html"), ())
    return tuple(replace(note, photos=asked if note.page.template == "practice.html" else ()) for note in tools), pictures


def _gather(note: PageNote, by_path: Mapping[str, PageNote], left: frozenset[str]) -> Iterator[PageNote]:
    """The part's own pages."""
    accounts = list(_linked(note, by_path, {"account.html"}))
    further = [
        linked for one in (note, *accounts) for linked in _linked(one, by_path, {"compare.html", "plant.html", "place.html", "film.html"})
    ]
    compared = [one for one in further if one.page.template == "compare.html"]
    # Plants and places lead to other species too, whose pictures would be most of what is kept.
    compared += _find_pieces(accounts, by_path)
    held = {photo for one in (note, *accounts, *compared) for photo in one.photos}
    own = {one.page.path: one for one in (note, *accounts, *_linked(note, by_path, {TALLY}), *compared)}
    for one in further:
        own.setdefault(one.page.path, replace(one, photos=tuple(photo for photo in one.photos if photo in held or photo not in left)))
    yield from own.values()


def _find_pieces(accounts: Iterable[PageNote], by_path: Mapping[str, PageNote]) -> Iterator[PageNote]:
    """The pieces from which the page of any two shows the pairs that some accounts lead to: they stand by the first of each pair."""
    links = ((one.page.site.base, path) for one in accounts for path in one.links if TWO in path)
    led = dict.fromkeys((base, path.partition("#")[2].partition("--")[0]) for base, path in links)
    for base, first in led:
        number = 1
        while piece := by_path.get(f"{base}{PAIR_PIECES}/{first}/{number}.js"):
            yield piece
            number += 1


def _linked(note: PageNote, by_path: Mapping[str, PageNote], templates: set[str]) -> Iterator[PageNote]:
    return (found for path in note.links if (found := by_path.get(path.partition("#")[0])) and found.page.template in templates)
