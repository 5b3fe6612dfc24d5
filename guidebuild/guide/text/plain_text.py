"""Markdown as plain words, for scripts, posts and data; scientific names keep their stars where asked."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from html import unescape
from xml.etree.ElementTree import Element

from markdown.util import AMP_SUBSTITUTE, HTML_PLACEHOLDER_RE

from guidebuild.guide.text.reader import Tree, read_tree, without_marks

# Without any of these signs, and no line that begins as a list, an underline or a rule does, a text is its own words.
_SIGNS = re.compile(r"[*_\[\]<>`#|&\\!~\ue000-\uf8ff\U000f0000-\U0010ffff\x02\x03]|^[ \t]*(?:[-+=]|\d+[.)])|^[ \t]{4}", re.MULTILINE)
_BLOCK_TAGS = "address|article|aside|blockquote|caption|dd|details|div|dl|dt|fieldset|figcaption|figure|footer|form|h[1-6]|header|hr|li"
_BLOCK_TAGS += "|main|nav|ol|p|pre|section|summary|ul"
_IS_BLOCK = re.compile(_BLOCK_TAGS)
_LEFT_OUT = frozenset(("img", "table", "script", "style"))
_ASIDE_LEFT_OUT = re.compile(r"<(script|style|table|iframe)\b.*?(?:</\1\s*>|\Z)|<!--.*?(?:-->|\Z)|<[?!].*?>", re.DOTALL | re.IGNORECASE)
_ASIDE_BLOCK = re.compile(rf"</?(?:{_BLOCK_TAGS})\b[^<>]*>", re.IGNORECASE)
_ASIDE_TAG = re.compile(r"</?[a-zA-Z][^<>]*>")
UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
"""Written as `&#x202e;`, such a sign turns the line round (Unicode Standard Annex 9); and controls that XML does not take."""
_BREAK = "\n\n"
_BETWEEN = re.compile(r"\n\s*\n")


def write_plain(markdown: str, *, keep_stars: bool = False) -> str:
    """The words of a piece of Markdown, paragraphs apart by an empty line; links become their words; pictures, tables and notes go.

    With `keep_stars`, *emphasis* keeps its stars, so that a scientific name can still be told from the words round it.
    """
    return _in_paragraphs(markdown) if not _SIGNS.search(markdown) else _words(markdown, keep_stars)


@lru_cache(maxsize=8192)
def _words(markdown: str, keep_stars: bool) -> str:
    tree = read_tree(markdown)
    return UNSEEN.sub("", tree_words(tree.root, tree, keep_stars=keep_stars))


def tree_words(element: Element, tree: Tree, *, keep_stars: bool = False) -> str:
    """The words in an element of a tree."""
    return _in_paragraphs(without_marks("".join(_pieces(element, tree, keep_stars))))


def _in_paragraphs(text: str) -> str:
    paragraphs = (" ".join(paragraph.split()) for paragraph in _BETWEEN.split(text))
    return _BREAK.join(paragraph for paragraph in paragraphs if paragraph)


def _pieces(element: Element, tree: Tree, keep_stars: bool) -> Iterator[str]:
    """The words in an element, blocks set apart."""
    tag = element.tag
    if tag in _LEFT_OUT or _is_note(element) or (tag == "code" and "\n" in (element.text or "")):
        return
    apart = _BREAK if _IS_BLOCK.fullmatch(tag) else " " if tag == "br" else "*" if tag == "em" and keep_stars else ""
    yield apart
    yield _said(element.text, tree)
    for inner in element:
        yield from _pieces(inner, tree, keep_stars)
        yield _said(inner.tail, tree)
    yield apart


def _is_note(element: Element) -> bool:
    """Whether this is the number of a footnote in the text, or the footnotes below it."""
    if element.tag == "sup":
        return len(element) > 0 and element[0].get("class") == "footnote-ref"
    return element.tag == "div" and element.get("class") == "footnote"


def _said(text: str | None, tree: Tree) -> str:
    if not text:
        return ""
    if AMP_SUBSTITUTE in text:
        text = text.replace(AMP_SUBSTITUTE, "&")
    return HTML_PLACEHOLDER_RE.sub(lambda found: _said_aside(tree, int(found[1])), text) if tree.aside else text


def _said_aside(tree: Tree, number: int) -> str:
    """The words in a piece of HTML that stands aside: a tag says nothing, `&lt;` says `<`."""
    if number >= len(tree.aside):
        return ""
    piece = tree.aside[number]
    if isinstance(piece, Element):
        return "".join(_pieces(piece, tree, keep_stars=False))
    if "<" in piece:
        piece = _ASIDE_TAG.sub("", _ASIDE_BLOCK.sub(_BREAK, _ASIDE_LEFT_OUT.sub("", piece)))
    return _said(unescape(piece), tree)
