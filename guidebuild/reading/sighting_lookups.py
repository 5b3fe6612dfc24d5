"""What the cells of a sighting point at in the guide: accounts, stages, places, positions."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from difflib import get_close_matches

from guidebuild.guide.accounts import Account
from guidebuild.guide.coordinate_text import parse_coordinate
from guidebuild.guide.guide import Guide
from guidebuild.guide.name_text import parse_name
from guidebuild.guide.names import ScientificName, Standing
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.records import Position
from guidebuild.guide.resolve import find_account, fold_name, name_index, names_of
from guidebuild.reading.sighting_notes import SightingNotes

WORLD = (-90.0, -180.0, 90.0, 180.0)
_METRES = 111_320.0  # a degree of latitude, near enough to say whether a spot lies in a place
_OTHER_WORDS = {"imago": "adult", "imagines": "adult", "ova": "egg", "ovum": "egg", "larvae": "larva", "pupae": "pupa"}


_NOT_IT = {
    Standing.OTHER: "says another species, or no more than the genus, and is not counted",
    Standing.AGGREGATE: "says an aggregate, and the species alone is not counted",
    Standing.MISAPPLIED: "says what was called so by mistake, and is not counted",
}

_KINGDOMS = {
    "Animalia": ("animalia", "animals", "animal", "metazoa"),
    "Plantae": ("plantae", "plants", "plant", "viridiplantae"),
    "Fungi": ("fungi", "fungus"),
}
"""Kingdoms of Darwin Core's examples with other words for them. Others are disputed and decide nothing."""


@dataclass(frozen=True, slots=True)
class Named:
    """The account that a name means ("": none of this guide), and whether it is no more than likely."""

    account: str = ""
    doubtful: bool = False


def account_of(guide: Guide, name: str, row: int, notes: SightingNotes, *, kingdom: str = "") -> Named:
    """The account that a name means, through synonyms and former names; none, with a finding, where there is none.

    A plant and an animal may bear one name: the kingdom decides, and a row of another kingdom than its account's is not counted.
    """
    named = _named(guide, name, row, notes, plain_kingdom(kingdom))
    account = guide.accounts.get(named.account)
    of_group, of_row = guide.stage_set(account).kingdom if account else "", plain_kingdom(kingdom)
    if account and of_group in _KINGDOMS and of_row and of_row != of_group:
        told = f"“{name}” is of the kingdom {of_row} here, {account.vernacular or account.id} is of {of_group}, and the row is not counted"
        notes.add("sighting-kingdom", told, row)
        return Named()
    return named


def plain_kingdom(text: str) -> str:
    """A cell of `kingdom` as Darwin Core spells it; empty for what is none of the three that groups are told apart by."""
    return next((kingdom for kingdom, words in _KINGDOMS.items() if text.strip().casefold() in words), "")


def _find(guide: Guide, wanted: str, kingdom: str) -> Account | None:
    """The account of a name; of several that bear it, the one of the kingdom."""
    found = find_account(guide, wanted)
    if found is not None or not kingdom:
        return found
    claimed = [guide.accounts[a.id] for a in name_index(guide).claims.get(fold_name(wanted), ()) if guide.stage_set(a).kingdom == kingdom]
    return claimed[0] if len(claimed) == 1 else None


def _named(guide: Guide, name: str, row: int, notes: SightingNotes, kingdom: str) -> Named:
    parsed = parse_name(name)
    account = _find(guide, name, kingdom)
    if account is not None:
        return Named(account.id)
    if not isinstance(parsed, Unreadable):
        account = None if parsed.standing is Standing.MISAPPLIED else _find(guide, parsed.plain, kingdom)
        if account is None and parsed.standing in _NOT_IT:
            notes.add("sighting-name-doubtful", f"“{name}” {_NOT_IT[parsed.standing]}", row)
            return Named()
        account = account or _find(guide, f"{parsed.genus} {parsed.epithet}", kingdom)
        if account is not None:
            return Named(account.id, parsed.standing is Standing.UNCERTAIN)
    known = {fold_name(n): n for a in guide.accounts.values() for n in names_of(a)}
    wanted = name if isinstance(parsed, Unreadable) else parsed.plain
    near = get_close_matches(fold_name(wanted), known, n=1, cutoff=0.8)
    mend = f"Did you mean “{known[near[0]]}”?" if near else ""
    notes.add("sighting-name-unknown", f"“{name}” is no species of this guide", row, mend=mend)
    return Named()


