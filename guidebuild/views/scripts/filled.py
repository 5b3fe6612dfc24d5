"""Slots in a script filled with the facts of its account; both are words known for what they are, not Markdown."""

from __future__ import annotations

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

Facts = Mapping[str, tuple[Piece, ...]]


def say_facts(guide: Published, account: PublicAccount) -> Facts:
    """Every slot that an account can fill, by name, in words that can be said."""
    told = {slot: read_line(fact) for slot, fact in tell_facts(guide, account).items()}
    return {**told, "scientific name": say_name(account.name)}


def say_name(name: ScientificName) -> tuple[Spoken, ...]:
    """A scientific name: what the Codes put in italics is a name; `subsp.` and `×` are words."""
    runs: list[Spoken] = []
    for piece in name.pieces(authority=False):
        bare = piece.text.lstrip()
        lead = Spoken(piece.text[: len(piece.text) - len(bare)])
        runs += (lead, Spoken(bare.rstrip(), is_name=True)) if piece.italic else (Spoken(piece.text),)
    return merge_words(runs)


def fill_line(line: ScriptLine, told: Facts) -> ScriptLine:
    """The line with its slots filled; one that cannot be filled stays as typed (the checks name it)."""
    pieces: list[Piece] = []
    for piece in line.pieces:
        if isinstance(piece, Mark):
            pieces.append(replace(piece, what=_fill_text(piece.what, told)))
        elif piece.is_name:
            pieces.append(replace(piece, text=_fill_text(piece.text, told)))
        else:
            pieces += _fill_words(piece.text, told)
    return replace(line, pieces=merge_pieces(pieces))


def _fill_text(text: str, told: Facts) -> str:
    return SLOT.sub(lambda slot: ScriptLine(told.get(_slot_name(slot[1]), (Spoken(slot[0]),))).text, text)


def _fill_words(text: str, told: Facts) -> Iterator[Piece]:
    at = 0
    for slot in SLOT.finditer(text):
        yield Spoken(text[at : slot.start()])
        yield from told.get(_slot_name(slot[1]), (Spoken(slot[0]),))
        at = slot.end()
    yield Spoken(text[at:])


def _slot_name(typed: str) -> str:
    return " ".join(typed.split())
