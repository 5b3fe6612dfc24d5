"""Sightings as a Darwin Core archive: each row as it was made, and rows of what is kept secret as generally as they are told.

After the Darwin Core quick reference guide (dwc.tdwg.org/terms). What the tool adds to a typed row, such as the position of its place,
is named in dataGeneralizations; what it takes away, in informationWithheld.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from hashlib import sha256

from guidebuild.fieldwork.public_records import PublicRow
from guidebuild.fieldwork.published import Published
from guidebuild.guide.asking import kept_by_guide
from guidebuild.guide.life_stages import record_stage
from guidebuild.guide.records import Source
from guidebuild.guide.sighting_records import CARRIED
from guidebuild.views.data import dwc_terms as dwc
from guidebuild.views.data import eml
from guidebuild.views.data.darwin_core import Archive, Row, Table, bare_name, cover_taxa, name_columns

COLUMNS = (
    "occurrenceID", "taxonID", "scientificName", "vernacularName", "kingdom", "taxonRank", "verbatimIdentification",
    "identificationQualifier", "identificationVerificationStatus", "identifiedBy", "basisOfRecord", "occurrenceStatus",
    "recordedBy", "individualCount",
    "organismQuantity", "organismQuantityType", "sex", "lifeStage", "reproductiveCondition", "eventDate", "verbatimEventDate",
    "samplingProtocol", "countryCode", "locality", "verbatimLocality", "decimalLatitude", "decimalLongitude", "geodeticDatum",
    "coordinateUncertaintyInMeters", "coordinatePrecision", "verbatimLatitude", "verbatimLongitude", "occurrenceRemarks",
    "dataGeneralizations", "informationWithheld", "license", "rightsHolder", "datasetID", "datasetName",
)  # fmt: skip
_AS_TYPED = tuple(term for term in COLUMNS if term in CARRIED)
_ALWAYS = frozenset(("occurrenceID", "taxonID", "scientificName", "individualCount", "eventDate", "decimalLatitude", "decimalLongitude",
                     "occurrenceRemarks"))  # fmt: skip
"""Columns that stand there though no row fills them."""
_A_DAY = 10
"""Signs of a date that is known to the day."""
_OPEN_NAME = re.compile(r"\b(?:cf|aff)\b.*|\bn(?:ea)?r\.\s.*|\?", re.IGNORECASE)
_NOT_IN_ID = frozenset(("occurrenceID", "locality", "verbatimLocality"))
"""Cells that change when a place is renamed, and the ID itself."""


@kept_by_guide(2)
def sightings_archive(guide: Published) -> Archive:
    """The rows of the guide's sightings, by species and day."""
    rows = tuple(_occurrences(guide))
    kept = [at for at, term in enumerate(COLUMNS) if term in _ALWAYS or any(row[at] for row in rows)]
    columns = tuple(COLUMNS[at] for at in kept)
    core = Table("occurrence.csv", dwc.OCCURRENCE, columns, tuple(tuple(row[at] for at in kept) for row in rows))
    covered = cover_rows(guide, core)
    return Archive(core, (), eml.eml_xml(guide, file="data/sightings.zip", kind="Occurrence", covered=covered, rows=(core,)))


def cover_rows(guide: Published, core: Table) -> eml.Covered:
    """What the rows say, and no more: positions in them are those that may be shown."""
    taxon, day, lat, lon = (core.columns.index(name) for name in ("taxonID", "eventDate", "decimalLatitude", "decimalLongitude"))
    seen = {row[taxon] for row in core.rows}
    where = [(float(row[lat]), float(row[lon])) for row in core.rows if row[lat]]
    souths, wests = zip(*where, strict=True) if where else ((), ())
    box = (min(souths), min(wests), max(souths), max(wests)) if where else None
    days = tuple(part[:_A_DAY] for row in core.rows for part in row[day].split("/") if re.match(r"\d{4}-\d\d-\d\d", part))
    taxa = cover_taxa(guide, (a for a in guide.accounts if a in seen))
    return eml.Covered(taxa, days, box, any(row.licence for row in guide.rows), list_cited(guide))


def list_cited(guide: Published) -> tuple[Source, ...]:
    """The data sets that rows come from."""
    named = {row.data_set for row in guide.rows}
    return tuple(source for source in guide.sources.values() if source.id in named)


def _occurrences(guide: Published) -> Iterator[Row]:
    """The rows by species and day. IDs are given in the order of the author's files, so that none depends on what a place is called."""
    used: set[str] = {row.own_id for row in guide.rows if row.own_id}
    known = [(_make_id(guide, row, used), row) for row in guide.rows]
    told = [(identity, row, _cells_of(guide, row)) for identity, row in known]
    for identity, row, cells in sorted(told, key=lambda one: (one[1].account, one[1].event_date, one[1].stage, one[2]["locality"], one[0])):
        yield tuple({**cells, "occurrenceID": identity, "taxonID": row.account}.get(column, "") for column in COLUMNS)


