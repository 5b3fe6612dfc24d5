"""Plain sentences that tell two taxa apart and can be said aloud.

English only: a guide in another language shows the table instead (an empty sentence here).
"""

from __future__ import annotations

from guidebuild.guide.accounts import Account
from guidebuild.guide.characters import Kind
from guidebuild.guide.guide import Guide
from guidebuild.identify.key import Overlap
from guidebuild.identify.readings import Scope, range_words
from guidebuild.identify.separation import Separation, best_separating

# Words that open a noun phrase, which English puts after "has".
_DETERMINERS = frozenset(
    {"a", "an", "the", "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
    | {"many", "few", "some", "several", "both", "each", "its"}
)


def tell_apart_sentence(guide: Guide, first: str, second: str) -> str:
    """One sentence with the best separating character of a pair; empty where nothing separates them."""
    best = best_separating(guide, first, second, 1)
    return separation_sentence(guide, first, second, best[0]) if best else ""


def separation_sentence(guide: Guide, first: str, second: str, separation: Separation) -> str:
    """Say what one character shows in each of two accounts, as a sentence for the ear."""
    if not guide.settings.language.startswith("en"):
        return ""
    one, other = spoken_name(guide.accounts[first]), spoken_name(guide.accounts[second])
    sentence = _of_range if separation.character.kind is Kind.RANGE else _of_states
    return _capital(scope_words(guide, separation.scope) + sentence(separation, one, other)) + "."


def spoken_name(account: Account) -> str:
    """How a sentence calls an account: "the Parent Bug", or the scientific name alone where there is no other."""
    if not account.vernacular:
        return account.name.plain
    return account.vernacular if account.vernacular.lower().startswith("the ") else f"the {account.vernacular}"


def scope_words(guide: Guide, scope: Scope) -> str:
    """Open a sentence with a scope: "in the male nymph, "; empty for any."""
    stages = {stage: words for found in guide.stage_sets.values() for stage, words in found.stages}
    words = [scope.sex, stages.get(scope.stage, scope.stage)]
    told = " ".join(word for word in words if word)
    return f"in the {told}, " if told else ""


def _of_range(separation: Separation, one: str, other: str) -> str:
    label = separation.character.label
    if separation.character.unit == "count":
        return f"{one} has {separation.first_words} {label}, {other} {separation.second_words}"
    return f"the {label} of {one} is {separation.first_words}; that of {other} is {separation.second_words}"


def _of_states(separation: Separation, one: str, other: str) -> str:
    label = separation.character.label
    look = label if label.lower().startswith("the ") else f"the {label}"
    first, second = separation.first_words, separation.second_words
    if _is_noun(first) and _is_noun(second):
        return f"look at {look}: {one} has {first}; {other} has {second}"
    if "," in first + second:
        return f"look at {look}: in {one}, {first}; in {other}, {second}"
    return f"look at {look}: {first} in {one}, {second} in {other}"


def _is_noun(words: str) -> bool:
    return words.partition(" ")[0].lower() in _DETERMINERS


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def overlap_sentence(guide: Guide, overlap: Overlap) -> str:
    """Say where two ranges meet: "The Dock Bug and the Box Bug overlap at 12–13 mm (body length)."."""
    one, other = (spoken_name(guide.accounts[i]) for i in (overlap.first, overlap.second))
    if overlap.low > overlap.high:
        return _capital(f"{one} and {other} are too near one another to be told apart by measuring (the {overlap.label}).")
    words = range_words(overlap.low, overlap.high, overlap.unit)
    return _capital(f"{one} and {other} overlap at {words} ({overlap.label}).")
