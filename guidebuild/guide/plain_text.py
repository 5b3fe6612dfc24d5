"""Markdown as plain words, for scripts, posts and reading ease; scientific names keep their stars where asked."""

from __future__ import annotations

import re

_FENCE = re.compile(r"^(```|~~~).*?^\1[^\n]*$", re.MULTILINE | re.DOTALL)
_PICTURE = re.compile(r"!\[[^\]]*\]\([^)]*\)")
_LINK = re.compile(r"\[([^\]]*)\]\((?:<[^>]*>|[^)\s]*)(?:\s+\"[^\"]*\")?\)")
_NOTE = re.compile(r"^\[\^[^\]]+\]:.*$", re.MULTILINE)
_NOTE_MARK = re.compile(r"\[\^[^\]]+\]")
_HTML = re.compile(r"</?[a-zA-Z][^<>]*>|<!--.*?-->", re.DOTALL)
_HEADING = re.compile(r"^ {0,3}#{1,6}\s+(.*?)\s*#*$", re.MULTILINE)
_LEAD = re.compile(r"^\s{0,7}(?:[-*+]|\d{1,3}[.)])\s+", re.MULTILINE)
_QUOTE = re.compile(r"^ {0,3}>\s?", re.MULTILINE)
_TABLE = re.compile(r"^\|.*\|\s*$", re.MULTILINE)
_STRONG = re.compile(r"(\*\*|__)(?=\S)(.+?)(?<=\S)\1")
_EMPHASIS = re.compile(r"(?<![\w*])([*_])(?=\S)([^*_\n]+?)(?<=\S)\1(?![\w*])")
_ESCAPE = re.compile(r"\\([\\`*_{}\[\]()#+\-.!|<>~])")
_ABBREVIATED = re.compile(r"(?:\b(?:c|ca|cf|aff|e\.g|i\.e|approx|subsp|ssp|var|sp|spp|st|no|dr|mr|mrs|vs|etc|fig|[A-Z]))\.$", re.IGNORECASE)
_BREAK = re.compile(r"([.!?…][\"'”’)]*)\s+(?=[\"'“‘(*]*[A-Z0-9ÁÉÍÓÚÑ¿¡])")
_PRIVATE = 0xE000  # escaped signs wait here while marks are taken off


def plain(markdown: str, *, keep_stars: bool = False) -> str:
    """The words of a piece of Markdown, paragraphs apart by an empty line; links become their words, pictures go.

    With `keep_stars`, *emphasis* keeps its stars, so that a scientific name can still be told from the words round it.
    """
    text = _FENCE.sub("", markdown)
    for pattern in (_PICTURE, _NOTE, _NOTE_MARK, _TABLE):
        text = pattern.sub("", text)
    text = _LINK.sub(r"\1", text)
    text = _HTML.sub("", text)
    text = _ESCAPE.sub(lambda m: chr(_PRIVATE + ord(m.group(1))), text)
    # A heading and each item of a list stand alone, so that they do not run into the next sentence.
    text = _LEAD.sub("\n", _QUOTE.sub("", _HEADING.sub(r"\n\1\n", text)))
    text = _STRONG.sub(r"\2", text)
    if not keep_stars:
        text = _EMPHASIS.sub(r"\2", text)
    text = "".join(chr(ord(c) - _PRIVATE) if _PRIVATE <= ord(c) < _PRIVATE + 128 else c for c in text)
    paragraphs = (" ".join(p.split()) for p in re.split(r"\n\s*\n", text))
    return "\n\n".join(p for p in paragraphs if p)


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a plain text; abbreviations and initials do not end one."""
    found: list[str] = []
    for paragraph in text.split("\n\n"):
        start = 0
        for match in _BREAK.finditer(paragraph):
            sentence = paragraph[start : match.end(1)].strip()
            if not _ABBREVIATED.search(sentence):
                found.append(sentence)
                start = match.end()
        found.append(paragraph[start:].strip())
    return tuple(s for s in found if s)
