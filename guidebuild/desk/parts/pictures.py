"""The contact sheet: every photo, those without an account first; what many of them share is said once for all of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from guidebuild.desk.choices import call_place
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import AddItem, Change, MoveItem, RefusedError, SetValue
from guidebuild.desk.part import Part
from guidebuild.desk.parts.plate import PHOTOS, find_photo_at
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Photo
from guidebuild.reading.parse_values import SEXES
from guidebuild.words import Words

SET_AT_ONCE = ("account", "stage", "sex", "view", "part", "place", "credit", "licence", "alt")
"""What can be said of many photos in one go, by its key in photos.yaml."""


@dataclass(frozen=True, slots=True)
class PictureRow:
    """A photo on the sheet: whose it is, where it is used, and what it lacks. `cover` is so of the first photo of its account."""

    id: str
    alt: str
    account: str
    title: str
    about: str
    cover: bool
    used: str
    lacks: str
    shown: bool
    """Whether it has all without which it is published nowhere."""


@dataclass(frozen=True, slots=True)
class SetField:
    """A field of the form: what it may hold, if that is a closed list."""

    key: str
    title: str
    choices: tuple[tuple[str, str], ...]
    common: tuple[str, ...]
    """What others of the guide have there, for it to be offered."""


@dataclass(frozen=True, slots=True)
class PicturesView:
    """All that the page shows."""

    rows: tuple[PictureRow, ...]
    without_account: int
    lacking: int
    fields: tuple[SetField, ...]
    digest: str = ""
    """Of the text of photos.yaml that the page saw."""


def show_pictures(desk: Desk, rest: str, _: Mapping[str, str]) -> PicturesView | None:
    """The page."""
    guide, say = desk.guide, desk.say
    if rest or guide is None:
        return None if rest else PicturesView((), 0, 0, ())
    used = _find_uses(guide)
    rows = sorted(
        (_show_row(guide, photo, used.get(photo.id, ()), say) for photo in guide.photos.values()), key=lambda row: bool(row.account)
    )
    return PicturesView(
        rows=tuple(sorted(rows, key=lambda row: bool(row.account or row.used))),
        without_account=sum(not (row.account or row.used) for row in rows),
        lacking=sum(bool(row.lacks) for row in rows),
        fields=tuple(_list_fields(guide, say)),
        digest=desk.writer.read(PHOTOS).digest,
    )


def _find_uses(guide: Guide) -> Mapping[str, tuple[str, ...]]:
    """Who names each photo: accounts by their names, and plants, terms and places by their ids."""
    found: dict[str, dict[str, None]] = {}
    for account in guide.accounts.values():
        called = account.vernacular or account.name.plain
        for photo in (*account.photos, *(mark.photo for mark in account.diagnostics if mark.photo)):
            found.setdefault(photo, {})[called] = None
    others = (*((p.photo, p.id) for p in guide.plants.values()), *((t.photo, t.id) for t in guide.terms.values()),
              *((p.photo, p.id) for p in guide.places.values()))  # fmt: skip
    for photo, name in others:
        if photo:
            found.setdefault(photo, {})[name] = None
    return {photo: tuple(names) for photo, names in found.items()}


def _show_row(guide: Guide, photo: Photo, used: tuple[str, ...], say: Words) -> PictureRow:
    account = guide.accounts.get(photo.account)
    group = guide.stage_set(account) if account else None
    about = (group.word(photo.stage) if group and photo.stage else photo.stage, say(photo.sex) if photo.sex else "", photo.view, photo.part)
    given = {say("account"): photo.account or used, say("credit"): photo.credit, say("licence"): photo.licence,
             say("alt text"): photo.alt.text or photo.decorative, say("life stage"): photo.stage or not photo.account}  # fmt: skip
    lacks = [word for word, said in given.items() if not said]
    return PictureRow(
        id=photo.id,
        alt=photo.alt.words,
        account=photo.account,
        title=(account.vernacular or account.name.plain) if account else photo.account,
        about=", ".join(filter(None, about)),
        cover=bool(account and account.photos[:1] == (photo.id,)),
        used=say.listed(list(used)) if used else "",
        lacks=say.listed(lacks) if lacks else "",
        shown=bool(photo.credit and photo.licence),
    )


def _list_fields(guide: Guide, say: Words) -> Iterator[SetField]:
    accounts = tuple((a.id, a.vernacular or a.name.plain) for a in guide.accounts.values())
    groups = [guide.stage_set(account) for account in guide.accounts.values()]
    stages = tuple(dict.fromkeys(stage for group in groups for stage in group.stages))
    closed = {
        "account": tuple(sorted(accounts, key=lambda pair: pair[1].casefold())),
        "stage": stages,
        "sex": tuple((sex, say(sex)) for sex in SEXES),
        "place": tuple((place.id, call_place(place, say)) for place in guide.places.values()),
        "licence": tuple((licence, kind.title) for licence, kind in guide.licences.items()),
    }
    titles = {
        "account": say("Account"), "stage": say("Life stage"), "sex": say("Sex"), "view": say("View"), "part": say("Part"),
        "place": say("Place"), "credit": say("Credit"), "licence": say("Licence"), "alt": say("Words for those who cannot see it"),
    }  # fmt: skip
    for key in SET_AT_ONCE:
        said = (str(getattr(photo, key)) for photo in guide.photos.values()) if key in ("view", "part", "credit") else ()
        common = tuple(sorted({text for text in said if text}))
        yield SetField(key, titles[key], closed.get(key, ()), common)


def set_pictures(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """What is said of many photos at once: `{photos, values, digest}`; a value of "" takes what stands there away.

    Where an account is set, it names the photos too, behind those that it has. Answers `{file, digest}` of photos.yaml.
    """
    guide = desk.guide
    photos, values = _read_names(asked.get("photos")), asked.get("values")
    if guide is None or not photos or not isinstance(values, dict) or not values or not set(values) <= set(SET_AT_ONCE):
        raise RefusedError("The page did not say which pictures it means, or what of them. Load the page anew.")
    if unknown := [photo for photo in photos if photo not in guide.photos]:
        raise RefusedError(f"There is no photo {unknown[0]} any more. Load the page anew.")
    account = str(values.get("account", ""))
    if account and account not in guide.accounts:
        raise RefusedError(f"There is no account “{account}”. Choose one of the list.")
    changes: list[Change] = [SetValue((photo, key), str(value).strip() or None) for photo in photos for key, value in values.items()]
    written = desk.writer.change(PHOTOS, str(asked.get("digest", "")), changes, guide)
    if account:
        _name_in_account(desk, guide, account, photos)
    return {"file": written.file, "digest": written.digest}


def _name_in_account(desk: Desk, guide: Guide, account: str, photos: Iterable[str]) -> None:
    file = guide.accounts[account].at.file
    standing = desk.writer.read(file)
    named = standing.values.get("photos")
    listed = named if isinstance(named, list) else [named] if named else []
    new = [photo for photo in photos if photo not in listed]
    if new and isinstance(named, list) and named:
        desk.writer.change(file, standing.digest, [AddItem(("photos",), photo) for photo in new], guide)
    elif new:
        desk.writer.change(file, standing.digest, [SetValue(("photos",), [*listed, *new])], guide)


def make_cover(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """A photo as the first of its account: `{photo}`. Answers `{file, digest}` of the account."""
    guide = desk.guide
    photo = guide.photos.get(str(asked.get("photo", ""))) if guide else None
    account = guide.accounts.get(photo.account) if guide and photo else None
    if guide is None or photo is None or account is None:
        raise RefusedError("Only a picture that belongs to an account can be its cover. Give it one first.")
    standing = desk.writer.read(account.at.file)
    named = standing.values.get("photos")
    changes: list[Change] = []
    if isinstance(named, list) and photo.id in named:
        changes = [MoveItem(("photos", named.index(photo.id)), 0)] if named[0] != photo.id else []
    elif isinstance(named, list) and named:
        changes = [AddItem(("photos",), photo.id, 0)]
    else:
        changes = [SetValue(("photos",), [photo.id, *([named] if named and named != photo.id else [])])]
    if not changes:
        return {"file": standing.file, "digest": standing.digest}
    written = desk.writer.change(standing.file, standing.digest, changes, guide)
    return {"file": written.file, "digest": written.digest}


def _read_names(given: object) -> tuple[str, ...]:
    return tuple(given) if isinstance(given, list) and all(isinstance(one, str) for one in given) else ()


def locate_pictures(desk: Desk, at: At) -> str | None:
    """A line of photos.yaml, by the photo that it stands in."""
    if desk.guide is None or at.file != PHOTOS:
        return None
    owner = find_photo_at(desk.guide, at)
    return f"#photo-{owner.id}" if owner else None


PART = Part("pictures", "Pictures", show_pictures, {"set": set_pictures, "cover": make_cover}, locate_pictures)
