"""Does a text give a secret place away? Names, coordinates in any common notation, grid references, map codes.

Pure functions over text: the press calls them over all that it is about to publish.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from guidebuild.fieldwork.codes_of_places import code_hints, code_patterns
from guidebuild.fieldwork.secrecy import DECIMALS, pick_stricter, public_position
from guidebuild.fieldwork.sieve import Sieve, fold_text, make_sieve
from guidebuild.fieldwork.spots import Spot, make_readable, spots_in
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Position

_SHORTEST_ID = 4
_TOO_NEAR = 0.02
"""Degrees, some 2 km: a corner of the region's box that is nearer than this to a secret place is not shown."""


@dataclass(frozen=True, slots=True)
class Secret:
    """A place kept secret: patterns of its names and of links to it, its true position and the step in degrees that may be shown.

    `words` are the words of each of its names, folded.
    """

    place: str
    name: str
    names: tuple[re.Pattern[str], ...]
    position: Position | None
    step: float
    codes: tuple[re.Pattern[str], ...]
    words: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Secrets:
    """All secret places of a guide, and the positions that may be shown: of open places, rounded ones of secret places."""

    places: tuple[Secret, ...]
    shown: tuple[Position, ...]
    sieve: Sieve = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Make the sieve, once for all texts."""
        placed = [(place.position, place.step) for place in self.places if place.position]
        codes = [re.escape(code) for position, step in placed for code in code_hints(position, step)]
        names = [words for place in self.places for words in place.words]
        bodies = [*map(_body, names), *(f":{_link_words(place.place)}" for place in self.places)]
        object.__setattr__(self, "sieve", make_sieve(names, bodies, codes, [position for position, _ in placed]))

    def __bool__(self) -> bool:
        """Whether there is anything to keep."""
        return bool(self.places)


@dataclass(frozen=True, slots=True)
class Leak:
    """Something that gives a place away: `what` it is, the text `found`, and how many line feeds stand before it."""

    place: str
    what: str
    found: str
    line: int

    def __str__(self) -> str:
        """In a sentence."""
        return f"{self.what} “{self.found}” gives away the secret place “{self.place}”"


def secrets_of(guide: Guide) -> Secrets:
    """What must never leave the house."""
    places = guide.places.values()
    said = _said_anyway(guide, *(place.name for place in places if not place.sensitivity))
    hidden = tuple(_secret(place, said) for place in places if place.sensitivity)
    return Secrets(hidden, (*_shown(places), *_corners(guide, hidden)))


def secrets_with(guide: Guide, account: Account) -> Secrets:
    """What must not be said with a sensitive account: of its places every one, secret or not, and of all other places too."""
    places = tuple(replace(place, sensitivity=pick_stricter(place.sensitivity, account.sensitivity)) for place in guide.places.values())
    said = _said_anyway(guide)
    hidden = tuple(_secret(place, said, open_by_itself=not guide.places[place.id].sensitivity) for place in places)
    return Secrets(hidden, (*_shown(places), *_corners(guide, hidden)))


def names_as_secrets(named: Iterable[tuple[str, Iterable[str]]]) -> Iterator[Secret]:
    """Names that may not stand in some texts, by the id of what they are names of, as secrets without a position."""
    for ident, names in named:
        kept = {_pattern(words): words for name in names if (words := _words_of(name))}
        yield Secret(ident, next(iter(names), ident), (*kept, _link_to(ident)), None, 1.0, (), tuple(kept.values()))


def _said_anyway(guide: Guide, *names: str) -> str:
    return fold_text(" ".join((guide.settings.title, guide.settings.region, *(place.area for place in guide.places.values()), *names)))


def _shown(places: Iterable[Place]) -> Iterator[Position]:
    """Open places as they are, and every place as a sensitive species or its own secrecy rounds it."""
    for place in places:
        if place.position and not place.sensitivity:
            yield place.position
        for category in DECIMALS if place.position else ():
            if category <= place.sensitivity.category or not place.sensitivity:
                rounding = place.position and public_position(place.position, category)
                if rounding:
                    yield rounding


def _corners(guide: Guide, hidden: Iterable[Secret]) -> Iterator[Position]:
    """The corners of the region's box, which its author wrote for all to see; none that is as good as a secret place."""
    box = guide.settings.region_box
    if box is None:
        return
    south, west, north, east = box
    secret = [place.position for place in hidden if place.position]
    for corner in (Position(latitude, longitude) for latitude in (south, north) for longitude in (west, east)):
        if not any(max(abs(corner.latitude - p.latitude), abs(corner.longitude - p.longitude)) < _TOO_NEAR for p in secret):
            yield corner


