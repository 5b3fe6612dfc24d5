"""What an archive says of itself in its EML file: proposed to the author as lines to cite it by, never taken over unasked."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
import zipfile
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import yaml

from guidebuild.guide.ids import make_id
from guidebuild.guide.licence_text import licence_id
from guidebuild.reading.archive_members import find_member, open_zip
from guidebuild.reading.archive_meta import parse_plain_xml
from guidebuild.reading.dois import find_doi
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.table_errors import UnreadableTableError

_NAMED = 3
"""So many makers are named; of more, the first."""
_LONGEST = 300
_LARGEST = 2_000_000
_DOI_IN_TEXT = re.compile(r"10\.\d{4,9}/[^\s\"'<>]*[^\s\"'<>.,;)\]]")
_LICENCE_IN_TEXT = re.compile(r"(?:https?://)?creativecommons\.org/[a-z]+/[a-z+-]+/[\d.]+", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class About:
    """A data set as it names itself, under the keys of sources.yaml."""

    author: str = ""
    year: str = ""
    title: str = ""
    publisher: str = ""
    doi: str = ""
    licence: str = ""


def tell_uncited(path: Path, notes: SightingNotes) -> None:
    """Propose how to cite an archive that the guide does not cite."""
    about = read_about(path)
    if about is None:
        return
    source = make_id(about.title, "") or make_id(path.stem, "archive")
    lines = {key: value for key, value in asdict(about).items() if value}
    cited = {"cite": f"{about.author.split(', ')[0] or about.title} {about.year}".strip(), "kind": "data set", **lines}
    said = "; ".join(lines.values())
    mend = (f"If that is so, write into sources.yaml {_as_yaml({source: cited})} "
            f"and into sightings.yaml {_as_yaml({'data sets': {path.name: source}})}.")  # fmt: skip
    notes.add("sightings-uncited", f"The archive says what it is, and no source is given for it: {said}", 0, mend=mend)


def _as_yaml(value: object) -> str:
    """A value in one line as it can be typed into a file, without the braces round all of it."""
    written = yaml.safe_dump(value, default_flow_style=True, allow_unicode=True, sort_keys=False, width=10_000).strip()
    return f"“{written[1:-1]}”"


def read_about(path: Path) -> About | None:
    """What an archive says of itself; None where it has no such file, or one that says nothing."""
    try:
        with open_zip(path) as packed:
            member = _find_eml(packed)
            root = parse_plain_xml(packed.read(member)) if member else None
    except (OSError, UnreadableTableError, ET.ParseError, ValueError, LookupError):
        return None  # what is wrong with the archive is told where its rows are read
    dataset = next((one for one in root.iter() if _local(one) == "dataset"), None) if root is not None else None
    if root is None or dataset is None:
        return None
    made = About(
        author=_makers(dataset), year=(_first(dataset, "pubDate") or "")[:4], title=_first(dataset, "title"), doi=_doi(root, dataset),
        publisher=next(_parties(dataset, "publisher"), ""), licence=_licence(dataset),
    )  # fmt: skip
    return made if made.title or made.doi else None


def _find_eml(packed: zipfile.ZipFile) -> str | None:
    """The file that meta.xml names as its metadata, else one of a usual name."""
    meta = find_member(packed, "meta.xml")
    root = parse_plain_xml(packed.read(meta)) if meta else None
    named = root.get("metadata", "") if root is not None else ""
    folder = (meta or "").removesuffix("meta.xml")
    wanted = [f"{folder}{name}" for name in (named, "eml.xml", "metadata.xml") if name]
    found = next((name for name in wanted if name in packed.namelist()), None)
    return found if found and packed.getinfo(found).file_size <= _LARGEST else None


def _local(element: ET.Element) -> str:
    return element.tag.rsplit("}", 1)[-1] if isinstance(element.tag, str) else ""


def _children(element: ET.Element, name: str) -> Iterator[ET.Element]:
    return (child for child in element if _local(child) == name)


def _said(element: ET.Element) -> str:
    return " ".join("".join(element.itertext()).split())[:_LONGEST]


def _first(element: ET.Element, name: str) -> str:
    return next((text for child in _children(element, name) if (text := _said(child))), "")


def _parties(dataset: ET.Element, role: str) -> Iterator[str]:
    """Persons by their whole names, else organisations."""
    for party in _children(dataset, role):
        persons = [" ".join(filter(None, (_said(part) for part in person))) for person in _children(party, "individualName")]
        name = next(filter(None, persons), "") or _first(party, "organizationName")
        if name:
            yield name


def _makers(dataset: ET.Element) -> str:
    makers = list(dict.fromkeys(_parties(dataset, "creator")))
    return ", ".join(makers) if len(makers) <= _NAMED else f"{makers[0]} et al."


def _doi(root: ET.Element, dataset: ET.Element) -> str:
    """Its own DOI: among its identifiers, else in how it asks to be cited."""
    own = (find_doi(_said(one)) for one in _children(dataset, "alternateIdentifier"))
    gbif = next((one for one in root.iter() if _local(one) == "gbif"), None)
    cited = list(_children(gbif, "citation")) if gbif is not None else []
    asked = (found[0] for one in cited for text in (one.get("identifier", ""), _said(one)) if (found := _DOI_IN_TEXT.search(text)))
    return next(filter(None, own), None) or next(asked, "")


def _licence(dataset: ET.Element) -> str:
    """The licence that its rights name by an address, or that is named beside them."""
    for rights in (one for one in dataset if _local(one) in ("licensed", "intellectualRights")):
        addresses = [one.get("url", "") or _said(one) for one in rights.iter() if _local(one) in ("ulink", "url")]
        for text in (*addresses, _said(rights)):
            if found := _LICENCE_IN_TEXT.search(text):
                return licence_id(found[0])
    return ""
