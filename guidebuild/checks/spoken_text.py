"""Text for the ear: marks of scripts that can be read, and sentences that can be followed (those of accounts are told on reading)."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.guide.resolve import find_account
from guidebuild.speech.codes import HARD_SENTENCE, HARD_TEXT, SCRIPT_MARK
from guidebuild.speech.hard_texts import find_hard_texts
from guidebuild.speech.marks import find_mark_faults


def _unreadable_mark(guide: Guide) -> Iterator[Finding]:
    for episode in guide.episodes.values():
        for section in episode.sections:
            yield from find_mark_faults(section, account=_owner(guide, episode.account))


def _hard_text(guide: Guide) -> Iterator[Finding]:
    return (finding for finding in _hard_scripts(guide) if finding.code == HARD_TEXT.code)


def _hard_sentence(guide: Guide) -> Iterator[Finding]:
    return (finding for finding in _hard_scripts(guide) if finding.code == HARD_SENTENCE.code)


@lru_cache(maxsize=2)
def _hard_scripts(guide: Guide) -> tuple[Finding, ...]:
    """What is hard in any script, read once for both rules."""
    found: list[Finding] = []
    for episode in guide.episodes.values():
        account = find_account(guide, episode.account)
        names, owner = ((account.name.plain,), account.id) if account else ((), "")
        found += find_hard_texts(episode.sections, guide.settings.language, names=names, account=owner)
    return tuple(found)


def _owner(guide: Guide, named: str) -> str:
    account = find_account(guide, named)
    return account.id if account else ""


MARKS = Rule(*SCRIPT_MARK, _unreadable_mark)
WHOLE = Rule(*HARD_TEXT, _hard_text)
SENTENCES = Rule(*HARD_SENTENCE, _hard_sentence)

RULES = (MARKS, WHOLE, SENTENCES)