def _secret(place: Place, said: str, *, open_by_itself: bool = False) -> Secret:
    """Names that are said anyway, in the title or as a wider area, are no secret; a link tells of the place, whatever its words are."""
    shortest = 2 if open_by_itself else 1  # words: the id `meadow` of an open place is a word of every day
    ident = place.id.replace("-", " ") if len(place.id) >= _SHORTEST_ID and place.id.count("-") + 1 >= shortest else ""
    names = [_words_of(name) for name in (place.name, _without_article(place.name), ident)]
    kept = {_pattern(words): words for words in names if words}
    kept = {pattern: words for pattern, words in kept.items() if not pattern.search(said)}
    step = 10.0 ** -DECIMALS.get(place.sensitivity.category, 0)
    codes = code_patterns(place.position, step) if place.position else ()
    return Secret(place.id, place.name, (*kept, _link_to(place.id)), place.position, step, codes, tuple(kept.values()))


def _without_article(name: str) -> str:
    """`The Long Hedge` is said in many ways, and begins a sentence as often as not; `The Wood` keeps its article."""
    article, _, rest = name.strip().partition(" ")
    return rest if article.casefold() == "the" and len(rest.split()) > 1 else name


def _words_of(name: str) -> tuple[str, ...]:
    return tuple(re.findall(r"\w+", fold_text(name)))


def _pattern(words: Iterable[str]) -> re.Pattern[str]:
    return re.compile(rf"(?<![^\W_]){_body(words)}(?![^\W_])")


def _body(words: Iterable[str]) -> str:
    """The words of a name, however they are joined: spaces, hyphens, tags, line breaks or nothing but a slash."""
    return r"(?:[\s_\-+./,:]|<[^<>]{0,120}>){0,8}".join(map(re.escape, words))


def _link_to(ident: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![^\W_])(?:place|account):{_link_words(ident)}(?![\w-])")


def _link_words(ident: str) -> str:
    return re.escape(fold_text(ident))


def leaks_in(text: str, secrets: Secrets) -> Iterator[Leak]:
    """Every leak of a text, each place, kind and wording once."""
    if not secrets:
        return
    plain = make_readable(text)
    reported: set[tuple[str, str, str]] = set()
    for leak in (*_names(plain, secrets), *_codes(plain, secrets), *_spots(plain, secrets)):
        if (leak.place, leak.what, leak.found) not in reported:
            reported.add((leak.place, leak.what, leak.found))
            yield leak


def names_in(text: str, secrets: Secrets) -> Iterator[Leak]:
    """Only the names of secret places: for file names, and for bytes that are no text."""
    yield from _names(make_readable(text), secrets)


def names_in_bytes(content: bytes, secrets: Secrets) -> Iterator[Leak]:
    """Names written in plain letters inside a file that is no text, such as a picture."""
    if secrets:
        yield from _found_names(content.lower().decode("latin-1"), secrets)


def _line(text: str, offset: int) -> int:
    return text.count("\n", 0, offset)


def _names(text: str, secrets: Secrets) -> Iterator[Leak]:
    if secrets:
        yield from _found_names(fold_text(text), secrets)


def _found_names(folded: str, secrets: Secrets) -> Iterator[Leak]:
    for secret in secrets.places if secrets.sieve.names.search(folded) else ():
        for pattern in secret.names:
            for found in pattern.finditer(folded):
                yield Leak(secret.name, "The name", " ".join(found[0].split()), _line(folded, found.start()))


def _codes(text: str, secrets: Secrets) -> Iterator[Leak]:
    for secret in secrets.places if secrets.sieve.codes.search(text) else ():
        for pattern in secret.codes:
            for found in pattern.finditer(text):
                yield Leak(secret.name, "The map code", found[0], _line(text, found.start()))


def _spots(text: str, secrets: Secrets) -> Iterator[Leak]:
    if not secrets.sieve.may_hold_spot(text):
        return
    placed = [(secret, secret.position) for secret in secrets.places if secret.position]
    spots = list(spots_in(text))
    # In a table the latitude of one row stands near the longitude of another: a number that is half of a position that may
    # be shown is not half of another one.
    shown = {half for spot in spots for there in secrets.shown if _same(spot, there) for half in spot.halves}
    for spot in spots:
        for secret, position in placed:
            if not shown.intersection(spot.halves) and _gives_away(spot, secret, position):
                yield Leak(secret.name, "The position", " ".join(spot.text.split()), _line(text, spot.offset))


def _gives_away(spot: Spot, secret: Secret, true: Position) -> bool:
    """Whether a spot lies in the cell that the true place is rounded into, and is told more exactly than that cell.

    A square counts as exact from half the step down: grids in metres never fit grids in degrees.
    """
    finest = secret.step / 2 if spot.signed else secret.step * 0.999
    if spot.step >= finest:
        return False
    reach = secret.step / 2 + spot.step / 2
    return all(abs(_sign(there, spot) - round(_sign(here, spot) / secret.step) * secret.step) <= reach
               for there, here in ((spot.latitude, true.latitude), (spot.longitude, true.longitude)))  # fmt: skip


def _sign(value: float, spot: Spot) -> float:
    return value if spot.signed else abs(value)


def _same(spot: Spot, place: Position) -> bool:
    """Whether the spot is this place, as exactly as the spot is told (a square's degrees of longitude are wider)."""
    wide = spot.step * (2 if spot.signed else 0.51)
    return abs(spot.latitude - _sign(place.latitude, spot)) <= wide and abs(spot.longitude - _sign(place.longitude, spot)) <= wide
