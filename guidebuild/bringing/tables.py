"""Tables that are offered: sightings, which are copied as they are, or a list of species."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from guidebuild.bringing.met_rows import MetRows, find_met_rows
from guidebuild.bringing.offered import Offered
from guidebuild.bringing.photos import digest_of
from guidebuild.bringing.plan import Brought, Coming, Unused
from guidebuild.bringing.species_columns import NAMES, ListRow, find_meanings, read_list
from guidebuild.counting import count_of
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import make_id
from guidebuild.guide.sighting_words import SightingWords
from guidebuild.guide.sightings import FileCount
from guidebuild.reading.folder import same_name
from guidebuild.reading.sighting_columns import KNOWN_TERMS, find_missing
from guidebuild.reading.sighting_headings import read_headings
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.sighting_tables import open_table
from guidebuild.reading.sighting_words import shipped_words
from guidebuild.reading.sightings import read_sightings
from guidebuild.reading.table_errors import UnreadableTableError
from guidebuild.reading.tables import Table

_MOST_SPECIES = 20_000
"""Rows of a list of species; a table with more is none."""
_MOST_TOLD = 10
"""Rows that are told one by one."""
_NEITHER = (
    "has neither a column with names of species (scientificName) nor one with days (eventDate), so that it is no list of species and no "
    "table of sightings"
)
_NO_NAMES = "has days and no column with names of species; for sightings, call that column Species or scientificName"


@dataclass(frozen=True, slots=True)
class OfferedTable:
    """A table that was offered, with its rows where it is a list of species; of sightings they are read later, as they may be a million."""

    offered: Offered
    species: tuple[ListRow, ...] = ()


def look_at_table(offered: Offered, words: SightingWords) -> OfferedTable | Unused:
    """What a table is by its headings; `words` say what headings of sightings mean."""
    try:
        with open_table(offered.path, SightingNotes(offered.shown)) as table:
            read = read_headings(table.header, KNOWN_TERMS, words)
            missing = find_missing(read.terms)
            # Which column has the names, where several may, is asked once the table is in the guide.
            if not missing or (missing == ["scientificName"] and any("scientificname" in terms for _, terms in read.unclear)):
                return OfferedTable(offered)
            if missing == ["scientificName"]:
                return Unused(offered.shown, _NO_NAMES)
            if not any(name in find_meanings(table.header) for name in NAMES) or offered.path.suffix.lower() == ".zip":
                return Unused(offered.shown, _NEITHER)
            return _read_species(offered, table)
    except UnreadableTableError as error:
        return Unused(offered.shown, f"{error}. {error.mend}".strip())
    except OSError as error:
        return Unused(offered.shown, error.strerror or str(error))


def _read_species(offered: Offered, table: Table) -> OfferedTable | Unused:
    rows = tuple(islice(read_list(table.header, table.rows, table.first), _MOST_SPECIES + 1))
    if len(rows) > _MOST_SPECIES:
        return Unused(offered.shown, f"has more than {_MOST_SPECIES:,} rows and no days, and is no list of species")
    return OfferedTable(offered, rows) if rows else Unused(offered.shown, "has headings and no row below them")


def bring_sightings(folder: Path, guide: Guide, tables: Sequence[Offered]) -> tuple[Brought, tuple[FileCount, ...]]:
    """Copies of tables under names of their own, and what becomes of their rows in this guide."""
    files: list[Coming] = []
    counts: list[FileCount] = []
    unused: list[Unused] = []
    advice: list[str] = []
    words = guide.sighting_words or shipped_words()
    standing = {digest_of(folder / file): file for file in guide.sighting_files}
    taken = {same_name(file) for file in guide.sighting_files}
    for offered in tables:
        digest = digest_of(offered.path)
        if twin := standing.get(digest):
            unused.append(Unused(offered.shown, f"is the same file as {twin}, to the byte"))
            continue
        before = [*((one, folder / one) for one in guide.sighting_files), *((one.file, one.source) for one in files if one.source)]
        met = find_met_rows(offered.path, before, words)
        if met.is_nothing_new:
            unused.append(Unused(offered.shown, "has only rows that stand in the guide already, as they are"))
            continue
        file = find_free(folder, f"sightings/{make_id(offered.path.stem, 'sightings')}", offered.path.suffix.lower(), taken)
        standing[digest] = file
        taken.add(same_name(file))
        # Where rows are copies of others, only all of them together say how many count.
        others = [str(path.resolve()) for _, path in before] if met.met else []
        count = read_sightings(folder, [*others, str(offered.path.resolve())], guide).counts[-1]
        counts.append(FileCount(file, count.rows, count.counted, count.left_out, count.remarks))
        files.append(Coming(file, f"{count.rows:,} sightings, of which {count.counted:,} count", offered.path))
        advice += _tell_differing(file, met)
    return Brought(tuple(files), unused=tuple(unused), advice=tuple(advice)), tuple(counts)


def _tell_differing(file: str, met: MetRows) -> Iterator[str]:
    """What an author has to decide: rows that came once more with something else in them."""
    for row in met.differing[:_MOST_TOLD]:
        yield f"{file}: {row}. Only one of them counts: delete the row that is wrong."
    if (more := len(met.differing) - _MOST_TOLD) > 0:
        yield f"{file}: {count_of(more, 'further row')} with an ID that stands already {'says' if more == 1 else 'say'} something else."


def find_free(folder: Path, stem: str, ending: str, taken: set[str]) -> str:
    """A name in the guide that no file has yet."""
    number = 1
    while True:
        file = f"{stem}{ending}" if number == 1 else f"{stem}-{number}{ending}"
        if same_name(file) not in taken and not (folder / file).exists():
            return file
        number += 1
