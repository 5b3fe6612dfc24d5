"""Words for times of year in other languages than English: months after the CLDR, other words as they are given."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum, auto
from functools import cached_property, lru_cache
from types import MappingProxyType

from babel import Locale, UnknownLocaleError

from guidebuild.guide.months import month_names


class TokenKind(Enum):
    """What a token of a season is; the value that goes with it is told beside each."""

    MONTH = auto()  # 1–12
    PART = auto()  # first, last dekad within a month
    SEASON = auto()  # 0 spring … 3 winter
    NUMBER = auto()  # a day of the month
    DATE = auto()  # month, day
    WEEK = auto()  # ISO week 1–53
    ALL_YEAR = auto()
    NEVER = auto()
    TO = auto()
    AND = auto()
    COMMA = auto()
    STOP = auto()
    BETWEEN = auto()
    PEAK = auto()
    SOMETIMES = auto()
    EXCEPT = auto()
    ABOUT = auto()
    OPEN = auto()  # "onwards": a range without its other end
    UNKNOWN = auto()


Meaning = tuple[tuple[TokenKind, tuple[int, ...]], ...]
"""What a phrase stands for: the kinds and values of its tokens; nothing for words that say nothing of time."""

_PARTS = {"early": (0, 0), "mid": (1, 1), "late": (2, 2)}  # first and last third
_SEASONS = {"spring": 0, "summer": 1, "autumn": 2, "winter": 3}
MEANINGS: Mapping[str, Meaning] = MappingProxyType(
    {
        **{word: ((TokenKind.PART, thirds),) for word, thirds in _PARTS.items()},
        **{word: ((TokenKind.SEASON, (number,)),) for word, number in _SEASONS.items()},
        **{
            f"{part} {season}": ((TokenKind.PART, thirds), (TokenKind.SEASON, (number,)))
            for part, thirds in _PARTS.items()
            for season, number in _SEASONS.items()
        },
        "to": ((TokenKind.TO, ()),),
        "and": ((TokenKind.AND, ()),),
        "between": ((TokenKind.BETWEEN, ()),),
        "all year": ((TokenKind.ALL_YEAR, ()),),
        "never": ((TokenKind.NEVER, ()),),
        "most seen": ((TokenKind.PEAK, ()),),
        "sometimes": ((TokenKind.SOMETIMES, ()),),
        "except": ((TokenKind.EXCEPT, ()),),
        "about": ((TokenKind.ABOUT, ()),),
        "week": ((TokenKind.WEEK, ()),),
        "noise": (),
    }
)
"""What a language can have words for, and what these words stand for."""


@dataclass(frozen=True)
class Vocabulary:
    """What the phrases of some languages stand for, by the phrase in small letters; none for English alone."""

    meanings: Mapping[str, Meaning] = field(default_factory=dict)

    @cached_property
    def _pattern(self) -> re.Pattern[str]:
        longest_first = sorted(self.meanings, key=len, reverse=True)
        # What ends in an apostrophe, such as French d', leans on the next word.
        ends = (re.escape(phrase) + ("" if phrase.endswith("'") else r"(?!\w)") for phrase in longest_first)
        return re.compile("|".join(ends) or r"(?!)")

    def match_phrase(self, lower: str, at: int) -> tuple[Meaning, int] | None:
        """What the longest phrase at a place stands for, and how long it is."""
        found = self._pattern.match(lower, at)
        return (self.meanings[found[0]], len(found[0])) if found else None

    @cached_property
    def times(self) -> tuple[str, ...]:
        """The words for months, their parts and seasons: what a mistyped word may be meant as."""
        named = (TokenKind.MONTH, TokenKind.PART, TokenKind.SEASON)
        return tuple(phrase for phrase, meaning in self.meanings.items() if meaning and meaning[0][0] in named)


ENGLISH = Vocabulary()
"""No other words than the English ones, which are always read."""


def gather_vocabulary(languages: Sequence[str], words: Mapping[str, Mapping[str, Sequence[str]]]) -> Vocabulary:
    """The vocabulary of some languages, the first counts where two differ; `words` are lists of words by language and by meaning."""
    meanings: dict[str, Meaning] = {}
    for language in languages:
        for name, month in name_months(language).items():
            meanings.setdefault(name, ((TokenKind.MONTH, (month,)),))
        for meaning, phrases in words.get(language, {}).items():
            for phrase in phrases:
                stands_for = ((TokenKind.MONTH, (int(meaning),)),) if meaning.isdigit() else MEANINGS[meaning]
                meanings.setdefault(_compared(phrase), stands_for)
    return Vocabulary(meanings)


def _compared(phrase: str) -> str:
    return unicodedata.normalize("NFC", phrase).lower().strip(".")


@lru_cache(maxsize=64)
def name_months(language: str) -> Mapping[str, int]:
    """Month names of a language after the Unicode CLDR, as Babel holds them: lower-case word → month. English is read without."""
    if language.partition("-")[0] == "en":
        return {}
    try:
        locale = Locale.parse(language.replace("-", "_"))
    except (UnknownLocaleError, ValueError):
        return {}
    names: dict[str, int] = {}
    for context in ("stand-alone", "format"):
        for width in ("wide", "abbreviated"):
            for number, name in month_names(locale, width, context).items():
                names.setdefault(_compared(name), number)
    return names
