"""An author's own script says what a draft would always say: what can hurt, and what more dangerous species it may be taken for."""

from __future__ import annotations

import re
from collections.abc import Iterator

from guidebuild.checks.rule import Rule
from guidebuild.guide.accounts import Account
from guidebuild.guide.dangers import EATEN, find_cautions, find_hazards_in, harm_of
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Caution, Guide
from guidebuild.guide.records import Episode
from guidebuild.guide.resolve import find_account
from guidebuild.guide.slots import slots_in
from guidebuild.guide.text.sentences import split_sentences
from guidebuild.identify.sentences import spoken_name
from guidebuild.words import words

_WORD = re.compile(r"[^\W\d_]{4,}")
_FEWEST_WORDS = 3
_ENDING = re.compile(r"(?:ing|s)$")
_KINDS = {"deadly": "deadly poisonous", "poisonous": "poisonous"}


def _script_without_caution(guide: Guide) -> Iterator[Finding]:
    for episode in guide.episodes.values():
        account = find_account(guide, episode.account)
        if account is None or not episode.sections:
            continue
        for message, line in (*_own(guide, account, episode), *_of_look_alikes(guide, account, episode)):
            mend = f"Add a line, such as “{line}”"
            yield SCRIPT_WITHOUT_CAUTION.finding(message, episode.sections[-1].at, mend=mend, account=account.id)


def _own(guide: Guide, account: Account, episode: Episode) -> Iterator[tuple[str, str]]:
    """Hazards of the account that the script says nothing of, each with the words to add."""
    if any(slot.name == "hazards" for section in episode.sections for slot in slots_in(section)):
        return
    for hazard in account.hazards.values or find_hazards_in(guide, account.caution.words)[:1]:
        caution = guide.cautions.get(hazard)
        if caution and not _speaks_of(guide, caution, episode):
            yield (
                f"{_called(account)} has the hazard “{hazard}”, and this script says nothing of it.",
                _sentence(f"It is {kind}. {_advice(caution)}" if (kind := _KINDS.get(harm_of(guide, hazard))) else _advice(caution)),
            )


def _of_look_alikes(guide: Guide, account: Account, episode: Episode) -> Iterator[tuple[str, str]]:
    """More dangerous look-alikes that the script does not name, or of whose danger it says nothing."""
    warned_of: set[str] = set()
    for danger in find_cautions(guide, (account.id,)):
        caution = guide.cautions.get(danger.hazard)
        for other in (guide.accounts[ident] for ident, _ in danger.like):
            if caution is None or other.id in warned_of or (_names(episode, other) and _speaks_of(guide, caution, episode)):
                continue
            warned_of.add(other.id)  # one line is enough, and the worst danger comes first
            kind = _KINDS.get(harm_of(guide, danger.hazard))
            which = f", which is {kind}" if kind else f" ({caution.title.lower()})"
            yield (
                f"{_called(account)} may be taken for {_called(other)}{which}, and this script does not warn of it.",
                _sentence(f"It may be taken for {spoken_name(guide, other)}{which}. {_advice(caution)}"),
            )


def _speaks_of(guide: Guide, caution: Caution, episode: Episode) -> bool:
    """Whether a script has a word of the caution: of its title, in the guide's language too, or one by which it is asked for."""
    title = f"{caution.title} {words(guide.settings.language)(caution.title)}"
    known = caution.asked_as
    if harm_of(guide, caution.id) in EATEN:
        known += tuple(word for other in guide.cautions.values() if other.harm in EATEN for word in other.asked_as)
    stems = {*known, *(_ENDING.sub("", word) for word in _WORD.findall(title.casefold()) if word not in _OF_GROUPS)}
    text = _text(episode)
    return any(re.search(rf"\b{re.escape(stem)}", text) for stem in stems) or any(advice in text for advice in _advice_in(caution))


def _advice_in(caution: Caution) -> Iterator[str]:
    """Whole sentences of the caution: who says what to do has said it, without naming the hazard."""
    for sentence in (s for told in (caution.text, caution.short) for s in split_sentences(told)):
        plain = " ".join(sentence.casefold().split()).rstrip(".!")
        if len(plain.split()) >= _FEWEST_WORDS:
            yield plain


_OF_GROUPS = frozenset(("plants", "fungi", "animals", "species", "plant", "animal", "plantas", "hongos", "animales", "especies"))
"""Words of titles that say what is dangerous, not how."""


def _names(episode: Episode, other: Account) -> bool:
    named = _text(episode)
    slots = {f"difference from {other.id}", "similar species"}
    return any(name and name.casefold() in named for name in (other.vernacular, other.name.plain)) or any(
        slot.name in slots for section in episode.sections for slot in slots_in(section)
    )


def _text(episode: Episode) -> str:
    return " ".join(" ".join(f"{section.heading} {section.text}".split()) for section in episode.sections).casefold()


def _advice(caution: Caution) -> str:
    return caution.short or caution.text


def _called(account: Account) -> str:
    return account.vernacular or account.name.plain


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."


SCRIPT_WITHOUT_CAUTION = Rule(
    "script-without-caution",
    "An own script says what can hurt",
    Level.WARNING,
    "Whoever watches a film of it has no page at hand that warns of it.",
    "Add a line that says what can hurt and what to do.",
    _script_without_caution,
)

RULES = (SCRIPT_WITHOUT_CAUTION,)
