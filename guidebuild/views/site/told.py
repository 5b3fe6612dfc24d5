"""What a species is told by in a part of the year: a nymph is not told by the mark of the adult, nor shown by its picture."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import cast

from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.seasons import DEKADS
from guidebuild.guide.text.inline import NO_TEXT
from guidebuild.guide.text.sentences import sentences
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.parts import Maker


@dataclass(frozen=True, slots=True)
class Told:
    """A field mark; or, where no mark fits any stage that is out, `stage` and the first sentence on its life."""

    words: str
    stage: str = ""
    language: str = ""  # of the words, where it is not in the page's
    dekads: str = ""  # 36 digits, 1 where this is what tells it; empty where nobody asks

    @property
    def heading(self) -> str:
        """The stage as it begins a line."""
        return self.stage[:1].upper() + self.stage[1:]


def stages_out(account: PublicAccount, dekad: int) -> tuple[str, ...]:
    """The stages that are about in a third of a month anywhere in the region, in the account's order."""
    return tuple(dict.fromkeys(s.stage for s in account.seasons if not s.place and dekad in s.season.dekads))


def told_by(make: Maker, account: PublicAccount, stages: Collection[str]) -> Told | None:
    """What tells an account while these stages are out; None where it says nothing of them."""
    key = (f"told {account.id}", " ".join(stages))
    if key not in make.kept:
        make.kept[key] = _told_by(make, account, stages)
    return cast("Told | None", make.kept[key])


def _told_by(make: Maker, account: PublicAccount, stages: Collection[str]) -> Told | None:
    mark = make.mark_of(account, stages)
    if mark:
        said = make.marks(account)
        return Told(mark, language=next(shown.language for shown in said if shown.words == mark))
    translated = make.translation(account)
    theirs = {s.stage: s.text for s in translated.stages} if translated else {}
    texts = {s.stage: s.text for s in account.stages} | theirs
    sought = sought_stages(make.guide, account)
    for stage in sorted(stages, key=lambda stage: stage not in sought):
        words = sentences(texts.get(stage, NO_TEXT).words)
        if words:
            return Told(words[0], make.stage_word(account, stage), "" if stage in theirs else make.foreign)
    return None


def told_through_the_year(make: Maker, account: PublicAccount, year: Sequence[int]) -> tuple[Told, ...]:
    """All that tells an account over the year (36 cells: where there is one), each with its dekads, in the order of the year."""
    found: dict[Told, list[int]] = {}
    for dekad in (d for d in range(DEKADS) if year[d]):
        told = told_by(make, account, stages_out(account, dekad))
        if told:
            found.setdefault(told, []).append(dekad)
    return tuple(replace(told, dekads="".join("1" if d in dekads else "0" for d in range(DEKADS))) for told, dekads in found.items())


def picture_of(make: Maker, account: PublicAccount, usual: PhotoView | None, stages: Collection[str]) -> PhotoView | None:
    """The usual picture where it shows one of the stages, else another of the account's that does, else the usual one."""
    photos = make.guide.photos
    if usual is None or photos[usual.id].stage in ("", *stages):
        return usual
    other = next((p for p in make.guide.photos_of(account) if p.stage in stages), None)
    return make.small_photo(other) if other else usual
