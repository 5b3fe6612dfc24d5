"""Does a text give a secret place away? Names, coordinates in any common notation, grid references, map codes.

Pure functions over text: the press calls them over all that it is about to publish.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from guidebuild.fieldwork.code_finder import find_codes
from guidebuild.fieldwork.codes_of_places import code_hints
from guidebuild.fieldwork.hidden_words import read_bytes
from guidebuild.fieldwork.name_finder import make_finder, read_deeply
from guidebuild.fieldwork.names_kept import names_of
from guidebuild.fieldwork.near_places import BARE_DISTANCE, DISTANCES, find_shown_halves, find_telling_spots
from guidebuild.fieldwork.open_ground import OpenGround
from guidebuild.fieldwork.secrecy import DECIMALS, find_category, pick_stricter, public_position
from guidebuild.fieldwork.seen_secretly import find_secret_spots
from guidebuild.fieldwork.sieve import Sieve, fold_text, make_sieve
from guidebuild.fieldwork.sorted_positions import SortedPositions, sort_positions
from guidebuild.fieldwork.spots import Figures, make_readable, read_figures, spots_near
from guidebuild.fieldwork.sure_positions import MAY_HOLD
from guidebuild.guide.accounts import Account
from guidebuild.guide.distances import measure_metres
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Position
from guidebuild.later import imported_when_used

with imported_when_used():  # the projections of all the world's grids
    from guidebuild.fieldwork import plane_figures

_LINK = re.compile(r"(?<![^\W_])(?:place|account):([\w-]+)", re.IGNORECASE)
_TAG = re.compile(r"<[^<>]*>")
_ROW = re.compile(r"(?<![\d.])-?\d+\.\d+(?=[,;](-?\d+(?:\.\d+)?)(?![\d.]))")
_FIGURE = re.compile(r"(?<![\w.])(?:[A-Z]{1,2} \d{1,5} \d{1,5}|\d{1,2}[A-Z] \d{5,7} \d{4,8}|E -?\d{4,8} N -?\d{4,8})(?!\w|\.\w)")
_TOO_NEAR = 0.02
"""Degrees, some 2 km: a corner of the region's box that is nearer than this to a secret place is not shown."""


@dataclass(frozen=True, slots=True)
class Secret:
    """A place kept secret: the names it is known by, its true position and the step in degrees that may be shown."""

    place: str
    name: str
    names: tuple[str, ...]
    position: Position | None
    step: float


