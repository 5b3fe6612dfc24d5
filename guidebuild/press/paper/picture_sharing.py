"""One picture embedded once in a document that was put together from others, or laid out at several sizes: the largest that is needed.

Each page names a picture with the pixels that it has room for, so a photo that stands on several pages comes in several sizes. The
largest serves all: a page says how large a picture is drawn, whatever pixels it has (PDF 32000-1, 8.9.5: an image is a unit square).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from hashlib import md5, sha256
from typing import Any

import pikepdf
from pikepdf import Name, Object, Pdf

from guidebuild.press.paper.fetching import BASE
from guidebuild.press.photos.print_copy import Picture

_SMOOTHED = "1"
"""How WeasyPrint ends the name of a picture whose pixels may be smoothed."""


def share_pictures(pdf: Pdf, pictures: Collection[Picture] = ()) -> None:
    """Have equal pictures stand once, and of each of these photos the largest copy alone."""
    standing = list(_list_standing(pdf))
    names = _name_copies(pictures, {int(image.Width) for _, _, image in standing})
    largest: dict[str, Object] = {}
    for _, name, image in standing:
        photo = names.get(name)
        if photo and (photo not in largest or int(image.Width) > int(largest[photo].Width)):
            largest[photo] = image
    seen: dict[bytes, Object] = {}
    for held, name, image in standing:
        one = largest.get(names.get(name, ""), image)
        held[name] = seen.setdefault(sha256(one.read_raw_bytes()).digest(), one)


def _list_standing(pdf: Pdf) -> Iterator[tuple[Any, str, Any]]:
    """Each picture without a mask: what holds it, and by which name."""
    holders: list[Any] = [page.obj for page in pdf.pages]
    holders += [thing for thing in pdf.objects if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == Name.Form]
    for holder in holders:
        held: Any = holder.get("/Resources", {}).get("/XObject", {})
        for name, image in list(held.items()):
            if image is not None and image.get("/Subtype") == Name.Image and "/SMask" not in image:
                yield held, name, image


def _name_copies(pictures: Collection[Picture], widths: Collection[int]) -> dict[str, str]:
    """Which photo stands under which name: WeasyPrint names a picture by its address, and an address says its width."""
    return {
        f"/i{md5((BASE + picture.address_at(width)).encode(), usedforsecurity=False).hexdigest()}{_SMOOTHED}": picture.path.name
        for picture in pictures
        for width in widths
    }
