"""The texts of a guide that give a secret place away, each with what tells and where it stands."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from guidebuild.fieldwork.leaks import Leak, Secrets, leaks_in, secrets_of
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.guide.text.reader import read_tree
from guidebuild.guide.texts import Text, find_texts


class TellingText(NamedTuple):
    """A text that gives something away, what does, and where in the author's files."""

    text: Text
    leak: Leak
    at: At


@lru_cache(maxsize=2)
def find_telling_texts(guide: Guide) -> tuple[TellingText, ...]:
    """Everything in a guide's texts that gives a secret place away, once for all who ask."""
    secrets = secrets_of(guide)
    return tuple(found for text in find_texts(guide) for found in _leaks_of(text, secrets)) if secrets else ()


def _leaks_of(text: Text, secrets: Secrets) -> Iterator[TellingText]:
    """Leaks with their lines; one that only shows once the marks are taken off (`Weir *Pool*`) where the text starts."""
    leaks = list(leaks_in(text.text.replace("-", " ") if text.field == "id" else text.text, secrets))
    yield from (TellingText(text, leak, text.line(leak.line)) for leak in leaks)
    known = {(leak.place, leak.what) for leak in leaks}
    for shown in as_shown(text.text) if text.is_markdown and secrets.sieve.may_tell_unmarked(text.text) else ():
        for leak in leaks_in(shown, secrets):
            if (leak.place, leak.what) not in known:
                known.add((leak.place, leak.what))
                yield TellingText(text, leak, text.at)


def as_shown(markdown: str) -> Iterator[str]:
    """A text as its readers get it: as HTML, with its tables and notes, and in plain words."""
    yield read_tree(markdown).html(lambda root: None)
    yield write_plain(markdown)
