"""Pages that gather accounts: all accounts, families, plants, seasons."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.claims import is_of_grown
from guidebuild.fieldwork.out import Out, rank_out, sought_stages, stage_season
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.asking import remember
from guidebuild.guide.records import Plant
from guidebuild.guide.seasons import DEKADS, turn_year
from guidebuild.views.pieces.cautions import show_cautions
from guidebuild.views.pieces.chances import PROMISE, list_meanings, say_why
from guidebuild.views.pieces.common import NO_WORDS, CautionView, LinkView, MarkView, NameView, PhotoView, ProseView, Wording, join_wordings
from guidebuild.views.pieces.facts import head_plant_list
from guidebuild.views.pieces.links import dekad_path
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import WHOLE, Run
from guidebuild.views.pieces.season_words import dekad_words, fill_cells, list_initials, list_months
from guidebuild.views.site.told import (
    DatedPhoto,
    TellingMark,
    picture_of,
    stages_out,
    told_by,
)
from guidebuild.views.telling.side_by_side import Side, SideBySide, choose_stage, show_side_by_side

MOST_SIDE_BY_SIDE = 60
"""So many members of a family stand side by side at one scale; more are a plain list, with smaller pictures."""


@dataclass(frozen=True, slots=True)
class ListEntry:
    """One account in a list: name, picture, the mark that decides, its year (36 cells of the stages one looks for, from January).

    `told` is what tells it in the part of the year that is asked for, instead of the mark; several where the reader's own
    day decides.
    """

    link: LinkView
    photo: PhotoView | None = None
    mark: Wording = NO_WORDS
    note: str = ""
    year: tuple[int, ...] = ()
    stages: tuple[str, ...] = ()
    out: bool = False
    chance: str = ""
    why: str = ""
    told: tuple[TellingMark, ...] = ()
    seen: str = ""  # what its button notes, where it has one
    photos: tuple[DatedPhoto, ...] = ()  # in the course of the year, where the reader's own day decides and there are several


@dataclass(frozen=True, slots=True)
class HeadedList:
    """A headed list of accounts."""

    heading: str
    entries: tuple[ListEntry, ...]
    link: LinkView | None = None
    said: Wording = NO_WORDS  # the heading, where it is the author's text


@dataclass(frozen=True, slots=True)
class PlaceEntry:
    """A place in a list. `year` has 36 cells: 1 where something found there is in season, 2 when most species are most seen."""

    link: LinkView
    area: str
    habitat: tuple[Wording, ...]
    photo: PhotoView | None
    year: tuple[int, ...]
    species: int


@dataclass(frozen=True, slots=True)
class ListPage:
    """A list of accounts in groups, or of places, or of ways on, or species side by side."""

    groups: tuple[HeadedList, ...] = ()
    links: tuple[LinkView, ...] = ()
    name: NameView | None = None
    side: SideBySide | None = None
    places: tuple[PlaceEntry, ...] = ()


@dataclass(frozen=True, slots=True)
class PlantPage:
    """A host plant and what lives on it."""

    name: NameView
    photo: PhotoView | None
    note: ProseView | None
    cautions: tuple[CautionView, ...]
    users: tuple[tuple[ListEntry, Wording], ...]  # account, part and use
    places: tuple[LinkView, ...]
    heading: str  # over all plants of the guide


@dataclass(frozen=True, slots=True)
class YearRow:
    """An account on the page of the year: its family, and its 36 cells and those of each stage, in the order of the guide's year."""

    link: LinkView
    family: str
    cells: tuple[int, ...]
    stages: tuple[tuple[str, str, int], ...]  # the stage's word, its cells as one word of 36 digits, its start

    @property
    def starts(self) -> int:
        """The cell in which it starts."""
        return find_start(self.cells)

    @property
    def digits(self) -> str:
        """The cells as one word of 36 digits."""
        return _write_digits(self.cells)


def find_start(cells: Sequence[int]) -> int:
    """The first cell after the longest gap of a year, which goes round; of what is about all year, of when it is most seen."""
    year = cells if 0 in cells else [cell == 2 for cell in cells]
    starts = [d for d in range(len(year)) if year[d] and not year[d - 1]]
    before = {start: next(n for n in range(1, len(year) + 1) if year[start - 1 - n]) for start in starts}
    return max(starts, key=lambda start: (before[start], -start), default=0)


