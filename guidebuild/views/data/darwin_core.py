"""The guide's facts as Darwin Core tables: taxa with their names, texts and seasons. `occurrences.py` has the sightings.

After the Darwin Core text guide (2023) and the extensions of rs.gbif.org. What is kept secret was generalised before it
comes here, and every field emptied for that has words in its place.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from guidebuild.fieldwork.claims import must_say_stage
from guidebuild.fieldwork.phenology import day_of_year
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.fieldwork.season_words import first_day, last_day
from guidebuild.guide.life_stages import record_stage
from guidebuild.guide.names import ScientificName
from guidebuild.guide.text.plain_text import write_plain
from guidebuild.views.data import dwc_terms as dwc
from guidebuild.views.data import eml, media
from guidebuild.views.pieces.facts import name_habitats
from guidebuild.words import words

Row = tuple[str, ...]

# Kinds of text that the Description extension has a word for; other headings stay on the page.
_KINDS = {"in brief": "general", "how to know it": "diagnostic", "where to look": "habitat", "life story": "biology"}
_STATUSES = frozenset({"present", "common", "rare", "irregular", "doubtful", "absent", "excluded"})
_RANKS = {"": "subspecies", "subsp.": "subspecies", "ssp.": "subspecies", "var.": "variety", "f.": "form", "forma": "form"}
_SPACE = "http://rs.tdwg.org/dwc/text/"


@dataclass(frozen=True, slots=True)
class Table:
    """One file of an archive. `columns` are short term names, the first one the row's or its taxon's id.

    `same` are terms that have the same value in every row; they stand in meta.xml only.
    """

    file: str
    kind: str
    columns: Row
    rows: tuple[Row, ...]
    same: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Archive:
    """A core table and those that hang on it; `about` is its file eml.xml."""

    core: Table
    extensions: tuple[Table, ...] = ()
    about: bytes = b""

    @property
    def tables(self) -> tuple[Table, ...]:
        """The core first; extensions without rows are left out."""
        return (self.core, *(table for table in self.extensions if table.rows))


def taxa_archive(guide: Published, files: Mapping[str, media.MediaFile] | None = None) -> Archive:
    """The species accounts: taxa and synonyms, with names, descriptions, profiles, distribution, sources and pictures.

    `files` says by the id of a photo where it can be fetched; a picture that cannot is left out.
    """
    settings = guide.settings
    same = [("datasetName", settings.title), ("license", _licence(guide, settings.licence)), ("rightsHolder", settings.publisher),
            ("language", settings.language)]  # fmt: skip
    columns = ("taxonID", "acceptedNameUsageID", "scientificName", "scientificNameAuthorship", "kingdom", "family", "genus",
               "specificEpithet", "infraspecificEpithet", "taxonRank", "taxonomicStatus", "taxonRemarks", "references")  # fmt: skip
    core = _leave_out_empty(Table("taxon.csv", dwc.TAXON, columns, tuple(_taxa(guide)), tuple(pair for pair in same if pair[1])), "kingdom")
    extensions = (
            _table("vernacularname.csv", dwc.VERNACULAR, "taxonID vernacularName language isPreferredName", _vernaculars(guide)),
            _table("description.csv", dwc.DESCRIPTION, "taxonID description type language", _descriptions(guide)),
            _table("speciesprofile.csv", dwc.PROFILE, "taxonID habitat sizeInMillimeters", _profiles(guide)),
            _table("distribution.csv", dwc.DISTRIBUTION, "taxonID locality lifeStage occurrenceStatus startDayOfYear endDayOfYear "
                   "occurrenceRemarks", _distribution(guide)),
            _table("reference.csv", dwc.REFERENCE, "taxonID bibliographicCitation identifier", _references(guide)),
            Table("multimedia.csv", dwc.MEDIA, media.COLUMNS, tuple(media.media_rows(guide, files or {}))),
    )  # fmt: skip
    covered = eml.Covered(cover_taxa(guide, guide.accounts))
    tables = (core, *extensions)
    return Archive(core, extensions, eml.eml_xml(guide, file="data/taxa.zip", kind="Checklist", covered=covered, rows=tables))


def cover_taxa(guide: Published, ids: Iterable[str]) -> tuple[eml.Taxon, ...]:
    """Accounts as EML tells them: rank, name, the name people use."""
    accounts = [guide.accounts[account_id] for account_id in ids]
    return tuple((name_columns(a.name, a.family)[-1], bare_name(a.name), a.vernacular) for a in accounts)


def _table(file: str, kind: str, columns: str, rows: Iterable[Row]) -> Table:
    return Table(file, kind, tuple(columns.split()), tuple(rows))


def _leave_out_empty(table: Table, name: str) -> Table:
    """A table without a column that no row fills: animals have no use for it."""
    at = table.columns.index(name)
    if any(row[at] for row in table.rows):
        return table
    kept = [place for place in range(len(table.columns)) if place != at]
    rows = tuple(tuple(row[place] for place in kept) for row in table.rows)
    return replace(table, columns=tuple(table.columns[place] for place in kept), rows=rows)


def _licence(guide: Published, licence: str) -> str:
    known = guide.licences.get(licence)
    return (known.address or known.title) if known else licence


def _page(guide: Published, account: PublicAccount) -> str:
    return f"{guide.settings.address.rstrip('/')}/accounts/{account.id}.html" if guide.settings.address else ""


def _taxa(guide: Published) -> Iterator[Row]:
    for account in guide.accounts.values():
        kingdom = guide.stage_set(account).kingdom
        remark = f"Identification qualified: {account.name.qualifier}" if account.name.qualifier else ""
        yield (account.id, account.id, *name_columns(account.name, account.family, kingdom), "accepted", remark, _page(guide, account))
        for number, synonym in enumerate(account.synonyms, 1):
            yield (
                f"{account.id}:synonym:{number}",
                account.id,
                *name_columns(synonym, account.family, kingdom),
                "synonym",
                "",
                _page(guide, account),
            )


def bare_name(name: ScientificName) -> str:
    """Darwin Core: a scientificName holds no qualifier, and has the true sign × of a hybrid."""
    return replace(name, qualifier="").plain


def name_columns(name: ScientificName, family: str, kingdom: str = "") -> Row:
    """Name with author, author, kingdom, family, genus, epithet, infraspecific epithet, rank."""
    rank = _RANKS.get(name.rank, name.rank.rstrip(".")) if name.infraspecific else "species"
    full = f"{bare_name(name)} {name.authority}".strip()
    return full, name.authority, kingdom, family, name.genus, name.epithet, name.infraspecific, rank if name.epithet else "genus"


def _vernaculars(guide: Published) -> Iterator[Row]:
    main = guide.settings.language
    for account in guide.accounts.values():
        if account.vernacular:
            yield account.id, account.vernacular, main, "true"
        yield from ((account.id, other, main, "false") for other in account.other_vernaculars)
        yield from ((account.id, t.vernacular, t.language, "true") for t in account.translations if t.vernacular)


def _descriptions(guide: Published) -> Iterator[Row]:
    main = guide.settings.language
    for account in guide.accounts.values():
        for section in account.sections:
            kind = _KINDS.get(section.heading.casefold())
            words = write_plain(section.text)
            if kind and words:
                yield account.id, words, kind, main
        if account.diagnostics:
            yield account.id, " | ".join(_marks(guide, account)), "diagnostic", main
        if account.host_plants.values:
            yield account.id, " | ".join(_hosts(guide, account)), "associations", main
        stages = guide.stage_set(account)
        yield from ((account.id, f"{stages.word(s.stage)}: {s.season.typed}", "cyclicity", main) for s in account.seasons if not s.place)


def _marks(guide: Published, account: PublicAccount) -> Iterator[str]:
    """Field marks, each with the sexes and stages that show it where it is not all of them."""
    say = words(guide.settings.language)
    with_stage, stages = must_say_stage(account.diagnostics), guide.stage_set(account)
    for mark in account.diagnostics:
        shown_by = say.listed([stages.word(stage) for stage in mark.stages]) if with_stage else ""
        whose = ", ".join(filter(None, (say.listed(mark.sexes), shown_by)))
        yield f"{mark.mark.words} ({whose})" if whose else mark.mark.words


def _hosts(guide: Published, account: PublicAccount) -> Iterator[str]:
    """As associatedTaxa writes them: "host":"Betula pendula"."""
    for use in account.host_plants:
        plant = guide.plants.get(use.plant)
        yield f'"host":"{plant.name.plain if plant and plant.name else plant.vernacular if plant else use.plant}"'


def _profiles(guide: Published) -> Iterator[Row]:
    for account in guide.accounts.values():
        size = account.size
        largest = f"{size.high:g}" if size and size.unit == "mm" and size.high is not None else ""
        habitats = " | ".join(h.words for h in name_habitats(guide, account))
        if habitats or largest:
            yield account.id, habitats, largest


def _distribution(guide: Published) -> Iterator[Row]:
    region = guide.settings.region or guide.settings.title
    for account in guide.accounts.values():
        said = account.status.words
        status = said.casefold() if said.casefold() in _STATUSES else "present"
        yield account.id, region, "", status, "", "", said
        for stated in account.seasons:
            for first, last in () if stated.place else stated.season.runs():
                recorded = record_stage(guide.stage_set(account), stated.stage)
                remark = recorded.reproductive_condition or recorded.remark
                yield from ((account.id, region, recorded.life_stage, "present", *days, remark) for days in _days(first, last))
        for name, withheld in dict.fromkeys((locality.name, locality.withheld) for locality in account.localities):
            yield account.id, name or region, "", "present", "", "", withheld
        yield from ((account.id, guide.places[place].name, "", "absent", "", "", "") for place in account.absent_from)


def _days(first: int, last: int) -> Iterator[tuple[str, str]]:
    """Days of the year from 1; a season over New Year is two rows, so that no start is after its end."""
    start, end = day_of_year(first_day(first)) + 1, day_of_year(last_day(last)) + 1
    yield from ((str(a), str(b)) for a, b in (((start, end),) if start <= end else ((start, 365), (1, end))))


def _references(guide: Published) -> Iterator[Row]:
    for account in guide.accounts.values():
        for source in (guide.sources[s] for s in account.sources if s in guide.sources):
            yield account.id, source.cite, source.link


def meta_xml(archive: Archive) -> bytes:
    """The file meta.xml that tells what each column is."""
    ET.register_namespace("", _SPACE)
    root = ET.Element(f"{{{_SPACE}}}archive", {"metadata": eml.FILE} if archive.about else {})
    tables = archive.tables
    for table in tables:
        core = table is archive.core
        element = ET.SubElement(root, f"{{{_SPACE}}}{'core' if core else 'extension'}", {
            "rowType": table.kind, "encoding": "UTF-8", "fieldsTerminatedBy": ",", "linesTerminatedBy": "\\r\\n",
            "fieldsEnclosedBy": '"', "ignoreHeaderLines": "1"})  # fmt: skip
        ET.SubElement(ET.SubElement(element, f"{{{_SPACE}}}files"), f"{{{_SPACE}}}location").text = table.file
        ET.SubElement(element, f"{{{_SPACE}}}{'id' if core else 'coreid'}", {"index": "0"})
        for index, name in enumerate(table.columns):
            if core or index:
                ET.SubElement(element, f"{{{_SPACE}}}field", {"index": str(index), "term": dwc.term(name)})
        for name, value in table.same:
            ET.SubElement(element, f"{{{_SPACE}}}field", {"default": value, "term": dwc.term(name)})
    ET.indent(root)
    written: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return written + b"\n"
