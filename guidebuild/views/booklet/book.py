"""A whole booklet as plain data: what stands on its covers, before its spreads and behind them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.views.booklet.index import IndexEntry, index_names
from guidebuild.views.booklet.spreads import AlikeSpread, SpeciesSpread, Spread, list_spreads
from guidebuild.views.cards.printed import ChecklistView, checklist_view, out_on_walk
from guidebuild.views.pieces.cautions import cautions_of_set
from guidebuild.views.pieces.citations import make_citation
from guidebuild.views.pieces.common import CautionView, NameView, PhotoView, SeasonRow, Wording
from guidebuild.views.pieces.diagram import Diagram, find_diagram
from guidebuild.views.pieces.laws import laws_of_set
from guidebuild.views.pieces.links import list_sources
from guidebuild.views.pieces.maps import MapView, map_of_region, map_of_walk
from guidebuild.views.pieces.parts import PieceMaker, make_pieces
from guidebuild.views.pieces.season_words import list_initials, list_months
from guidebuild.views.telling.side_by_side import choose_stage

MOST_IN_KEY = 24
"""So many species have a picture each in the key of pictures; of more, each family has one."""


@dataclass(frozen=True, slots=True)
class BodyPart:
    """A part of the body on the diagram, and what its word means."""

    number: int
    word: str
    meaning: Wording


@dataclass(frozen=True, slots=True)
class KeyPicture:
    """A small picture that leads to a page: of a species, or of a family."""

    account: str
    name: NameView
    photo: PhotoView | None
    family: str = ""


@dataclass(frozen=True, slots=True)
class CalendarRow:
    """A species and its year: of the stages one looks for, the most that any shows."""

    account: str
    name: NameView
    family: str
    year: SeasonRow | None


@dataclass(frozen=True, slots=True)
class WalkPage:
    """A walk: its day and stops, its way, and what may be met."""

    checklist: ChecklistView
    map: MapView | None
    accounts: tuple[str, ...]
    """In the order of the rows of the checklist."""


@dataclass(frozen=True, slots=True)
class BookletView:
    """All that a booklet holds."""

    id: str
    language: str
    title: str
    under: str
    description: str
    cover: PhotoView | None
    spreads: tuple[Spread, ...]
    key: tuple[KeyPicture, ...]
    calendar: tuple[CalendarRow, ...]
    months: tuple[str, ...]
    month_names: tuple[str, ...]
    index: tuple[IndexEntry, ...]
    cautions: tuple[CautionView, ...]
    sources: tuple[str, ...]
    walks: tuple[WalkPage, ...] = ()
    diagram: Diagram | None = None
    parts: tuple[BodyPart, ...] = ()
    map: MapView | None = None
    address: str = ""
    publisher: str = ""
    licence: str = ""

    @property
    def species(self) -> tuple[SpeciesSpread, ...]:
        """The spreads of species."""
        return tuple(spread for spread in self.spreads if isinstance(spread, SpeciesSpread))

    @property
    def alikes(self) -> tuple[AlikeSpread, ...]:
        """The spreads of look-alikes."""
        return tuple(spread for spread in self.spreads if isinstance(spread, AlikeSpread))


def booklet_view(guide: Published) -> BookletView:
    """The whole guide as a booklet, in the order of families and names."""
    make, settings = make_pieces(guide), guide.settings
    spreads = list_spreads(make)
    species = [spread for spread in spreads if isinstance(spread, SpeciesSpread)]
    accounts = [guide.accounts[spread.id] for spread in species]
    ids = [account.id for account in accounts]
    diagram = find_diagram(make, choose_stage(make, accounts))
    return BookletView(
        id="booklet",
        language=make.language,
        title=settings.title,
        under=settings.region,
        description=settings.description,
        cover=next((spread.pictures[0] for spread in species if spread.pictures), None),
        spreads=spreads,
        key=_list_key(make, accounts),
        calendar=tuple(_calendar_row(make, account) for account in accounts),
        months=list_initials(make.words, settings),
        month_names=list_months(make.words, settings),
        index=index_names(guide, accounts),
        cautions=(*cautions_of_set(make, ids), *laws_of_set(make, ids)),
        sources=tuple(make_citation(source, make.words).line for source in list_sources(guide)),
        walks=tuple(_walk_pages(make)),
        diagram=diagram,
        parts=tuple(_name_parts(make, diagram)) if diagram else (),
        map=map_of_region(make),
        address=settings.address,
        publisher=settings.publisher,
        licence=licence.title if (licence := make.licence(settings.licence)) else "",
    )


def _list_key(make: PieceMaker, accounts: Iterable[PublicAccount]) -> tuple[KeyPicture, ...]:
    """A picture of each species, or, of many, of the first of each family that has one."""
    each = [KeyPicture(account.id, _name(make, account), _bare_plate(make, account), account.family) for account in accounts]
    if len(each) <= MOST_IN_KEY:
        return tuple(each)
    families: dict[str, KeyPicture] = {}
    for one in each:
        if one.family not in families or not families[one.family].photo:
            families[one.family] = one
    return tuple(replace(one, name=NameView(family or one.name.short, ())) for family, one in families.items())


def _name(make: PieceMaker, account: PublicAccount) -> NameView:
    return make.map.account(account).name or NameView(account.vernacular, ())


def _bare_plate(make: PieceMaker, account: PublicAccount) -> PhotoView | None:
    plate = make.plate(account)
    return replace(plate, marks=()) if plate else None


def _calendar_row(make: PieceMaker, account: PublicAccount) -> CalendarRow:
    bar, name = make.season_bar(account), _name(make, account)
    wanted = sought_stages(make.guide, account)
    rows = [row for row in bar.rows if row.stage in wanted] or list(bar.rows) if bar else []
    if not rows:
        return CalendarRow(account.id, name, account.family, None)
    cells = tuple(max(column) for column in zip(*(row.cells for row in rows), strict=True))
    words = "; ".join(f"{row.label}: {row.words}" for row in rows) if len(rows) > 1 else rows[0].words
    return CalendarRow(account.id, name, account.family, SeasonRow(name.short, cells, words))


def _name_parts(make: PieceMaker, diagram: Diagram) -> Iterator[BodyPart]:
    """The parts of a diagram with the first sentence of what the glossary says of each."""
    meanings = {word.casefold(): term.meaning for term in make.guide.terms.values() for word in (*term.also, term.word)}
    for part in diagram.parts:
        meaning = meanings.get(part.link.text.casefold())
        sentence = meaning.sentences[0] if meaning and meaning.sentences else None
        yield BodyPart(part.number, part.link.text, make.word(sentence) if sentence else Wording())


def _walk_pages(make: PieceMaker) -> Iterator[WalkPage]:
    """The walks, the earliest first."""
    for walk in sorted(make.guide.walks.values(), key=lambda walk: (walk.date, walk.start)):
        met = tuple(out.account for out in out_on_walk(make.guide, walk))
        yield WalkPage(checklist_view(make.guide, walk), map_of_walk(make, walk), met)
