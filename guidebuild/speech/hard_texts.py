"""Texts that are hard to follow, and their hardest sentences. An account is judged when it is read, a script when it is checked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from guidebuild.guide.findings import Finding
from guidebuild.guide.records import Section
from guidebuild.speech.codes import HARD_TEXT
from guidebuild.speech.reading_ease import HARD_EASE, ReadingEase, describe_hard_sentence, measure_ease

MOST_HARD = 3
"""Hard sentences named in one account or script: a longer list is not read."""


def find_hard_texts(sections: Sequence[Section], language: str, *, names: Iterable[str] = (), account: str = "") -> Iterator[Finding]:
    """What is hard in an account's sections together, or in a script's; nothing in other languages than English.

    The formulas are made for English, and the counts of syllables too. `names` are scientific names that may stand without stars.
    """
    if not language.startswith("en"):
        return
    # Without the dictionary, so that a guide gets the same notes on every machine.
    eases = [measure_ease(section.text, names=names, dictionary=False, first_line=section.at.line) for section in sections]
    whole = sum(eases, ReadingEase())
    if whole.ease is None or whole.grade is None:
        return
    if whole.ease < HARD_EASE:
        message = f"The text has a Flesch reading ease of {whole.ease:.0f} (grade {whole.grade:.0f}); below {HARD_EASE:g} is hard going."
        yield HARD_TEXT.finding(message, sections[0].at, account=account)
    hard = [(sentence, section) for ease, section in zip(eases, sections, strict=True) for sentence in ease.hard]
    worst = sorted(hard, key=lambda found: (found[0].ease, found[1].at, found[0].line))[:MOST_HARD]
    yield from sorted((describe_hard_sentence(one, section.at, account=account) for one, section in worst), key=lambda found: found.at)
