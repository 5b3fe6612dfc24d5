"""What is out on a day, at a place or in the whole region, ranked, and why. Nothing is promised."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import IntEnum
from itertools import islice

from guidebuild.fieldwork.seen import SeenIndex, seen_index
from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.asking import kept_by_guide
from guidebuild.guide.facts import AnyGuide
from guidebuild.guide.life_stages import EATEN, GROWN_ON, is_state
from guidebuild.guide.records import PlaceFacts
from guidebuild.guide.seasons import DEKADS, Season, dekad_of

LIKELY_YEARS = 2
IN_SEASON = ("in season: {stages}", "{stages} now")
"""The plain reason, of stages that are things (“nymph”) and of those that are states (“in flower”)."""
MOST_SEEN = ("most seen now: {stages}", "most often seen {stages} now")
UNCERTAIN = ("only sometimes in season now: {stages}", "only sometimes {stages} now")
SEEN = (
    (
        "seen around this date in one year ({last})",
        "seen around this date in one of {noted} years ({last})",
        "seen around this date in {years} of {noted} years, last in {last}",
    ),
    (
        "seen here around this date in one year ({last})",
        "seen here around this date in one of {noted} years ({last})",
        "seen here around this date in {years} of {noted} years, last in {last}",
    ),
)
"""In the region and at a place: in the one year in which anything was noted then, in one of several, and in more of them."""


class Chance(IntEnum):
    """How good the chance is, by what is known. `words` and what they mean stand beside each other wherever they are shown."""

    LIKELY = 0
    POSSIBLE = 1
    WORTH_A_LOOK = 2
    OUTSIDE = 3

    @property
    def words(self) -> str:
        """`likely`, `possible`, `worth a look`, `outside chance`."""
        return ("likely", "possible", "worth a look", "outside chance")[self]

    def meaning(self, *, at_place: bool, by_plants: bool = True) -> str:
        """What the words stand for, at a place or for the whole region; `by_plants`: where some may be tied to a place by its plants."""
        if at_place and not by_plants and self is Chance.WORTH_A_LOOK:
            return BY_HABITAT
        return (_AT_PLACE if at_place else _IN_REGION)[self]


HABITAT_HERE = "its habitat is here: {habitat}"
BY_HABITAT = "in season, and its habitat is here"
_AT_PLACE = (
    "in season, and seen at this place around this date in two years or more",
    "in season, and known from this place",
    "in season, and its habitat or a host plant is here",
    "in season in the region, or seen around this date, but nothing ties it to this place at this time",
)
_IN_REGION = (
    "in season, and seen in the region around this date in two years or more",
    "in season",
    "in season at some places only",
    "only sometimes in season, or seen around this date though out of season",
)


@dataclass(frozen=True, slots=True)
class Reason:
    """Why: a sentence with `{names}` and what fills them, so that it can be said in any language.

    The value of `stages` holds their words, each on a line of its own. Where a number `n` counts things, `one` says a single one.
    """

    message: str
    values: tuple[tuple[str, str], ...] = ()
    one: str = ""

    @property
    def text(self) -> str:
        """The sentence in English."""
        counted = dict(self.values).get("n")
        said = self.one if self.one and counted == "1" else self.message
        return said.format(**{name: value.replace("\n", " and ") for name, value in self.values})


@dataclass(frozen=True, slots=True)
class Out:
    """An account that may be met: its stages in season (id each), the chance and why."""

    account: str
    stages: tuple[str, ...]
    chance: Chance
    reasons: tuple[Reason, ...]
    most_seen: bool
    years: int
    rows: int


@dataclass(frozen=True, slots=True)
class _Asked:
    guide: AnyGuide
    index: SeenIndex
    dekad: int
    place: PlaceFacts | None


def out_on(guide: AnyGuide, day: dt.date, place: str = "") -> tuple[Out, ...]:
    """What may be met on a day, the best chance first.

    `place` is an id of places.yaml, "" for the whole region. Which accounts may be tied to the place is for the guide to say.
    """
    accounts = guide.accounts_at(place) if place in guide.places else guide.accounts.values()
    return rank_out(guide, accounts, dekad_of(day), place)


def rank_out(guide: AnyGuide, accounts: Iterable[AccountFacts], dekad: int, place: str = "") -> tuple[Out, ...]:
    """Those of some accounts that may be met in a third of a month, the best chance first; `place` as `out_on` has it."""
    asked = _Asked(guide, seen_index(guide), dekad, guide.places.get(place))
    found = [out for account in accounts if place not in account.absent_from and (out := _out(asked, account))]
    return tuple(sorted(found, key=lambda out: _rank(guide, out)))


def rank_year(guide: AnyGuide, place: PlaceFacts, most: int) -> tuple[tuple[Out, ...], ...]:
    """For each third of a month the likeliest of what something ties to a place, at most so many: in season, by no outside chance.

    Accounts that nothing but habitat or plants ties to it rank alike at every place; of a thousand of them only the first are looked at.
    """
    seen, tied = seen_index(guide), {account.id: account for account in list_tied(guide, place)}
    known = [
        account
        for account in tied.values()
        if place.id in account.places or place.id in seen.places(account.id) or any(s.place == place.id for s in account.seasons)
    ]
    others, stands = tied.keys() - {account.id for account in known}, {ident: number for number, ident in enumerate(tied)}
    ranked = []
    for dekad, order in enumerate(_order_by_season(guide)):
        first = (tied[ident] for ident in islice((ident for ident in order if ident in others), most))
        looked_at = sorted((*known, *first), key=lambda account: stands[account.id])  # so that equals stay in the guide's order
        found = (out for out in rank_out(guide, looked_at, dekad, place.id) if out.stages and out.chance is not Chance.OUTSIDE)
        ranked.append(tuple(islice(found, most)))
    return tuple(ranked)


@kept_by_guide(4)
def _order_by_season(guide: AnyGuide) -> tuple[tuple[str, ...], ...]:
    """For each third of a month the ids of accounts that are surely in season in the region, in the order of `_rank`."""
    orders: list[list[tuple[bool, str, str]]] = [[] for _ in range(DEKADS)]
    for account in guide.accounts.values():
        seasons = [season for stage in sought_stages(guide, account) if (season := account.season_of(stage))]
        most = frozenset[int]().union(*(season.most_seen & season.dekads for season in seasons))
        for dekad in frozenset[int]().union(*(season.dekads - season.uncertain for season in seasons)):
            orders[dekad].append((dekad not in most, account.name.sort_key, account.id))
    return tuple(tuple(ident for *_, ident in sorted(order, key=lambda one: one[:2])) for order in orders)


def list_tied(guide: AnyGuide, place: PlaceFacts) -> tuple[AccountFacts, ...]:
    """The accounts that something ties to a place: it is named, they were seen there, or their habitat or a host plant is there."""
    index = seen_index(guide)
    return tuple(
        account
        for account in guide.accounts_at(place.id)
        if place.id not in account.absent_from
        and (
            place.id in account.places
            or place.id in index.places(account.id)
            or _shared_habitat(account, place)
            or _hosts_here(guide, account, place)
        )
    )


def _rank(guide: AnyGuide, out: Out) -> tuple[int, bool, int, int, str]:
    return out.chance, not out.most_seen, -out.years, -out.rows, guide.accounts[out.account].name.sort_key


def stage_season(account: AccountFacts, stage: str, place: str = "") -> Season | None:
    """The season of a stage at a place: its own where one is given, else the region's."""
    own = next((s.season for s in account.seasons if s.stage == stage and place and s.place == place), None)
    return own or account.season_of(stage)