@dataclass(frozen=True, slots=True)
class SeasonsPage:
    """The year of all accounts, the earliest first, with a way to every third of a month."""

    rows: tuple[YearRow, ...]
    families: tuple[str, ...]
    stages: tuple[str, ...]
    months: tuple[str, ...]
    month_names: tuple[str, ...]
    dekads: tuple[tuple[int, str, str], ...]  # number, name and path of each, in the order of the guide's year


@dataclass(frozen=True, slots=True)
class DekadPage:
    """What is out in one third of a month, with chances and what the words for them mean; `earlier` and `later` lead round the year."""

    dekad: int
    when: str
    groups: tuple[HeadedList, ...]
    earlier: LinkView
    later: LinkView
    chances: tuple[tuple[str, str], ...] = ()
    promise: str = ""


def year_of(make: PieceMaker, account: PublicAccount, place: str = "") -> tuple[int, ...]:
    """The most that any stage one looks for shows in each dekad, at a place or in the region."""
    seasons = (stage_season(account, stage, place) for stage in sought_stages(make.guide, account))
    rows = [fill_cells(season) for season in seasons if season]
    return tuple(max((row[d] for row in rows), default=0) for d in range(DEKADS))


def make_entry(make: PieceMaker, account: PublicAccount, *, note: str = "", dekad: int | None = None) -> ListEntry:
    """An account as it stands in lists; with a dekad, the stages that are out then."""
    plain = remember(make.kept, ("entry", account.id), lambda: _plain_entry(make, account))
    if dekad is None:
        return replace(plain, note=note) if note else plain
    out = stages_out(account, dekad)
    stages = tuple(make.stage_word(account, stage) for stage in out)
    return replace(when_out(make, account, plain, out), note=note, stages=stages, out=plain.year[dekad] > 0)


def _plain_entry(make: PieceMaker, account: PublicAccount) -> ListEntry:
    return ListEntry(
        link=make.map.account(account),
        photo=make.small_plate(account),
        mark=_first_mark(account, make.marks(account)),
        year=year_of(make, account),
    )


def _first_mark(account: PublicAccount, marks: tuple[MarkView, ...]) -> Wording:
    """The first mark, with its stage and sex; the grown form is understood."""
    if not marks:
        return NO_WORDS
    return marks[0].of_sex if is_of_grown(account.diagnostics[0]) else marks[0].said


def when_out(make: PieceMaker, account: PublicAccount, listed: ListEntry, stages: Collection[str]) -> ListEntry:
    """An entry as it stands where only these stages are out: what tells them, and a picture of one of them if there is any."""
    told = told_by(make, account, stages)
    photo = picture_of(make, account, listed.photo, stages)
    return replace(listed, mark=NO_WORDS, told=(told,) if told else (), photo=photo)


def list_dekads(make: PieceMaker) -> tuple[tuple[str, str], ...]:
    """Name and path of all 36."""
    return remember(make.kept, ("dekads", ""), lambda: _dekads(make))


def _dekads(make: PieceMaker) -> tuple[tuple[str, str], ...]:
    return tuple((dekad_words(d, make.words), make.map.page(dekad_path(d))) for d in range(DEKADS))


def by_family(make: PieceMaker, accounts: list[PublicAccount]) -> tuple[HeadedList, ...]:
    """Accounts under their families, both in alphabetical order."""
    members: dict[str, list[PublicAccount]] = {}
    for account in sorted(accounts, key=lambda a: (a.family, a.name.sort_key)):
        members.setdefault(account.family, []).append(account)
    return tuple(family_list(make, family, found) for family, found in members.items())


def family_list(make: PieceMaker, family: str, members: Iterable[PublicAccount]) -> HeadedList:
    """The accounts of one family under its name."""
    return HeadedList(family, tuple(make_entry(make, a) for a in members), make.map.family(family) if family else None)


def family_page(make: PieceMaker, family: str, members: Sequence[PublicAccount], run: Run = WHOLE) -> ListPage:
    """A page of one family: its species side by side at one scale, or, of a large one, a list or a run of it."""
    if len(members) > MOST_SIDE_BY_SIDE:
        return ListPage((replace(family_list(make, family, members[run.held]), heading="", link=None),))
    return ListPage(side=show_side_by_side(make, Side(members, choose_stage(make, members))))


