"""Facts as something that came out once has said them, held against the account of today: a film, a post."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Iterator, Mapping

import regex

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.views.pieces.facts import tell_facts
from guidebuild.words import words

_OF_THE_GUIDE = frozenset(("region", "guide", "address", "greeting", "sign off", "full name"))
SIZE, MARK = "size", "mark "
"""The slot of the size, and what those of field marks begin with; their number follows."""

_RANGE = regex.compile(r"(?<=\d)\s*(?:[-–—−]|\b(?:to|a|bis|à|tot)\b)\s*(?=\d)", regex.IGNORECASE)
_TOKEN = regex.compile(r"\d+(?:[.,]\d+)*|[\p{L}\p{M}]+|(?<=\d)–(?=\d)|[^\s\p{L}\p{M}\p{N}\p{P}]|%|[-−](?=\d)|°")
_ARTICLES = frozenset(("a", "an", "the", "el", "la", "los", "las", "un", "una", "unos", "unas"))
"""Words that a fact can be said with or without; of the languages that the tool speaks."""


def tell_plainly(guide: Published, account: PublicAccount) -> dict[str, str]:
    """The facts of an account as plain words, by slot."""
    return {slot: write_plain(told) for slot, told in tell_facts(guide, account).items() if slot not in _OF_THE_GUIDE}


def find_change(told: Mapping[str, str], slot: str, then: str, language: str, noted: Collection[str] = ()) -> str | None:
    """What an account says now where it said `then`: "" for nothing, None where it says the same, if in other words.

    A mark may have become another in number; and where it is gone, one of those that were `noted` beside it did not come in its place.
    """
    now = told.get(slot, "")
    if not slot.startswith(MARK):
        return None if is_same_fact(slot, then, now, language) else now
    marks = [words for other, words in told.items() if other.startswith(MARK)]
    if any(is_same_fact(slot, then, words, language) for words in marks):
        return None
    return "" if any(is_same_fact(slot, now, other, language) for other in noted) else now


def is_same_fact(slot: str, then: str, now: str, language: str) -> bool:
    """Whether two texts say the same: the same measure, or the same items with the same words and figures in whatever order.

    Capitals, articles, dashes, hyphens and points at the end do not count. What is said in quite other words is another fact:
    only a reader can tell that it is none.
    """
    if then == now:
        return True
    if slot == SIZE and (worth := _find_worth(then)):
        return worth == _find_worth(now)
    return sorted(_items(then, language)) == sorted(_items(now, language))


def _find_worth(size: str) -> tuple[object, ...]:
    """The figures of a size, whatever they are written in; nothing where it cannot be read."""
    read = parse_measure(size)
    return () if isinstance(read, Unreadable) else (read.low, read.high, read.spans, read.sides, read.approximate)


def _items(text: str, language: str) -> Iterator[tuple[str, ...]]:
    """What stands in a row, each as its words and figures."""
    plain = _RANGE.sub("–", unicodedata.normalize("NFC", text).casefold())
    joined = words(language).listed(["\0", "\0"]).replace("\0", "").strip()
    for part in regex.split(rf"[,;]\s|[()\[\]]|\s{regex.escape(joined)}\s", plain):
        if item := tuple(token for token in _TOKEN.findall(part) if token not in _ARTICLES):
            yield item
