"""Seasons of an account agree with one another."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.rule import Rule
from guidebuild.fieldwork.season_words import typed_words
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.seasons import DEKADS, Season


def _place_season_outside(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        for stated in account.seasons:
            region = account.season_of(stated.stage)
            if not stated.place or region is None:
                continue
            beyond = stated.season.dekads - region.dekads
            if beyond:
                place = guide.places.get(stated.place)
                words = typed_words(Season("", beyond))
                message = (
                    f"The {stated.stage} is said to be at {place.name if place else stated.place} in {words}, outside the region's season."
                )
                mend = f"Widen the season of the region to “{typed_words(Season('', region.dekads | beyond))}”, or mend that of the place."
                yield PLACE_SEASON_OUTSIDE.finding(message, stated.at, mend=mend, account=account.id)


def _season_twice(guide: Guide) -> Iterator[Finding]:
    for account in guide.accounts.values():
        met: set[tuple[str, str]] = set()
        for stated in account.seasons:
            if (stated.stage, stated.place) in met:
                where = f" at {stated.place}" if stated.place else ""
                yield SEASON_TWICE.finding(f"The season of the {stated.stage}{where} is given twice.", stated.at, account=account.id)
            met.add((stated.stage, stated.place))


def _season_nearly_all_year(guide: Guide) -> Iterator[Finding]:
    """A range typed the wrong way round (Sep–Aug for Aug–Sep) goes nearly round the year."""
    for account in guide.accounts.values():
        for stated in account.seasons:
            runs = stated.season.runs()
            missing = frozenset(range(DEKADS)) - stated.season.dekads
            if len(runs) == 1 and 0 < len(missing) <= 6 and "except" not in stated.season.typed and "not" not in stated.season.typed:
                words = typed_words(Season("", missing))
                message = f"“{stated.season.typed}” is all the year except {words}."
                mend = f"If so, write “all year except {words}”; else swap the ends of the range."
                yield SEASON_NEARLY_ALL_YEAR.finding(message, stated.at, mend=mend, account=account.id)


PLACE_SEASON_OUTSIDE = Rule(
    "place-season-outside",
    "A place's season lies in that of the region",
    Level.WARNING,
    "A reader of the region's season would not look when the place's says to.",
    "Widen the season of the region, or mend that of the place.",
    _place_season_outside,
)
SEASON_TWICE = Rule(
    "season-twice",
    "Each stage has one season a place",
    Level.WARNING,
    "Pages show the first and print may show the other.",
    "Put both ranges into one line, such as “April–May and August”.",
    _season_twice,
)
SEASON_NEARLY_ALL_YEAR = Rule(
    "season-nearly-all-year",
    "Ranges of months are the right way round",
    Level.NOTE,
    "A range runs forwards, so “September–August” is the whole year.",
    "Swap the ends of the range.",
    _season_nearly_all_year,
)

RULES = (PLACE_SEASON_OUTSIDE, SEASON_TWICE, SEASON_NEARLY_ALL_YEAR)