def plant_page(make: PieceMaker, plant: Plant) -> PlantPage:
    """A plant's page."""
    users = tuple(
        (make_entry(make, account), join_wordings("; ", [make.word(use.part), make.word(use.use)], make.foreign))
        for account in make.guide.host_of(plant.id)
        for use in account.host_plants
        if use.plant == plant.id
    )
    places = [p for p in make.guide.places.values() if plant.id in p.plants]
    return PlantPage(
        name=NameView(plant.vernacular, plant.name.pieces(authority=False) if plant.name else (), language=make.main),
        photo=make.photo_of(plant.photo),
        note=make.prose(plant.note.text, prefix=plant.id, language=make.main) if plant.note else None,
        cautions=show_cautions(make, plant.hazards, plant.caution),
        users=users,
        places=tuple(make.map.place(p.id) for p in places),
        heading=make.words(head_plant_list(make.guide)),
    )


def _year_row(make: PieceMaker, account: PublicAccount) -> YearRow:
    seasons = ((stage, account.season_of(stage)) for stage in sought_stages(make.guide, account))
    first = make.guide.settings.first_dekad
    years = ((make.stage_word(account, stage), turn_year(fill_cells(season), first)) for stage, season in seasons if season)
    stages = tuple((word, _write_digits(cells), find_start(cells)) for word, cells in years)
    return YearRow(make.map.account(account), account.family, turn_year(year_of(make, account), first), stages)


def _write_digits(cells: Iterable[int]) -> str:
    return "".join(map(str, cells))


def seasons_page(make: PieceMaker, run: Run = WHOLE) -> SeasonsPage:
    """The year of everything, or of a run of it, by when each starts, then by name."""
    settings = make.guide.settings
    rows = [_year_row(make, a) for a in make.guide.accounts.values() if a.seasons]
    rows = sorted(rows, key=lambda row: (row.starts, row.link.text.casefold()))[run.held]
    return SeasonsPage(
        rows=tuple(rows),
        families=tuple(sorted({row.family for row in rows if row.family})),
        stages=tuple(dict.fromkeys(word for row in rows for word, *_ in row.stages)),
        months=list_initials(make.words, settings),
        month_names=list_months(make.words, settings),
        dekads=turn_year([(dekad, *told) for dekad, told in enumerate(list_dekads(make))], settings.first_dekad),
    )


def out_in(make: PieceMaker, dekad: int) -> tuple[Out, ...]:
    """What is out in a third of a month, what is most seen first, then the rest, each by its chance."""
    return remember(make.kept, ("out in", str(dekad)), lambda: _out_in(make, dekad))


def _out_in(make: PieceMaker, dekad: int) -> tuple[Out, ...]:
    all_out = rank_out(make.guide, make.guide.accounts.values(), dekad)
    return (*(out for out in all_out if out.most_seen), *(out for out in all_out if not out.most_seen))


def dekad_page(make: PieceMaker, dekad: int, run: Run = WHOLE) -> DekadPage:
    """What is out in one third of a month, or a run of it."""
    all_out = out_in(make, dekad)
    best = tuple(_out_entry(make, out, dekad) for out in all_out[run.held] if out.most_seen)
    rest = tuple(_out_entry(make, out, dekad) for out in all_out[run.held] if not out.most_seen)
    names = list_dekads(make)

    def neighbour(step: int) -> LinkView:
        name, path = names[(dekad + step) % DEKADS]
        return LinkView(path, name)

    others = make.words("Also out") if any(out.most_seen for out in all_out) else make.words("Out now")
    groups = [HeadedList(make.words("Most seen now"), best), HeadedList(others, rest)]
    return DekadPage(
        dekad,
        names[dekad][0],
        tuple(g for g in groups if g.entries),
        neighbour(-1),
        neighbour(1),
        chances=list_meanings(make.guide, make.words, {out.chance for out in all_out}, at_place=False),
        promise=make.words(PROMISE),
    )


def _out_entry(make: PieceMaker, out: Out, dekad: int) -> ListEntry:
    account = make.guide.accounts[out.account]
    return replace(make_entry(make, account, dekad=dekad), chance=make.words(out.chance.words), why=say_why(make.words, out, make.main))
