"""The page of a guided walk: the pack's facts, with pictures of what may be met at each stop."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicWalk
from guidebuild.views.outdoors.walk import StopPackView, WalkPackView, walk_pack_view
from guidebuild.views.pieces.common import LinkView, ProseView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.site.lists import ListEntry, make_entry, when_out
from guidebuild.views.site.seen import describe_species
from guidebuild.views.site.tally import tally_link


@dataclass(frozen=True, slots=True)
class StopView:
    """A stop: its facts as the leader has them, the author's note, and what may be met, each with its chance and why.

    `place` is the id of its place, empty where that may not be named.
    """

    pack: StopPackView
    note: ProseView | None
    entries: tuple[ListEntry, ...]
    place: str = ""


@dataclass(frozen=True, slots=True)
class WalkPage:
    """A guided walk as its guests see it. `bring` are the author's own words, `also_bring` what the tool adds."""

    pack: WalkPackView
    minutes: int
    bring: tuple[str, ...]
    also_bring: tuple[str, ...]
    stops: tuple[StopView, ...]
    note: ProseView | None
    tally: LinkView


@dataclass(frozen=True, slots=True)
class WalkAhead:
    """A walk, for whoever looks what comes next: its page and day, when and where one meets. `day` is for the reader's browser."""

    link: LinkView
    day: dt.date
    start: str
    meet: str


@dataclass(frozen=True, slots=True)
class WalksPage:
    """All walks: those to come when the page was made, the next one first, and those that are past, the latest first."""

    coming: tuple[WalkAhead, ...]
    past: tuple[WalkAhead, ...]


def walks_page(make: PieceMaker, today: dt.date) -> WalksPage:
    """The page of all walks."""
    walks = list_walks(make)
    return WalksPage(tuple(walk for walk in walks if walk.day >= today), tuple(walk for walk in reversed(walks) if walk.day < today))


def list_walks(make: PieceMaker) -> tuple[WalkAhead, ...]:
    """All walks by their days."""
    walks = sorted(make.guide.walks.values(), key=lambda walk: (walk.date, walk.start))
    return tuple(WalkAhead(walk_link(make, walk), walk.date, f"{walk.start:%H:%M}" if walk.start else "", walk.meet) for walk in walks)


def walk_link(make: PieceMaker, walk: PublicWalk) -> LinkView:
    """The page of a walk."""
    return LinkView(make.map.page(walk_path(walk)), walk.title, note=make.words.date(walk.date))


def walk_path(walk: PublicWalk) -> str:
    """The page of a walk, from the language's folder."""
    return f"walks/{walk.id}.html"


def walk_page(make: PieceMaker, walk: PublicWalk) -> WalkPage:
    """A walk: when one is where, what may be met there on that day and why, what to bring, what to beware of."""
    pack = walk_pack_view(make.guide, walk, make.language)
    stops = tuple(
        StopView(shown, _note(make, stop.note.text, f"stop-{shown.number}"), tuple(_met(make, shown)), stop.place)
        for shown, stop in zip(pack.stops, walk.stops, strict=True)
    )
    return WalkPage(
        pack=pack,
        minutes=walk.minutes or sum(stop.minutes for stop in walk.stops),
        bring=walk.bring,
        also_bring=pack.bring[len(walk.bring) :],
        stops=stops,
        note=_note(make, walk.note.text, "walk"),
        tally=tally_link(make, walk),
    )


def _note(make: PieceMaker, text: str, prefix: str) -> ProseView | None:
    return make.prose(text, prefix=prefix, language=make.main) if text else None


def _met(make: PieceMaker, stop: StopPackView) -> Iterator[ListEntry]:
    for met in stop.met:
        account = make.guide.accounts[met.id]
        listed = when_out(make, account, make_entry(make, account), met.stage_ids)
        stages, seen = (met.stages,) if met.stages else (), describe_species(make, account)
        yield replace(listed, stages=stages, chance=met.chance, why=met.why, out=True, seen=seen)
