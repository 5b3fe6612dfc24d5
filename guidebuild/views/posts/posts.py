"""What is posted of an account: texts that keep to stated lengths, tags, alt text, credit, and how its picture may be cut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.fieldwork.claims import find_marks
from guidebuild.fieldwork.public_records import PublicAccount, PublicPhoto
from guidebuild.fieldwork.published import Published
from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import PostLimit
from guidebuild.views.pieces.cautions import brief_cautions
from guidebuild.views.pieces.common import NameView, PhotoView
from guidebuild.views.pieces.credits import say_change
from guidebuild.views.pieces.facts import tell_facts
from guidebuild.views.pieces.links import name_view, site_map
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.posts.codes import PHOTO_NOT_CUT, POST_TOO_LONG
from guidebuild.views.posts.corrections import write_corrections
from guidebuild.views.posts.hashtags import write_hashtag
from guidebuild.views.posts.texts import Material, PostText, write_text
from guidebuild.views.posts.versions import write_versions
from guidebuild.words import words

DEFAULT_LIMITS = (PostLimit("short", 280, 23, 3), PostLimit("medium", 1000, 23, 5), PostLimit("long", 2200, 23, 8))
"""Lengths where guide.yaml gives none (common practice, no source); a guide states its own."""

MOST_MARKS = 3
"""So many field marks, the most useful ones, are worth a post."""

SHAPES = (("square", (1, 1)), ("portrait", (4, 5)), ("tall", (9, 16)), ("wide", (191, 100)))
"""Shapes of a posted picture, across to down."""


@dataclass(frozen=True, slots=True)
class Crop:
    """One shape that the picture is cut to, across to down."""

    name: str
    ratio: tuple[int, int]


@dataclass(frozen=True, slots=True)
class PostView:
    """All that is posted of an account. `corrections` put right what was posted before.

    `uncut` is why the picture may not be cropped (empty: it may).
    """

    account: str
    name: NameView
    language: str
    guide: str
    texts: tuple[PostText, ...]
    versions: tuple[PostText, ...]
    corrections: tuple[PostText, ...]
    tags: tuple[str, ...]
    photo: PhotoView | None
    alt: str
    credit: str
    crops: tuple[Crop, ...]
    uncut: str
    findings: tuple[Finding, ...] = ()


def post_views(guide: Published) -> Iterator[PostView]:
    """The post of every account."""
    for account in guide.accounts.values():
        yield post_view(guide, account)


def post_view(guide: Published, account: PublicAccount) -> PostView:
    """One account's post, from its facts."""
    language = guide.settings.language
    maker = PieceMaker(guide, site_map(guide, language), words(language))
    facts = tell_facts(guide, account)
    tags = _tags(guide, account)
    plate = maker.plate(account)
    photo = guide.photos[plate.id] if plate else None
    limits = guide.settings.post_limits or DEFAULT_LIMITS
    material = Material(guide, account, facts, _mark_choices(maker, account, photo), tags, plate, brief_cautions(maker, account))
    texts = tuple(write_text(material, limit) for limit in limits)
    versions = write_versions(material, limits)
    corrections = write_corrections(material, limits)
    careful = any(material.cautions)
    licence = guide.licences.get(photo.licence) if photo else None
    uncut = "" if licence is None or licence.derivatives else f"{licence.title} does not allow changed copies"
    findings = (
        *(_uncut_finding(account, photo, uncut) if photo and uncut else ()),
        *(tuple(_too_long(account, texts, cautions=careful)) or _too_long(account, (*versions, *corrections), cautions=careful)),
    )
    return PostView(
        account=account.id,
        name=name_view(account, language, language),
        language=language,
        guide=guide.settings.title,
        texts=texts,
        versions=versions,
        corrections=corrections,
        tags=tags,
        photo=plate,
        alt=plate.alt if plate else "",
        credit=plate.attribution.sentence(maker.words, say_change(licence, maker.words)) if plate else "",
        crops=() if uncut or photo is None else tuple(Crop(name, ratio) for name, ratio in SHAPES),
        uncut=uncut,
        findings=findings,
    )


def _mark_choices(make: PieceMaker, account: PublicAccount, photo: PublicPhoto | None) -> tuple[str, ...]:
    """The first marks in words; where stages and sexes make that long, then those that the picture can show, then the first of these."""
    numbers = range(len(account.diagnostics))[:MOST_MARKS]
    seen = tuple(n for n in numbers if photo is None or n in find_marks(account, photo.stage, photo.sex)) or tuple(numbers)
    whole, *shorter = (make.marks(account, beside=photo.id if photo else "", chosen=chosen) for chosen in (numbers, seen, seen[:1]))
    return tuple(dict.fromkeys("; ".join(mark.said.words.rstrip(".") for mark in marks) for marks in (whole, *shorter) if marks))


def _tags(guide: Published, account: PublicAccount) -> tuple[str, ...]:
    named = (account.vernacular or account.name.plain, *guide.settings.hashtags)
    return tuple(dict.fromkeys(tag for name in named if (tag := write_hashtag(name))))


def _too_long(account: PublicAccount, texts: tuple[PostText, ...], *, cautions: bool) -> Iterator[Finding]:
    for text in texts:
        if text.length > text.limit:
            name = account.vernacular or account.name.plain
            message = f"The {text.name} post of {name} takes {text.length} characters, {text.limit} are allowed: "
            told = f"name, {'cautions, ' if cautions else ''}link and credit alone are too long."
            yield POST_TOO_LONG.finding(message + told, account.at, account=account.id)


def _uncut_finding(account: PublicAccount, photo: PublicPhoto, reason: str) -> Iterator[Finding]:
    message = f"The photo “{photo.id}” is posted whole, not cut to shape: {reason}."
    yield PHOTO_NOT_CUT.finding(message, photo.at, account=account.id)
