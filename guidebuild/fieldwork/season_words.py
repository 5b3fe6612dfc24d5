"""Seasons back into words that `parse_season` reads again, into dates of any language, and into a bar for the terminal."""

from __future__ import annotations

import datetime as dt

from babel import Locale
from babel.dates import format_skeleton
from babel.lists import format_list

from guidebuild.guide.months import month_names
from guidebuild.guide.season_tokens import MONTHS
from guidebuild.guide.seasons import DEKADS, Season, turn_year

_THIRDS = ("early", "mid", "late")
_STARTS = (1, 11, 21)
# Heights carry the meaning, so the bar reads without colour: nothing, sometimes, present, most seen.
BLOCKS, PLAIN = "·▁▄█", ".-o#"


def typed_words(season: Season) -> str:
    """The season as an author would type it; reading the words gives the same dekads again."""
    certain = season.dekads - season.uncertain
    pieces = [_runs(certain, excepting=not season.uncertain)] if certain else []
    if certain and season.most_seen:
        pieces.append(f"most seen in {_runs(season.most_seen)}")
    if season.uncertain:
        pieces.append(f"sometimes {_runs(season.uncertain, excepting=not certain)}")
    return "; ".join(pieces) or "none"


def _runs(dekads: frozenset[int], *, excepting: bool = False) -> str:
    """Stretches in words; `excepting` where these are all the dekads of a season, since “except” is read as said of the whole."""
    if len(dekads) == DEKADS:
        return "all year"
    runs = Season("", dekads).runs()
    first, last = runs[0]
    if len(runs) == 1 and first // 3 == last // 3 and last < first:  # a range that ends in the month of its start cannot be typed
        if excepting:
            return f"all year except {_runs(frozenset(range(DEKADS)) - dekads)}"
        runs = ((0, last), (first, DEKADS - 1))
    words = [_run(first, last) for first, last in runs]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _run(first: int, last: int) -> str:
    start, end = (MONTHS[dekad // 3].capitalize() for dekad in (first, last))
    if first == last:
        return f"{_THIRDS[first % 3]} {start}"
    if first // 3 == last // 3:
        return start if last - first == 2 else f"{_THIRDS[first % 3]} to {_THIRDS[last % 3]} {start}"
    opening = start if first % 3 == 0 else f"{_THIRDS[first % 3]} {start}"
    closing = end if last % 3 == 2 else f"{_THIRDS[last % 3]} {end}"
    return f"{opening} – {closing}" if " " in opening + closing else f"{opening}–{closing}"


def dated_words(season: Season, language: str | Locale, first: int = 0) -> str:
    """The season as months or dates of a language after the Unicode CLDR, for languages without words for early and mid.

    The year is told from the dekad `first` on.

    Spanish for mid May to early July: `11 may – 10 jul`.
    """
    locale = language if isinstance(language, Locale) else Locale.parse(language.replace("-", "_"))
    runs = season.runs(first)
    return format_list([_dated(start, end, locale) for start, end in runs], locale=locale) if runs else "–"


def _dated(first: int, last: int, locale: Locale) -> str:
    names = month_names(locale)
    if first % 3 == 0 and last % 3 == 2:
        start, end = names[first // 3 + 1], names[last // 3 + 1]
        return start if start == end else f"{start} – {end}"
    start, end = (format_skeleton("MMMd", day, locale=locale) for day in (first_day(first), last_day(last)))
    return f"{start} – {end}"


def first_day(dekad: int, year: int = 2023) -> dt.date:
    """The first day of a dekad."""
    return dt.date(year, dekad // 3 + 1, _STARTS[dekad % 3])


def last_day(dekad: int, year: int = 2023) -> dt.date:
    """The last day of a dekad; 2023 is no leap year."""
    return first_day((dekad + 1) % DEKADS, year + (dekad + 1) // DEKADS) - dt.timedelta(days=1)


def text_bar(season: Season, marks: str = BLOCKS, first: int = 0) -> str:
    """36 characters, one a dekad from the `first` on; `marks` stand for nothing, sometimes, present, most seen."""
    return "".join(marks[_height(season, dekad)] for dekad in turn_year(range(DEKADS), first))


def _height(season: Season, dekad: int) -> int:
    if dekad not in season.dekads:
        return 0
    return 3 if dekad in season.most_seen else 1 if dekad in season.uncertain else 2


def month_letters(language: str, first: int = 0) -> str:
    """First letters of the months from the `first` (0–11) on, each over the first of its three dekads of a bar."""
    letters = month_names(Locale.parse(language.replace("-", "_")), "narrow")
    return "".join(f"{letters[month]:<3}" for month in turn_year(range(1, 13), first)).rstrip()
