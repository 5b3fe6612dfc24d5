"""The key on paper: both layouts, where each species comes out, groups with their reasons, and how long the key is."""

from __future__ import annotations

from dataclasses import dataclass

from babel.numbers import format_decimal

from guidebuild.fieldwork.published import Published
from guidebuild.views.pieces.common import LinkView
from guidebuild.views.telling.key import KeyView, key_view
from guidebuild.words import Words, find_locale, words


@dataclass(frozen=True, slots=True)
class WhereOut:
    """One species and the leads that end at it, as couplet and letter (12, "a"); a species that varies has several."""

    link: LinkView
    leads: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class KeySheet:
    """The printed key. `address` is where the guide stands on the web, empty where it does not."""

    language: str
    title: str
    guide: str
    region: str
    address: str
    key: KeyView
    where_out: tuple[WhereOut, ...]
    length: str


def key_sheet(guide: Published) -> KeySheet:
    """Show the key of a guide for print, in the guide's own language, for characters are not translated."""
    settings = guide.settings
    say, key = words(settings.language), key_view(guide)
    return KeySheet(
        language=settings.language,
        title=say("Key to what is in this guide"),
        guide=settings.title,
        region=settings.region,
        address=settings.address.rstrip("/"),
        key=key,
        where_out=_where_out(key),
        length=_length(key, say),
    )


def _where_out(key: KeyView) -> tuple[WhereOut, ...]:
    places: dict[LinkView, list[tuple[int, str]]] = {}
    for row in key.bracketed:
        for link in row.ends:
            places.setdefault(link, []).append((row.number, row.letter))
    ordered = sorted(places.items(), key=lambda item: item[0].text.casefold())
    return tuple(WhereOut(link, tuple(leads)) for link, leads in ordered)


def _length(key: KeyView, say: Words) -> str:
    statistics = key.statistics
    length = say(
        "Species: {taxa}. Couplets: {couplets}. A name takes {mean} steps on average, {greatest} at most; {expected} on average where the "
        "common ones are met more often.",
        taxa=statistics.taxa,
        couplets=statistics.couplets,
        mean=_one_place(statistics.mean, say),
        greatest=statistics.greatest,
        expected=_one_place(statistics.expected, say),
    )
    if not statistics.is_two_way or statistics.bound is None:
        return length
    bound = say(
        "Where all are met equally often, no key with two leads to a couplet that names each can do with fewer than {bound} on average.",
        bound=_one_place(statistics.bound, say),
    )
    return f"{length} {bound}"


def _one_place(number: float, say: Words) -> str:
    return format_decimal(number, format="0.0", locale=find_locale(say.language))
