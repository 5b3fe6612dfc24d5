"""Under which licence a row of sightings may be handed on: the guide's, or its own where that allows it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from guidebuild.guide.guide import Licence
from guidebuild.guide.licence_text import licence_id
from guidebuild.guide.records import Source
from guidebuild.guide.sighting_records import SightingRecord

_VERSIONLESS = re.compile(r"cc[\s_-]*by(?:[\s_-]*(?:nc|nd|sa))*", re.IGNORECASE)
_DOWNLOADED = re.compile(r"_(\d)_(\d)$")
"""How downloads write a version: `CC_BY_NC_4_0`."""


class Terms(NamedTuple):
    """The licence of a row as it is published ("": the guide's own), or why the row is not. `credited` asks for its makers' names."""

    licence: str = ""
    refused: str = ""
    credited: bool = False


GUIDES_OWN = Terms()


def find_terms(record: SightingRecord, licences: Mapping[str, Licence], guides: str, data_set: Source | None = None) -> Terms:
    """The terms of a row; `guides` is the licence of the guide, `data_set` what its file comes from."""
    typed = record.cell("license") or (data_set.licence if data_set else "")
    if not typed:
        return Terms(refused="no licence is given") if record.foreign or data_set else GUIDES_OWN
    plain = _DOWNLOADED.sub(r" \1.\2", typed)
    known = licences.get(licence_id(plain))
    if known is None and _VERSIONLESS.fullmatch(plain):
        # What the versions ask differs little for rows; which one it is stays unsaid, as its maker left it.
        any_version = licences.get(licence_id(f"{plain} 4.0"))
        known = any_version and Licence(plain, plain, "", any_version.attribution, any_version.derivatives, any_version.commercial)
    if known is None:
        return Terms(refused=f"“{typed}” is no licence that is known")
    if not known.derivatives or not (known.address or known.id == plain):
        return Terms(refused=f"{known.title} does not allow it")
    named = any(record.cell(term) for term in ("rightsHolder", "recordedBy", "datasetName")) or (data_set is not None and data_set.holder)
    if known.attribution and not named and known.id != licence_id(guides):
        return Terms(refused=f"{known.title} asks for a name, and the row has no rightsHolder, recordedBy or datasetName")
    same = known.id == licence_id(guides)
    return GUIDES_OWN if same else Terms(known.address or known.title, credited=known.attribution)