def qualifier_standing(text: str) -> Standing:
    """What a cell of `identificationQualifier` says of the name beside it: `cf.`, `aff. minor`, `agg.`, `?`."""
    words = text.replace("?", " ? ").split()
    standings = [name.standing for word in words if isinstance(name := parse_name(f"Aus {word} bus"), ScientificName)]
    standings += [name.standing for word in words if isinstance(name := parse_name(f"Aus bus {word}"), ScientificName)]
    return next((standing for standing in standings if standing is not Standing.CERTAIN), Standing.UNCERTAIN)


def stage_of(guide: Guide, account: Account, text: str) -> str | None:
    """The stage that a lifeStage cell means: "adult", "Adults", "imago", "5th instar nymph". None: no one stage."""
    stages = dict(guide.stage_set(account).stages)
    words = {fold_name(w): stage for stage, word in stages.items() for w in (stage, stage.replace("-", " "), word)}
    wanted = fold_name(text)
    for candidate in (wanted, _OTHER_WORDS.get(wanted, ""), wanted.removesuffix("s")):
        if candidate in words:
            return words[candidate]
    inside = {stage for word, stage in words.items() if re.search(rf"(?<!\w){re.escape(word)}(?:s)?(?!\w)", wanted)}
    return inside.pop() if len(inside) == 1 else None


def place_names(guide: Guide) -> dict[str, str]:
    """Folded id or name → id of a place."""
    return {fold_name(text): place.id for place in guide.places.values() for text in (place.id, place.name)}


class PlacesByPosition:
    """Finds the place whose stated uncertainty holds a spot, by a grid of hundredths of a degree."""

    def __init__(self, guide: Guide) -> None:
        """Lay the grid."""
        self._cells: dict[tuple[int, int], list[tuple[str, Position]]] = {}
        for place in guide.places.values():
            if place.position and place.position.uncertainty:
                for cell in _cells_round(place.position):
                    self._cells.setdefault(cell, []).append((place.id, place.position))

    def find(self, latitude: float, longitude: float) -> str:
        """The nearest place that holds the spot, or ""."""
        near = self._cells.get((math.floor(latitude * 100), math.floor(longitude * 100)), ())
        distances = [(_distance(position, latitude, longitude), place, position) for place, position in near]
        held = [(metres, place) for metres, place, position in distances if metres <= (position.uncertainty or 0)]
        return min(held)[1] if held else ""


def _cells_round(position: Position) -> list[tuple[int, int]]:
    reach_north = (position.uncertainty or 0) / _METRES
    reach_east = reach_north / max(math.cos(math.radians(position.latitude)), 0.01)
    rows = range(math.floor((position.latitude - reach_north) * 100), math.floor((position.latitude + reach_north) * 100) + 1)
    columns = range(math.floor((position.longitude - reach_east) * 100), math.floor((position.longitude + reach_east) * 100) + 1)
    return [(row, column) for row in rows for column in columns]


def _distance(position: Position, latitude: float, longitude: float) -> float:
    north = (latitude - position.latitude) * _METRES
    east = (longitude - position.longitude) * _METRES * math.cos(math.radians(position.latitude))
    return math.hypot(north, east)


def position_of(
    latitude: str, longitude: str, *, box: tuple[float, float, float, float] | None, row: int, notes: SightingNotes
) -> tuple[float, float] | None:
    """Degrees of a position as typed; None, with a finding, where it cannot be trusted. Nothing is mended silently."""
    if not latitude.strip() or not longitude.strip():
        if latitude.strip() or longitude.strip():
            notes.add("sighting-half-position", f"The position “{latitude}”, “{longitude}” lacks a half", row)
        return None
    read = (parse_coordinate(latitude, "latitude"), parse_coordinate(longitude, "longitude"))
    for half in read:
        if isinstance(half, Unreadable):
            notes.add("sighting-coordinate", half.message, row, mend=half.mend)
    north, east = read
    if isinstance(north, Unreadable) or isinstance(east, Unreadable):
        return None
    doubt = _doubt(north, east, box)
    if doubt:
        code, words = doubt
        notes.add(code, f"The position {latitude}, {longitude} {words}", row)
        return None
    return north, east


def _doubt(north: float, east: float, box: tuple[float, float, float, float] | None) -> tuple[str, str] | None:
    """Why a position is not trusted: code and words."""
    if north == 0 and east == 0:
        return "sighting-zero-position", "is 0, 0"
    if box is None or _inside(box, north, east):
        return None
    if _inside(box, east, north):
        return "sighting-swapped", "looks swapped"
    if any(_inside(box, y, x) for y, x in ((-north, east), (north, -east), (-north, -east))):
        return "sighting-sign", "looks as if it had the wrong sign"
    return "sighting-outside-region", "lies outside the region"


def _inside(box: tuple[float, float, float, float], north: float, east: float) -> bool:
    south, west, top, right = box
    return south <= north <= top and west <= east <= right
