"""The vocabularies that the tool ships: life stages, cautions, licences, words for views and parts."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import TypeVar

from guidebuild import shipped
from guidebuild.guide.guide import Caution, Licence
from guidebuild.guide.life_stages import StageSet
from guidebuild.reading.build_records import build_caution, build_licence, build_stage_set
from guidebuild.reading.notes import Notes
from guidebuild.reading.record_shapes import CautionShape, LicenceShape, Listed, StageSetShape
from guidebuild.reading.shaping import read_shape
from guidebuild.reading.yaml_text import read_block

M = TypeVar("M", bound=Listed[StageSetShape] | Listed[CautionShape] | Listed[LicenceShape])


def _records(name: str, model: type[M]) -> M:
    """A shipped file; a fault in it is a fault of the tool, so it is raised."""
    notes = Notes()
    block = read_block(shipped.content().joinpath(name).read_text("utf-8"), f"content/{name}", notes)
    read = read_shape(block, model, notes) if block else None
    if read is None or notes.findings:
        raise ValueError(f"The shipped file content/{name} is damaged: {[str(f) for f in notes.findings]}")
    return read


@cache
def stage_sets() -> Mapping[str, StageSet]:
    """Life-stage sets by group."""
    return {key: build_stage_set(key, s) for key, s in _records("life_stages.yaml", Listed[StageSetShape]).root.items()}


@cache
def cautions() -> Mapping[str, Caution]:
    """Cautions by hazard."""
    return {key: build_caution(key, s) for key, s in _records("cautions.yaml", Listed[CautionShape]).root.items()}


@cache
def licences() -> Mapping[str, Licence]:
    """Licences by SPDX id."""
    return {key: build_licence(key, s) for key, s in _records("licences.yaml", Listed[LicenceShape]).root.items()}


@cache
def words(name: str) -> Mapping[str, str]:
    """A shipped list of words (`views` or `parts`): the word, and what it means."""
    block = read_block(shipped.content().joinpath(f"{name}.yaml").read_text("utf-8"), f"content/{name}.yaml", Notes())
    return {key: str(value) for key, value in block.data.items()} if block else {}
