"""Cautions as a script says them, in English: of look-alikes, and of the places that it sends people to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from guidebuild.fieldwork.public_records import PublicAccount, PublicPlace
from guidebuild.fieldwork.published import Published
from guidebuild.views.pieces.cautions import cautions_of_look_alikes, show_cautions
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.words import words


def say_places(places: Sequence[PublicPlace]) -> str:
    """Where to stand, as a sentence."""
    named = words("en").either([_mid_sentence(place.name) for place in places])
    return f"For a place to stand, try {named}."


def say_cautions_of_places(guide: Published, places: Iterable[PublicPlace]) -> str:
    """What can hurt at some places: each hazard once with the places that have it, the most of them first; empty where nothing can.

    What more there is at a place that was named before does not call for care anew.
    """
    where: dict[str, list[str]] = {}
    for place in places:
        for view in show_cautions(make_pieces(guide, "en"), place.hazards, place.caution):
            said = view.short or view.text or f"{view.title}."
            where.setdefault(said, []).append(_mid_sentence(place.name))
    at_once: dict[tuple[str, ...], list[str]] = {}
    for said, names in where.items():
        at_once.setdefault(tuple(names), []).append(said)
    named: set[str] = set()
    told = []
    for having, hazards in sorted(at_once.items(), key=lambda item: -len(item[0])):
        lead = "There is more to mind at" if named.intersection(having) else "Take care at"
        told.append(f"{lead} {words('en').listed(having)}. {' '.join(hazards)}")
        named.update(having)
    return " ".join(told)


def say_cautions_of_look_alikes(guide: Published, account: PublicAccount) -> Iterator[str]:
    """What an account may be taken for that is more dangerous, and what to do."""
    for view in cautions_of_look_alikes(make_pieces(guide, "en"), account):
        yield f"It {view.title[0].lower()}{view.title[1:]}. {view.short or view.text}"


def _mid_sentence(name: str) -> str:
    return f"the {name[4:]}" if name.startswith("The ") else name
