"""Small pictures on a card: of the other stages and sexes of its own species, and of those it is taken for."""

from __future__ import annotations

from collections.abc import Iterable

from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.parts import PieceMaker


def other_forms(make: PieceMaker, account: PublicAccount, plate: PhotoView | None) -> tuple[PhotoView, ...]:
    """One picture of each stage and sex that the plate does not show: stages that one looks for first, then in order of life."""
    own = make.guide.photos.get(plate.id) if plate else None
    if own is None or own.account != account.id:
        return ()
    order = list(dict.fromkeys((*sought_stages(make.guide, account), *make.guide.stage_set(account).ids)))
    found: dict[tuple[str, str], PublicPhoto] = {}
    fit = [photo for photo in make.guide.photos_of(account) if _shows_other(photo, own)]
    for photo in sorted(fit, key=lambda photo: (photo.view != own.view, photo.measured is None)):
        found.setdefault((photo.stage, photo.sex), photo)
    ranked = sorted(found.values(), key=lambda photo: order.index(photo.stage) if photo.stage in order else len(order))
    return tuple(make.photo(photo, account) for photo in ranked)


def _shows_other(photo: PublicPhoto, own: PublicPhoto) -> bool:
    """Whether it shows the whole of another stage or sex, and says which."""
    if not photo.file or photo.part or photo.decorative or not (photo.stage or photo.sex):
        return False
    if photo.stage != own.stage:
        return bool(photo.stage)
    return bool(photo.sex and own.sex) and photo.sex != own.sex


def choose_stage_beside(make: PieceMaker, account: PublicAccount, plate: PhotoView | None) -> str:
    """The stage in which a species stands beside others: its plate's, or the first one looks for that is measured on a picture."""
    own = make.guide.photos.get(plate.id) if plate else None
    wanted = (*((own.stage,) if own else ()), *sought_stages(make.guide, account))
    measured = [photo.stage for photo in _whole_pictures(make, account) if photo.measured]
    return next((stage for stage in wanted if stage in measured), wanted[0] if wanted else "")


def picture_beside(make: PieceMaker, account: PublicAccount, stage: str) -> PhotoView | None:
    """The picture of a species that stands beside others: of that stage and measured, if there is such a one; else its plate.

    It carries no marks, since those of another species have numbers of their own.
    """
    plate = make.plate(account)
    shown = sorted(_whole_pictures(make, account), key=lambda photo: not (plate and photo.id == plate.id))
    same = [photo for photo in shown if photo.stage == stage]
    best = next((photo for photo in same if photo.measured), None) or next(iter((*same, *shown)), None)
    return make.photo(best) if best else None


def _whole_pictures(make: PieceMaker, account: PublicAccount) -> list[PublicPhoto]:
    return [photo for photo in make.guide.photos_of(account) if photo.file and not photo.part and not photo.decorative]


def join_credits(plate: tuple[PhotoView, str] | None, small: Iterable[tuple[PhotoView, str]]) -> str:
    """Whose pictures they are, each credit once with what they show; one that all share, or that is the plate's, stands for the rest."""
    told: dict[str, list[str]] = {plate[0].credit_line: [plate[1]]} if plate else {}
    for photo, whose in small:
        if photo.credit_line:
            told.setdefault(photo.credit_line, []).append(whose)
    first = told.get(plate[0].credit_line) if plate else None
    if first and (len(told) == 1 or not first[0]):
        del first[1:]
    return "; ".join(" · ".join(filter(None, (", ".join(dict.fromkeys(names)), line))) for line, names in told.items())