def sought_stages(guide: AnyGuide, account: AccountFacts) -> tuple[str, ...]:
    """The stages one looks for in the field, or all that have a season where the life-stage set names none."""
    stages = guide.stage_set(account)
    return stages.sought or stages.ids or tuple(dict.fromkeys(s.stage for s in account.seasons))


def _out(asked: _Asked, account: AccountFacts) -> Out | None:
    place = asked.place.id if asked.place else ""
    stages = sought_stages(asked.guide, account)
    seasons = {stage: season for stage in stages if (season := stage_season(account, stage, place)) and asked.dekad in season.dekads}
    certain = [stage for stage, season in seasons.items() if asked.dekad not in season.uncertain]
    keys = asked.index.keys(account.id, place=place or None)
    years = asked.index.years(keys, asked.dekad)
    elsewhere = () if seasons else _places_in_season(asked, account, stages)
    if not seasons and not years and not elsewhere:
        return None
    chance = _chance_here(asked, account, certain=bool(certain), years=len(years))
    if not asked.place:
        chance = _chance_in_region(certain=bool(certain), years=len(years), local=bool(elsewhere))
    most = any(asked.dekad in season.most_seen for season in seasons.values())
    reasons = (*_season_reasons(asked, account, seasons, elsewhere), *_ties(asked, account, years))
    return Out(account.id, tuple(seasons), chance, reasons, most, len(years), sum(years.values()))


