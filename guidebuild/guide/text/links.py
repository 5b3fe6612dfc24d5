"""Cross-references in Markdown: `[words](kind:target)`, `[words][name]` with `[name]: kind:target`, and `![words](photo:target)`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import unquote

from guidebuild.guide.findings import At
from guidebuild.guide.text.plain_text import tree_words
from guidebuild.later import imported_when_used

with imported_when_used():  # most texts never get there: with it comes the library for Markdown
    from guidebuild.guide.text import reader

KINDS = ("account", "term", "photo", "plant", "place", "source", "character", "walk", "caution")
# What nearly every link looks like. Where no other bracket stands in a text, and nothing that could change what a bracket means,
# the links found so are those that the reader finds: a test compares the two.
_LINK = r"\[([^\[\]<>()*_`&\\\n!]*+)\]\(([a-z]++:[\w.-]++|[\w./-]++)\)"
_EVERYDAY = re.compile(_LINK)  # begins with a plain sign: found many times faster
_EVERYDAY_OR_PICTURE = re.compile(rf"(!?){_LINK}")
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
    everyday = None if any(map(text.__contains__, _MAY_CHANGE)) else list(_EVERYDAY.finditer(text))
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


def replace_everyday_links(text: str, picture: str) -> str:
    """A text with the words of its everyday links in their place, and a sign for each picture; other links stay as they are."""
    if "![" in text:
        return _EVERYDAY_OR_PICTURE.sub(lambda match: picture if match[1] else match[2], text)
    return _EVERYDAY.sub(r"\1", text)


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
