"""A guided walk worked out: when one is where, what may be met, what to point out, what to beware of. Nothing is promised."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from guidebuild.fieldwork.daylight import Daylight, light_of_walk
from guidebuild.fieldwork.out import Chance, Out, Reason, out_on
from guidebuild.fieldwork.public_records import PublicAccount, PublicStop, PublicWalk
from guidebuild.fieldwork.published import Published
from guidebuild.guide.accounts import SimilarSpecies
from guidebuild.guide.characters import Ease
from guidebuild.guide.life_stages import GROWN_ON

GROUP_PACE = 2.5  # km/h between stops: a group that looks about goes at half a walker's pace (common practice, no source)
FASTEST_PACE = 5.0367  # km/h: Tobler's hiking function on the flat (Tobler 1993)
NIGHT = "night"  # the hazard of a walk in the dark, which is then no surprise
NEAR_DARK = dt.timedelta(minutes=30)


@dataclass(frozen=True, slots=True)
class StopPlan:
    """One stop: when, what may be met there and why, which host plants to look over and for whom, what to beware of."""

    number: int
    stop: PublicStop
    arrive: dt.datetime
    leave: dt.datetime
    out: tuple[Out, ...]
    hosts: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class WalkLookAlikes:
    """Two accounts that may be met on the same walk and are taken for one another."""

    account: str
    similar: SimilarSpecies
    both_met: bool  # the other may be met here too, not only in the region


@dataclass(frozen=True, slots=True)
class WalkPack:
    """All that a leader needs. `warnings` are for the leader before the day."""

    walk: PublicWalk
    starts: dt.datetime
    ends: dt.datetime
    metres: int
    pace: float  # km/h between the stops
    stops: tuple[StopPlan, ...]
    look_alikes: tuple[WalkLookAlikes, ...]
    light: Daylight | None
    bring: tuple[str, ...]  # the author's own words
    also_bring: tuple[Reason, ...]
    warnings: tuple[Reason, ...]

    @property
    def met(self) -> tuple[Out, ...]:
        """Everything that may be met, each account once with its best chance, the best first."""
        best: dict[str, Out] = {}
        for out in (o for plan in self.stops for o in plan.out):
            if out.account not in best or out.chance < best[out.account].chance:
                best[out.account] = out
        return tuple(sorted(best.values(), key=lambda out: out.chance))


def walk_pack(guide: Published, walk: PublicWalk) -> WalkPack:
    """Work a walk out. What is said may be printed and given away."""
    starts = dt.datetime.combine(walk.date, walk.start, ZoneInfo(walk.zone))
    pace = _pace(walk)
    stops = tuple(_stops(guide, walk, starts, pace))
    leave = stops[-1].leave if stops else starts
    ends = _later(starts, walk.minutes) if walk.minutes else leave
    light = light_of_walk(guide, walk)
    alikes = tuple(_look_alikes(guide, walk, stops))
    return WalkPack(
        walk=walk,
        starts=starts,
        ends=ends,
        metres=sum(stop.metres for stop in walk.stops),
        pace=pace,
        stops=stops,
        look_alikes=alikes,
        light=light,
        bring=walk.bring,
        also_bring=tuple(_also_bring(guide, alikes, light, ends)),
        warnings=tuple(_warnings(walk, light, starts=starts, ends=ends, leave=leave)),
    )


def _later(start: dt.datetime, minutes: float) -> dt.datetime:
    """Minutes later by the clock of the place, through a change to summer time."""
    return (start.astimezone(dt.UTC) + dt.timedelta(minutes=minutes)).astimezone(start.tzinfo)


def _pace(walk: PublicWalk) -> float:
    """The group's pace; faster only where the walk's own length asks for it."""
    metres, spare = sum(s.metres for s in walk.stops), walk.minutes - sum(s.minutes for s in walk.stops)
    if not walk.minutes or spare <= 0:
        return GROUP_PACE
    return max(GROUP_PACE, metres / 1000 / (spare / 60))


def _stops(guide: Published, walk: PublicWalk, starts: dt.datetime, pace: float) -> Iterator[StopPlan]:
    clock = starts
    for number, stop in enumerate(walk.stops, 1):
        arrive = _later(clock, stop.metres / 1000 / pace * 60)
        clock = _later(arrive, stop.minutes)
        out = out_on(guide, walk.date, stop.place) if stop.place else ()
        hosts = tuple(_hosts(guide, stop.place, (o for o in out if o.chance is not Chance.OUTSIDE)))
        yield StopPlan(number, stop, arrive, clock, out, hosts)


def _hosts(guide: Published, place_id: str, out: Iterable[Out]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Plants that stand at the place and feed something with a fair chance of being met there."""
    place = guide.places.get(place_id)
    if place is None:
        return
    met = [guide.accounts[o.account] for o in out]
    for plant in place.plants:
        users = tuple(account.id for account in met if _is_looked_for_on(guide, account, plant))
        if users:
            yield plant, users