def _places_in_season(asked: _Asked, account: AccountFacts, stages: tuple[str, ...]) -> tuple[str, ...]:
    """The places, by their names, with a season of their own in which it is now."""
    now = (s.place for s in account.seasons if s.place and s.stage in stages and asked.dekad in s.season.dekads)
    return tuple(asked.guide.places[place].name if place in asked.guide.places else place for place in dict.fromkeys(now))


def _chance_here(asked: _Asked, account: AccountFacts, *, certain: bool, years: int) -> Chance:
    place = asked.place
    if place is None or not certain:
        return Chance.OUTSIDE
    if years >= LIKELY_YEARS:
        return Chance.LIKELY
    if place.id in account.places or place.id in asked.index.places(account.id):
        return Chance.POSSIBLE
    return Chance.WORTH_A_LOOK if _shared_habitat(account, place) or _hosts_here(asked.guide, account, place) else Chance.OUTSIDE


def _chance_in_region(*, certain: bool, years: int, local: bool) -> Chance:
    if certain:
        return Chance.LIKELY if years >= LIKELY_YEARS else Chance.POSSIBLE
    return Chance.WORTH_A_LOOK if local else Chance.OUTSIDE


def _shared_habitat(account: AccountFacts, place: PlaceFacts) -> list[str]:
    here = {h.words.casefold() for h in place.habitat}
    return [h.words for h in account.habitat if h.words.casefold() in here]


def lives_on_plants(guide: AnyGuide, account: AccountFacts) -> bool:
    """Whether its plants alone make it likely at a place: those it eats do; a tree that a fungus grows with also asks for its wood."""
    return guide.stage_set(account).food == EATEN and bool(account.host_plants)


def _hosts_here(guide: AnyGuide, account: AccountFacts, place: PlaceFacts) -> list[str]:
    if not lives_on_plants(guide, account) and not _shared_habitat(account, place):
        return []
    return list(dict.fromkeys(h.plant for h in account.host_plants if h.plant in place.plants))


def _season_reasons(asked: _Asked, account: AccountFacts, seasons: dict[str, Season], elsewhere: tuple[str, ...]) -> Iterator[Reason]:
    group = asked.guide.stage_set(account)
    stages_by_message: dict[str, list[str]] = {}
    for stage, season in seasons.items():
        messages = MOST_SEEN if asked.dekad in season.most_seen else UNCERTAIN if asked.dekad in season.uncertain else IN_SEASON
        said = group.said(stage)
        stages_by_message.setdefault(messages[is_state(said)], []).append(said if is_state(said) else group.word(stage))
    yield from (Reason(message, (("stages", "\n".join(stages)),)) for message, stages in stages_by_message.items())
    if not seasons and asked.place:
        yield Reason("not in its stated season here")
    elif elsewhere:
        yield Reason("in season only at {places}", (("places", ", ".join(elsewhere)),))
    elif not seasons:
        yield Reason("not in its stated season")


def _ties(asked: _Asked, account: AccountFacts, years: dict[int, int]) -> Iterator[Reason]:
    """What ties it to the place: the strongest evidence, and its plants; habitat only where there is nothing better."""
    place = asked.place
    if years:
        noted = asked.index.years_noted(place.id if place else None, asked.dekad)
        values = (("years", str(len(years))), ("noted", str(noted)), ("last", str(max(years))))
        yield Reason(SEEN[bool(place)][(noted > 1) + (len(years) > 1)], values)
    if place is None:
        return
    known = place.id in account.places or place.id in asked.index.places(account.id)
    if known and not years:
        yield Reason("known from this place" if place.id in account.places else "seen here at another time")
    hosts = _hosts_here(asked.guide, account, place)
    yield from _host_reasons(asked.guide, account, hosts)
    habitats = _shared_habitat(account, place)
    if habitats and not (known or hosts):
        yield Reason(HABITAT_HERE, (("habitat", ", ".join(habitats)),))


def _host_reasons(guide: AnyGuide, account: AccountFacts, hosts: list[str]) -> Iterator[Reason]:
    """Its plants that are here: those it eats, or those by whose roots it grows, then those it grows on."""
    if guide.stage_set(account).food == GROWN_ON:
        rooted = {use.plant for use in account.host_plants if use.is_underground}
        messages = {
            "what it grows with is here: {plants}": [host for host in hosts if host in rooted],
            "what it grows on is here: {plants}": [host for host in hosts if host not in rooted],
        }
    else:
        messages = {"its host plant is here: {plants}" if len(hosts) == 1 else "its host plants are here: {plants}": hosts}
    for message, named in messages.items():
        if named:
            yield Reason(message, (("plants", ", ".join(guide.plants[p].vernacular if p in guide.plants else p for p in named)),))
