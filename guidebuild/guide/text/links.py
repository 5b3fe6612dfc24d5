"""Cross-references in Markdown: `[words](kind:target)` and `![words](photo:target)`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import unquote

from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Section

KINDS = ("account", "term", "photo", "plant", "place", "source", "character", "walk", "caution")
_LINK = re.compile(r"(!?)\[((?:[^\]\\]|\\.){0,500})\]\(\s*(<[^>\n]*>|[^)\n]*?)(?:\s+\"[^\"\n]*\")?\s*\)")
_CODE = re.compile(r"(`+)(.+?)\1", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Link:
    """One link as written. `kind` is one of KINDS, or "" for an address or a file."""

    kind: str
    target: str
    words: str
    picture: bool
    at: At


def links_in(section: Section) -> Iterator[Link]:
    """Links of a piece of Markdown with their positions; what stands in code marks does not count."""
    if "](" not in section.text:
        return
    text = _CODE.sub(lambda m: " " * len(m.group()), section.text) if "`" in section.text else section.text
    for match in _LINK.finditer(text):
        address = unquote(match.group(3).strip("<>").strip())
        kind, colon, target = address.partition(":")
        if not colon or kind not in KINDS:
            kind, target = "", address
        yield Link(kind, target.strip(), match.group(2), bool(match.group(1)), _position(section, text, match.start()))


def _position(section: Section, text: str, offset: int) -> At:
    before = text[:offset]
    column = offset - (before.rfind("\n") + 1) + 1
    return At(section.at.file, section.at.line + before.count("\n"), column)


@lru_cache(maxsize=2)
def links_of(guide: Guide) -> tuple[tuple[str, Link], ...]:
    """Every link in a guide with the id of its account, looked for once a guide."""
    return tuple((account, link) for account, section in all_prose(guide) for link in links_in(section))


def prose_of(account: Account) -> Iterator[Section]:
    """Every piece of Markdown of an account: sections, stage texts, notes, and those of its translations."""
    yield from account.sections
    yield from (Section(s.stage, s.text.text, s.text.at) for s in account.stages)
    yield from (Section("note", s.note.text, s.note.at) for s in account.similar if s.note)
    yield from (Section("mark", m.mark.text, m.mark.at) for m in account.diagnostics)
    for translation in account.translations:
        yield from translation.sections
        yield from (Section(s.stage, s.text.text, s.text.at) for s in translation.stages)


def all_prose(guide: Guide) -> Iterator[tuple[str, Section]]:
    """Every piece of Markdown in a guide with the id of its account ("" for the guide's own)."""
    for account in guide.accounts.values():
        yield from ((account.id, section) for section in prose_of(account))
    yield from (("", Section(t.word, t.meaning.text, t.meaning.at)) for t in guide.terms.values())
    for records in (guide.plants.values(), guide.places.values(), guide.walks.values()):
        yield from (("", Section(r.id, r.note.text, r.note.at)) for r in records if r.note)
    for episode in guide.episodes.values():
        yield from ((episode.account, section) for section in episode.sections)
