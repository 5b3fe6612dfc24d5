"""What a species is told by in a part of the year: a nymph is not told by the mark of the adult, nor shown by its picture."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.asking import remember
from guidebuild.guide.seasons import DEKADS
from guidebuild.views.pieces.claims import describe_stages, find_first_claim
from guidebuild.views.pieces.common import PhotoView, Wording
from guidebuild.views.pieces.parts import PieceMaker


@dataclass(frozen=True, slots=True)
class TellingMark:
    """A field mark, with `stage` where not all that is out shows it; where no mark fits any, the first sentence on a stage's life."""

    words: Wording
    stage: str = ""
    is_mark: bool = False
    dekads: str = ""  # 36 digits, 1 where this is what tells it; empty where nobody asks

    @property
    def heading(self) -> str:
        """The stage as it begins a line."""
        return self.stage[:1].upper() + self.stage[1:]


@dataclass(frozen=True, slots=True)
class DatedPhoto:
    """A picture, and the dekads in which it shows what is out: 36 digits, 1 where it does."""

    photo: PhotoView
    dekads: str


def stages_out(account: PublicAccount, dekad: int) -> tuple[str, ...]:
    """The stages that are about in a third of a month anywhere in the region, in the account's order."""
    return tuple(dict.fromkeys(s.stage for s in account.seasons if not s.place and dekad in s.season.dekads))


def told_by(make: PieceMaker, account: PublicAccount, stages: Collection[str]) -> TellingMark | None:
    """What tells an account while these stages are out; None where it says nothing of them."""
    key = (f"told {account.id}", " ".join(stages))
    return remember(make.kept, key, lambda: _told_by(make, account, stages))


def _told_by(make: PieceMaker, account: PublicAccount, stages: Collection[str]) -> TellingMark | None:
    claim = find_first_claim(make, account, stages)
    if claim:
        return TellingMark(claim.mark, "" if claim.whole else claim.stages, is_mark=True)
    lives = describe_stages(make, account, stages).items()
    return next((TellingMark(words, make.stage_word(account, stage)) for stage, words in lives), None)


def told_through_the_year(make: PieceMaker, account: PublicAccount, year: Sequence[int]) -> tuple[TellingMark, ...]:
    """All that tells an account over the year (36 cells: where there is one), each with its dekads, in the order of the year."""
    dekads_by_mark: dict[TellingMark, list[int]] = {}
    for dekad in (d for d in range(DEKADS) if year[d]):
        told = told_by(make, account, stages_out(account, dekad))
        if told:
            dekads_by_mark.setdefault(told, []).append(dekad)
    return tuple(replace(told, dekads=_as_digits(dekads)) for told, dekads in dekads_by_mark.items())


def pictures_through_the_year(
    make: PieceMaker, account: PublicAccount, usual: PhotoView | None, year: Sequence[int]
) -> tuple[DatedPhoto, ...]:
    """The pictures that go with what is out over the year (36 cells: where there is something), each with its dekads."""
    dekads_by_photo: dict[str, tuple[PhotoView, list[int]]] = {}
    for dekad in (d for d in range(DEKADS) if year[d]):
        photo = picture_of(make, account, usual, stages_out(account, dekad))
        if photo:
            dekads_by_photo.setdefault(photo.id, (photo, []))[1].append(dekad)
    return tuple(DatedPhoto(photo, _as_digits(dekads)) for photo, dekads in dekads_by_photo.values())


def _as_digits(dekads: Collection[int]) -> str:
    return "".join("1" if d in dekads else "0" for d in range(DEKADS))


def picture_of(make: PieceMaker, account: PublicAccount, usual: PhotoView | None, stages: Collection[str]) -> PhotoView | None:
    """A picture of the stage that is told of those that are out, else of any of them; the usual one where it will do or is all there is."""
    if usual is None:
        return None
    claim = find_first_claim(make, account, stages)
    told = claim.ids if claim else tuple(describe_stages(make, account, stages))[:1]
    photos = make.guide.photos_of(account)
    for wanted in (told, stages):
        if make.guide.photos[usual.id].stage in ("", *wanted):
            return usual
        other = next((photo for photo in photos if photo.stage in wanted), None)
        if other:
            return make.small_photo(other)
    return usual
