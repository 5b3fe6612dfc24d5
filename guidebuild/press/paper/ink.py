"""How much ink a picture takes on a print shop's press: all inks of one spot together (total area coverage), by the shop's own profile."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from PIL import Image

from guidebuild.press.engine.problems import Problem
from guidebuild.press.paper.into_inks import InksOf
from guidebuild.press.paper.output_profile import OutputProfile
from guidebuild.press.paper.print_shop import ShopWish
from guidebuild.press.photos.print_copy import Picture

_LOOKED_AT = 600
"""Pixels along the longer side: a spot that no print shows is none."""
_SPECKS = 0.001
"""The share of a picture that may have more: single pixels dry."""


@dataclass(frozen=True, slots=True)
class InkUsed:
    """The most ink on a picture, per cent of one full ink (four full ones are 400), and the share of it that is over a limit."""

    most: float
    over: float


def reckon_ink(picture: Image.Image, profile: OutputProfile, limit: float) -> InkUsed:
    """The ink of a picture in sRGB, turned into the profile's inks as it is for the print shop."""
    small = picture.convert("RGB")
    small.thumbnail((_LOOKED_AT, _LOOKED_AT))
    turned = InksOf(profile).of_picture(small)
    total = np.asarray(turned).sum(axis=2, dtype=np.uint16) / 2.55
    return InkUsed(float(np.quantile(total, 1 - _SPECKS)), float((total > limit).mean()))


def find_wet(pictures: Iterable[tuple[str, Picture]], wish: ShopWish, where: str) -> Iterator[Problem]:
    """Pictures, by the ids of their photos, that take more ink than the shop's limit; only its own profile can say it."""
    limit = wish.ink_limit
    if not limit or wish.profile is None or not wish.profile.cmyk:
        return
    for ident, picture in pictures:
        with Image.open(picture.path) as opened:
            ink = reckon_ink(opened, wish.profile, limit)
        if ink.most > limit:
            share = f"{ink.over:.0%}" if ink.over >= 0.01 else "less than 1%"
            said = f"the picture “{ident}” takes up to {ink.most:.0f}% ink where the limit is {limit}%, on {share} of it"
            yield Problem("too-much-ink", where, f"{said}; lighten its darkest parts")
