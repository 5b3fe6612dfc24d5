"""Text for the ear and the eye: marks of scripts that can be read, and words and sentences that can be followed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from guidebuild.checks.rule import Rule
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Section
from guidebuild.guide.resolve import find_account
from guidebuild.speech.codes import HARD_SENTENCE, SCRIPT_MARK
from guidebuild.speech.marks import find_mark_faults
from guidebuild.speech.reading_ease import HARD_EASE, ReadingEase, describe_hard_sentence, measure_ease

MOST_HARD = 3
"""Hard sentences named in one account or script: a longer list is not read."""


@dataclass(frozen=True, slots=True)
class _Read:
    """How one text reads, an account's sections together or a script's: where it starts, its ease and grade, its hardest sentences."""

    at: At
    account: str
    ease: float
    grade: float
    hardest: tuple[Finding, ...]


def _unreadable_mark(guide: Guide) -> Iterator[Finding]:
    for episode in guide.episodes.values():
        for section in episode.sections:
            yield from find_mark_faults(section, account=_owner(guide, episode.account))


def _hard_text(guide: Guide) -> Iterator[Finding]:
    for read in _texts_read(guide):
        if read.ease < HARD_EASE:
            message = f"The text has a Flesch reading ease of {read.ease:.0f} (grade {read.grade:.0f}); below {HARD_EASE:g} is hard going."
            yield HARD_TEXT.finding(message, read.at, account=read.account)


def _hard_sentence(guide: Guide) -> Iterator[Finding]:
    for read in _texts_read(guide):
        yield from read.hardest


@lru_cache(maxsize=2)
def _texts_read(guide: Guide) -> tuple[_Read, ...]:
    """Every account and script that has prose, read once for both rules."""
    # The formulas are made for English, and the counts of syllables too.
    if not guide.settings.language.startswith("en"):
        return ()
    texts: list[tuple[Sequence[Section], Account | None]] = [(account.sections, account) for account in guide.accounts.values()]
    texts += [(episode.sections, find_account(guide, episode.account)) for episode in guide.episodes.values()]
    return tuple(read for sections, owner in texts if (read := _read(sections, owner)))


def _read(sections: Sequence[Section], owner: Account | None) -> _Read | None:
    names = (owner.name.plain,) if owner else ()
    # Without the dictionary, so that a guide gets the same notes on every machine.
    eases = [measure_ease(section.text, names=names, dictionary=False, first_line=section.at.line) for section in sections]
    whole = sum(eases, ReadingEase())
    if whole.ease is None or whole.grade is None:
        return None
    hard = [(sentence, section) for ease, section in zip(eases, sections, strict=True) for sentence in ease.hard]
    worst = sorted(hard, key=lambda found: (found[0].ease, found[1].at, found[0].line))[:MOST_HARD]
    account = owner.id if owner else ""
    hardest = [describe_hard_sentence(sentence, section.at, account=account) for sentence, section in worst]
    return _Read(sections[0].at, account, whole.ease, whole.grade, tuple(sorted(hardest, key=lambda found: found.at)))


def _owner(guide: Guide, named: str) -> str:
    account = find_account(guide, named)
    return account.id if account else ""


MARKS = Rule(*SCRIPT_MARK, _unreadable_mark)
HARD_TEXT = Rule(
    "hard-text",
    "A text reads without much effort",
    Level.NOTE,
    "A walk and an episode are for beginners; what only students read with ease goes past them.",
    "Use shorter sentences and plainer words.",
    _hard_text,
)
SENTENCES = Rule(*HARD_SENTENCE, _hard_sentence)

RULES = (MARKS, HARD_TEXT, SENTENCES)
