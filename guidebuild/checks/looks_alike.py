"""What an author says tells look-alikes apart is held against the characters scored."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import islice

from guidebuild.checks.rule import Rule, find_nothing
from guidebuild.guide.accounts import Account, SimilarSpecies
from guidebuild.guide.characters import Character, CharacterKind, Ease, Score
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.measure_text import parse_measure
from guidebuild.guide.measures import LENGTHS, Measure, kind_of_unit
from guidebuild.guide.problem import Unreadable
from guidebuild.identify.columns import Matrix, places_in, scored_columns, tabulate_guide, unseparated_sets
from guidebuild.identify.look_alikes import similar_pairs
from guidebuild.identify.readings import range_words, score_sheet
from guidebuild.identify.sentences import scope_words
from guidebuild.identify.separation import Separation, Shared, find_separations, find_shared, separates_easily

# A range written in a note: "10–12 mm", "10 to 12 mm".
_UNITS = "|".join(sorted(map(re.escape, LENGTHS), key=len, reverse=True))
_RANGE = re.compile(rf"\d+(?:\.\d+)?\s*(?:[–-]|to)\s*\d+(?:\.\d+)?\s*(?:{_UNITS})\b")
# Sizes nobody can judge without another thing beside it (common practice, no source).
_SIZE_WORDS = frozenset({"large", "larger", "big", "bigger", "small", "smaller", "little", "tiny", "medium", "medium-sized"})
_BESIDE_SIZE = frozenset(
    {"a", "an", "the", "very", "rather", "fairly", "quite", "in", "or", "to", "body", "size", "animal", "plant", "species"}
)
_SIZE_LABELS = {"body length", "length", "size"}
_NEAR = 0.005
"""Share of a length by which two may differ and be the same: 4 in is 10.2 cm."""
EASY_SCORED = 3
"""Two species not listed as similar are compared only where so many easily seen characters are scored for both."""
EACH = 5
"""So many unlisted look-alikes are looked into for each account: where all coincide, a few say enough."""


def _listed(guide: Guide) -> Iterator[tuple[Account, SimilarSpecies, Account]]:
    for account in guide.accounts.values():
        for similar in account.similar:
            other = guide.accounts.get(similar.account)
            if other is not None and other is not account:
                yield account, similar, other


def _listed_once(guide: Guide) -> Iterator[tuple[Account, SimilarSpecies, Account]]:
    seen: set[frozenset[str]] = set()
    for account, similar, other in _listed(guide):
        pair = frozenset((account.id, other.id))
        if pair not in seen:
            seen.add(pair)
            yield account, similar, other


@lru_cache(maxsize=2)
def _told(guide: Guide) -> Mapping[frozenset[str], tuple[Separation, ...]]:
    """What separates each pair of which either lists the other, worked out once for all rules."""
    return {frozenset((a.id, b.id)): find_separations(guide, a.id, b.id) for a, _, b in _listed_once(guide)}


def _named(account: Account) -> str:
    return account.vernacular or account.name.plain


def _claimed_in_vain(guide: Guide) -> Iterator[tuple[Account, SimilarSpecies, Account, Character]]:
    """Characters of `tell by:` that do not separate the two, whether they agree or cannot be compared."""
    told = _told(guide)
    for account, similar, other in _listed(guide):
        separating = {s.character.id for s in told[frozenset((account.id, other.id))]} if similar.tell_by else ()
        for wanted in similar.tell_by:
            if wanted in guide.characters and wanted not in separating:
                yield account, similar, other, guide.characters[wanted]


def _tell_by_does_not_separate(guide: Guide) -> Iterator[Finding]:
    for account, similar, other, character in _claimed_in_vain(guide):
        same = next((s for s in find_shared(guide, account.id, other.id) if s.character.id == character.id), None)
        if same is None:
            continue
        pair = f"{_named(account)} from {_named(other)}"
        message = f"“{character.label}” does not tell {pair}: {_both(same)}."
        best = find_separations(guide, account.id, other.id)
        mend = f"Write “{best[0].character.id}”, which does, or correct the scores." if best else ""
        yield TELL_BY_DOES_NOT_SEPARATE.finding(message, similar.at, mend=mend, account=account.id)


def _both(same: Shared) -> str:
    one, other = same.first_words, same.second_words
    if one == other:
        return f"both are {one}"
    if same.character.kind is not CharacterKind.RANGE:
        return f"the one is {one}, the other {other}"
    low, high = max(same.first.low, same.second.low), min(same.first.high, same.second.high)
    if low > high:
        margin = range_words(same.character.margin, same.character.margin, same.character.unit)
        return f"{one} and {other} lie nearer than the margin of {margin}"
    return f"{one} and {other} overlap at {range_words(low, high, same.character.unit)}"


def _tell_by_not_scored(guide: Guide) -> Iterator[Finding]:
    for account, similar, other, character in _claimed_in_vain(guide):
        if any(c.character.id == character.id for c in find_shared(guide, account.id, other.id)):
            continue
        lacking = [_named(a) for a in (account, other) if not score_sheet(guide, a.id).get(character.id)]
        why = f"it is not scored for {' or '.join(lacking)}" if lacking else "the two are not scored for a common stage and sex"
        message = f"“{character.label}” cannot be shown to tell {_named(account)} from {_named(other)}: {why}."
        yield TELL_BY_NOT_SCORED.finding(message, similar.at, account=account.id)


def _nothing_separates(guide: Guide) -> Iterator[Finding]:
    if not guide.characters:
        return
    for account, similar, other in _listed_once(guide):
        if not _told(guide)[frozenset((account.id, other.id))]:
            message = f"Nothing under `characters:` tells {_named(account)} from {_named(other)}."
            yield NOTHING_SEPARATES.finding(message, similar.at, account=account.id)
    matrix = tabulate_guide(guide)
    for one, other in _unlisted(guide, matrix, 1):
        if not find_separations(guide, one.id, other.id) and find_shared(guide, one.id, other.id):
            message = f"Nothing under `characters:` tells {_named(one)} from {_named(other)}, and neither lists the other as similar."
            yield NOTHING_SEPARATES.finding(message, one.where("characters"), account=one.id)


def _unlisted(guide: Guide, matrix: Matrix, least: int) -> Iterator[tuple[Account, Account]]:
    """Pairs that no column separates and nobody lists, at least so many columns scored for both; some for each account."""
    listed = set(similar_pairs(guide))
    scored = scored_columns(matrix)
    for place, others in enumerate(unseparated_sets(matrix)):
        one = matrix.taxa[place]
        later = (other for other in places_in(others >> place << place) if (scored[place] & scored[other]).bit_count() >= least)
        pairs = ((one, matrix.taxa[other]) for other in later)
        for _, two in islice((p for p in pairs if (min(p), max(p)) not in listed), EACH):
            yield guide.accounts[one], guide.accounts[two]


def _only_in_the_hand(guide: Guide) -> Iterator[Finding]:
    for account, similar, other in _listed_once(guide):
        found = _told(guide)[frozenset((account.id, other.id))]
        if found and not separates_easily(found):
            best = found[0].character
            message = (
                f"{_named(account)} and {_named(other)} are told apart only {best.ease.words} (by the {best.label}), "
                "which cannot be done on a walk."
            )
            yield ONLY_IN_THE_HAND.finding(message, similar.at, account=account.id)


def _only_in_part(guide: Guide) -> Iterator[Finding]:
    for account, similar, other in _listed_once(guide):
        found = _told(guide)[frozenset((account.id, other.id))]
        if found and not any(s.whole for s in found):
            scopes = dict.fromkeys(scope_words(guide, s.scope, account).removesuffix(", ") for s in found)
            message = f"{_named(account)} and {_named(other)} are told apart only {' or '.join(scopes)}."
            yield ONLY_IN_PART.finding(message, similar.at, account=account.id)


def _look_alike_not_listed(guide: Guide) -> Iterator[Finding]:
    matrix = tabulate_guide(guide)
    easy = tuple(column for column in matrix.columns if column.ease <= Ease.CLOSE_UP)
    for one, other in _unlisted(guide, Matrix(matrix.taxa, easy, matrix.weights, matrix.scope), EASY_SCORED):
        common = [s for s in find_shared(guide, one.id, other.id) if s.character.ease <= Ease.CLOSE_UP]
        found = find_separations(guide, one.id, other.id)
        if len(common) >= EASY_SCORED and found and not separates_easily(found):
            message = (
                f"{_named(one)} and {_named(other)} differ in nothing that is easily seen "
                f"({len(common)} characters agree), but neither lists the other as similar."
            )
            mend = f"Add `{other.id}` under `similar:`, or score what separates them."
            yield LOOK_ALIKE_NOT_LISTED.finding(message, one.where("similar"), mend=mend, account=one.id)


def _score_against_size(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        size = account.size
        if size is None or size.low is None or size.high is None:
            continue
        labels = {size.what.casefold()} if size.what else _SIZE_LABELS
        for score in account.scores:
            character, measure = guide.characters.get(score.character), score.measure
            if character is None or measure is None or character.label.casefold() not in labels:
                continue
            if kind_of_unit(measure.unit) != kind_of_unit(size.unit):
                continue
            message = f"The {character.label} is scored as {measure.typed}, but the size is given as {size.typed}."
            if _apart(measure, size.in_unit(measure.unit)):
                yield SCORE_AGAINST_SIZE.finding(message, score.at, account=account.id)
            elif _disagree(measure, size.in_unit(measure.unit), score):
                yield SCORE_BESIDE_SIZE.finding(message, score.at, account=account.id)


def _apart(scored: Measure, size: Measure) -> bool:
    low, high = scored.low or 0.0, math.inf if scored.high is None else scored.high
    least, most = size.low or 0.0, math.inf if size.high is None else size.high
    return low > most * (1 + _NEAR) or high < least * (1 - _NEAR)


def _disagree(scored: Measure, size: Measure, score: Score) -> bool:
    """Whether a score and the size cannot both be right: all of them are as long as the size says, a sex or stage is within it."""
    narrowed = bool(score.stages or score.sexes)
    ends = ((scored.low, size.low), (scored.high, size.high))
    if not narrowed:
        return any(_differ(one, other) for one, other in ends)
    (low, least), (high, most) = ends
    return (low or 0.0) < (least or 0.0) * (1 - _NEAR) or (high or math.inf) > (most or math.inf) * (1 + _NEAR)


def _differ(one: float | None, other: float | None) -> bool:
    return (one is None) != (other is None) or (one is not None and other is not None and not math.isclose(one, other, rel_tol=_NEAR))


def _score_against_note(guide: Guide) -> Iterator[Finding]:
    for account, similar, other in _listed(guide):
        note = similar.note.words.casefold()
        for character in guide.characters.values():
            if character.id not in similar.tell_by and character.label.casefold() not in note:
                continue
            ours, theirs = (score_sheet(guide, one.id).get(character.id, ()) for one in (account, other))
            if not ours or not theirs:
                continue
            possible = frozenset().union(*(s.possible for s in (*ours, *theirs)))
            said = [s for s in character.states if len(s.words.split()) > 1 and s.words.casefold() in note]
            for state in said:
                if possible and state.id not in possible:
                    message = f"The note on {_named(other)} says “{state.words}”, but neither is scored so for “{character.label}”."
                    yield SCORE_AGAINST_NOTE.finding(message, similar.at, account=account.id)
        yield from _measures_against_note(guide, account, similar, other)


def _measures_against_note(guide: Guide, account: Account, similar: SimilarSpecies, other: Account) -> Iterator[Finding]:
    told = [guide.characters[c] for c in similar.tell_by if c in guide.characters]
    measured = [c for c in told if c.kind is CharacterKind.RANGE and kind_of_unit(c.unit) == "length" and c.unit]
    if len(measured) != 1:  # which of several it speaks of cannot be known
        return
    scores = [s.measure for a in (account, other) for s in a.scores if s.character == measured[0].id and s.measure]
    unit = measured[0].unit
    for typed in _RANGE.findall(similar.note.words):
        said = parse_measure(typed)
        if isinstance(said, Unreadable) or said.low is None or said.high is None:
            continue
        low, high = said.in_unit(unit).low or 0.0, said.in_unit(unit).high or math.inf
        meets = any((m.low or 0) <= high and (m.high is None or low <= m.high) for m in scores)
        if len(scores) > 1 and not meets:
            scored = " and ".join(m.typed for m in scores)
            words = range_words(low, high, unit)
            message = f"The note on {_named(other)} says {words}, but the {measured[0].label} is scored as {scored}."
            yield SCORE_AGAINST_NOTE.finding(message, similar.at, account=account.id)


def _size_word(guide: Guide) -> Iterator[Finding]:
    for character in guide.characters.values():
        for state in character.states:
            said = [word for word in re.findall(r"[\w-]+", state.words.casefold()) if word not in _BESIDE_SIZE]
            if said and all(word in _SIZE_WORDS for word in said):
                message = f"“{character.label}: {state.words}” cannot be judged without something to compare it with."
                yield SIZE_WORD.finding(message, state.at)


TELL_BY_DOES_NOT_SEPARATE = Rule(
    "tell-by-does-not-separate",
    "What `tell by:` names does tell the two apart",
    Level.ERROR,
    "A field mark that both species show sends a whole walk wrong.",
    "Name a character that differs, or correct the scores.",
    _tell_by_does_not_separate,
)
TELL_BY_NOT_SCORED = Rule(
    "tell-by-not-scored",
    "What `tell by:` names is scored for both",
    Level.WARNING,
    "A claim that is not scored on both sides cannot be tested.",
    "Score it under `characters:` in both accounts.",
    _tell_by_not_scored,
)
NOTHING_SEPARATES = Rule(
    "nothing-separates",
    "Something separates every two species",
    Level.ERROR,
    "If nothing scored differs, the cards, the comparison and the key cannot say which it is.",
    "Score a character that differs in both accounts.",
    _nothing_separates,
)
ONLY_IN_THE_HAND = Rule(
    "only-in-the-hand",
    "Similar species can be told apart without holding them",
    Level.WARNING,
    "On a walk nobody catches, picks or turns over what is seen to look at one mark.",
    "Add a character that shows close up, or say on the card that it needs a closer look.",
    _only_in_the_hand,
)
ONLY_IN_PART = Rule(
    "only-in-part",
    "Similar species can be told apart in either sex and at every stage scored",
    Level.WARNING,
    "A reader with the other sex or stage in view would be misled.",
    "Say so in the note, or score a character that holds for all.",
    _only_in_part,
)
LOOK_ALIKE_NOT_LISTED = Rule(
    "look-alike-not-listed",
    "Species that look alike list one another",
    Level.NOTE,
    "Readers are warned only of what `similar:` lists.",
    "List it under `similar:`.",
    _look_alike_not_listed,
)
SCORE_AGAINST_SIZE = Rule(
    "score-against-size",
    "A scored length agrees with the stated size",
    Level.ERROR,
    "The card shows the size, the key asks the length: both must be true.",
    "Correct one of the two.",
    _score_against_size,
)
SCORE_BESIDE_SIZE = Rule(
    "score-beside-size",
    "A length written twice is written alike",
    Level.WARNING,
    "The card would show one length, and the key and the comparison another.",
    "Correct one of the two, or leave the score out: a size that says what was measured is a score as well.",
    find_nothing,
)
SCORE_AGAINST_NOTE = Rule(
    "score-against-note",
    "Notes on similar species agree with the scores",
    Level.WARNING,
    "The note stands on the card; the key follows the scores.",
    "Correct the note or the scores.",
    _score_against_note,
)
SIZE_WORD = Rule(
    "size-word",
    "No state is only “large” or “small”",
    Level.WARNING,
    "Nobody can say what is large who has not seen the small one beside it.",
    "Give a measurement, or compare: “longer than the head”.",
    _size_word,
)

RULES = (
    TELL_BY_DOES_NOT_SEPARATE,
    TELL_BY_NOT_SCORED,
    NOTHING_SEPARATES,
    ONLY_IN_THE_HAND,
    ONLY_IN_PART,
    LOOK_ALIKE_NOT_LISTED,
    SCORE_AGAINST_SIZE,
    SCORE_BESIDE_SIZE,
    SCORE_AGAINST_NOTE,
    SIZE_WORD,
)