def _is_looked_for_on(guide: Published, account: PublicAccount, plant: str) -> bool:
    """Whether one looks a plant over for it: not for a fungus that lives with its roots."""
    grown = guide.stage_set(account).food == GROWN_ON
    return any(use.plant == plant and not (grown and use.is_underground) for use in account.host_plants)


def _look_alikes(guide: Published, walk: PublicWalk, stops: tuple[StopPlan, ...]) -> Iterator[WalkLookAlikes]:
    """Similar species of what may be met, where the other is out in the region too; each pair once."""
    met = {o.account for plan in stops for o in plan.out if o.chance is not Chance.OUTSIDE}
    about = {o.account for o in out_on(guide, walk.date)}
    pairs: set[frozenset[str]] = set()
    for account_id in dict.fromkeys(o.account for plan in stops for o in plan.out if o.account in met):
        for similar in guide.accounts[account_id].similar:
            pair = frozenset((account_id, similar.account))
            if similar.account in about and pair not in pairs:
                pairs.add(pair)
                yield WalkLookAlikes(account_id, similar, similar.account in met)


def _also_bring(guide: Published, alikes: tuple[WalkLookAlikes, ...], light: Daylight | None, ends: dt.datetime) -> Iterator[Reason]:
    """What a leader of any outdoor group takes along (common practice, no source), and what this walk needs."""
    yield Reason("first-aid kit")
    yield Reason("charged telephone with the number for help")
    yield Reason("water")
    yield Reason("clothes for the weather")
    wanted = [(guide.accounts[alike.account], guide.characters.get(c)) for alike in alikes for c in alike.similar.tell_by]
    if any(c and c.ease is Ease.UNDER_A_LENS for _, c in wanted):
        yield Reason("hand lens")
    if any(c and c.ease is Ease.IN_THE_HAND and guide.stage_set(account).pots for account, c in wanted):
        yield Reason("clear pots, to look closely and let go at the same spot")
    if light and light.sunset and ends > light.sunset - NEAR_DARK:
        yield Reason("torches")


def _warnings(walk: PublicWalk, light: Daylight | None, *, starts: dt.datetime, ends: dt.datetime, leave: dt.datetime) -> Iterator[Reason]:
    if starts.astimezone(dt.UTC).astimezone(starts.tzinfo).time() != walk.start:
        yield Reason("There is no {time} on that day: the clocks go forward.", (("time", f"{walk.start:%H:%M}"),))
    if walk.minutes and leave > ends + dt.timedelta(minutes=1):
        over = round((leave - ends).total_seconds() / 60)
        yield Reason(
            "Stops and ways take {n} minutes longer than the walk.",
            (("n", str(over)),),
            "Stops and ways take {n} minute longer than the walk.",
        )
    elif (pace := _pace(walk)) > FASTEST_PACE:
        yield Reason("The ways between the stops would need {pace} km/h.", (("pace", f"{pace:.1f}"),))
    if light is None:
        yield Reason("Sunset is not known: give a stop's place its position, or guide.yaml its “region box”.")
    elif light.sunset and ends > light.sunset and NIGHT not in walk.hazards:
        yield Reason("The walk ends after sunset ({time}).", (("time", f"{light.sunset:%H:%M}"),))
    if light and light.sunrise and starts < light.sunrise and NIGHT not in walk.hazards:
        yield Reason("The walk starts before sunrise ({time}).", (("time", f"{light.sunrise:%H:%M}"),))


def cards_for(pack: WalkPack, most: int) -> tuple[str, ...]:
    """Accounts whose cards go along, at most so many: the best chances first, each followed by its look-alikes here."""
    chosen: dict[str, None] = {}
    for out in pack.met:
        if out.chance is Chance.OUTSIDE:
            continue
        chosen[out.account] = None
        pairs = [alike for alike in pack.look_alikes if alike.both_met and out.account in (alike.account, alike.similar.account)]
        chosen.update((a.similar.account if a.account == out.account else a.account, None) for a in pairs)
    return tuple(chosen)[:most]
