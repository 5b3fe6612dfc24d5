"""The chapters of the handbook: Markdown in `content/handbook/`, made into HTML with links that lead to keys, rules, words and commands."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any
from xml.etree.ElementTree import Element

import yaml
from markdown import Markdown
from markdown.extensions import Extension
from markdown.treeprocessors import Treeprocessor

from guidebuild.shipped import content, on_disk

LINKED = ("chapter", "key", "rule", "word", "command")
"""What a link of a chapter may point at, before a colon: `[the scale](key:photos/measured)`."""
_LINK = re.compile(rf"(?P<kind>{'|'.join(LINKED)}):(?P<to>.+)")
_FILE = re.compile(r"\d\d-(?P<id>[a-z-]+)\.md")


@dataclass(frozen=True, slots=True)
class Chapter:
    """One chapter as its author wrote it: `title` is its first heading, `lede` the paragraph below, `text` the Markdown of the rest."""

    id: str
    title: str
    lede: str
    text: str


@dataclass(frozen=True, slots=True)
class WordUsed:
    """A word of the trade as the tool uses it."""

    word: str
    meaning: str


@cache
def list_chapters() -> tuple[Chapter, ...]:
    """All chapters in the order in which one reads them: that of their files' names."""
    folder = on_disk(content()) / "handbook"
    found = [(match["id"], path) for path in sorted(folder.iterdir()) if (match := _FILE.fullmatch(path.name))]
    return tuple(_read_chapter(name, path.read_text("utf-8")) for name, path in found)


@cache
def list_words() -> tuple[WordUsed, ...]:
    """The words of the trade, by letter."""
    told: dict[str, str] = yaml.safe_load((on_disk(content()) / "handbook" / "words.yaml").read_text("utf-8"))
    return tuple(WordUsed(word, told[word]) for word in sorted(told, key=str.casefold))


def _read_chapter(name: str, text: str) -> Chapter:
    title, _, rest = text.removeprefix("# ").partition("\n")
    lede, _, body = rest.strip().partition("\n\n")
    return Chapter(name, title.strip(), " ".join(lede.split()), body)


def make_html(text: str, find_address: Callable[[str, str], str]) -> tuple[str, tuple[tuple[str, str], ...]]:
    """A chapter's HTML, and its headings of the second rank with their ids; `find_address` knows where a kind and its name stand."""
    reader = Markdown(
        extensions=["attr_list", "fenced_code", "tables", "def_list", "sane_lists", "toc", _Links(find_address)],
        extension_configs={"toc": {"permalink": False}},
    )
    html = reader.convert(text)
    tokens: list[Mapping[str, Any]] = getattr(reader, "toc_tokens", [])
    return html, tuple((str(token["id"]), str(token["name"])) for token in tokens if token["level"] == 2)


class _Links(Extension):
    """Links to keys, rules, words, commands and other chapters, led to where these stand."""

    def __init__(self, find_address: Callable[[str, str], str]) -> None:
        super().__init__()
        self._find = find_address

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802 (the library's name)
        """As the library asks it of an extension."""
        md.treeprocessors.register(_LinkLeader(md, self._find), "handbook-links", 1)


class _LinkLeader(Treeprocessor):
    def __init__(self, md: Markdown, find: Callable[[str, str], str]) -> None:
        super().__init__(md)
        self._find = find

    def run(self, root: Element) -> None:
        """Lead every link of ours to its address."""
        for link in root.iter("a"):
            if match := _LINK.fullmatch(link.get("href", "")):
                link.set("href", self._find(match["kind"], match["to"]))
