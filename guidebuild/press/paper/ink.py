"""How much ink a picture takes on a print shop's press: all inks of one spot together (total area coverage), by the shop's own profile."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PIL import Image

from guidebuild.press.paper.into_inks import InksOf
from guidebuild.press.paper.output_profile import OutputProfile

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
