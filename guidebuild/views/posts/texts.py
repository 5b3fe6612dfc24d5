"""The texts of a post: what is worth most and fits, each fact once, with name, cautions, link and credit always."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from guidebuild.fieldwork.claims import order_stages
from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.guide import PostLimit
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.guide.text.sentences import split_sentences
from guidebuild.identify.senses import Sense, sense_of
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.credits import say_change
from guidebuild.views.pieces.facts import head_plants, tell_difference
from guidebuild.views.pieces.links import film_path
from guidebuild.views.posts.lengths import perceived_length
from guidebuild.views.posts.repeats import join_differences, repeats, says_fact
from guidebuild.words import Words, words

IN_PARAGRAPHS = 500
"""Characters from which on a text is set in paragraphs."""

MOST_CREDIT = 0.25
"""The share of a text that a whole credit line may take; above it the short form is used."""

LEAST_WORDS = 4
"""A sentence of fewer leans on the next."""


@dataclass(frozen=True, slots=True)
class PostText:
    """One text: its length as the place counts it (a link at its stated cost) and the limit it keeps to."""

    name: str
    text: str
    length: int
    limit: int
    title: str = ""  # what the page calls it; without one, its name


@dataclass(frozen=True, slots=True)
class Material:
    """All that a text of a post is made of."""

    guide: Published
    account: PublicAccount
    told: Mapping[str, str]
    marks: tuple[str, ...]
    tags: tuple[str, ...]
    photo: PhotoView | None
    cautions: tuple[str, str]

    @property
    def head(self) -> str:
        """Both its names."""
        account = self.account
        return f"{account.vernacular} ({account.name.plain})" if account.vernacular else account.name.plain

    @property
    def link(self) -> str:
        """Its page on the web."""
        address = self.guide.settings.address.rstrip("/")
        return f"{address}/accounts/{self.account.id}.html" if address else ""


def write_text(material: Material, limit: PostLimit) -> PostText:
    """The first pieces, in order of worth, that fit. Name, cautions, link and credit always stand; tags go before they do."""
    credit = write_credit(material, limit)

    def joined(pieces: Sequence[Piece], tags: Sequence[str]) -> str:
        told = join_body(f"{material.head}.", pieces, in_paragraphs=limit.characters >= IN_PARAGRAPHS)
        return "\n\n".join(part for part in (told, material.link, credit, " ".join(tags)) if part)

    def fits(pieces: Sequence[Piece], tags: Sequence[str]) -> bool:
        return perceived_length(joined(pieces, tags), limit.link_cost, limit.counted) <= limit.characters

    full, brief = tell_cares(material)
    pieces = tuple(gather_pieces(material))
    # A mark is worth more than a tag, and than what to do said at length.
    marks = [replace(piece, text=(piece.text, *piece.shorter)[-1]) for piece in pieces[:1] if piece.part is Part.KNOW]
    allowed = material.tags[: limit.hashtags]
    fewer = (allowed[:number] for number in range(len(allowed), -1, -1))
    tags = next((some for some in fewer if fits([*brief, *marks], some)), allowed if fits(brief, allowed) else ())
    kept = full if fits([*full, *marks], tags) else brief
    last_fits = True
    for piece in pieces:
        if piece.is_said(kept):
            continue
        versions = (piece, *(replace(piece, text=shorter) for shorter in piece.shorter)) if last_fits or not piece.follows else ()
        fitting = next((version for version in versions if fits([*kept, version], tags)), None)
        last_fits = fitting is not None
        if fitting:
            kept.append(fitting)
    text = joined([piece for piece in kept if piece.own_words or not piece.is_said(kept)], tags)
    return PostText(limit.name, text, perceived_length(text, limit.link_cost, limit.counted), limit.characters)


def join_body(head: str, pieces: Sequence[Piece], *, in_paragraphs: bool) -> str:
    """The pieces in the order in which they read well, whatever their worth: in brief, how to know it, facts, cautions."""
    runs = [" ".join(piece.text for piece in pieces if piece.part is part) for part in Part]
    first, *others = (run for run in (" ".join((head, runs[0])).strip(), *runs[1:]) if run)
    return ("\n\n" if in_paragraphs else " ").join((first, *others))


def write_credit(material: Material, limit: PostLimit) -> str:
    """The whole credit line where there is room, else maker and licence: both say that the picture was cut."""
    photo = material.photo
    if photo is None or not photo.credit:
        return ""
    licence = material.guide.licences.get(photo.licence.id) if photo.licence else None
    say = words(material.guide.settings.language)
    whole = photo.attribution.sentence(say, say_change(licence, say))
    if perceived_length(whole, limit.link_cost, limit.counted) <= limit.characters * MOST_CREDIT:
        return whole
    return photo.attribution.short_sentence(say, say_change(licence, say))


def tell_cares(material: Material) -> tuple[list[Piece], list[Piece]]:
    """What can hurt: with what to do about it, and as short as it can be said."""
    w = words(material.guide.settings.language)
    full, brief = ([Piece(Part.CARE, w("Take care: {cautions}", cautions=said))] if said else [] for said in material.cautions)
    return full, brief


class Part(Enum):
    """What a piece of a post is about, in the order in which they are read."""

    BRIEF = "in brief"
    KNOW = "how to know it"
    FACTS = "facts"
    CARE = "cautions"


@dataclass(frozen=True, slots=True)
class Piece:
    """A sentence or two. One that `follows` leans on the piece before it, and is left out with it.

    Where the text is too long, the first of `shorter` that fits stands for it. `fact` is what a line gives that other pieces may give too.
    """

    part: Part
    text: str
    follows: bool = False
    shorter: tuple[str, ...] = ()
    fact: str = ""
    own_words: bool = False  # a sentence of the account's own text

    def is_said(self, others: Sequence[Piece]) -> bool:
        """Whether other pieces of the post say all that it says."""
        if self.own_words:
            return self.part is Part.KNOW and repeats(self.text, " ".join(other.text for other in others if not other.own_words))
        return bool(self.fact) and any(says_fact(other.text, self.fact) for other in others if other is not self)


def gather_pieces(material: Material) -> Iterator[Piece]:
    """What decides, how it is told from others, when, on what, how large, then the account's own words."""
    account = material.account
    w = words(material.guide.settings.language)
    if material.marks:
        is_seen = all(sense_of(mark.mark.text) is Sense.SIGHT for mark in account.diagnostics)
        first, *shorter = (
            w("Look for: {marks}.", marks=marks) if is_seen else w("Know it by: {marks}.", marks=marks) for marks in material.marks
        )
        yield Piece(Part.KNOW, first, shorter=tuple(shorter))
    differences = (tell_difference(material.guide, account, s.account, s.note.words) for s in account.similar)
    for whole, *shorter in join_differences(difference for difference in differences if difference):
        yield Piece(Part.KNOW, whole, shorter=tuple(shorter))
    yield from _facts(material, w)
    for part, heading in ((Part.BRIEF, "In brief"), (Part.KNOW, "How to know it")):
        section = account.section(heading)
        for number, sentence in enumerate(_join_short(split_sentences(write_plain(section.text))) if section else ()):
            yield Piece(part, sentence, follows=number > 0, own_words=True)


