"""A walk's pack as its leader carries it: who, where, when, what may be met at each stop and how to tell it, what to beware of."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, replace

from guidebuild.fieldwork.out import Chance, Out, Reason
from guidebuild.fieldwork.public_records import PublicAccount, PublicWalk
from guidebuild.fieldwork.published import Published
from guidebuild.fieldwork.square_names import write_figure
from guidebuild.fieldwork.walks import StopPlan, WalkLookAlikes, WalkPack, cards_for, walk_pack
from guidebuild.guide.text.inline import NO_TEXT
from guidebuild.views.pieces.cautions import cautions_of_walk, show_cautions
from guidebuild.views.pieces.chances import PROMISE, list_meanings, say_reason, say_why
from guidebuild.views.pieces.claims import StageClaim, tell_stages
from guidebuild.views.pieces.common import NO_WORDS, CautionView, LinkView, NameView, Wording
from guidebuild.views.pieces.laws import laws_of_walk
from guidebuild.views.pieces.links import name_view
from guidebuild.views.pieces.maps import MapView, map_of_walk
from guidebuild.views.pieces.parts import PieceMaker, list_wordings, make_pieces

CARDS = 8
"""Cards that go along: as many as a leaflet folded in eight has panels."""


@dataclass(frozen=True, slots=True)
class MetView:
    """A species that may be met at a stop: the stages to look for, how good the chance is and why, what tells each stage."""

    link: LinkView
    stages: str
    chance: str
    why: str
    sought: tuple[StageClaim, ...]
    most_seen: bool
    id: str = ""
    stage_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HostView:
    """A plant to look over at a stop, and what for."""

    plant: LinkView
    guests: tuple[NameView, ...]


@dataclass(frozen=True, slots=True)
class StopPackView:
    """A stop; times are clock times."""

    number: int
    place: LinkView
    arrive: str
    leave: str
    minutes: int
    metres: int
    access: Wording
    note: Wording
    met: tuple[MetView, ...]
    hosts: tuple[HostView, ...]
    cautions: tuple[CautionView, ...]


@dataclass(frozen=True, slots=True)
class AlikeView:
    """Two species of the walk that are taken for one another, and what to say."""

    one: LinkView
    other: LinkView
    note: Wording
    both_met: bool


@dataclass(frozen=True, slots=True)
class WalkPackView:
    """The whole pack. `light` are pairs of what and when; `chances` the words used with what they stand for."""

    id: str
    language: str
    title: str
    guide: str
    when: str
    iso: str
    starts: str
    ends: str
    meet: str
    leader: str
    contact: str
    audience: str
    metres: int
    note: Wording
    light: tuple[tuple[str, str], ...]
    warnings: tuple[str, ...]
    stops: tuple[StopPackView, ...]
    alikes: tuple[AlikeView, ...]
    cautions: tuple[CautionView, ...]
    bring: tuple[str, ...]
    checklist: tuple[NameView, ...]
    cards: tuple[LinkView, ...]
    chances: tuple[tuple[str, str], ...]
    promise: str
    law: str
    calendar: str  # file name of the calendar event beside the page
    map: MapView | None = None
    meet_at: str = ""  # latitude and longitude of the meeting point
    meet_figure: str = ""  # the same on the grid of the maps


def walk_pack_view(guide: Published, walk: PublicWalk, language: str = "") -> WalkPackView:
    """The pack of one walk in one language."""
    make, pack = make_pieces(guide, language), walk_pack(guide, walk)
    say = make.words
    shown = [out for out in pack.met if out.chance is not Chance.OUTSIDE]
    met = [out.account for out in shown]
    used = {out.chance for plan in pack.stops for out in plan.out} - {Chance.OUTSIDE}
    return WalkPackView(
        id=walk.id,
        language=make.language,
        title=walk.title,
        guide=guide.settings.title,
        when=say.date(walk.date),
        iso=pack.starts.isoformat(),
        starts=_clock(pack.starts),
        ends=_clock(pack.ends),
        meet=walk.meet,
        leader=walk.leader,
        contact=walk.contact,
        audience=walk.audience,
        metres=pack.metres,
        note=make.word(walk.note),
        light=_light(make, pack),
        warnings=tuple(say_reason(say, warning) for warning in pack.warnings),
        stops=tuple(_stop(make, plan) for plan in pack.stops),
        alikes=tuple(_alike(make, alike) for alike in pack.look_alikes),
        cautions=(*cautions_of_walk(make, walk, met), *laws_of_walk(make, walk, met)),
        bring=(*pack.bring, *(say_reason(say, more) for more in pack.also_bring if not _named(more, pack.bring))),
        checklist=tuple(_name(make, guide.accounts[out.account]) for out in shown),
        cards=tuple(make.map.account(guide.accounts[card]) for card in cards_for(pack, CARDS)),
        chances=list_meanings(guide, say, used, at_place=True),
        promise=say(PROMISE),
        law=say("Ask whoever owns the land, keep to local law, and handle nothing that is protected."),
        calendar=f"{walk.id}.ics",
        map=map_of_walk(make, walk),
        meet_at=f"{walk.meet_at.latitude:.5f},{walk.meet_at.longitude:.5f}" if walk.meet_at else "",
        meet_figure=write_figure(guide.region.grid, walk.meet_at) if guide.region and walk.meet_at else "",
    )


def walk_pack_views(guide: Published, language: str = "") -> tuple[WalkPackView, ...]:
    """All packs, the earliest walk first."""
    walks = sorted(guide.walks.values(), key=lambda walk: (walk.date, walk.start))
    return tuple(walk_pack_view(guide, walk, language) for walk in walks)


def _clock(time: dt.datetime) -> str:
    """Hours and minutes, rounded to the nearest."""
    return f"{time + dt.timedelta(seconds=30):%H:%M}"


def _named(more: Reason, bring: tuple[str, ...]) -> bool:
    """Whether the author already wrote it: "hand lens" and "Hand lens x10" are one. Whole words count: a waterproof is no water."""
    thing = _main_words(more.message)
    return any(thing <= own or own <= thing for own in map(_main_words, bring) if own)


_HOLDS = {"flask": "water", "bottle": "water", "drink": "water", "drinks": "water"}
"""What one brings for what is in it."""


def _main_words(thing: str) -> frozenset[str]:
    """The words of a thing, without those that say what it is for."""
    named = re.split(r",|\b(?:with|for|to)\b", thing.casefold())[0]
    words = (_HOLDS.get(word, word) for word in re.findall(r"[\w-]+", named))
    return frozenset(re.sub(r"(?<=ch)es$|(?<=[^s])s$", "", word) for word in words) - {"a", "and", "the"}


def _light(make: PieceMaker, pack: WalkPack) -> tuple[tuple[str, str], ...]:
    light, say = pack.light, make.words
    if light is None:
        return ()
    times = ((say("Sunrise"), light.sunrise), (say("Sunset"), light.sunset), (say("Dark from"), light.dusk))
    return tuple((words, _clock(time)) for words, time in times if time)


def _stop(make: PieceMaker, plan: StopPlan) -> StopPackView:
    place = make.guide.places.get(plan.stop.place)
    return StopPackView(
        number=plan.number,
        place=make.map.stop(plan.stop),
        arrive=_clock(plan.arrive),
        leave=_clock(plan.leave),
        minutes=plan.stop.minutes,
        metres=plan.stop.metres,
        access=make.word(place.access) if place else NO_WORDS,
        note=make.word(plan.stop.note),
        met=tuple(_met(make, out) for out in plan.out if out.chance is not Chance.OUTSIDE),
        hosts=tuple(_host(make, plant, guests) for plant, guests in plan.hosts),
        cautions=show_cautions(make, place.hazards, place.caution) if place else (),
    )


def _met(make: PieceMaker, out: Out) -> MetView:
    account = make.guide.accounts[out.account]
    return MetView(
        link=make.map.account(account),
        stages=make.words.listed([make.stage_word(account, stage) for stage in out.stages]),
        chance=make.words(out.chance.words),
        why=say_why(make.words, out, make.main),
        sought=tell_stages(make, account, out.stages),
        most_seen=out.most_seen,
        id=out.account,
        stage_ids=out.stages,
    )


def _host(make: PieceMaker, plant: str, guests: tuple[str, ...]) -> HostView:
    return HostView(make.map.plant(plant), tuple(_name(make, make.guide.accounts[guest]) for guest in guests))


def _alike(make: PieceMaker, alike: WalkLookAlikes) -> AlikeView:
    account, other = make.guide.accounts[alike.account], make.guide.accounts[alike.similar.account]
    translated = make.translation(account)
    notes = dict(translated.similar_notes) if translated else {}
    theirs = notes.get(other.id, NO_TEXT)
    note = make.word(theirs, "") if theirs else make.word(alike.similar.note) or _marks_apart(make, account, other)
    return AlikeView(make.map.account(account), make.map.account(other), note, alike.both_met)


def _marks_apart(make: PieceMaker, account: PublicAccount, other: PublicAccount) -> Wording:
    """The first mark of each, where the author wrote no note; all in the guide's language where one is not translated."""
    marks = {a.id: mark for a in (account, other) for mark in make.marks(a)[:1]}
    if make.foreign and any(mark.language for mark in marks.values()):
        return replace(_marks_apart(make.in_main, account, other), language=make.foreign)
    named = [marks[a.id].said.between(f"{_name(make, a).short}: ") for a in (account, other) if a.id in marks]
    return list_wordings(make.words, named)


def _name(make: PieceMaker, account: PublicAccount) -> NameView:
    return name_view(account, make.language, make.main)
