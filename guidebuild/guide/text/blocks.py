"""Markdown as what is read or spoken one after the other: paragraphs and items of lists, with the lines on which they stand.

Headings, tables, pictures, comments and footnotes are left out. Scientific names keep their stars (`split_names` tells them from the
other words), and a line stays a line, so that one can say where a sentence stands.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from guidebuild.guide.text.everyday import read_everyday
from guidebuild.guide.text.plain_text import tree_blocks
from guidebuild.later import imported_when_used

with imported_when_used():  # most texts never get there: with it comes the library for Markdown
    from guidebuild.guide.text import reader

_GAP = re.compile(r"\n\s*\n")
_NAME = re.compile(r"(?<![\w*])\*(?=[^\s*])([^*\n]+?)\*(?![\w*])")
_PICTURE = "\x00"  # so that a line with a picture alone does not part a paragraph
_FIRST_WORDS = re.compile(r"[^\W_][^\n*]*")


class Block(NamedTuple):
    """A paragraph or an item of a list: its words, and the line of the text on which it starts, counted from 0."""

    text: str
    line: int


def read_blocks(markdown: str) -> Iterator[Block]:
    """The blocks of a text in their order."""
    bare = read_everyday(markdown, _PICTURE)
    if bare is None:
        yield from read_from_tree(markdown)
        return
    line = last = 0
    for start, end in _find_paragraphs(bare):
        line += bare.count("\n", last, start)
        last = start
        text = bare[start:end]
        if text := (text.replace(_PICTURE, "") if _PICTURE in text else text).strip():
            yield Block(text, line)


def _find_paragraphs(text: str) -> Iterator[tuple[int, int]]:
    start = len(text) - len(text.lstrip())
    for gap in _GAP.finditer(text, start):
        yield start, gap.start()
        start = gap.end()
    yield start, len(text)


def read_from_tree(markdown: str) -> Iterator[Block]:
    """The blocks of a text as the reader finds them."""
    lines, at = markdown.split("\n"), 0
    for text in tree_blocks(reader.read_tree(markdown)):
        at = _find_line(lines, text, at)
        yield Block(text, at)
        at = min(at + text.count("\n") + 1, len(lines) - 1)


def _find_line(lines: list[str], text: str, after: int) -> int:
    """Where a block starts: the first line from `after` on that holds its first words, or else its first word."""
    words = _FIRST_WORDS.search(text)
    if words is None:
        return after
    for sought in (words[0].rstrip(), words[0].split()[0]):
        for number in range(after, len(lines)):
            if sought in lines[number] and not lines[number].startswith("#"):  # a heading is left out
                return number
    return after


def split_names(line: str) -> Iterator[tuple[str, bool]]:
    """The pieces of a line in their order, each with whether it stood between stars: such is a scientific name."""
    at = 0
    for name in _NAME.finditer(line):
        yield line[at : name.start()], False
        yield name[1], True
        at = name.end()
    yield line[at:], False
