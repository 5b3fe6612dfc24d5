"""Slots in a script filled with the facts of its account; both are words known for what they are, not Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.names import ScientificName
from guidebuild.guide.slots import SLOT
from guidebuild.speech.marks import Mark
from guidebuild.speech.script import Piece, ScriptLine, Spoken, merge_pieces, merge_words
from guidebuild.speech.script_text import read_line
from guidebuild.views.pieces.facts import tell_facts
from guidebuild.views.scripts.spoken_english import add_article, capitalise, find_scope, say_whole_season, write_out_measures
from guidebuild.words import WRITTEN_IN

_LEANS = re.compile(r"\b(?:an?|the|its|his|her|their|this|that|these|those|one|two|three|no|in|from|during|between)\s+$", re.IGNORECASE)
"""After which a fact stands without an article or preposition of its own."""

_OPENS = re.compile(r"(?:^|[.!?…]\s)\s*$")
"""After which a sentence begins."""

Facts = Mapping[str, tuple[Piece, ...]]


def say_facts(guide: Published, account: PublicAccount) -> Facts:
    """Every slot that an account can fill, by name, in words that can be said."""
    told = {slot: read_line(fact) for slot, fact in tell_facts(guide, account).items()}
    return {**told, "scientific name": say_name(account.name)}


def say_facts_in_sentences(guide: Published, account: PublicAccount) -> Facts:
    """The same as a sentence takes them, in English: a mark with its article and of whom it is true, times in words for the ear."""
    facts = dict(say_facts(guide, account))
    if guide.settings.language.split("-")[0] != WRITTEN_IN:
        return facts
    group = guide.stage_set(account)
    for number, mark in enumerate(account.diagnostics, start=1):
        whole = " ".join(filter(None, (add_article(mark.mark.starred), find_scope(group, mark))))
        facts[f"mark {number}"] = read_line(whole)
    for stated in account.seasons:
        if not stated.place and stated.season.dekads:
            facts[f"season of {stated.stage}"] = (Spoken(say_whole_season(stated.season, guide.settings.first_dekad)),)
    return facts | {"size": tuple(write_out_measures(facts["size"]))} if "size" in facts else facts


def say_name(name: ScientificName) -> tuple[Spoken, ...]:
    """A scientific name: what the Codes put in italics is a name; `subsp.` and `×` are words."""
    runs: list[Spoken] = []
    for piece in name.pieces(authority=False):
        bare = piece.text.lstrip()
        lead = Spoken(piece.text[: len(piece.text) - len(bare)])
        runs += (lead, Spoken(bare.rstrip(), is_name=True)) if piece.italic else (Spoken(piece.text),)
    return merge_words(runs)


def fill_line(line: ScriptLine, facts: Facts, bare: Facts | None = None) -> ScriptLine:
    """The line with its slots filled; one that cannot be filled stays as typed (the checks name it).

    `bare` are the facts that stand after an article or a preposition which the author wrote.
    """
    pieces: list[Piece] = []
    for piece in line.pieces:
        if isinstance(piece, Mark):
            pieces.append(replace(piece, what=_fill_text(piece.what, bare or facts)))
        elif piece.is_name:
            pieces.append(replace(piece, text=_fill_text(piece.text, bare or facts)))
        else:
            so_far = "".join(p.text for p in pieces if isinstance(p, Spoken))
            pieces += _fill_words(piece.text, facts, bare or facts, so_far)
    return replace(line, pieces=merge_pieces(pieces))


def _fill_text(text: str, facts: Facts) -> str:
    return SLOT.sub(lambda slot: ScriptLine(facts.get(_slot_name(slot[1]), (Spoken(slot[0]),))).text, text)


def _fill_words(text: str, whole: Facts, bare: Facts, so_far: str) -> Iterator[Piece]:
    at = 0
    for slot in SLOT.finditer(text):
        yield Spoken(text[at : slot.start()])
        before, name = so_far + text[: slot.start()], _slot_name(slot[1])
        opens = _OPENS.search(before) is not None
        # “June is her time”: a season that opens a sentence is what it is about.
        facts = bare if _LEANS.search(before) or (opens and name.startswith("season of ")) else whole
        fact = facts.get(name, (Spoken(slot[0]),))
        yield from _with_capital(fact) if opens else fact
        at = slot.end()
    yield Spoken(text[at:])


def _with_capital(fact: tuple[Piece, ...]) -> tuple[Piece, ...]:
    first, *others = fact
    return (replace(first, text=capitalise(first.text)), *others) if isinstance(first, Spoken) and not first.is_name else fact


def _slot_name(typed: str) -> str:
    return " ".join(typed.split())
