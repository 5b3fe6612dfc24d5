"""What is out on a day, at a place or in the whole region, ranked, and why. Nothing is promised."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import IntEnum

from guidebuild.fieldwork.seen import Key, SeenIndex, seen_index
from guidebuild.guide.accounts import AccountFacts
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
    place: PlaceFacts | None


@dataclass(frozen=True, slots=True)
class _Known:
    """What is so of an account all through the year: `tied` is its chance while it is surely in season, seen in too few years for more."""

    account: AccountFacts
    seasons: tuple[tuple[str, Season], ...]
    elsewhere: frozenset[int]
    keys: tuple[Key, ...]
    tied: Chance


def out_on(guide: AnyGuide, day: dt.date, place: str = "") -> tuple[Out, ...]:
    """What may be met on a day, the best chance first.

    `place` is an id of places.yaml, "" for the whole region. Which accounts may be tied to the place is for the guide to say.
    """
    accounts = guide.accounts_at(place) if place in guide.places else guide.accounts.values()
    return rank_out(guide, accounts, dekad_of(day), place)


def rank_out(guide: AnyGuide, accounts: Iterable[AccountFacts], dekad: int, place: str = "") -> tuple[Out, ...]:
    """Those of some accounts that may be met in a third of a month, the best chance first; `place` as `out_on` has it."""
    asked = _ask_at(guide, place)
    found = [(known, out) for known in _know_all(asked, accounts) if (out := _out(asked, known, dekad))]
    found.sort(key=lambda one: _rank(*one))
    return tuple(_with_reasons(asked, known, out, dekad) for known, out in found)


def rank_year(guide: AnyGuide, accounts: Iterable[AccountFacts], place: str, most: int) -> tuple[tuple[Out, ...], ...]:
    """For each third of a month the first of what `rank_out` gives, at most so many; nothing that is out of season or an outside chance."""
    asked = _ask_at(guide, place)
    by_dekad: list[list[tuple[_Known, Out]]] = [[] for _ in range(DEKADS)]
    for known in _know_all(asked, accounts):
        for dekad in frozenset().union(*(season.dekads for _, season in known.seasons)):
            out = _out(asked, known, dekad)
            if out and out.chance is not Chance.OUTSIDE:
                by_dekad[dekad].append((known, out))
    # Why is said of those alone that are held: a large guide has thousands that something ties to each of a hundred places.
    return tuple(
        tuple(_with_reasons(asked, known, out, dekad) for known, out in sorted(found, key=lambda one: _rank(*one))[:most])
        for dekad, found in enumerate(by_dekad)
    )


def _ask_at(guide: AnyGuide, place: str) -> _Asked:
    return _Asked(guide, seen_index(guide), guide.places.get(place))


def _know_all(asked: _Asked, accounts: Iterable[AccountFacts]) -> Iterator[_Known]:
    place = asked.place.id if asked.place else ""
    for account in accounts:
        if place in account.absent_from:
            continue
        stages, all_seasons = sought_stages(asked.guide, account), account.seasons
        seasons = ((stage, stage_season(account, stage, place)) for stage in stages)
        yield _Known(
            account,
            tuple((stage, season) for stage, season in seasons if season),
            frozenset().union(*(s.season.dekads for s in all_seasons if s.place and s.stage in stages)),
            tuple(asked.index.keys(account.id, place=place or None)),
            _tied(asked, account),
        )


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


def _rank(known: _Known, out: Out) -> tuple[int, bool, int, int, str]:
    return out.chance, not out.most_seen, -out.years, -out.rows, known.account.name.sort_key


def stage_season(account: AccountFacts, stage: str, place: str = "") -> Season | None:
    """The season of a stage at a place: its own where one is given, else the region's."""
    own = next((s.season for s in account.seasons if s.stage == stage and place and s.place == place), None)
    return own or account.season_of(stage)


def sought_stages(guide: AnyGuide, account: AccountFacts) -> tuple[str, ...]:
    """The stages one looks for in the field, or all that have a season where the life-stage set names none."""
    stages = guide.stage_set(account)
    return stages.sought or stages.ids or tuple(dict.fromkeys(s.stage for s in account.seasons))


def _out(asked: _Asked, known: _Known, dekad: int) -> Out | None:
    """What may be met, without why."""
    seasons = [(stage, season) for stage, season in known.seasons if dekad in season.dekads]
    certain = any(dekad not in season.uncertain for _, season in seasons)
    years = asked.index.years(known.keys, dekad)
    if not seasons and not years and dekad not in known.elsewhere:
        return None
    if certain:
        chance = Chance.LIKELY if len(years) >= LIKELY_YEARS else known.tied
    else:
        chance = Chance.OUTSIDE if asked.place or seasons or years else Chance.WORTH_A_LOOK
    most = any(dekad in season.most_seen for _, season in seasons)
    return Out(known.account.id, tuple(stage for stage, _ in seasons), chance, (), most, len(years), sum(years.values()))


def _with_reasons(asked: _Asked, known: _Known, out: Out, dekad: int) -> Out:
    seasons = {stage: season for stage, season in known.seasons if stage in out.stages}
    return replace(out, reasons=tuple(_reasons(asked, known.account, seasons, dekad, asked.index.years(known.keys, dekad))))


def _tied(asked: _Asked, account: AccountFacts) -> Chance:
    place = asked.place
    if place is None or place.id in account.places or place.id in asked.index.places(account.id):
        return Chance.POSSIBLE
    return Chance.WORTH_A_LOOK if _shared_habitat(account, place) or _hosts_here(asked.guide, account, place) else Chance.OUTSIDE


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


def _reasons(asked: _Asked, account: AccountFacts, seasons: dict[str, Season], dekad: int, years: dict[int, int]) -> Iterator[Reason]:
    group = asked.guide.stage_set(account)
    stages_by_message: dict[str, list[str]] = {}
    for stage, season in seasons.items():
        messages = MOST_SEEN if dekad in season.most_seen else UNCERTAIN if dekad in season.uncertain else IN_SEASON
        said = group.said(stage)
        stages_by_message.setdefault(messages[is_state(said)], []).append(said if is_state(said) else group.word(stage))
    yield from (Reason(message, (("stages", "\n".join(stages)),)) for message, stages in stages_by_message.items())
    if not seasons:
        yield Reason("not in its stated season here")
    yield from _ties(asked, account, dekad, years)


def _ties(asked: _Asked, account: AccountFacts, dekad: int, years: dict[int, int]) -> Iterator[Reason]:
    """What ties it to the place: the strongest evidence, and its plants; habitat only where there is nothing better."""
    place = asked.place
    if years:
        noted = asked.index.years_noted(place.id if place else None, dekad)
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