def _join_short(sentences: Iterable[str]) -> Iterator[str]:
    """The sentences, one of a word or two together with the next: “Listen.” alone says nothing."""
    waiting = ""
    for sentence in sentences:
        waiting = f"{waiting} {sentence}".strip()
        if len(waiting.split()) >= LEAST_WORDS:
            yield waiting
            waiting = ""
    if waiting:
        yield waiting


def _facts(material: Material, w: Words) -> Iterator[Piece]:
    account, facts = material.account, material.told
    names = dict(material.guide.stage_set(account).stages)
    seasons = [stage for stage in _sought(material) if f"season of {stage}" in facts]
    for number, stage in enumerate(seasons):
        line = f"{w(names.get(stage, stage)).capitalize()}: {facts[f'season of {stage}']}."
        # The others alone, without the stage that leads, would read as the season of the species.
        yield Piece(Part.FACTS, line, follows=number > 0)
    if "host plants" in facts:
        told = f"{w(head_plants(material.guide, [account]))}: {facts['host plants']}."
        # One plant alone may stand in a name, such as that of the Gorse Shieldbug, which does not say what it lives on.
        yield Piece(Part.FACTS, told, fact=facts["host plants"] if len(account.host_plants) > 1 else "")
    if "size" in facts:
        yield Piece(Part.FACTS, w("Size: {size}.", size=facts["size"]), fact=facts["size"])
    if address := _find_film(material.guide, account):
        yield Piece(Part.FACTS, w("Film: {address}", address=address))


def _find_film(guide: Published, account: PublicAccount) -> str:
    """Where its newest film stands: on the web, else on the guide's own site."""
    films = [film for film in guide.films.values() if account.id in film.accounts]
    newest = max(films, key=lambda film: film.day or dt.date.min, default=None)
    site = guide.settings.address.rstrip("/")
    return "" if newest is None else newest.address or (f"{site}/{film_path(newest.id)}" if site else "")


def _sought(material: Material) -> tuple[str, ...]:
    """The stages that one looks for, that of the picture first; where the picture shows none of them, the one that is most seen."""
    account = material.account
    sought = sought_stages(material.guide, account)
    shown = material.guide.photos[material.photo.id].stage if material.photo else ""
    if shown in sought:
        return order_stages(sought, shown)
    best = {s.stage: (len(s.season.most_seen), len(s.season.dekads)) for s in account.seasons if not s.place and s.stage in sought}
    return order_stages(sought, max(best, key=lambda stage: best[stage], default=""))
