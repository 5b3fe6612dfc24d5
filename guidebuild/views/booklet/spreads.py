"""The facing pages of a booklet: a species with all its pictures, and look-alikes side by side before the first of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.identify.look_alikes import own_pairs, similar_sets
from guidebuild.views.cards.card import CardView, card_view
from guidebuild.views.pieces.common import CautionView, NameView, PhotoView, SeasonRow, Wording
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.pointers import number_marks
from guidebuild.views.pieces.season_words import list_months
from guidebuild.views.telling.compare import CompareView, compare_view
from guidebuild.views.telling.side_by_side import SidePlate

MOST_PICTURES = 6
"""So many pictures of a species stand on its plate, and so many look-alikes on theirs."""


@dataclass(frozen=True, slots=True)
class SpeciesSpread:
    """A species: its pictures, the one that its marks point at first, and its words; `alike` are the ids of its look-alikes in order."""

    card: CardView
    pictures: tuple[PhotoView, ...] = ()
    alike: tuple[str, ...] = ()
    more_pictures: int = 0
    """So many further pictures have no room."""

    @property
    def id(self) -> str:
        """The account's id."""
        return self.card.id

    @property
    def family(self) -> str:
        """The family under which it stands."""
        return self.card.family


@dataclass(frozen=True, slots=True)
class AlikeSpecies:
    """One of several look-alikes: its picture, the marks that decide, what tells it from the others, and its year."""

    id: str
    name: NameView
    plate: SidePlate
    told: Wording
    season: SeasonRow | None


@dataclass(frozen=True, slots=True)
class AlikeSpread:
    """Look-alikes side by side, and what separates them; `family` is that of the species before which they stand."""

    id: str
    language: str
    title: str
    family: str
    each: tuple[AlikeSpecies, ...]
    compared: CompareView
    months: tuple[str, ...] = ()
    month_names: tuple[str, ...] = ()

    @property
    def cautions(self) -> tuple[CautionView, ...]:
        """What must be known of any of them."""
        return self.compared.cautions


Spread = SpeciesSpread | AlikeSpread


def list_spreads(make: PieceMaker) -> tuple[Spread, ...]:
    """All spreads in their order: families, names, and look-alikes before the first of their species."""
    accounts = sorted(make.guide.accounts.values(), key=lambda a: (a.family, a.name.sort_key))
    plates = [alike for ids in _list_sets(make, [account.id for account in accounts]) if (alike := _alike(make, ids))]
    before = {alike.each[0].id: alike for alike in reversed(plates)}
    return tuple(_in_order(make, accounts, before))


def _in_order(make: PieceMaker, accounts: Sequence[PublicAccount], before: dict[str, AlikeSpread]) -> Iterator[Spread]:
    for account in accounts:
        if account.id in before:
            yield before[account.id]
        yield _species(make, account)


def _list_sets(make: PieceMaker, order: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """Sets of look-alikes in the order of the booklet; a set too large for one plate is divided, and a pair that no set holds is one."""
    place = {account: number for number, account in enumerate(order)}
    whole = [sorted(ids, key=place.__getitem__) for ids in similar_sets(make.guide)]
    for ids in whole:
        runs = -(-len(ids) // MOST_PICTURES)
        size = -(-len(ids) // runs)
        yield from (tuple(ids[start : start + size]) for start in range(0, len(ids), size) if len(ids[start : start + size]) > 1)
    together = [set(ids) for ids in whole]
    pairs = (pair for pair in own_pairs(make.guide) if not any(set(pair) <= ids for ids in together))
    yield from (tuple(sorted(pair, key=place.__getitem__)) for pair in pairs)


def _species(make: PieceMaker, account: PublicAccount) -> SpeciesSpread:
    card = card_view(make, account)
    alike = tuple(s.account for s in account.similar if s.account in make.guide.accounts and s.account != account.id)
    pictures = tuple(_list_pictures(make, account, card))
    return SpeciesSpread(card, pictures[:MOST_PICTURES], alike, max(0, len(pictures) - MOST_PICTURES))


def _list_pictures(make: PieceMaker, account: PublicAccount, card: CardView) -> Iterator[PhotoView]:
    """The picture of the card with its marks, then one of each other stage and sex, in the order of life."""
    plate = card.plate
    if plate is None:
        return
    main = make.guide.photos[plate.id]
    yield replace(plate, marks=tuple(mark for mark in number_marks(card.marks, plate.id) if mark.number))
    shown = {(main.stage, main.sex), (main.stage, "")}
    order = {stage: number for number, stage in enumerate(make.guide.stage_set(account).ids)}
    others = [photo for photo in make.guide.photos_of(account) if photo.id != main.id and not photo.part]
    for photo in sorted(others, key=lambda p: (order.get(p.stage, len(order)), p.sex, p.measured is None)):
        if (photo.stage, photo.sex) in shown or not photo.stage:
            continue
        shown.add((photo.stage, photo.sex))
        yield _bare(make, photo, account)


def _bare(make: PieceMaker, photo: PublicPhoto, account: PublicAccount) -> PhotoView:
    return replace(make.photo(photo, account), marks=())


def _alike(make: PieceMaker, ids: Sequence[str]) -> AlikeSpread | None:
    """The plate of these look-alikes; None where fewer than two have a picture."""
    compared = compare_view(make.guide, ids, make.language)
    side = compared.stages[0].pictures
    order = {taxon.id: number for number, taxon in enumerate(compared.taxa)}
    if sum(plate.photo is not None for plate in side.plates) < 2:
        return None
    each = tuple(_one_of_them(compared, order[ident], ident) for ident in ids)
    family = make.guide.accounts[ids[0]].family
    title = make.words.listed([one.name.short for one in each])
    names = list_months(make.words, make.guide.settings)
    return AlikeSpread("--".join(ids), make.language, title, family, each, compared, side.months, names)


def _one_of_them(compared: CompareView, number: int, ident: str) -> AlikeSpecies:
    plate = compared.stages[0].pictures.plates[number]
    link = compared.taxa[number].link
    return AlikeSpecies(ident, link.name or NameView(link.text, ()), plate, compared.answers[number], plate.season)
