"""Signs that stay as they were typed: those whose other half is missing, and those that a guard takes for no mark.

The converter looks for the other half of each bracket through the whole paragraph, and copies the paragraph for each escaped sign: a
thousand brackets that nothing closes would take it a thousand times as long as one. So such signs travel through it as signs of the private
use area, one for one, and are put back into the finished tree.
"""

from __future__ import annotations

import re
from collections import defaultdict, deque
from collections.abc import Iterator
from typing import TypeAlias
from xml.etree.ElementTree import Element

_BASE = 0x100000
_HIDDEN = re.compile(f"[{chr(_BASE)}-{chr(_BASE + 0x7F)}]")
_TOKEN = re.compile(r"\n[ \t]*(?=\n)|\\[^\n]|`+|\]\(<[^<>\n]*>|[\[\]()]")
_FEW = 20
"""So many signs without a partner cost nothing; more brackets in one another, or backticks in a row, are no marks."""
MOST_MARKS = 5_000
"""So many signs in one paragraph, item or row are no marks: the converter's work grows with the square of their number."""
_MARK = re.compile(r"[*_\[`&<\\!]")
_APART = re.compile(r"\s*$|\s*(?:[-*+>|]|\d+[.)])\s|[^|]*\|")
_Tokens: TypeAlias = list[tuple[int, str]]
"""Where each sign stands, and the sign."""


def hide_sign(sign: str) -> str:
    """Signs as the converter does not know them."""
    return "".join(chr(_BASE + ord(one)) for one in sign)


def drop_hidden(text: str) -> str:
    """A text without what an author may have typed of these signs."""
    return _HIDDEN.sub("", text) if not text.isascii() else text


def show_signs(text: str) -> str:
    """The signs put back into a text of the tree."""
    return _HIDDEN.sub(lambda sign: chr(ord(sign[0]) - _BASE), text)


def show_signs_below(root: Element) -> None:
    """The signs put back into all texts of a tree."""
    for element in root.iter():
        element.text = show_signs(element.text) if element.text else element.text
        element.tail = show_signs(element.tail) if element.tail else element.tail
        for key, value in element.items():
            if not value.isascii():
                element.set(key, show_signs(value))


def show_in_html(html: str) -> str:
    """The signs put back into a piece of HTML: a `<` that is no tag stays none."""
    return show_signs(html.replace(hide_sign("<"), "&lt;").replace(hide_sign(">"), "&gt;"))


def hide_unpaired(text: str) -> str:
    """A text whose brackets and backticks without a partner in their paragraph are hidden; one look from front to end."""
    if "[" not in text and "`" not in text:
        return text
    hidden = set(_find_unpaired(text))
    pieces: list[str] = []
    last = 0
    for start in sorted(hidden):
        pieces += [text[last:start], hide_sign(text[start])]
        last = start + 1
    return "".join((*pieces, text[last:]))


def find_overfull(text: str) -> int | None:
    """The line, counted from 0, where a paragraph, item or row begins that holds more marks than are read in a reasonable time."""
    if len(text) <= MOST_MARKS:
        return None
    first = count = 0
    for number, line in enumerate(text.split("\n")):
        if _APART.match(line):
            first, count = number + (not line.strip()), 0
        count += len(_MARK.findall(line))
        if count > MOST_MARKS:
            return first
    return None


def _find_unpaired(text: str) -> Iterator[int]:
    for block in _read_tokens(text):
        rest, ticks = _part_code(block)
        many = {start for lone in (ticks, *_unpaired_brackets(text, rest)) if len(lone) > _FEW for start in lone}
        yield from many
        yield from _too_deep(text, [token for token in rest if token[0] not in many])


def _read_tokens(text: str) -> Iterator[_Tokens]:
    """Signs that may belong together, paragraph by paragraph."""
    block: _Tokens = []
    for token in _TOKEN.finditer(text):
        if token[0][0] == "\n":
            yield block
            block = []
        elif token[0][0] != "\\":
            block.append((token.start(), token[0]))
    yield block


def _part_code(block: _Tokens) -> tuple[_Tokens, list[int]]:
    """What stands outside of code, and the backticks that no run of the same length closes."""
    runs: dict[str, list[int]] = defaultdict(list)
    for number, (_, sign) in enumerate(block):
        if sign[0] == "`":
            runs[sign].append(number)
    later = {sign: deque(numbers) for sign, numbers in runs.items()}
    rest: _Tokens = []
    lone: list[int] = []
    number = 0
    while number < len(block):
        start, sign = block[number]
        same = later.get(sign, deque())
        while same and same[0] <= number:
            same.popleft()
        if sign[0] != "`":
            rest.append((start, sign))
        elif same and len(sign) <= _FEW:
            number = same[0]
        else:
            lone += range(start, start + len(sign))
        number += 1
    return rest, lone


def _unpaired_brackets(text: str, tokens: _Tokens) -> tuple[list[int], list[int]]:
    """Square brackets that nothing closes, and round ones that begin an address without an end."""
    square: list[int] = []
    rounded: list[int] = []
    for start, sign in tokens:
        if sign[0] == "]":
            del square[-1:]
        if sign in "[(":
            (square if sign == "[" else rounded).append(start)
        elif sign != "]":
            rounded[-1:] = [] if sign == ")" else [*rounded[-1:], start + 1]
    return square, [start for start in rounded if text[start - 1] == "]"]


def _too_deep(text: str, tokens: _Tokens) -> Iterator[int]:
    """Brackets inside so many others that none of them is a link."""
    depth = {"[": 0, "(": 0}
    for start, sign in tokens:
        if sign in depth:
            depth[sign] += 1
            if depth[sign] > _FEW and (sign == "[" or text[start - 1 : start] == "]"):
                yield start
        else:
            kind = "[" if sign[0] == "]" else "("
            depth[kind] = max(0, depth[kind] - 1)
            depth["("] += len(sign) > 1
