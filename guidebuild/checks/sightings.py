"""What the accounts say agrees with what was seen. The author decides which of the two is right."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator

from babel.dates import format_date

from guidebuild.checks.rule import Rule
from guidebuild.counting import count_of
from guidebuild.fieldwork.out import stage_season
from guidebuild.fieldwork.season_words import typed_words
from guidebuild.guide.accounts import Account, StageSeason
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.seasons import DEKADS, Season, dekad_of
from guidebuild.guide.sightings import Seen, Tally

ENOUGH = 10  # sightings of a stage before their silence about a month says anything
JOINED = 2  # dekads without a sighting that a suggested season bridges


def _tallies(guide: Guide) -> dict[tuple[str, str], list[Tally]]:
    """Tallies of accounts of this guide by account and stage."""
    tallies: dict[tuple[str, str], list[Tally]] = defaultdict(list)
    for tally in guide.sightings:
        if tally.account in guide.accounts:
            tallies[tally.account, tally.stage].append(tally)
    return tallies


def _of_account(guide: Guide) -> dict[str, list[Tally]]:
    """Tallies by account."""
    tallies: dict[str, list[Tally]] = defaultdict(list)
    for tally in guide.sightings:
        tallies[tally.account].append(tally)
    return tallies


def _out_of_season(guide: Guide) -> Iterator[Finding]:
    for (account_id, stage), tallies in _tallies(guide).items():
        account = guide.accounts[account_id]
        outside = [seen for tally in tallies for seen in _outside(account, tally)]
        stated = _stated(account, stage)
        if outside and stated and stated.season.dekads:
            first = min(outside, key=lambda seen: seen.day)
            rows, total = sum(s.rows for s in outside), sum(sum(t.counts) for t in tallies)
            lie = "lies" if rows == 1 else "lie"
            message = f"{_many(rows)} of {total} of the {stage} {lie} outside “{stated.season.typed}”: first {_day(first)}."
            mend = f"If right, write “{stage}: {_widened(stated.season, outside, total)}”; else correct the rows."
            yield OUT_OF_SEASON.finding(message, stated.at, mend=mend, account=account_id)


def _outside(account: Account, tally: Tally) -> list[Seen]:
    season = stage_season(account, tally.stage, tally.place)
    return [seen for seen in tally.seen() if season and dekad_of(seen.day) not in season.dekads]


def _stated(account: Account, stage: str) -> StageSeason | None:
    return next((s for s in account.seasons if s.stage == stage and not s.place), None)


def _many(rows: int) -> str:
    return f"{rows} {'sighting' if rows == 1 else 'sightings'}"


def _day(seen: Seen) -> str:
    return f"on {format_date(seen.day, 'd MMMM y', locale='en_GB')} ({seen.at.file} row {seen.at.line})"


def _widened(season: Season, outside: list[Seen], total: int) -> str:
    """The season that takes in what was seen: "sometimes" for what one year or a twentieth of the sightings says."""
    rare = len({s.day.year for s in outside}) == 1 or sum(s.rows for s in outside) * 20 < total
    seen = frozenset(dekad_of(s.day) for s in outside)
    joined = _bridged(season.dekads | seen)
    more = joined - season.dekads
    return typed_words(Season("", joined, season.most_seen, season.uncertain | more if rare else season.uncertain))


def _bridged(dekads: frozenset[int]) -> frozenset[int]:
    """Gaps of up to JOINED dekads filled."""
    filled = set(dekads)
    for dekad in dekads:
        reach = [(dekad + step) % DEKADS for step in range(1, JOINED + 2)]
        nearest = next((n for n, d in enumerate(reach) if d in dekads), 0)
        filled |= set(reach[:nearest])
    return frozenset(filled)


def _unsupported(guide: Guide) -> Iterator[Finding]:
    by_stage, by_account = _tallies(guide), _of_account(guide)
    for account in guide.accounts.values():
        rows_of_account = sum(sum(t.counts) for t in by_account[account.id])
        for stated in account.seasons:
            tallies = by_stage.get((account.id, stated.stage), [])
            if stated.place or not stated.season.dekads or rows_of_account < ENOUGH:
                continue
            total = sum(sum(t.counts) for t in tallies)
            if not total:
                message = f"No sighting supports the season of the {stated.stage}, “{stated.season.typed}”."
                yield UNSUPPORTED.finding(message, stated.at, account=account.id)
            elif total >= ENOUGH and (silent := _silent(stated.season, tallies)):
                words = typed_words(Season("", silent))
                message = f"No sighting supports {words} for the {stated.stage} ({_many(total)} at other times)."
                rest = Season("", stated.season.dekads - silent, stated.season.most_seen - silent, stated.season.uncertain - silent)
                mend = f"Look then, or write “{stated.stage}: {typed_words(rest)}”."
                yield UNSUPPORTED.finding(message, stated.at, mend=mend, account=account.id)


def _silent(season: Season, tallies: list[Tally]) -> frozenset[int]:
    """Certain dekads of a month or more in a row without a sighting in or next to them."""
    seen = {dekad_of(dt.date.fromordinal(day)) for tally in tallies for day in tally.days}
    near = {(dekad + step) % DEKADS for dekad in seen for step in (-1, 0, 1)}
    silent = Season("", season.dekads - season.uncertain - near)
    runs = [(first, (last - first) % DEKADS + 1) for first, last in silent.runs()]
    return frozenset((first + n) % DEKADS for first, length in runs if length >= 3 for n in range(length))


def _denied_stage(guide: Guide) -> Iterator[Finding]:
    for (account_id, stage), tallies in _tallies(guide).items():
        stated = _stated(guide.accounts[account_id], stage)
        if stated and not stated.season.dekads:
            rows = sum(t.rows for t in tallies)
            if rows:
                message = (
                    f"The {stage} is said not to be found, yet there {'is' if rows == 1 else 'are'} {_many(rows)} of it{_first(tallies)}."
                )
                seen = frozenset(dekad_of(s.day) for t in tallies for s in t.seen())
                mend = f"If right, write “{stage}: {typed_words(Season('', _bridged(seen)))}”; else correct the rows." if seen else ""
                yield DENIED_STAGE.finding(message, stated.at, mend=mend, account=account_id)


def _first(tallies: list[Tally]) -> str:
    days = [seen for tally in tallies for seen in tally.seen()]
    return f", first {_day(min(days, key=lambda seen: seen.day))}" if days else ""


def _denied_place(guide: Guide) -> Iterator[Finding]:
    by_account = _of_account(guide)
    for account in guide.accounts.values():
        for place_id in account.absent_from:
            tallies = [t for t in by_account[account.id] if t.place == place_id]
            rows = sum(t.rows for t in tallies)
            if rows:
                name = guide.places[place_id].name if place_id in guide.places else place_id
                message = (
                    f"It is said to be absent from {name}, yet there {'is' if rows == 1 else 'are'} {_many(rows)} there{_first(tallies)}."
                )
                yield DENIED_PLACE.finding(message, account.where("absent from"), account=account.id)


def _new_place(guide: Guide) -> Iterator[Finding]:
    by_account = _of_account(guide)
    for account in guide.accounts.values():
        held = {t.place for t in by_account[account.id] if t.place and t.rows}
        new = sorted(held - set(account.places) - set(account.absent_from))
        if new and account.places:
            names = ", ".join(guide.places[p].name if p in guide.places else p for p in new)
            mend = f"Add to “places:”: {', '.join(new)}."
            yield NEW_PLACE.finding(f"It was seen at places that the account does not list: {names}.", account.where("places"), mend=mend,
                                    account=account.id)  # fmt: skip


def _looked_in_vain(guide: Guide) -> Iterator[Finding]:
    by_account = _of_account(guide)
    for account in guide.accounts.values():
        for place_id in account.places:
            tallies = [t for t in by_account[account.id] if t.place == place_id]
            absences = sum(t.absences for t in tallies)
            if absences >= ENOUGH and not any(t.rows for t in tallies):
                name = guide.places[place_id].name if place_id in guide.places else place_id
                message = f"{count_of(absences, 'search', 'searches')} at {name} found nothing, yet the account lists it."
                yield LOOKED_IN_VAIN.finding(message, account.where("places"), account=account.id)


OUT_OF_SEASON = Rule(
    "sighting-out-of-season",
    "Sightings lie in the stated season",
    Level.WARNING,
    "Either the season is too narrow, and readers look too late, or a sighting is wrong.",
    "Widen the season, or correct the rows.",
    _out_of_season,
)
UNSUPPORTED = Rule(
    "season-without-sightings",
    "Sightings support the stated season",
    Level.NOTE,
    "Nobody may have looked, or the season was copied from elsewhere.",
    "Look then, or narrow the season.",
    _unsupported,
)
DENIED_STAGE = Rule(
    "sighting-denied-stage",
    "No stage is seen that is said not to be found",
    Level.WARNING,
    "The account and the sightings contradict each other.",
    "Give the stage a season, or correct the rows.",
    _denied_stage,
)
DENIED_PLACE = Rule(
    "sighting-denied-place",
    "Nothing is seen at a place it is said to be absent from",
    Level.WARNING,
    "The account and the sightings contradict each other.",
    "Take the place out of “absent from:”, or correct the rows.",
    _denied_place,
)
NEW_PLACE = Rule(
    "sighting-new-place",
    "Places with sightings are listed",
    Level.NOTE,
    "Pages of places show what the accounts list.",
    "Add the places to “places:”.",
    _new_place,
)
LOOKED_IN_VAIN = Rule(
    "place-without-sightings",
    "Listed places are not ones where all searches found nothing",
    Level.NOTE,
    "A walk would promise what is not there.",
    "Move the place to “absent from:”, or keep it if the searches were at the wrong time.",
    _looked_in_vain,
)

RULES = (OUT_OF_SEASON, UNSUPPORTED, DENIED_STAGE, DENIED_PLACE, NEW_PLACE, LOOKED_IN_VAIN)
