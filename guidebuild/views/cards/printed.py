"""What larger prints show: a fold-out leaflet, the checklist of a walk."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from guidebuild.fieldwork.out import Chance, Out, out_on
from guidebuild.fieldwork.public_records import PublicWalk
from guidebuild.fieldwork.published import Published
from guidebuild.later import imported_when_used
from guidebuild.views.cards.card import CardView, card_view
from guidebuild.views.cards.card_words import CardWords, card_words
from guidebuild.views.pieces.cautions import cautions_of_set, cautions_of_walk
from guidebuild.views.pieces.claims import StageClaim, find_claims
from guidebuild.views.pieces.common import NO_WORDS, CautionView, NameView, PhotoView, Wording
from guidebuild.views.pieces.laws import laws_of_set, laws_of_walk
from guidebuild.views.pieces.parts import PieceMaker, make_pieces

with imported_when_used():  # geometry and projections
    from guidebuild.views.pieces import maps, small_maps

LEAFLET_SPECIES = 6
"""Panels of an eight-panel sheet that are left for species between its cover and its back."""


@dataclass(frozen=True, slots=True)
class PrintWords:
    """Words that only larger prints need."""

    card: CardWords
    contents: str
    meet: str
    bring: str
    leader: str
    seen: str
    how_many: str
    notes: str
    fold: str
    page: str
    sources: str
    pictures: str
    others: str
    flag: str
    map_in_pack: str


@dataclass(frozen=True, slots=True)
class LeafletView:
    """Six species on one sheet that folds to a small book, and the walk it is for."""

    id: str
    language: str
    title: str
    under: str
    cover: PhotoView | None
    cards: tuple[CardView, ...]
    cautions: tuple[CautionView, ...]
    address: str
    publisher: str
    facts_on: str
    words: PrintWords
    meet: str = ""
    stops: tuple[str, ...] = ()
    """The stops of its walk, in their order."""
    map: maps.MapView | None = None


@dataclass(frozen=True, slots=True)
class PrintedStop:
    """One stop: where, how long, and what to do there."""

    name: str
    minutes: int
    note: Wording = NO_WORDS


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A species to tick off: the stages to look for, each with the mark that decides, where it has one."""

    name: NameView
    sought: tuple[StageClaim, ...]
    chance: str


@dataclass(frozen=True, slots=True)
class ChecklistView:
    """The sheet that a walker carries."""

    id: str
    language: str
    title: str
    guide: str
    when: str
    meet: str
    leader: str
    contact: str
    stops: tuple[PrintedStop, ...]
    bring: tuple[str, ...]
    rows: tuple[CheckRow, ...]
    cautions: tuple[CautionView, ...]
    note: Wording
    words: PrintWords


def leaflet_views(guide: Published) -> tuple[LeafletView, ...]:
    """One leaflet a walk, of the species one most likely meets on it; without walks one of the guide's first species."""
    make = make_pieces(guide)
    if not guide.walks:
        return (_leaflet(make, "guide", guide.settings.title, guide.settings.region, tuple(guide.accounts)),)
    return tuple(_leaflet(make, walk.id, walk.title, _say_start(make, walk), likely_on_walk(guide, walk)) for walk in guide.walks.values())


def checklist_view(guide: Published, walk: PublicWalk) -> ChecklistView:
    """The checklist of a walk: what may be met at its stops on its day, the best chance first."""
    make = make_pieces(guide)
    met = out_on_walk(guide, walk)
    names = [out.account for out in met]
    return ChecklistView(
        id=walk.id,
        language=make.language,
        title=walk.title,
        guide=guide.settings.title,
        when=_say_start(make, walk),
        meet=walk.meet,
        leader=walk.leader,
        contact=walk.contact,
        stops=tuple(PrintedStop(make.map.stop(s).text, s.minutes, make.word(s.note)) for s in walk.stops),
        bring=walk.bring,
        rows=tuple(_row(make, out) for out in met),
        cautions=(*cautions_of_walk(make, walk, names), *laws_of_walk(make, walk, names)),
        note=make.word(walk.note),
        words=print_words(make),
    )


def out_on_walk(guide: Published, walk: PublicWalk) -> tuple[Out, ...]:
    """What may be met at any stop of a walk, each species once with its best chance, the best first."""
    best: dict[str, Out] = {}
    for stop in (stop for stop in walk.stops if stop.place):
        for out in out_on(guide, walk.date, stop.place):
            if out.account not in best or out.chance < best[out.account].chance:
                best[out.account] = out
    return tuple(sorted(best.values(), key=lambda o: (o.chance, not o.most_seen, -o.years, -o.rows)))


def likely_on_walk(guide: Published, walk: PublicWalk) -> tuple[str, ...]:
    """Accounts worth carrying a card of: all but outside chances, or those too where there is nothing better."""
    met = out_on_walk(guide, walk)
    return tuple(o.account for o in met if o.chance is not Chance.OUTSIDE) or tuple(o.account for o in met)


def print_words(make: PieceMaker) -> PrintWords:
    """The words of larger prints in the maker's language."""
    say = make.words
    return PrintWords(
        card=card_words(make),
        contents=say("In this booklet"),
        meet=say("Meet"),
        bring=say("Bring"),
        leader=say("Leader"),
        seen=say("Seen"),
        how_many=say("How many"),
        notes=say("Notes"),
        fold=say("Fold in eight, slit the dashed line, fold lengthwise and push the ends together."),
        page=say("page {number}", number="{number}"),
        sources=say("Sources"),
        pictures=say("Pictures"),
        others=say("Something else?"),
        flag=say("flag"),
        map_in_pack=say("The map is in the leader’s pack."),
    )


def _leaflet(make: PieceMaker, ident: str, title: str, under: str, accounts: Sequence[str]) -> LeafletView:
    settings = make.guide.settings
    chosen = [make.guide.accounts[a] for a in accounts[:LEAFLET_SPECIES]]
    on_sheet = tuple(account.id for account in chosen)
    walk = make.guide.walks.get(ident)
    stages = {out.account: out.stages for out in out_on_walk(make.guide, walk)} if walk else {}
    cards = tuple(card_view(make, account, stages.get(account.id, ())) for account in chosen)
    reviewed = [account.reviewed.on for account in chosen if account.reviewed]
    return LeafletView(
        id=ident,
        language=make.language,
        title=title,
        under=under,
        cover=next((c.plate for c in cards if c.plate), None),
        cards=cards,
        cautions=(
            (*cautions_of_walk(make, walk, on_sheet), *laws_of_walk(make, walk, on_sheet))
            if walk
            else (*cautions_of_set(make, on_sheet), *laws_of_set(make, on_sheet))
        ),
        address=settings.address,
        publisher=settings.publisher,
        facts_on=make.words.date(max(reviewed)) if reviewed else "",
        words=print_words(make),
        meet=walk.meet if walk else "",
        stops=tuple(make.map.stop(stop).text for stop in walk.stops) if walk else (),
        map=small_maps.map_on_leaflet(make, walk) if walk and make.guide.region else None,
    )


def _say_start(make: PieceMaker, walk: PublicWalk) -> str:
    return f"{make.words.date(walk.date)}, {walk.start:%H:%M}"


def _row(make: PieceMaker, out: Out) -> CheckRow:
    account = make.guide.accounts[out.account]
    name = make.map.account(account).name or NameView(account.vernacular, ())
    return CheckRow(name, find_claims(make, account, out.stages), make.words(out.chance.words))
