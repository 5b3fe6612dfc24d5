"""What is posted of an account: texts that keep to stated lengths, tags, alt text, credit, and how its picture may be cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import regex

from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide, Licence, PostLimit
from guidebuild.guide.plain_text import plain, sentences
from guidebuild.guide.records import Photo
from guidebuild.views.common import NameView, PhotoView
from guidebuild.views.facts import facts
from guidebuild.views.links import name_view, site_map
from guidebuild.views.parts import Maker
from guidebuild.words import words

DEFAULT_LIMITS = (PostLimit("short", 280, 23, 3), PostLimit("medium", 1000, 23, 5), PostLimit("long", 2200, 23, 8))
"""Lengths where guide.yaml gives none (common practice, no source); a guide states its own."""

SHAPES = (("square", (1, 1)), ("portrait", (4, 5)), ("tall", (9, 16)), ("wide", (191, 100)))
"""Shapes of a posted picture, across to down."""

_CLUSTER = regex.compile(r"\X")
_ADDRESS = regex.compile(r"https?://\S+")


@dataclass(frozen=True, slots=True)
class PostText:
    """One text: its length as readers count it (a link at its stated cost) and the limit it keeps to."""

    name: str
    text: str
    length: int
    limit: int


@dataclass(frozen=True, slots=True)
class Crop:
    """One shape that the picture is cut to, across to down."""

    name: str
    ratio: tuple[int, int]


@dataclass(frozen=True, slots=True)
class PostView:
    """All that is posted of an account. `uncut` is why the picture may not be cropped (empty: it may)."""

    account: str
    name: NameView
    language: str
    guide: str
    texts: tuple[PostText, ...]
    tags: tuple[str, ...]
    photo: PhotoView | None
    alt: str
    credit: str
    crops: tuple[Crop, ...]
    keep: tuple[tuple[float, float], ...]
    uncut: str
    findings: tuple[Finding, ...] = ()


def perceived_length(text: str, link_cost: int = 0) -> int:
    """User-perceived characters: extended grapheme clusters (UAX #29); each web address counts `link_cost` where that is set."""
    if not link_cost:
        return len(_CLUSTER.findall(text))
    bare, links = _ADDRESS.subn("", text)
    return len(_CLUSTER.findall(bare)) + links * link_cost


def post_views(guide: Guide) -> Iterator[PostView]:
    """The post of every account."""
    for account in guide.accounts.values():
        yield post_view(guide, account)


def post_view(guide: Guide, account: Account) -> PostView:
    """One account's post, from its facts; a sensitive species is told without any place."""
    language = guide.settings.language
    maker = Maker(guide, site_map(guide, language), words(language))
    told = facts(guide, account)
    tags = _tags(guide, account)
    plate = maker.plate(account)
    photo = guide.photos[plate.id] if plate else None
    limits = guide.settings.post_limits or DEFAULT_LIMITS
    material = _Material(guide, account, told, tags, photo)
    texts = tuple(_text(material, limit) for limit in limits)
    licence = guide.licences.get(photo.licence) if photo else None
    uncut = "" if licence is None or licence.derivatives else f"{licence.title} does not allow changed copies"
    found = tuple(_uncut_finding(account, photo, uncut)) if photo and uncut else ()
    return PostView(
        account=account.id,
        name=name_view(account, language, language),
        language=language,
        guide=guide.settings.title,
        texts=texts,
        tags=tags,
        photo=plate,
        alt=photo.alt if photo else "",
        credit=credit_line(photo, licence) if photo else "",
        crops=() if uncut or photo is None else tuple(Crop(name, ratio) for name, ratio in SHAPES),
        keep=tuple(m.point for m in plate.marks if m.point) if plate else (),
        uncut=uncut,
        findings=found,
    )


def credit_line(photo: Photo, licence: Licence | None) -> str:
    """Title, author, source, licence (the Creative Commons wiki's recommended practice), and that the picture was cut to size."""
    title = f"“{photo.title}” " if photo.title else "Photo "
    source = f", {photo.source}" if photo.source else ""
    if licence is None:
        return f"{title}by {photo.credit}{source}."
    named = f"{licence.title} ({licence.address})" if licence.address else licence.title
    changed = "; cut to size" if licence.derivatives and licence.attribution else ""
    return f"{title}by {photo.credit}{source}, {named}{changed}."


@dataclass(frozen=True, slots=True)
class _Material:
    guide: Guide
    account: Account
    told: Mapping[str, str]
    tags: tuple[str, ...]
    photo: Photo | None


def _text(material: _Material, limit: PostLimit) -> PostText:
    """The first pieces, in order of worth, that fit; name, credit and link always stand."""
    guide, account, photo = material.guide, material.account, material.photo
    address = guide.settings.address.rstrip("/")
    link = f"{address}/accounts/{account.id}.html" if address else ""
    credit = f"Photo: {photo.credit}, {photo.licence}" if photo and photo.credit else ""
    shown = " ".join(material.tags[: limit.hashtags])
    head = f"{account.vernacular} ({account.name.plain})" if account.vernacular else account.name.plain
    kept: list[str] = []

    def joined(pieces: list[str]) -> str:
        body = " ".join(pieces)
        return "\n\n".join(part for part in (f"{head}. {body}".strip() if body else f"{head}.", link, credit, shown) if part)

    for piece in _pieces(account, material.told):
        if perceived_length(joined([*kept, piece]), limit.link_cost) <= limit.characters:
            kept.append(piece)
    text = joined(kept)
    if perceived_length(text, limit.link_cost) > limit.characters:
        shown = ""
        text = joined(kept)
    return PostText(limit.name, text, perceived_length(text, limit.link_cost), limit.characters)


def _pieces(account: Account, told: Mapping[str, str]) -> Iterator[str]:
    """Sentences by worth: what decides, what warns, how it is told from others, when, where, then the account's own words."""
    marks = [mark.mark.rstrip(".") for mark in account.diagnostics[:3]]
    if marks:
        yield f"Look for: {'; '.join(marks)}."
    if account.hazards and "hazards" in told:
        yield f"Take care: {told['hazards']}."
    yield from (_bare(told[f"difference from {s.account}"]) for s in account.similar if f"difference from {s.account}" in told)
    for season in account.seasons[-1:]:
        fact = told.get(f"season of {season.stage}")
        if fact:
            yield f"{season.stage.capitalize()}: {fact}."
    if "host plants" in told:
        yield f"On {told['host plants']}."
    if "size" in told:
        yield f"Size: {told['size']}."
    if "region" in told and not account.sensitivity:
        yield f"Seen in {told['region']}."
    for heading in ("In brief", "How to know it"):
        section = account.section(heading)
        if section:
            yield from sentences(plain(section.text))


def _bare(text: str) -> str:
    return text.replace("*", "")


def _tags(guide: Guide, account: Account) -> tuple[str, ...]:
    own = "".join(word.capitalize() for word in regex.findall(r"\w+", account.vernacular or account.name.plain))
    named = [own, *("".join(regex.findall(r"\w+", tag)) for tag in guide.settings.hashtags)]
    return tuple(dict.fromkeys(f"#{tag}" for tag in named if tag))


def _uncut_finding(account: Account, photo: Photo, reason: str) -> Iterator[Finding]:
    message = f"The photo “{photo.id}” is posted whole, not cut to shape: {reason}."
    mend = "Ask its maker, or name another photo first under `photos:`."
    yield Finding("photo-not-cut", Level.NOTE, message, photo.at, mend, account.id)
