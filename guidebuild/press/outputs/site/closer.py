"""What a page tells the script that opens a picture: what it shows, its scale, and pictures of look-alikes to lay beside it."""

from __future__ import annotations

import json
from collections.abc import Callable
from html import escape
from typing import Any

from guidebuild.press.outputs.site.plate import Pictures
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.press.theme.prose import Html
from guidebuild.views.pieces.common import LinkView, PhotoView, SimilarView
from guidebuild.views.pieces.cuts import find_animal
from guidebuild.views.pieces.one_scale import find_width

Described = Callable[..., Html]
"""A picture, and among several species the link of the one it shows → the attribute by which it can be looked into."""


def tell_picture(pictures: Pictures, root: str) -> Described:
    """What gives the attribute of a picture that can be looked into: its description as JSON."""

    def tell(photo: PhotoView, link: LinkView | None = None) -> Html:
        if photo.id not in pictures:
            return Html("")
        told = _describe(photo, pictures[photo.id], root)
        return Html(f' data-look="{_write(told | {"name": _short(link)} if link else told)}"')

    return tell


def tell_beside(pictures: Pictures, root: str) -> Callable[[SimilarView], Html]:
    """What gives the attributes of a look-alike: its name, and its pictures as JSON."""

    def tell(similar: SimilarView) -> Html:
        told = [_describe(photo, pictures[photo.id], root) for photo in similar.beside if photo.id in pictures]
        return Html(f' data-name="{escape(_short(similar.link))}" data-beside="{_write(told)}"' if told else "")

    return tell


def _describe(photo: PhotoView, copies: PictureSet, root: str) -> dict[str, Any]:
    """One picture: its copies, shape (height over width), what it shows; where it is measured, millimetres across and the measured line.

    `body` is how far all of it goes: left, upper, right and lower side, in per cent of the picture's width and height.
    """
    small = (copies.of_format("webp") or copies.of_format("jpeg"))[0]
    shape = copies.height / copies.width
    told: dict[str, Any] = {
        "small": root + small.path,
        "large": root + copies.largest.path,
        "shape": round(shape, 4),
        "alt": photo.alt,
        "credit": photo.credit_line,
    }
    told |= {name: value for name, value in (("stage", photo.stage), ("sex", photo.sex), ("view", photo.view)) if value}
    across, animal = find_width(photo, shape), find_animal(photo, shape)
    if not (across and animal):
        return told
    right, foot = animal.x + animal.width, animal.y + animal.height
    sides = [round(side, 1) for side in (animal.x, animal.y / shape, right, foot / shape)]
    return told | {"mm": float(f"{across:.5g}"), "line": photo.measured, "body": sides}


def _short(link: LinkView) -> str:
    return link.name.short if link.name else link.text


def _write(value: object) -> str:
    return escape(json.dumps(value, ensure_ascii=False, separators=(",", ":")))
