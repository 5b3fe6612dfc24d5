"""Cross-references in Markdown: `[words](kind:target)`, `[words][name]` with `[name]: kind:target`, and `![words](photo:target)`."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import unquote

from guidebuild.guide.findings import At
from guidebuild.guide.text.everyday import EVERYDAY_LINK
from guidebuild.guide.text.plain_text import tree_words
from guidebuild.later import imported_when_used

with imported_when_used():  # most texts never get there: with it comes the library for Markdown
    from guidebuild.guide.text import reader

KINDS = ("account", "term", "photo", "plant", "place", "source", "character", "walk", "caution")
# Where no other bracket than those of everyday links stands in a text, and nothing that could change what a bracket means, the
# reader finds the same links: a test compares the two.
_MAY_CHANGE = ("\\", "`", "<", "&", "~", "|", "]:", "][", "] [", "[^")


@dataclass(frozen=True, slots=True)
class Link:
    """One link as written. `kind` is one of KINDS, or "" for an address or a file."""

    kind: str
    target: str
    words: str
    picture: bool
    at: At


def links_in(text: str, at: At) -> Iterator[Link]:
    """Links of a text that starts at a place, with their positions; what stands in code marks is no link."""
    if "[" not in text:
        return
    everyday = None if any(map(text.__contains__, _MAY_CHANGE)) else list(EVERYDAY_LINK.finditer(text))
    if everyday is not None and len(everyday) == text.count("[") == text.count("]"):
        for found in everyday:
            start = found.start()
            is_picture = text.startswith("!", start - 1, start)
            yield _link(found[2], found[1], is_picture, _position(text, start - is_picture, at))
        return
    tree = reader.read_tree(text)
    for element, start in tree.linked():
        picture = element.tag == "img"
        address = reader.without_marks(element.get("src" if picture else "href") or "")
        if address.startswith("#fn"):
            continue  # between a footnote and its number
        words = reader.without_marks(element.get("alt") or "") if picture else tree_words(element, tree)
        yield _link(address, words, picture, _position(text, start, at))


def _link(address: str, words: str, picture: bool, at: At) -> Link:
    kind, colon, target = unquote(address).strip().partition(":")
    if not colon or kind not in KINDS:
        return Link("", unquote(address).strip(), words, picture, at)
    return Link(kind, target.strip(), words, picture, at)


def _position(text: str, offset: int, start: At) -> At:
    if start.column:
        return start  # YAML may have folded the lines: only the start is sure
    line = text.count("\n", 0, offset)
    column = offset - (text.rfind("\n", 0, offset) + 1) + 1
    return At(start.file, start.line + line, column)
