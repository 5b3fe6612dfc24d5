"""What one page of the site is: its address, its template and all that it shows."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, is_dataclass
from functools import cache
from typing import Any, get_args, get_type_hints

from guidebuild.views.common import LicenceView, LinkView, NameView, PhotoView


@dataclass(frozen=True, slots=True)
class SiteView:
    """What every page of one language shares. `address` is the site's own, without a last slash; empty: none yet."""

    title: str
    language: str
    region: str = ""
    description: str = ""
    publisher: str = ""
    contact: str = ""
    address: str = ""
    licence: LicenceView | None = None
    nav: tuple[LinkView, ...] = ()
    more: tuple[LinkView, ...] = ()
    home: str = "index.html"
    find: str = "find.html"
    languages: tuple[tuple[str, str], ...] = ()  # (code, own name), the guide's first one first
    main: str = ""  # the guide's first language
    base: str = ""  # folder of this language


@dataclass(frozen=True, slots=True)
class PageView:
    """One page. `path` counts from the site's root; `data` is one of the `…Page` values of these rooms.

    `alternates` are (language, path) of the same page elsewhere. `share` is the photo drawn on the picture that is shown
    where the page is shared.
    """

    path: str
    template: str
    language: str
    title: str
    site: SiteView
    data: object
    description: str = ""
    alternates: tuple[tuple[str, str], ...] = ()
    kind: str = "page"
    changed: dt.date | None = None
    name: NameView | None = None
    share: PhotoView | None = None

    @property
    def root(self) -> str:
        """From this page up to the site's root: `../` or nothing."""
        return "../" * self.path.count("/")

    def all_photos(self) -> tuple[PhotoView, ...]:
        """All pictures the page shows, in the order they are met."""
        return tuple(photos_in(self.data))

    def photos(self) -> tuple[str, ...]:
        """Their ids, each once."""
        return tuple(dict.fromkeys(photo.id for photo in self.all_photos()))


def photos_in(value: object) -> list[PhotoView]:
    """All pictures anywhere inside a view, in the order they are met."""
    found: list[PhotoView] = []
    _gather(value, found)
    return found


def _gather(value: object, found: list[PhotoView]) -> None:
    if isinstance(value, PhotoView):
        found.append(value)
    elif isinstance(value, tuple):
        for one in value:
            _gather(one, found)
    else:
        kind: Any = type(value)  # mypy takes the class of an object for one that has no hash
        for name in _photo_fields(kind):
            _gather(getattr(value, name), found)


@cache
def _photo_fields(kind: type) -> tuple[str, ...]:
    """Fields of a record in which a picture may be, however deep: most parts of a page hold none, and are not gone through."""
    return tuple(name for name, hint in get_type_hints(kind).items() if _may_hold(hint, (kind,))) if is_dataclass(kind) else ()


def _may_hold(hint: Any, above: tuple[Any, ...]) -> bool:
    if hint in (PhotoView, object, Any):
        return True
    if parts := get_args(hint):
        return any(_may_hold(part, above) for part in parts)
    return is_dataclass(hint) and hint not in above and any(_may_hold(inner, (*above, hint)) for inner in get_type_hints(hint).values())