def _make_id(guide: Published, row: PublicRow, used: set[str]) -> str:
    """The row's own ID; else a digest of what the row tells anyway, so that nothing else can be in it."""
    if row.own_id:
        return row.own_id
    where = row.locality
    if row.record is None:
        told: tuple[str, ...] = (row.account, row.stage, row.event_date, where.name, *_position(row), where.generalised, where.withheld)
        return f"{row.account}:{sha256(chr(0).join(told).encode()).hexdigest()[:16]}"
    record = row.record
    cells = tuple(cell for term, cell in zip(CARRIED, record.cells, strict=True) if term not in _NOT_IN_ID)
    told = (bare_name(guide.accounts[row.account].name), row.stage, row.event_date, str(record.absent), *cells)
    made = f"sighting:{sha256(chr(0).join(told).encode()).hexdigest()[:16]}"
    identity, number = made, 1
    while identity in used:
        number += 1
        identity = f"{made}:{number}"
    used.add(identity)
    return identity


def _cells_of(guide: Published, row: PublicRow) -> dict[str, str]:
    """All that a row tells."""
    account = guide.accounts[row.account]
    stages = guide.stage_set(account)
    cells = {term: row.record.cell(term) for term in _AS_TYPED} if row.record else {}
    if row.record:
        cells |= _cells_of_record(row)
    latitude, longitude, datum, metres, precision = _position(row)
    if latitude and not row.exact:
        cells |= {"geodeticDatum": datum, "coordinateUncertaintyInMeters": metres, "coordinatePrecision": precision}
    recorded = record_stage(stages, row.stage)
    typed = cells.get("lifeStage", "")
    # A word that is no stage of life is told under the term that it belongs to.
    as_typed = bool(typed) and recorded.life_stage == stages.word(row.stage) if row.stage else bool(typed)
    remark = "" if as_typed else recorded.remark
    data_set = guide.sources.get(row.data_set)
    own = not (row.licence or row.data_set)
    return cells | {
        "scientificName": bare_name(account.name),
        "vernacularName": account.vernacular,
        "kingdom": stages.kingdom,
        "taxonRank": name_columns(account.name, account.family)[-1],
        "basisOfRecord": cells.get("basisOfRecord") or "HumanObservation",
        # "present", not "detected": the change of 2026 is not in the GBIF vocabulary of 2020 that readers check against.
        "occurrenceStatus": "absent" if row.record and row.record.absent else "present",
        "lifeStage": typed if as_typed else recorded.life_stage,
        "reproductiveCondition": cells.get("reproductiveCondition") or recorded.reproductive_condition,
        "eventDate": row.event_date,
        "countryCode": cells.get("countryCode") or (guide.settings.country if _lies_in_region(guide, row) else ""),
        "locality": cells.get("locality") or row.locality.name or guide.settings.title,
        "decimalLatitude": latitude,
        "decimalLongitude": longitude,
        "occurrenceRemarks": "; ".join(filter(None, (cells.get("occurrenceRemarks", ""), remark))),
        "dataGeneralizations": _what_was_done(row),
        "informationWithheld": row.locality.withheld,
        "license": row.licence or _own_licence(guide),
        "rightsHolder": cells.get("rightsHolder") or (guide.settings.publisher if own else data_set.holder if data_set else ""),
        "datasetID": data_set.link if data_set else "",
        "datasetName": cells.get("datasetName") or (guide.settings.title if own else data_set.title or data_set.cite if data_set else ""),
    }


def _cells_of_record(row: PublicRow) -> dict[str, str]:
    """Cells that are told in another term than they were typed in: what is no plain figure or date is verbatim."""
    record = row.record
    if record is None:
        return {}
    name = record.cell("scientificName")
    open_name = _OPEN_NAME.search(name) if record.doubtful else None
    cells = {
        "verbatimIdentification": name,
        "identificationQualifier": record.cell("identificationQualifier") or (open_name[0].strip() if open_name else ""),
    }
    typed = record.cell("eventDate")
    if typed and typed != record.event_date:
        cells["verbatimEventDate"] = record.cell("verbatimEventDate") or typed
    for verbatim, term, told in (
        ("verbatimLatitude", "decimalLatitude", row.locality.latitude),
        ("verbatimLongitude", "decimalLongitude", row.locality.longitude),
    ):
        figure = record.cell(term)
        if figure and not (row.exact and figure == told):
            cells[verbatim] = record.cell(verbatim) or figure
            if row.exact:
                cells["geodeticDatum"] = "EPSG:4326"
    if not row.exact:
        cells |= dict.fromkeys(("geodeticDatum", "coordinateUncertaintyInMeters", "coordinatePrecision"), "")
    return cells


def _what_was_done(row: PublicRow) -> str:
    where = row.locality
    if where.generalised:
        said = {7: "Date given as the month.", 4: "Date given as the year."}.get(len(row.event_date), "Date not given.")
        return f"{where.generalised} {said}"
    return "Position is that of the place." if where.latitude and not row.exact else ""


def _lies_in_region(guide: Published, row: PublicRow) -> bool:
    """Whether a row is known to be of the guide's region: of the guide's own, at one of its places, or in the box that it looks into."""
    in_box = row.exact and guide.settings.region_box is not None
    return row.record is None or not row.record.foreign or bool(row.locality.place) or in_box


def _own_licence(guide: Published) -> str:
    known = guide.licences.get(guide.settings.licence)
    return (known.address or known.title) if known else guide.settings.licence


def _position(row: PublicRow) -> Row:
    """Latitude, longitude, datum, uncertainty, precision."""
    where = row.locality
    if not where.latitude:
        return "", "", "", "", ""
    metres = "" if where.uncertainty is None else str(where.uncertainty)
    return where.latitude, where.longitude, "EPSG:4326", metres, where.precision
