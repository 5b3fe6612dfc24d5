"""What a page tells the script that opens a plate: what the picture shows, its scale, and pictures of look-alikes to lay beside it."""

from __future__ import annotations

import json
from collections.abc import Callable
from html import escape
from typing import Any

from guidebuild.press.outputs.site.plate import Pictures
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.press.theme.prose import Html
from guidebuild.views.pieces.common import PhotoView, SimilarView
from guidebuild.views.pieces.one_scale import find_width


def scope_html(photo: PhotoView, across: float | None) -> Html:
    """The attributes of a plate: its stage, sex and view, and where it is measured, millimetres across and the measured line."""
    facts = {"stage": photo.stage, "sex": photo.sex, "view": photo.view}
    if across and photo.measured:
        facts |= {"mm": f"{across:.5g}", "line": " ".join(f"{value:g}" for value in photo.measured)}
    return Html("".join(f' data-{name}="{escape(value)}"' for name, value in facts.items() if value))


def tell_beside(pictures: Pictures, root: str) -> Callable[[SimilarView], Html]:
    """What gives the attributes of a look-alike: its name, and its pictures as JSON."""

    def tell(similar: SimilarView) -> Html:
        told = [_tell(photo, pictures[photo.id], root) for photo in similar.beside if photo.id in pictures]
        if not told:
            return Html("")
        name = similar.link.name.short if similar.link.name else similar.link.text
        listed = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
        return Html(f' data-name="{escape(name)}" data-beside="{escape(listed)}"')

    return tell


def _tell(photo: PhotoView, copies: PictureSet, root: str) -> dict[str, Any]:
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
    across = find_width(photo, shape)
    return told | {"mm": float(f"{across:.5g}"), "line": photo.measured} if across else told
