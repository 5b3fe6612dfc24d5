"""A walk leader's tally for the whole group: stop by stop, what may be met there in the order of the pack, to be counted by a thumb."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.fieldwork.public_records import PublicWalk
from guidebuild.views.outdoors.walk import StopPackView, walk_pack_view
from guidebuild.views.pieces.common import LinkView, NameView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.site.page import PlainPiece
from guidebuild.views.site.seen import describe_species, write_json

TALLY = "tally.html"
"""The template of these pages, by which they are known."""
SPECIES = "seen-species.js"
"""All species whose places are told, as a piece: what no one expected is counted too."""
SPECIES_MARK = "seen_species.js"


@dataclass(frozen=True, slots=True)
class TallyRow:
    """A species that may be met at a stop: what is noted of it, as JSON, and the stage, where just one is looked for."""

    link: LinkView
    name: NameView
    seen: str
    stage: str


@dataclass(frozen=True, slots=True)
class TallyStop:
    """A stop with its rows. `id` is its place's, empty where that may not be named."""

    number: int
    place: LinkView
    id: str
    arrive: str
    rows: tuple[TallyRow, ...]


@dataclass(frozen=True, slots=True)
class TallyPage:
    """The tally of a walk."""

    id: str
    walk: LinkView
    when: str
    leader: str
    stops: tuple[TallyStop, ...]
    species: str  # where the piece with all species is


def tally_link(make: PieceMaker, walk: PublicWalk) -> LinkView:
    """The tally of a walk."""
    return LinkView(make.map.page(f"tallies/{walk.id}.html"), make.words("Count for the whole group"))


def tally_page(make: PieceMaker, ident: str) -> TallyPage:
    """The tally of a walk, by the walk's id."""
    walk = make.guide.walks[ident]
    pack = walk_pack_view(make.guide, walk, make.language)
    stops = (
        TallyStop(shown.number, shown.place, stop.place, shown.arrive, _rows(make, shown))
        for shown, stop in zip(pack.stops, walk.stops, strict=True)
    )
    link = LinkView(make.map.page(f"walks/{ident}.html"), walk.title)
    return TallyPage(ident, link, pack.when, pack.leader, tuple(stops), make.map.page(SPECIES))


def _rows(make: PieceMaker, stop: StopPackView) -> tuple[TallyRow, ...]:
    accounts = ((make.guide.accounts[met.id], met.stage_ids) for met in stop.met)
    return tuple(
        TallyRow(link, link.name, describe_species(make, account), stages[0] if len(stages) == 1 else "")
        for account, stages in accounts
        if account.kept_back is None and (link := make.map.account(account)).name
    )


def species_piece(make: PieceMaker) -> PlainPiece:
    """What is noted of each species whose places are told, by name: a stop would be a place for the others."""
    told = [account for account in make.guide.accounts.values() if account.kept_back is None]
    told.sort(key=lambda account: make.map.account(account).text.casefold())
    return PlainPiece(write_json([describe_species(make, account) for account in told]))
