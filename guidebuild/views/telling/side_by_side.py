"""Species side by side: of each one picture of the same stage, the marks that decide, one sentence and its months."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.claims import find_deciding_marks
from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.guide.characters import Character
from guidebuild.guide.life_stages import GROWN
from guidebuild.identify.readings import Scope
from guidebuild.views.pieces.common import NO_WORDS, LinkView, MarkView, PhotoView, SeasonRow, Wording
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.scopes import scope_of_many
from guidebuild.views.pieces.season_words import list_initials

MOST_MARKS = 3


@dataclass(frozen=True, slots=True)
class SidePlate:
    """One species among others: its picture points at the marks that decide and at no more.

    `whose` is the stage and sex of the picture, where it must be said; `told` is the one sentence that tells the species
    from the others, `season` the year of the stage that is shown.
    """

    link: LinkView
    photo: PhotoView | None
    whose: str = ""
    marks: tuple[MarkView, ...] = ()
    told: Wording = NO_WORDS
    season: SeasonRow | None = None


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Plates of one stage, with the initials of the months for their bars.

    `heading` names what is shown: “birds in winter plumage”; empty where that is understood.
    """

    plates: tuple[SidePlate, ...]
    stage: str = ""  # its id
    heading: str = ""
    months: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Side:
    """What is wanted side by side: species in one stage.

    `told` are their sentences, in the same order; `characters` are those that tell them apart: a mark that speaks of one decides.
    Where one has no picture of the stage, its plate stands there and says what it shows, unless `only` this stage is wanted.
    """

    accounts: Sequence[PublicAccount]
    stage: str
    told: Sequence[Wording] = ()
    characters: Collection[Character] = ()
    only: bool = False
    headed: bool = False  # whether other stages stand above or below it


def choose_stage(make: PieceMaker, accounts: Iterable[PublicAccount]) -> str:
    """The stage that most of these species show on their plates; the first of them where several are as many."""
    plates = [plate for account in accounts if (plate := make.plate(account))]
    stages = Counter(make.guide.photos[plate.id].stage for plate in plates)
    return stages.most_common(1)[0][0] if stages else ""


def show_side_by_side(make: PieceMaker, side: Side) -> SideBySide:
    """Species in one stage, each with its picture, deciding marks, sentence and months."""
    plates = [_plate(make, account, side) for account in side.accounts]
    if side.told:
        plates = [replace(plate, told=told) for plate, told in zip(plates, side.told, strict=True)]
    heading = scope_of_many(make, Scope(side.stage)) if side.stage not in ("", GROWN) or side.headed else ""
    months = list_initials(make.words, make.guide.settings)
    return SideBySide(tuple(plates), side.stage, heading, months)


def _plate(make: PieceMaker, account: PublicAccount, side: Side) -> SidePlate:
    photo = _choose_photo(make, account, side)
    stage, beside = (photo.stage, photo.id) if photo else (side.stage, "")
    marks = make.marks_in_one(account, _find_deciding(account, stage, beside, side.characters), beside=beside)
    view = make.photo(photo, account) if photo else None
    pointed = tuple(mark for mark in marks if view and mark.point and mark.photo == view.id)
    return SidePlate(
        link=make.map.account(account),
        photo=replace(view, marks=pointed) if view else None,
        # What the heading says of all need not be said of each.
        whose=(view.sex if stage == side.stage else view.whose) if view else "",
        marks=tuple(mark if mark in pointed else replace(mark, point=None) for mark in marks),
        season=_season(make, account, stage),
    )


def _choose_photo(make: PieceMaker, account: PublicAccount, side: Side) -> PublicPhoto | None:
    """The plate where it shows the stage, else the account's best picture of it: measured before others; else the plate."""
    stage, plate = side.stage, make.plate(account)
    own = make.guide.photos[plate.id] if plate else None
    if own and own.stage == stage and (own.measured or not stage):
        return own
    pointed = {mark.photo for mark in account.diagnostics if mark.point}
    same = [photo for photo in make.guide.photos_of(account) if photo.stage == stage and not photo.part]
    best = sorted(same, key=lambda photo: (photo.measured is None, photo is not own, photo.id not in pointed))
    return best[0] if best else None if side.only else own


def _find_deciding(account: PublicAccount, stage: str, photo: str, characters: Collection[Character]) -> tuple[int, ...]:
    """Where the marks stand that decide: the author's first of this stage, and those that speak of what tells the species apart."""
    first = find_deciding_marks(account, stage)
    named = [
        number
        for number, mark in enumerate(account.diagnostics)
        if mark.photo == photo and (not mark.stages or stage in mark.stages) and any(_speaks_of(mark.mark.words, c) for c in characters)
    ]
    return tuple(sorted(dict.fromkeys((*first, *named)), key=lambda number: (number not in first, number))[:MOST_MARKS])


def _speaks_of(mark: str, character: Character) -> bool:
    """Whether a mark names a character, or the part of the body that it is of."""
    names = (character.label, character.part)
    return any(name and re.search(rf"\b{re.escape(name)}", mark, re.IGNORECASE) for name in names)


def _season(make: PieceMaker, account: PublicAccount, stage: str) -> SeasonRow | None:
    """The year of the stage that is shown, else of one that is looked for."""
    bar = make.season_bar(account)
    wanted = (stage, *sought_stages(make.guide, account))
    rows = [row for row in bar.rows if row.stage in wanted] if bar else []
    return min(rows, key=lambda row: wanted.index(row.stage), default=None)
