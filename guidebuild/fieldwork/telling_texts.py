"""The texts of a guide that give a secret place away, each with what tells and where it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import chain
from typing import NamedTuple

from guidebuild.fieldwork.leaks import Leak, Secrets, leaks_in, secrets_of
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Episode, Place
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.guide.texts import Text, find_texts
from guidebuild.later import imported_when_used

with imported_when_used():  # most texts never get there: with it comes the library for Markdown
    from guidebuild.guide.text import reader

_BRACKETS = re.compile(r"\[[^\[\]]*\]")


class TellingText(NamedTuple):
    """A text that gives something away, what does, and where in the author's files."""

    text: Text
    leak: Leak
    at: At


@lru_cache(maxsize=2)
def find_telling_texts(guide: Guide) -> tuple[TellingText, ...]:
    """Everything in a guide's texts that gives a secret place away, once for all who ask; what is never published does not count."""
    secrets = secrets_of(guide)
    texts = chain(find_texts(guide), _old_addresses(guide)) if secrets else ()
    return tuple(found for text in texts for found in _leaks_of(text, secrets) if not _is_hidden(text))


def _is_hidden(text: Text) -> bool:
    """Whether a text is never published: what is said of a secret place but for its wider area and the reason for the secret."""
    place = text.record
    return isinstance(place, Place) and bool(place.sensitivity) and not text.field.startswith(("area", "sensitive"))


def _old_addresses(guide: Guide) -> Iterator[Text]:
    """Addresses that accounts had before: pages stand there still."""
    for account in guide.accounts.values():
        yield from (Text(old, account.where("formerly"), "id", account, account.id) for old in account.formerly)


def _leaks_of(text: Text, secrets: Secrets) -> Iterator[TellingText]:
    """Leaks with their lines; one that only shows once the marks are taken off (`Weir *Pool*`) where the text starts."""
    leaks = list(leaks_in(text.text.replace("-", " ") if text.field == "id" else text.text, secrets))
    yield from (TellingText(text, leak, text.line(leak.line)) for leak in leaks)
    known = {(leak.place, leak.what) for leak in leaks}
    for shown in _as_told(text) if text.is_markdown and secrets.sieve.may_tell_unmarked(text.text) else ():
        for leak in leaks_in(shown, secrets):
            if (leak.place, leak.what) not in known:
                known.add((leak.place, leak.what))
                yield TellingText(text, leak, text.at)


def _as_told(text: Text) -> Iterator[str]:
    """A text as its readers get it; what is spoken also without its marks, that stand in brackets: `Weir [pause] Pool`."""
    yield from as_shown(text.text)
    if isinstance(text.record, Episode):
        yield _BRACKETS.sub("", text.text)


def as_shown(markdown: str) -> Iterator[str]:
    """A text as its readers get it: in plain words, which are the best to tell its author, and as HTML, with its tables and notes."""
    yield write_plain(markdown)
    yield reader.read_tree(markdown).html(lambda root: None)
