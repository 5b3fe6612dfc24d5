"""What a reader's own device needs to note what was seen: a species with its stages, the places it may have been seen at."""

from __future__ import annotations

import json
from dataclasses import dataclass

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.guide.asking import remember
from guidebuild.views.pieces.common import LinkView, NameView
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.runs import WHOLE, Run
from guidebuild.views.site.page import PlainPiece

CHECKLIST, SEEN = "checklist.html", "seen.html"
"""The list of all species to tick, and the page of what this reader has noted; both are called as their templates."""
PLACES = "seen-places.js"
"""The guide's places as a piece for the scripts of these pages."""
PLACES_MARK = "seen_places.js"
"""The piece is made without a template: this stands where pages name theirs."""

FINEST = 5
"""Decimals of a degree: about a metre."""


@dataclass(frozen=True, slots=True)
class CheckView:
    """A species on a checklist; `seen` is what its button notes, as JSON."""

    link: LinkView
    name: NameView
    seen: str


@dataclass(frozen=True, slots=True)
class CheckFamily:
    """The species of a family, or those of it that stand on one page of a long list."""

    family: LinkView | None
    species: tuple[CheckView, ...]


@dataclass(frozen=True, slots=True)
class ChecklistPage:
    """All species by their families, each to be noted by one touch."""

    families: tuple[CheckFamily, ...]


@dataclass(frozen=True, slots=True)
class SeenPage:
    """The page of what was noted: all that it lists is on the reader's device."""

    checklist: LinkView


def describe_species(make: PieceMaker, account: PublicAccount) -> str:
    """What is noted of a species, as JSON: its id and names, its stages with their words, and how finely its positions may be kept.

    `decimals` is there only where its places are kept secret: no place may then be noted, and a position with so many decimals of a
    degree at most (0: none at all).
    """
    return remember(make.kept, ("seen", account.id), lambda: _describe(make, account))


def _describe(make: PieceMaker, account: PublicAccount) -> str:
    name = make.map.account(account).name
    told: dict[str, object] = {
        "id": account.id,
        "name": make.map.account(account).text,
        "latin": name.plain if name else "",
        "stages": [[stage, make.stage_word(account, stage)] for stage in make.guide.stage_set(account).ids],
    }
    if account.kept_back is not None:
        told["decimals"] = account.kept_back.decimals
    return write_json(told)


def checklist_page(make: PieceMaker, accounts: list[PublicAccount], run: Run = WHOLE) -> ChecklistPage:
    """The accounts of a run, under their families; they come sorted by these."""
    families: dict[str, list[CheckView]] = {}
    for account in accounts[run.held]:
        link = make.map.account(account)
        if link.name is not None:
            families.setdefault(account.family, []).append(CheckView(link, link.name, describe_species(make, account)))
    return ChecklistPage(tuple(CheckFamily(make.map.family(f) if f else None, tuple(found)) for f, found in families.items()))


def seen_page(make: PieceMaker) -> SeenPage:
    """The page of what was noted."""
    return SeenPage(LinkView(make.map.page(CHECKLIST), make.words("Checklist")))


def places_piece(make: PieceMaker) -> PlainPiece:
    """The places that may be named: id, name and, where it is known, latitude, longitude and how far round it the place reaches."""
    rows: list[list[object]] = []
    for place in sorted(make.guide.places.values(), key=lambda place: place.name.casefold()):
        at = place.position
        row: list[object] = [place.id, place.name]
        if at is not None:
            row += [round(at.latitude, FINEST), round(at.longitude, FINEST), round(at.uncertainty or 0)]
        rows.append(row)
    return PlainPiece(write_json(rows))


def write_json(value: object) -> str:
    """A value for scripts, as tight as can be."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
