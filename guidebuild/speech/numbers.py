"""Figures as words: whole numbers, decimals, fractions, ordinals, years."""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module

from guidebuild.speech.language import Language

_MOST_DIGITS = 9


@lru_cache(maxsize=4096)
def say_cardinal(figure: str, table: Language) -> str:
    """A figure as typed in words: `12` twelve, `1,250` one thousand two hundred and fifty, `3.5` three point five, `2½`.

    Decimals are read digit by digit; so are long numbers and those led by a zero, as codes are.
    """
    if figure[-1] in table.fractions:
        fraction = table.fractions[figure[-1]]
        return f"{say_cardinal(figure[:-1], table)} {table.words['and']} {fraction}" if figure[:-1] else fraction
    whole, _, decimals = figure.replace(",", "").partition(".")
    coded = len(whole) > _MOST_DIGITS or (len(whole) > 1 and whole[0] == "0")
    words = _digits(whole, table) if coded else _words(whole, table)
    return f"{words} {table.words['point']} {_digits(decimals, table)}" if decimals else words


@lru_cache(maxsize=1024)
def say_ordinal(figure: str, table: Language) -> str:
    """`21` twenty-first."""
    return _words(figure, table, "ordinal")


@lru_cache(maxsize=1024)
def say_year(figure: str, table: Language) -> str:
    """`1758` seventeen fifty-eight, `2026` twenty twenty-six."""
    return _words(figure, table, "year")


def _words(figure: str, table: Language, kind: str = "cardinal") -> str:
    # Imported when first asked for: it reads sixty languages, and most commands say no figure.
    num2words = import_module("num2words").num2words
    # The commas of "one thousand, two hundred" would count as pauses.
    return str(num2words(int(figure), to=kind, lang=table.numbers)).replace(",", "")


def _digits(figures: str, table: Language) -> str:
    return " ".join(_words(figure, table) for figure in figures)
