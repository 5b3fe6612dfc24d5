"""Text for the ear and the eye: marks of scripts that can be read, and sentences that can be followed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Section
from guidebuild.guide.resolve import find_account
from guidebuild.speech.marks import mark_findings
from guidebuild.speech.reading_ease import hard_sentence_finding, hard_sentences

MOST_HARD = 3
"""Hard sentences named in one account or script: a longer list is not read."""


def _unreadable_mark(guide: Guide) -> Iterator[Finding]:
    for episode in guide.episodes.values():
        for section in episode.sections:
            for number, line in enumerate(section.text.split("\n"), section.at.line):
                for found in mark_findings(line, At(section.at.file, number)):
                    yield SCRIPT_MARK.finding(found.message, found.at, mend=found.mend, account=_owner(guide, episode.account))


def _hard_sentence(guide: Guide) -> Iterator[Finding]:
    # The formulas are made for English, and the counts of syllables too.
    if not guide.settings.language.startswith("en"):
        return
    for account in guide.accounts.values():
        yield from _hardest(account.sections, account.id, account.name.plain)
    for episode in guide.episodes.values():
        owner = find_account(guide, episode.account)
        yield from _hardest(episode.sections, owner.id if owner else "", owner.name.plain if owner else "")


def _hardest(sections: Iterable[Section], account: str, name: str) -> Iterator[Finding]:
    """The hardest sentences of one text, in the order in which they stand."""
    # Without the dictionary, so that a guide gets the same notes on every machine.
    hard = [
        (sentence.ease, hard_sentence_finding(sentence, section.at))
        for section in sections
        for sentence in hard_sentences(section.text, names=(name,), dictionary=False, first_line=section.at.line)
    ]
    worst = sorted(hard, key=lambda found: (found[0], found[1].at))[:MOST_HARD]
    for _, found in sorted(worst, key=lambda kept: kept[1].at):
        yield HARD_SENTENCE.finding(found.message, found.at, mend=found.mend, account=account)


def _owner(guide: Guide, named: str) -> str:
    account = find_account(guide, named)
    return account.id if account else ""


SCRIPT_MARK = Rule(
    "script-mark",
    "Every mark of a script can be read",
    Level.WARNING,
    "A mark that cannot be read is left out, and its pause or picture with it.",
    "Write [pause 2 s], [show PHOTO 4 s] or [say HINT].",
    _unreadable_mark,
)
HARD_SENTENCE = Rule(
    "hard-sentence",
    "Sentences are short and plain enough to follow",
    Level.NOTE,
    "A listener cannot read a sentence twice, and a beginner should not have to.",
    "Cut it in two, or use plainer words.",
    _hard_sentence,
)

RULES = (SCRIPT_MARK, HARD_SENTENCE)
