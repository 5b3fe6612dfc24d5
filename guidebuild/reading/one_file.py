"""What is wrong with one file of a guide, if it held this text: told before it is written, by the same readers as for a whole guide."""

from __future__ import annotations

from pathlib import PurePosixPath

from pydantic import BaseModel, RootModel

from guidebuild.guide.findings import At, Finding
from guidebuild.guide.guide import Guide, Settings
from guidebuild.reading.account_shape import AccountShape
from guidebuild.reading.block import Block
from guidebuild.reading.build_account import build_account
from guidebuild.reading.fence import Parts, split_fence
from guidebuild.reading.file_shapes import shape_of_file
from guidebuild.reading.id_check import check_id
from guidebuild.reading.notes import Notes
from guidebuild.reading.scores import ScoreReader
from guidebuild.reading.secrecy_lines import PLACES, find_doubts, note_doubts
from guidebuild.reading.sections import split_sections
from guidebuild.reading.shaping import find_old_keys, read_shape
from guidebuild.reading.text_file import clean_text, decode_text
from guidebuild.reading.yaml_text import read_block

_UNSET = Settings("", hemisphere="north")
"""Stands where guide.yaml cannot be read, so that this is not told of each file."""


def find_faults(file: str, raw: bytes, guide: Guide | None) -> tuple[Finding, ...]:
    """All findings of reading the file; what its values name is looked up in the guide, if there is one."""
    notes = Notes()
    model = shape_of_file(file)
    if model is None:
        return ()
    text = clean_text(decode_text(raw, file, notes), file, notes)
    parts, block = _read_facts(text, file, notes)
    if block is None or parts is None:
        return notes.findings
    if file == PLACES or model is AccountShape:
        note_doubts(find_doubts(text, block, file), notes)
    _read_by_shape(model, block, parts, notes, guide)
    return notes.findings


def find_old_keys_in(file: str, raw: bytes) -> tuple[tuple[At, str], ...]:
    """Where the file has a key by a former name, or typed otherwise, and what it is called today."""
    notes = Notes()
    model = shape_of_file(file)
    block = _read_facts(clean_text(decode_text(raw, file, notes), file, notes), file, notes)[1] if model else None
    return tuple(find_old_keys(block, model)) if model and block else ()


def _read_facts(text: str, file: str, notes: Notes) -> tuple[Parts | None, Block | None]:
    parts = split_fence(text, file, notes) if file.endswith(".md") else Parts(text, 1, "", 1)
    return parts, read_block(parts.facts, file, notes, first_line=parts.facts_line) if parts else None


def _read_by_shape(model: type[BaseModel], block: Block, parts: Parts, notes: Notes, guide: Guide | None) -> None:
    stem = PurePosixPath(block.file).stem
    if block.file.startswith(("accounts/", "episodes/", "posts/", "walks/")):
        check_id(stem.partition(".")[0], At(block.file), "file name", notes)
    said = read_shape(block, model, notes)
    if said is None:
        return
    if isinstance(said, RootModel):
        for key in said.root:
            check_id(str(key), block.key_at(str(key)), "id", notes)
    if isinstance(said, AccountShape):
        scores = ScoreReader(guide.characters if guide else {}, notes)
        sections = split_sections(parts.body, parts.body_line, block.file)
        settings = guide.settings if guide else _UNSET
        build_account(stem, said, block, sections=sections, scores=scores, settings=settings, notes=notes)
