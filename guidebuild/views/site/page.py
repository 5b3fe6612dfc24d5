"""What one page of the site is: its address, its template and all that it shows."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from dataclasses import dataclass, is_dataclass, replace
from functools import cache
from typing import Any, TypeVar, get_args, get_type_hints
from urllib.parse import quote, urlsplit

from guidebuild.views.pieces.common import LinkView, NameView, PhotoView
from guidebuild.views.pieces.credits import LicenceView
from guidebuild.views.site.sounds import SoundView

_T = TypeVar("_T")


_E_MAIL = re.compile(r"[^\s@<>?&,;:]+@[^\s@<>?&,;:]+\.[^\s@<>?&,;:]+")


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
    mine: LinkView | None = None  # the page of what the reader has noted: only where scripts run
    country: str = ""  # ISO 3166-1 alpha-2, where the region lies in one
    first_dekad: int = 0  # with which the year begins where it is drawn

    @property
    def contact_address(self) -> str:
        """Where the contact leads: an e-mail address or one of the web; empty where it is neither, such as a telephone number."""
        if _E_MAIL.fullmatch(self.contact):
            return f"mailto:{quote(self.contact, safe='@+')}"
        return self.contact if self.contact.startswith(("https://", "http://")) else ""


def base_path(address: str) -> str:
    """The path below which the site stands, such as `/guide/`; never with two strokes at its start, which would be another host."""
    path = urlsplit(address).path.strip("/")
    return f"/{path}/" if path else "/"


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
    runs: tuple[LinkView, ...] = ()  # of a list that is divided: all its pages

    @property
    def root(self) -> str:
        """From this page up to the site's root: `../` or nothing. What hosts show for pages that are not there stands at any depth."""
        if self.kind == ABSENT and self.site.address:
            return base_path(self.site.address)
        return "../" * self.path.count("/")

    def all_photos(self) -> tuple[PhotoView, ...]:
        """All pictures the page shows, in the order they are met."""
        return tuple(photos_in(self.data))

    def photos(self) -> tuple[str, ...]:
        """Their ids, each once."""
        return tuple(dict.fromkeys(photo.id for photo in self.all_photos()))


ABSENT = "absent"
"""Kind of the page that a host shows in the place of one that is not there."""
PIECE = "piece"
"""Kind of what is no page of its own but a piece of others, which their scripts fetch: also from disk, where only scripts can be."""
OWN = "own"
"""Kind of pages that show what stands on the reader's own device."""
UNLISTED = frozenset(("moved", "unkept", ABSENT, OWN, PIECE))
"""Kinds of what nobody looks for or shares: former addresses, pages shown in the place of others, a reader's own, pieces."""


@dataclass(frozen=True, slots=True)
class PlainPiece:
    """A piece that is data for a script, as JSON."""

    json: str


@dataclass(frozen=True, slots=True)
class PiecePages:
    """A piece that holds the main parts of several pages, each under a name."""

    pages: tuple[tuple[str, PageView], ...]


@dataclass(frozen=True, slots=True)
class PageToMake:
    """A page of which only the path is known yet: what it shows is put together when it is asked for.

    `show` depends on the guide, which it asks, and on what it is `given`; on nothing else that may be another in a later run.
    """

    path: str
    site: SiteView
    show: Callable[..., PageView]
    given: tuple[object, ...] = ()

    def make(self) -> PageView:
        """The page."""
        return self.show(*self.given)


class Answers:
    """Answers to what must be known of a guide before its pages can be listed, as plain lists and truths. This one asks each anew."""

    def recall(self, question: str, answer: Callable[[], _T]) -> _T:
        """The answer to a question, which `question` names among all others."""
        return answer()


NO_ANSWERS = Answers()


@dataclass(frozen=True, slots=True)
class PageNote:
    """What must be known of a page when the page itself, which may be large, is not at hand."""

    page: PageView
    """The page without its data."""
    photos: tuple[str, ...]
    """Ids of the pictures it shows, each once."""
    links: tuple[str, ...]
    """Where its links lead, as paths from the site's root, each once."""
    sounds: tuple[str, ...] = ()
    """Ids of the sounds that it shows, each once."""


def note_page(page: PageView) -> PageNote:
    """The note of a page."""
    links = dict.fromkeys(link.path for link in values_of(LinkView, page.data))
    sounds = dict.fromkeys(sound.id for sound in values_of(SoundView, page.data))
    return PageNote(replace(page, data=None), page.photos(), tuple(links), tuple(sounds))


def photos_in(value: object) -> list[PhotoView]:
    """All pictures anywhere inside a view, in the order they are met."""
    return values_of(PhotoView, value)


def values_of(kind: type[_T], value: object) -> list[_T]:
    """All values of a kind anywhere inside a view, in the order they are met; what such a value holds itself is not looked at."""
    found: list[_T] = []
    _gather(kind, value, found)
    return found


def _gather(kind: type[_T], value: object, gathered: list[_T]) -> None:
    if isinstance(value, kind):
        gathered.append(value)
    elif isinstance(value, tuple):
        for one in value:
            _gather(kind, one, gathered)
    else:
        wanted: Any = kind  # mypy takes a class of which it knows no more for one that has no hash
        sort: Any = type(value)
        for name in _fields_with(wanted, sort):
            _gather(kind, getattr(value, name), gathered)


@cache
def _fields_with(wanted: Any, kind: Any) -> tuple[str, ...]:
    """Fields of a record in which such a value may be, however deep: most parts of a page hold none, and are not gone through."""
    hints = get_type_hints(kind).items() if is_dataclass(kind) else ()
    return tuple(name for name, hint in hints if _may_hold(wanted, hint, (kind,)))


def _may_hold(wanted: Any, hint: Any, above: tuple[Any, ...]) -> bool:
    if hint in (wanted, object, Any):
        return True
    if parts := get_args(hint):
        return any(_may_hold(wanted, part, above) for part in parts)
    return (
        is_dataclass(hint)
        and hint not in above
        and any(_may_hold(wanted, inner, (*above, hint)) for inner in get_type_hints(hint).values())
    )