@dataclass(frozen=True, slots=True)
class Secrets:
    """All secret places of a guide, and the positions that may be shown: of open places, rounded ones of secret places."""

    places: tuple[Secret, ...]
    shown: tuple[Position, ...]
    ground: OpenGround | None = None
    """Where positions may be told at all; None where any may."""
    told: frozenset[str] = frozenset()
    """Positions of rows that were found to tell nothing, as tables have them: `51.1034,-1.3121`."""
    by_degrees: SortedPositions = field(init=False, repr=False, compare=False)
    """The positions of `placed`, to be asked for."""
    sieve: Sieve = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Make what finds the names, the codes and the positions, once for all texts."""
        finder = make_finder(tuple((number, name) for number, place in enumerate(self.places) for name in place.names))
        codes = [code for position, place in self.placed for code in code_hints(position, place.step)]
        positions = [position for position, _ in self.placed]
        object.__setattr__(self, "by_degrees", sort_positions(positions))
        object.__setattr__(self, "sieve", make_sieve(finder, codes, positions))

    @property
    def placed(self) -> list[tuple[Position, Secret]]:
        """The places whose position is known."""
        return [(place.position, place) for place in self.places if place.position]

    def __bool__(self) -> bool:
        """Whether there is anything to keep."""
        return bool(self.places) or self.ground is not None


@dataclass(frozen=True, slots=True)
class Leak:
    """Something that gives a place away: `what` it is, the text `found`, and how many line feeds stand before it.

    A position that is of no place known to be public has no `place`; `where` it is, in degrees, is for its author to write down.
    """

    place: str
    what: str
    found: str
    line: int
    where: str = ""

    def __str__(self) -> str:
        """In a sentence."""
        if not self.place:
            return f"{self.what} “{self.found}” is of no place that is known to be public"
        return f"{self.what} “{self.found}” gives away the secret place “{self.place}”"


def secrets_of(guide: Guide) -> Secrets:
    """What must never leave the house."""
    places = guide.places.values()
    said = _said_anyway(guide)
    hidden = tuple(_secret(place, names_of(guide, place, said)) for place in places if place.sensitivity)
    hidden += tuple(_seen_secretly(guide, said))
    allowed = tuple(find_allowed(guide, hidden))
    shown = (*_shown(places), *_corners(guide, hidden), *allowed)
    return Secrets(hidden, shown, _find_ground(guide, hidden, allowed, shown))


def _find_ground(guide: Guide, hidden: tuple[Secret, ...], allowed: tuple[Position, ...], shown: tuple[Position, ...]) -> OpenGround | None:
    """Where positions may be told: anywhere, in a guide that keeps nothing secret."""
    if not guide.keeps_secrets:
        return None
    places = (*(place.position for place in guide.places.values()), *(secret.position for secret in hidden))
    public = (place.position for place in guide.places.values() if not place.sensitivity)
    known = (*(position for position in public if position), *allowed)
    return OpenGround(known, shown, tuple(position for position in places if position), guide.settings.region_box)


def find_allowed(guide: Guide, hidden: Iterable[Secret]) -> Iterator[Position]:
    """The positions that guide.yaml says all may know, but for those of secret places."""
    for position in guide.settings.public_positions:
        here = position.latitude, position.longitude
        secret = ((held.latitude, held.longitude) for place in hidden if (held := place.position))
        if not any(measure_metres(here, there) <= DISTANCES[0.001] for there in secret):
            yield position


def _seen_secretly(guide: Guide, said: str) -> Iterator[Secret]:
    """Where a sensitive species was seen and no place is listed: without an id, for there is nothing to link to."""
    for spot in find_secret_spots(guide, said):
        name = f"{spot.locality or 'a spot'} of the {spot.species} in sightings"
        yield _secret_at("", name, (spot.locality,) if spot.locality else (), spot.position, spot.secret.category)


def secrets_with(guide: Guide, account: Account) -> Secrets:
    """What must not be said with a sensitive account: of its places every one, secret or not, and of all other places too."""
    places = tuple(replace(place, sensitivity=pick_stricter(place.sensitivity, account.sensitivity)) for place in guide.places.values())
    said = _said_anyway(guide, *(place.area for place in places))
    was_open = {place.id for place in guide.places.values() if not place.sensitivity}
    hidden = tuple(_secret(place, names_of(guide, place, said, open_by_itself=place.id in was_open)) for place in places)
    hidden += tuple(_seen_secretly(guide, said))
    shown = (*_shown(places), *_corners(guide, hidden), *find_allowed(guide, hidden))
    return Secrets(hidden, shown, secrets_of(guide).ground)


def positions_with(guide: Guide, account: Account) -> Secrets:
    """What no file of a sensitive account itself may tell: exact positions of places that are open for other species."""
    called = account.vernacular or account.name.plain
    places = [replace(place, sensitivity=account.sensitivity) for place in guide.places.values() if not place.sensitivity]
    hidden = tuple(replace(_secret(place, ()), place="", name=f"{place.name} with the {called}") for place in places if place.position)
    return Secrets(hidden, (*_shown(places), *_corners(guide, hidden)))


def species_as_secrets(accounts: Iterable[Account]) -> Iterator[Secret]:
    """The names of species that may not stand in some texts, as secrets without a position."""
    for account in accounts:
        called = account.vernacular or account.name.plain
        yield Secret(account.id, called, (called, account.name.plain), None, 1.0)


def _said_anyway(guide: Guide, *areas: str) -> str:
    return "\n".join((guide.settings.title, guide.settings.region, *areas))


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


def _secret(place: Place, names: tuple[str, ...]) -> Secret:
    return _secret_at(place.id, place.name, names, place.position, place.sensitivity.category)


def _secret_at(ident: str, name: str, names: tuple[str, ...], position: Position | None, category: int) -> Secret:
    step = 10.0 ** -DECIMALS.get(find_category(position, category) if position else 1, 0)
    return Secret(ident, name, names, position, step)


def leaks_in(text: str, secrets: Secrets) -> Iterator[Leak]:
    """Every leak of a text, each place, kind and wording once."""
    if not secrets:
        return
    plain = make_readable(text)
    reported: set[tuple[str, str, str]] = set()
    for leak in (*_names(plain, secrets), *find_position_leaks(plain, secrets)):
        if (leak.place, leak.what, leak.found) not in reported:
            reported.add((leak.place, leak.what, leak.found))
            yield leak


def find_position_leaks(plain: str, secrets: Secrets) -> Iterator[Leak]:
    """Positions and codes of a readable text that give a place away, and positions that are of no public place."""
    plain = _without_told(plain, secrets.told)
    may_hold, ground = secrets.sieve.may_hold_spot(plain), secrets.ground if MAY_HOLD.search(plain) else None
    told = list(_codes(plain, secrets))
    if may_hold or ground:
        figures = read_figures(plain)
        told += _spots(figures, secrets) if may_hold else ()
        for spot in ground.find_unknown(figures) if ground else ():
            words = " ".join(spot.text.split())
            if not any(words in leak.found or leak.found in words for leak in told):
                yield Leak("", "The position", words, _line(plain, spot.offset), ground.say_where(spot) if ground else "")
    yield from told


def _without_told(text: str, told: frozenset[str]) -> str:
    """The text with spaces for the positions that were found to tell nothing; beside each other they might seem to be another."""
    kept, end = [], 0
    for north in _ROW.finditer(text) if told else ():
        if f"{north[0]},{north[1]}" in told:
            kept += [text[end : north.start()], " " * (north.end(1) - north.start())]
            end = north.end(1)
    plain = "".join((*kept, text[end:])) if kept else text
    return _FIGURE.sub(lambda found: " " * len(found[0]) if found[0] in told else found[0], plain) if told else plain


def names_in(text: str, secrets: Secrets) -> Iterator[Leak]:
    """Only the names of secret places: for file names, and for bytes that are no text."""
    yield from _names(make_readable(text), secrets)


def names_in_bytes(content: bytes, secrets: Secrets) -> Iterator[Leak]:
    """Names written inside a file that is no text, such as a picture."""
    if secrets:
        yield from _names(read_bytes(content, secrets.sieve.names.may_be_in_pairs), secrets)


def _line(text: str, offset: int) -> int:
    return text.count("\n", 0, offset)


def _names(text: str, secrets: Secrets) -> Iterator[Leak]:
    """Names of secret places, and links to them."""
    if not secrets:
        return
    for plain in read_deeply(text):
        for number, start, end in secrets.sieve.names.find(plain):
            yield _told_name(secrets.places[number], plain, start, end)
    small = text.lower()
    if "place:" in small or "account:" in small:
        held = {secret.place: secret for secret in secrets.places}
        for link in _LINK.finditer(text):
            if secret := held.get(link[1].casefold()):
                yield _told_name(secret, text, link.start(), link.end())


def _told_name(secret: Secret, text: str, start: int, end: int) -> Leak:
    found = _TAG.sub(" ", fold_text(text[start:end]))
    return Leak(secret.name, "The name", " ".join(found.split()), _line(text, start))


def _codes(text: str, secrets: Secrets) -> Iterator[Leak]:
    placed = secrets.placed
    for number, found in find_codes(text, tuple((position, secret.step) for position, secret in placed)):
        yield Leak(placed[number][1].name, "The map code", found[0], _line(text, found.start()))


def _spots(figures: Figures, secrets: Secrets) -> Iterator[Leak]:
    text, placed = figures.text, secrets.placed
    near = spots_near(figures, secrets.by_degrees)
    given = list(find_telling_spots(near, [(position, secret.step) for position, secret in placed]))
    shown = find_shown_halves(figures, secrets.shown) if given else frozenset()
    told: dict[tuple[int, str], int] = {}
    for spot, n in given:
        if not shown.intersection(spot.halves):
            told.setdefault((n, spot.text), spot.offset)
    yield from (_told_spot(text, placed[n][1], offset, words) for (n, words), offset in told.items())
    if secrets.sieve.may_hold_plane_figures(text):
        places = tuple((p.latitude, p.longitude, min(DISTANCES[secret.step], BARE_DISTANCE)) for p, secret in placed)
        for pair in sorted(plane_figures.find_hidden_pairs(text, places, secrets.shown), key=lambda pair: (pair.start, pair.place)):
            yield _told_spot(text, placed[pair.place][1], pair.start, text[pair.start : pair.end])


def _told_spot(text: str, secret: Secret, start: int, words: str) -> Leak:
    return Leak(secret.name, "The position", " ".join(words.split()), _line(text, start))
