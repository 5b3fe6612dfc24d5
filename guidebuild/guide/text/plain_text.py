"""Markdown as plain words, for scripts, posts and data; scientific names keep their stars where asked."""

from __future__ import annotations

import re
from collections.abc import Iterator, Set
from functools import lru_cache
from html import unescape
from xml.etree.ElementTree import Element

from guidebuild.guide.text.everyday import drop_stars, has_signs, read_everyday
from guidebuild.later import imported_when_used

with imported_when_used():  # most texts never get there: with it comes the library for Markdown
    from guidebuild.guide.text import reader

_BLOCK_TAGS = "address|article|aside|blockquote|caption|dd|details|div|dl|dt|fieldset|figcaption|figure|footer|form|h[1-6]|header|hr|li"
_BLOCK_TAGS += "|main|nav|ol|p|pre|section|summary|ul"
_IS_BLOCK = re.compile(_BLOCK_TAGS)
_LEFT_OUT = frozenset(("img", "table", "script", "style"))
_NOT_READ = _LEFT_OUT | {"h1", "h2", "h3", "h4", "h5", "h6"}
_ASIDE_LEFT_OUT = re.compile(r"<(script|style|table|iframe)\b.*?(?:</\1\s*>|\Z)|<!--.*?(?:-->|\Z)|<[?!].*?>", re.DOTALL | re.IGNORECASE)
_ASIDE_BLOCK = re.compile(rf"</?(?:{_BLOCK_TAGS})\b[^<>]*>", re.IGNORECASE)
_ASIDE_TAG = re.compile(r"</?[a-zA-Z][^<>]*>")
UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
"""Written as `&#x202e;`, such a sign turns the line round (Unicode Standard Annex 9); and controls that XML does not take."""
_BREAK = "\n\n"
_SIGN_OF_MARKDOWN = re.compile(r"[*_\[\]<>`#|&\\!~]|^[-+=]|(?<=\d)[.)]")
_BETWEEN = re.compile(r"\n\s*\n")


def write_plain(markdown: str, *, keep_stars: bool = False) -> str:
    """The words of a piece of Markdown, paragraphs apart by an empty line; links become their words; pictures, tables and notes go.

    With `keep_stars`, *emphasis* keeps its stars, so that a scientific name can still be told from the words round it.
    """
    if not has_signs(markdown):
        return _in_paragraphs(markdown)
    everyday = read_everyday(markdown, "")
    if everyday is None:
        return read_words(markdown, keep_stars)
    return UNSEEN.sub("", _in_paragraphs(everyday if keep_stars else drop_stars(everyday)))


@lru_cache(maxsize=8192)
def read_words(markdown: str, keep_stars: bool) -> str:
    """The same of any text, as the library for Markdown reads it."""
    tree = reader.read_tree(markdown)
    return UNSEEN.sub("", tree_words(tree.root, tree, keep_stars=keep_stars))


def escape_signs(words: str) -> str:
    """Words of one line as Markdown that says them: what `write_plain` makes of it are these words."""
    return _SIGN_OF_MARKDOWN.sub(lambda sign: f"&#{ord(sign[0])};", words) if has_signs(f"\n{words}") else words


def tree_words(element: Element, tree: reader.Tree, *, keep_stars: bool = False) -> str:
    """The words in an element of a tree."""
    return _in_paragraphs(reader.without_marks("".join(_pieces(element, tree, keep_stars))))


def tree_blocks(tree: reader.Tree) -> Iterator[str]:
    """The words of each paragraph and each item of a list, lines kept and names between stars; headings are left out."""
    words = reader.without_marks("".join(_pieces(tree.root, tree, keep_stars=True, left_out=_NOT_READ)))
    for block in _BETWEEN.split(UNSEEN.sub("", words)):
        lines = (" ".join(line.split()) for line in block.strip().split("\n"))
        if text := "\n".join(lines):
            yield text


def _in_paragraphs(text: str) -> str:
    paragraphs = (" ".join(paragraph.split()) for paragraph in _BETWEEN.split(text))
    return _BREAK.join(paragraph for paragraph in paragraphs if paragraph)


def _pieces(element: Element, tree: reader.Tree, keep_stars: bool, left_out: Set[str] = _LEFT_OUT) -> Iterator[str]:
    """The words in an element, blocks set apart."""
    tag = element.tag
    if tag in left_out or _is_note(element) or (tag == "code" and "\n" in (element.text or "")):
        return
    apart = _BREAK if _IS_BLOCK.fullmatch(tag) else " " if tag == "br" else "*" if tag == "em" and keep_stars else ""
    yield apart
    yield _said(element.text, tree)
    for inner in element:
        yield from _pieces(inner, tree, keep_stars, left_out)
        yield _said(inner.tail, tree)
    yield apart


def _is_note(element: Element) -> bool:
    """Whether this is the number of a footnote in the text, or the footnotes below it."""
    if element.tag == "sup":
        return len(element) > 0 and element[0].get("class") == "footnote-ref"
    return element.tag == "div" and element.get("class") == "footnote"


def _said(text: str | None, tree: reader.Tree) -> str:
    if not text:
        return ""
    if reader.AMPERSAND in text:
        text = text.replace(reader.AMPERSAND, "&")
    return reader.ASIDE.sub(lambda match: _said_aside(tree, int(match[1])), text) if tree.aside else text


def _said_aside(tree: reader.Tree, number: int) -> str:
    """The words in a piece of HTML that stands aside: a tag says nothing, `&lt;` says `<`."""
    if number >= len(tree.aside):
        return ""
    piece = tree.aside[number]
    if isinstance(piece, Element):
        return "".join(_pieces(piece, tree, keep_stars=False))
    if "<" in piece:
        piece = _ASIDE_TAG.sub("", _ASIDE_BLOCK.sub(_BREAK, _ASIDE_LEFT_OUT.sub("", piece)))
    return _said(unescape(piece), tree)
