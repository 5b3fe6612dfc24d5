"""What the timing knows of a language, read once from the tables in `content/speech`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from re import Pattern
from types import MappingProxyType
from typing import Any, TypeVar

import yaml

from guidebuild.shipped import content

DEFAULT = "en"
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True, eq=False)  # one value a language: compared and hashed by identity
class Language:
    """One language's table.

    `numbers` names the language to num2words. Before a unit a number may end otherwise (`before_unit`: un milímetro). `words` are
    small words the spoken form needs ("to" in a range). `units` and
    `money` hold (one, several). Abbreviations in `before_figure` are such only before a figure, those in `closing` may end a
    sentence too; `letters` are capitals read one by one. A caption line ends on no `opening` word (prepositions, conjunctions) and on
    no `leading` one (determiners and others), but may well start with an `opening` one. Groups of `vowels` left after taking out
    `silent` letters are syllables; `patterns` change a syllable count where they occur in a word written between `^` and `$`, and
    are held by their first two signs; `whole` holds counts of whole words and comes first.
    """

    code: str
    numbers: str
    decimal_sign: str
    days_are_cardinal: bool
    before_unit: Mapping[str, str]
    before_feminine_unit: Mapping[str, str]
    feminine_units: frozenset[str]
    words: Mapping[str, str]
    months: tuple[str, ...]
    month_abbreviations: tuple[str, ...]
    month_parts: tuple[str, ...]
    ordinal_endings: tuple[str, ...]
    decades: Mapping[str, str]
    units: Mapping[str, tuple[str, str]]
    money: Mapping[str, tuple[str, str]]
    signs: Mapping[str, str]
    fractions: Mapping[str, str]
    abbreviations: Mapping[str, str]
    before_figure: frozenset[str]
    closing: frozenset[str]
    letters: frozenset[str]
    prepositions: frozenset[str]
    opening: frozenset[str]
    determiners: frozenset[str]
    leading: frozenset[str]
    vowels: Pattern[str]
    silent: Pattern[str]
    accents_part_syllables: bool
    has_dictionary: bool
    letters_a_syllable: float
    whole: Mapping[str, int]
    patterns: Mapping[str, tuple[tuple[str, int], ...]]


def list_languages() -> tuple[str, ...]:
    """Codes of the languages that have a table, in alphabetical order."""
    tables = (entry.name for entry in content().joinpath("speech").iterdir())
    return tuple(sorted(name.removesuffix(".yaml") for name in tables if name.endswith(".yaml")))


@cache
def read_language(code: str = DEFAULT) -> Language:
    """The table of a language (`en`, `en-GB`, `es_MX`); English where there is none: ask `list_languages` to tell."""
    base = code.replace("_", "-").split("-")[0].lower()
    chosen = base if base in list_languages() else DEFAULT
    folder = content().joinpath("speech")
    table: dict[str, Any] = yaml.safe_load(folder.joinpath(f"{chosen}.yaml").read_text("utf-8"))
    patterns = folder.joinpath(f"{chosen}.patterns")
    prepositions, determiners = (frozenset(table[kind].split()) for kind in ("prepositions", "determiners"))
    return Language(
        code=chosen,
        numbers=table["numbers"],
        decimal_sign=table["decimal sign"],
        days_are_cardinal=table["days of a month"] == "cardinal",
        before_unit=_frozen(table["before a unit"]),
        before_feminine_unit=_frozen(table["before a feminine unit"]),
        feminine_units=frozenset(table["feminine units"]),
        words=_frozen(table["words"]),
        months=tuple(table["months"]),
        month_abbreviations=tuple(table["month abbreviations"]),
        month_parts=tuple(table["parts of a month"]),
        ordinal_endings=tuple(table["ordinal endings"]),
        decades=_frozen(table["decades"]),
        units=_frozen({unit: (one, several) for unit, (one, several) in table["units"].items()}),
        money=_frozen({sign: (one, several) for sign, (one, several) in table["money"].items()}),
        signs=_frozen(table["signs"]),
        fractions=_frozen(table["fractions"]),
        abbreviations=_frozen(table["abbreviations"]),
        before_figure=frozenset(table["before a figure"]),
        closing=frozenset(table["may end a sentence"]),
        letters=frozenset(table["letters"]),
        prepositions=prepositions,
        opening=prepositions | frozenset(table["conjunctions"].split()),
        determiners=determiners,
        leading=determiners | frozenset(table["leading words"].split()),
        vowels=re.compile(table["vowels"]),
        silent=re.compile(table["silent"]),
        accents_part_syllables=table["accents part syllables"],
        has_dictionary=table["pronouncing dictionary"],
        letters_a_syllable=float(table["letters a syllable"]),
        whole=_frozen(table["syllables"]),
        patterns=_frozen(_by_start(_read_patterns(patterns.read_text("utf-8")) if patterns.is_file() else {})),
    )


def _frozen(table: dict[str, Value]) -> Mapping[str, Value]:
    return MappingProxyType(table)


def _read_patterns(text: str) -> dict[str, int]:
    """Lines `+1 ia io …`; a pattern may stand in several lines, its changes add up. `#` opens a comment."""
    patterns: dict[str, int] = {}
    for line in text.splitlines():
        change, *found = line.split("#")[0].split() or [""]
        for pattern in found:
            patterns[pattern] = patterns.get(pattern, 0) + int(change)
    return patterns


def _by_start(patterns: dict[str, int]) -> dict[str, tuple[tuple[str, int], ...]]:
    """Patterns under their first two signs, so that a word looks at few of them."""
    by_start: dict[str, list[tuple[str, int]]] = {}
    for pattern, change in patterns.items():
        by_start.setdefault(pattern[:2], []).append((pattern, change))
    return {start: tuple(held) for start, held in by_start.items()}
