"""Texts whose marks cannot be read: they are published as they were typed, stars and all."""

from __future__ import annotations

import re
from collections.abc import Iterator

from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.text.typed_signs import find_overfull
from guidebuild.guide.texts import find_markdown
from guidebuild.later import imported_when_used

with imported_when_used():  # most texts never get there: with it comes the library for Markdown
    from guidebuild.guide.text import reader

_MANY = 100
_MAY_BE_DEEP = re.compile(rf"^[\s>*+.)\d-]{{{_MANY},}}", re.MULTILINE)


def _marks_not_read(guide: Guide) -> Iterator[Finding]:
    for text in find_markdown(guide):
        if len(text.text) < _MANY:  # nearly all
            continue
        line = find_overfull(text.text)
        if line is not None:
            yield MARKS_NOT_READ.finding("This paragraph holds more than 5,000 marks.", text.line(line), account=text.account)
        elif (_MAY_BE_DEEP.search(text.text) or text.text.count("<") > _MANY) and reader.read_tree(text.text).is_typed:
            yield MARKS_NOT_READ.finding("Lists or blocks stand more than 100 levels deep in this text.", text.at, account=text.account)


MARKS_NOT_READ = Rule(
    "marks-not-read",
    "The marks of every text can be read",
    Level.WARNING,
    "The whole text is published as it was typed, with its stars and brackets.",
    "Put empty lines between its parts, or take out the signs that are no marks.",
    _marks_not_read,
)

RULES = (MARKS_NOT_READ,)
