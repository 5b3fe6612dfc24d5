"""sightings.yaml and the tool's own lists of words → what words in tables of sightings mean."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from functools import cache
from pathlib import PurePosixPath

from pydantic import Field

from guidebuild import shipped
from guidebuild.guide.record_fields import SIGHTING_WORD_FIELDS
from guidebuild.guide.resolve import fold_name
from guidebuild.guide.sighting_words import SightingWords
from guidebuild.guide.text.denied import is_nothing
from guidebuild.reading.block import Block
from guidebuild.reading.kinds import Shape, Text, Words
from guidebuild.reading.notes import Notes
from guidebuild.reading.shaping import read_shape
from guidebuild.reading.sighting_columns import KNOWN_TERMS, spell_term
from guidebuild.reading.sighting_headings import fold_heading
from guidebuild.reading.yaml_text import read_block

FILE = "sightings.yaml"


class SightingWordsShape(Shape):
    """What sightings.yaml holds."""

    declared = SIGHTING_WORD_FIELDS

    places: dict[str, Text] = Field(default_factory=dict)
    stages: dict[str, Text] = Field(default_factory=dict)
    beside_a_stage: Words = ()
    sexes: dict[str, Text] = Field(default_factory=dict)
    absence: dict[str, Words] = Field(default_factory=dict)
    doubt: dict[str, Words] = Field(default_factory=dict)
    no_doubt: dict[str, Words] = Field(default_factory=dict)
    leave_out: dict[str, Words] = Field(default_factory=dict)
    sheets: dict[str, Text] = Field(default_factory=dict)
    data_sets: dict[str, Text] = Field(default_factory=dict)
    columns: dict[str, Words] = Field(default_factory=dict)


@cache
def shipped_words() -> SightingWords:
    """The tool's own lists; a fault in them is a fault of the tool, so it is raised."""
    notes = Notes()
    block = read_block(shipped.content().joinpath(FILE).read_text("utf-8"), f"content/{FILE}", notes)
    read = read_shape(block, SightingWordsShape, notes) if block else None
    if read is None or notes.findings:
        raise ValueError(f"The shipped file content/{FILE} is damaged: {[str(f) for f in notes.findings]}")
    return _as_words(read)


def read_words(
    block: Block | None, files: Iterable[str], places: Mapping[str, object], sources: Mapping[str, object], notes: Notes
) -> SightingWords:
    """The guide's own words above the tool's. A place, a source or one of the `files` of sightings that the guide has not is a finding."""
    read = read_shape(block, SightingWordsShape, notes) if block else None
    if block is None or read is None:
        return shipped_words()
    for typed, place in read.places.items():
        if place not in places:
            notes.add("sightings-word-unknown", f"“{typed}” is to be the place “{place}”, which is none of places.yaml.",
                      block.at("places", typed))  # fmt: skip
    for heading, terms in read.columns.items():
        for term in (term for term in terms if not spell_term(term) and not is_nothing(term)):
            notes.add("sightings-word-unknown", f"“{heading}” is to be the column “{term}”, which is no term of Darwin Core that is read.",
                      block.at("columns", heading), mend=_suggest_term(term))  # fmt: skip
    there = {PurePosixPath(file).name for file in files}
    for file, source in read.data_sets.items():
        if source not in sources:
            notes.add("sightings-word-unknown", f"“{file}” is to be of the data set “{source}”, which is none of sources.yaml.",
                      block.at("data sets", file), mend="Use the id of a source in sources.yaml.")  # fmt: skip
        if file not in there:
            notes.add("sightings-word-unknown", f"“{file}” is said to be of a data set, and is no file in sightings/.",
                      block.key_at("data sets", file), mend="Write the file's name as it stands in sightings/.")  # fmt: skip
    return _above(_as_words(read), shipped_words())


def _suggest_term(term: str) -> str:
    near = get_close_matches(term.lower(), KNOWN_TERMS, n=1)
    meant = f"Did you mean {spell_term(near[0])}?" if near else "Write a term such as eventDate, locality or individualCount."
    return f"{meant} A column that says nothing is `none`."


def _as_words(read: SightingWordsShape) -> SightingWords:
    return SightingWords(
        {fold_name(word): place for word, place in read.places.items()},
        {fold_name(word): stage for word, stage in read.stages.items()},
        tuple(fold_name(word) for word in read.beside_a_stage),
        {fold_name(word): sex for word, sex in read.sexes.items()},
        _by_column(read.absence),
        _by_column(read.doubt),
        _by_column(read.no_doubt),
        _by_column(read.leave_out),
        dict(read.sheets),
        dict(read.data_sets),
        {fold_heading(heading): terms for heading, terms in read.columns.items()},
    )


def _by_column(table: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    return {column.lower(): tuple(fold_name(word) for word in words) for column, words in table.items()}


def _above(own: SightingWords, given: SightingWords) -> SightingWords:
    """The guide's words with the tool's beneath: what the guide says of a word is what it means."""
    absence, doubt, no_doubt, leave_out = own.absence, own.doubt, own.no_doubt, own.leave_out
    said = {(column, word) for table in (absence, doubt, no_doubt, leave_out) for column, words in table.items() for word in words}
    return SightingWords(
        own.places,
        {**given.stages, **own.stages},
        (*given.beside_a_stage, *own.beside_a_stage),
        {**given.sexes, **own.sexes},
        _joined(absence, given.absence, said),
        _joined(doubt, given.doubt, said),
        _joined(no_doubt, given.no_doubt, said),
        _joined(leave_out, given.leave_out, said),
        own.sheets,
        own.data_sets,
        {**given.columns, **own.columns},
        frozenset(own.columns),
    )


def _joined(
    own: Mapping[str, tuple[str, ...]], given: Mapping[str, tuple[str, ...]], said: set[tuple[str, str]]
) -> dict[str, tuple[str, ...]]:
    kept = {column: tuple(word for word in words if (column, word) not in said) for column, words in given.items()}
    return {column: (*kept.get(column, ()), *own.get(column, ())) for column in {**kept, **own}}
