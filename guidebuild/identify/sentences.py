"""Plain sentences that tell two taxa apart and can be said aloud.

English ones have verbs and articles; a guide in another language gets the same facts in a row, in its own words.
"""

from __future__ import annotations

from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.characters import CharacterKind
from guidebuild.guide.facts import AnyGuide
from guidebuild.guide.life_stages import PLANTS
from guidebuild.identify.readings import Scope, range_words
from guidebuild.identify.senses import sense_of
from guidebuild.identify.separation import Separation, best_separating
from guidebuild.later import imported_when_used
from guidebuild.words import WRITTEN_IN, words

with imported_when_used():  # what plans keys: a check makes none
    from guidebuild.identify import key

# Words that open a noun phrase, which English puts after "has".
_DETERMINERS = frozenset(
    {"a", "an", "the", "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
    | {"many", "few", "some", "several", "both", "each", "its"}
)

_SUBJECTS = frozenset({"it", "they", "there", "this", "these"})
# Characters of which a state says what they are, so that nothing "has" it: the shape is an arrowhead.
_QUALITIES = frozenset({"shape", "form", "outline", "colour", "color", "pattern", "texture", "habit", "size", "call", "song", "smell"})
_SINGULAR_S = ("ss", "us", "is", "as", "'s", "’s")


def tell_apart_sentence(guide: AnyGuide, first: str, second: str) -> str:
    """One sentence with the best separating character of a pair; empty where nothing separates them."""
    best = best_separating(guide, first, second)
    return separation_sentence(guide, first, second, best[0]) if best else ""


def separation_sentence(guide: AnyGuide, first: str, second: str, separation: Separation) -> str:
    """Say what one character shows in each of two accounts, as a sentence for the ear."""
    one, other = guide.accounts[first], guide.accounts[second]
    if not _is_english(guide):
        return _in_any_language(guide, separation, one, other)
    sentence = _of_range if separation.character.kind is CharacterKind.RANGE else _of_states
    told = sentence(separation, spoken_name(guide, one), spoken_name(guide, other))
    return _capital(scope_words(guide, separation.scope, one) + told) + "."


def _is_english(guide: AnyGuide) -> bool:
    return guide.settings.language.split("-")[0] == WRITTEN_IN


def _in_any_language(guide: AnyGuide, separation: Separation, one: AccountFacts, other: AccountFacts) -> str:
    """A sentence without articles and verbs, which this tool does not know how to bend in other languages."""
    say, scope = words(guide.settings.language), separation.scope
    where = " ".join(filter(None, (say(scope.sex), scope.stage)))
    label = f"{separation.character.label} ({where})" if where else separation.character.label
    names = (one.vernacular or one.name.plain, other.vernacular or other.name.plain)
    return _capital(f"{label}: {names[0]}, {separation.first_words}; {names[1]}, {separation.second_words}.")


def spoken_name(guide: AnyGuide, account: AccountFacts) -> str:
    """How a sentence calls an account: "the Parent Bug", or the scientific name alone where there is no other.

    Plants go without an article ("Wood Sorrel has…"), and so do names that are plural or hold one ("Lily of the Valley").
    """
    return call_by_name(guide, account, account.vernacular) if account.vernacular else account.name.plain


def call_by_name(guide: AnyGuide, account: AccountFacts, name: str) -> str:
    """A vernacular name of an account as an English sentence takes it: with its article."""
    bare = guide.stage_set(account).kingdom == PLANTS or " of the " in name or _is_plural(name)
    return name if bare or name.lower().startswith("the ") else f"the {name}"


def _is_plural(name: str) -> bool:
    return name.endswith("s") and not name.endswith(_SINGULAR_S)


def scope_words(guide: AnyGuide, scope: Scope, account: AccountFacts) -> str:
    """Open a sentence with a scope: "in the male nymph, ", "in flower, "; empty for any."""
    told = guide.stage_set(account).at_scope(scope.stage, scope.sex)
    return f"{told}, " if told else ""


def _of_range(separation: Separation, one: str, other: str) -> str:
    label = separation.character.label
    if separation.character.unit == "count":
        return f"{one} has {separation.first_words} {label}, {other} {separation.second_words}"
    return f"the {label} of {one} is {separation.first_words}; that of {other} is {separation.second_words}"


def _of_states(separation: Separation, one: str, other: str) -> str:
    label = separation.character.label
    named = label if label.lower().startswith("the ") else f"the {label}"
    look = f"{sense_of(label).heed} {named}"
    first, second = separation.first_words, separation.second_words
    if _is_noun(first) and _is_noun(second) and label.rpartition(" ")[2].lower() not in _QUALITIES:
        return f"{look}: {one} has {first}; {other} has {second}"
    if "," in first + second or _is_clause(first) or _is_clause(second):
        return f"{look}: in {one}, {first}; in {other}, {second}"
    return f"{look}: {first} in {one}, {second} in {other}"


def _is_noun(words: str) -> bool:
    return words.partition(" ")[0].lower() in _DETERMINERS


def _is_clause(words: str) -> bool:
    """Whether a state is a sentence of its own: "it does not change"."""
    return words.partition(" ")[0].lower() in _SUBJECTS


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def overlap_sentence(guide: AnyGuide, overlap: key.Overlap) -> str:
    """Say where two ranges meet: "The Dock Bug and the Box Bug overlap at 12–13 mm (body length)."."""
    say = words(guide.settings.language)
    pair = [guide.accounts[i] for i in (overlap.first, overlap.second)]
    names = say.listed([spoken_name(guide, a) if _is_english(guide) else a.vernacular or a.name.plain for a in pair])
    if overlap.low > overlap.high:
        sentence = say("{names} are too near one another to be told apart by measuring ({label}).", names=names, label=overlap.label)
    else:
        range_met = range_words(overlap.low, overlap.high, overlap.unit, say)
        sentence = say("{names} overlap at {range} ({label}).", names=names, range=range_met, label=overlap.label)
    return _capital(sentence)
