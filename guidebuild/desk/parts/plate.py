"""The plate: one photo, large. Marks, the line of known length and the focus are put where they are, with a finger or with keys."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from guidebuild.desk.desk import Desk
from guidebuild.desk.part import Part
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Photo
from guidebuild.press.engine.trees import find_inside
from guidebuild.press.photos.info import PictureInfo, picture_info
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view
from guidebuild.words import Words

PHOTOS = "photos.yaml"
SQUARE, TALL, WIDE = (1, 1), (4, 5), (191, 100)
"""The shapes that a photo is cut to for posts and lists."""


@dataclass(frozen=True, slots=True)
class PlateMark:
    """A field mark of the account: where on this photo it is pointed at (None: nowhere yet), or on which other."""

    number: int
    text: str
    scope: str
    point: tuple[float, float] | None
    elsewhere: str
    path: str
    """Where its place stands in the account's file, as JSON."""


@dataclass(frozen=True, slots=True)
class FileSeen:
    """A file that the page may change, and which text of it the page saw."""

    file: str
    digest: str


@dataclass(frozen=True, slots=True)
class PlateView:
    """All that the page shows of one photo. Places are per cent across and down."""

    photo: str
    width: int
    height: int
    alt: str
    shows: str
    account: str
    name: NameView | None
    account_file: str
    marks: tuple[PlateMark, ...]
    new_mark: str
    """What a mark made on this photo says beside its words, as JSON: the photo, and the stage, sex and view that it shows."""
    length: str
    measured: tuple[float, ...]
    focus: tuple[float, float] | None
    scale: str
    before: str
    after: str
    files: tuple[FileSeen, ...]
    crops: tuple[tuple[str, tuple[int, int]], ...]


@dataclass(frozen=True, slots=True)
class NoPlate:
    """There is no photo yet, or none of this name can be read."""

    why: str
    photo: str = ""


def show_plate(desk: Desk, rest: str, _: Mapping[str, str]) -> PlateView | NoPlate | None:
    """The page of a photo; without one, of the first that has an account."""
    guide = desk.guide
    if guide is None or not guide.photos:
        return NoPlate(desk.say("There is no photo yet.")) if not rest else None
    photo = guide.photos.get(rest or _put_in_order(guide)[0])
    if photo is None:
        return None
    path = find_inside(desk.folder, photo.file)
    info = picture_info(path, photo.file) if path else None
    if not isinstance(info, PictureInfo):
        return NoPlate(str(info) if info else desk.say("There is no photo yet."), photo.id)
    account = guide.accounts.get(photo.account)
    return _show(desk, guide, photo, account, info)


def _show(desk: Desk, guide: Guide, photo: Photo, account: Account | None, info: PictureInfo) -> PlateView:
    language = guide.settings.language
    before, after = _neighbours(guide, photo)
    return PlateView(
        photo=photo.id,
        width=info.width,
        height=info.height,
        alt=photo.alt.words,
        shows=photo.shows or photo.caption.words,
        account=account.id if account else "",
        name=name_view(account, language, language) if account else None,
        account_file=account.at.file if account else "",
        marks=tuple(_list_marks(guide, account, photo, desk.say)) if account else (),
        new_mark=json.dumps({key: said for key in ("stage", "sex", "view") if (said := getattr(photo, key))} | {"photo": photo.id}),
        length=photo.length.typed if photo.length else "",
        measured=photo.measured or (),
        focus=photo.focus,
        scale=_say_scale(photo, info, desk.say),
        before=before,
        after=after,
        crops=((desk.say("Square"), SQUARE), (desk.say("Tall"), TALL), (desk.say("Wide"), WIDE)),
        files=tuple(see_files(desk, [PHOTOS, *([account.at.file] if account else [])])),
    )


def see_files(desk: Desk, files: list[str]) -> Iterator[FileSeen]:
    """Which texts of files a page is made of."""
    for file in files:
        yield FileSeen(file, desk.writer.read(file).digest)


def _list_marks(guide: Guide, account: Account, photo: Photo, say: Words) -> Iterator[PlateMark]:
    group = guide.stage_set(account)
    for number, mark in enumerate(account.diagnostics):
        here = mark.photo == photo.id
        words = (*(group.word(stage) for stage in mark.stages), *(say(sex) for sex in mark.sexes), mark.view)
        path = json.dumps(["diagnostics", number])
        point = mark.point if here else None
        yield PlateMark(number + 1, mark.mark.words, ", ".join(filter(None, words)), point, "" if here else mark.photo, path)


def _put_in_order(guide: Guide) -> list[str]:
    """All photos, those of one account together in the account's order."""
    of_accounts = (p for account in guide.accounts.values() for p in account.photos if p in guide.photos)
    return list(dict.fromkeys((*of_accounts, *guide.photos)))


def _neighbours(guide: Guide, photo: Photo) -> tuple[str, str]:
    """The photos before and after."""
    every = _put_in_order(guide)
    at = every.index(photo.id)
    return (every[at - 1] if at else "", every[at + 1] if at + 1 < len(every) else "")


def _say_scale(photo: Photo, info: PictureInfo, say: Words) -> str:
    """How many pixels of the original a millimetre is, so that a slip by a factor of ten is seen at once."""
    if photo.length is None or photo.measured is None:
        return ""
    x1, y1, x2, y2 = photo.measured
    pixels = ((info.width * (x2 - x1) / 100) ** 2 + (info.height * (y2 - y1) / 100) ** 2) ** 0.5
    middle = photo.length.middle
    return say("The whole picture is {n} mm wide.", n=f"{info.width * middle / pixels:.3g}") if pixels and middle else ""


def find_photo_at(guide: Guide, at: At) -> Photo | None:
    """The photo whose entry in photos.yaml a line stands in."""
    return max((photo for photo in guide.photos.values() if photo.at.line <= at.line), key=lambda photo: photo.at.line, default=None)


def locate_plate(desk: Desk, at: At) -> str | None:
    """A line of photos.yaml about where something is in a picture."""
    guide = desk.guide
    if guide is None or at.file != PHOTOS:
        return None
    owner = find_photo_at(guide, at)
    if owner is None:
        return None
    key = max(((where.line, key) for key, where in owner.positions.items() if where.line <= at.line), default=(0, ""))[1]
    return owner.id if key in ("measured", "length", "focus") else None


PART = Part("plate", "Plate", show_plate, locate=locate_plate)
