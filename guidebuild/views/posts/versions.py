"""A post in other forms: in plain words (in English), for those who listen (in languages with a table), and its sources as a reply."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

import regex

from guidebuild.guide.guide import PostLimit
from guidebuild.speech.language import list_languages
from guidebuild.speech.reading_ease import measure_ease
from guidebuild.speech.spoken import say_text
from guidebuild.views.pieces.credits import ADDRESS, say_change
from guidebuild.views.pieces.facts import starred
from guidebuild.views.posts.lengths import perceived_length
from guidebuild.views.posts.texts import Material, Part, Piece, PostText, gather_pieces, join_body, tell_cares, write_credit
from guidebuild.words import words

PLAIN_EASE = 60.0
"""Flesch Reading Ease from which on a text is plain English (Flesch 1948; Flesch 1949, The Art of Readable Writing, table of scores)."""

_EASE_KNOWN = frozenset(("en",))
"""Languages that the formula of reading ease is for."""

_BRACKETS = regex.compile(r"\s*[(\[]([^()\[\]]*)[)\]](?=(\s+\w)?)")
_UNHEARD = regex.compile(r"[“”„«»\"]")
_DASHES = regex.compile(r"\s+[–—]\s+|—")


def write_versions(material: Material, limits: Sequence[PostLimit]) -> tuple[PostText, ...]:
    """What may be posted beside or after the texts, none longer than the longest of these may be."""
    longest = max(limits, key=lambda limit: limit.characters)
    language = material.guide.settings.language.split("-")[0].lower()
    say = words(material.guide.settings.language)
    reply = replace(_write_reply(material, replace(longest, name="reply-with-sources")), title=say("Reply with sources"))
    if language not in list_languages():
        return (reply,) if reply.text else ()
    heard = replace(_write_heard(material, replace(longest, name="to-be-heard"), language), title=say("To be heard"))
    if language not in _EASE_KNOWN:
        return tuple(version for version in (heard, reply) if version.text)
    plain = replace(_write_plain(material, replace(longest, name="plain-words"), language), title=say("In plain words"))
    return tuple(version for version in (plain, heard, reply) if version.text)


def _fit(limit: PostLimit, pieces: Sequence[Piece], write: Callable[[Sequence[Piece]], str]) -> PostText:
    """The text of the first pieces, as many as there is room for."""
    texts = (write(pieces[:number]) for number in range(len(pieces), -1, -1))
    counted = [PostText(limit.name, text, perceived_length(text, limit.link_cost, limit.counted), limit.characters) for text in texts]
    return next((text for text in counted if text.length <= text.limit), counted[-1])


def _write_plain(material: Material, limit: PostLimit, language: str) -> PostText:
    """Each mark on a line of its own, and of the account's own sentences those that read with ease."""
    cares, _ = tell_cares(material)

    def write(pieces: Sequence[Piece]) -> str:
        told = join_body(f"{material.head}.", [*pieces, *cares], in_paragraphs=True)
        lines = "\n".join(line.strip() for line in told.split("\n"))
        return "\n\n".join(part for part in (lines, material.link, write_credit(material, limit)) if part)

    return _fit(limit, list(_choose_plain(material, language)), write)


def _choose_plain(material: Material, language: str) -> Iterator[Piece]:
    hard = False
    for piece in _choose_once(material):
        if not piece.own_words:
            yield replace(piece, text=_list_rows(piece.text)) if piece.part is Part.KNOW else piece
            continue
        # What leans on a sentence that is left out would hang in the air.
        hard = (hard and piece.follows) or not _is_plain(piece.text, language)
        if not hard:
            yield piece


def _choose_once(material: Material) -> Iterator[Piece]:
    """All pieces but those that others say; no film, whose address nobody reads out."""
    pieces = [piece for piece in gather_pieces(material) if not ADDRESS.search(piece.text)]
    yield from (piece for piece in pieces if not piece.is_said(pieces))


def _is_plain(sentence: str, language: str) -> bool:
    # Without the dictionary, so that every computer writes the same text.
    ease = measure_ease(sentence, code=language, dictionary=False).ease
    return ease is None or ease >= PLAIN_EASE


def _list_rows(text: str) -> str:
    """What stands between semicolons on a line each, below the words that lead to it."""
    head, colon, rows = text.partition(": ")
    if not colon or "; " not in rows:
        return text
    return "\n".join((f"{head}:", *(f"– {row.rstrip('.')}" for row in rows.split("; ")), ""))


def _write_heard(material: Material, limit: PostLimit, language: str) -> PostText:
    """As a speaker says it: figures and units in words, no brackets, signs, tags or addresses."""
    account = material.account
    head = f"{account.vernacular}, {starred(account.name)}." if account.vernacular else f"{starred(account.name)}."
    cares, _ = tell_cares(material)
    photo = material.photo
    licence = material.guide.licences.get(photo.licence.id) if photo and photo.licence else None
    say = words(material.guide.settings.language)
    credit = photo.attribution.short_sentence(say, say_change(licence, say)).rstrip(".") + "." if photo and photo.credit else ""

    def write(pieces: Sequence[Piece]) -> str:
        told = join_body(head, [*pieces, *cares], in_paragraphs=True)
        bare = _DASHES.sub(", ", _UNHEARD.sub("", _BRACKETS.sub(_set_in_commas, f"{told}\n\n{credit}".strip())))
        return say_text(bare, code=language)

    return _fit(limit, list(_choose_once(material)), write)


def _set_in_commas(bracket: regex.Match[str]) -> str:
    return f", {bracket[1]}{',' if bracket[2] else ''}"


def _write_reply(material: Material, limit: PostLimit) -> PostText:
    """Where the facts come from, and the page that has them all; nothing where an account cites no source."""
    guide = material.guide
    cited = [guide.sources[source] for source in material.account.sources if source in guide.sources]
    rows = [Piece(Part.FACTS, " ".join(part for part in (f"{source.cite.rstrip('.')}.", source.link) if part)) for source in cited]
    title = words(guide.settings.language)("Sources")

    def write(pieces: Sequence[Piece]) -> str:
        return "\n".join(part for part in (f"{material.head}. {title}:", *(piece.text for piece in pieces), material.link) if part)

    return _fit(limit, rows, write) if rows else PostText(limit.name, "", 0, limit.characters)
