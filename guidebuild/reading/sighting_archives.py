"""A Darwin Core archive, or any zip with one table in it → the table of its occurrences."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from pathlib import Path, PurePosixPath

from guidebuild.reading.archive_members import find_member, member_opener, open_zip
from guidebuild.reading.archive_meta import ArchiveTable, read_meta
from guidebuild.reading.sighting_headings import plain_term
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.table_errors import UnreadableTableError
from guidebuild.reading.table_text import Torn, open_text, read_rows, sniff
from guidebuild.reading.tables import Table, header_of

_TEXTS = (".csv", ".txt", ".tsv")


@contextmanager
def open_archive(path: Path, notes: SightingNotes, tell_torn: Torn) -> Iterator[Table]:
    """The table of occurrences of an archive. Raises UnreadableTableError where there is none."""
    with open_zip(path) as packed, ExitStack() as opened:
        meta = find_member(packed, "meta.xml")
        if meta is None:
            yield _open_only_table(packed, opened, tell_torn)
            return
        core, extensions = read_meta(packed.read(meta))
        folder = meta.removesuffix("meta.xml")
        occurrences = core if core.kind == "occurrence" else next((one for one in extensions if one.kind == "occurrence"), None)
        if occurrences is None:
            raise UnreadableTableError(f"It holds no occurrences, but a table of the kind {core.kind or 'that is not named'}",
                                       "Archives of sightings have Occurrence as a row type.")  # fmt: skip
        _tell_unread([one for one in extensions if one is not occurrences], notes)
        rows = _rows_of(packed, folder, occurrences, opened, tell_torn)
        if occurrences is core:
            yield _as_table(core, rows)
        else:
            yield _with_events(_as_table(occurrences, rows), occurrences, core, _rows_of(packed, folder, core, opened, tell_torn))


def _tell_unread(extensions: Iterable[ArchiveTable], notes: SightingNotes) -> None:
    kinds = [one.kind or "table without a kind" for one in extensions]
    if kinds:
        notes.add("sightings-more-tables", f"What else is in the archive is not read: {', '.join(sorted(kinds))}", 0)


def _open_only_table(packed: zipfile.ZipFile, opened: ExitStack, tell_torn: Torn) -> Table:
    """The one table of a zip without meta.xml."""
    names = [name for name in packed.namelist() if name.lower().endswith(_TEXTS) and not PurePosixPath(name).name.startswith((".", "_"))]
    if len(names) > 1:
        names = [name for name in names if "occurrence" in name.lower()] or [name for name in names if name.lower().endswith(".csv")]
    if len(names) != 1:
        raise UnreadableTableError("There is no meta.xml in it and not just one table", "Unpack it, and put its table into sightings.")
    opener = member_opener(packed, names[0])
    dialect = sniff(opener)
    rows = read_rows(opened.enter_context(open_text(opener, dialect)), dialect, tell_torn)
    return Table(header_of(rows), rows)


def _rows_of(packed: zipfile.ZipFile, folder: str, table: ArchiveTable, opened: ExitStack, tell_torn: Torn) -> Iterator[list[str]]:
    """The rows of a table of one or several files, without their header lines."""
    if not table.files:
        raise UnreadableTableError("Its meta.xml names no file for its table")
    openers = [member_opener(packed, folder + file) for file in table.files]
    texts = [opened.enter_context(open_text(opener, table.dialect)) for opener in openers]
    return _rows_in(texts, table, tell_torn)


def _rows_in(texts: Iterable[io.TextIOWrapper], table: ArchiveTable, tell_torn: Torn) -> Iterator[list[str]]:
    dialect = replace(table.dialect, lines_before=table.header_lines)
    for text in texts:
        yield from read_rows(text, dialect, tell_torn)


def _as_table(table: ArchiveTable, rows: Iterator[list[str]]) -> Table:
    """Rows with the columns that meta.xml names, its constants behind them."""
    first = next(rows, None)
    width = max([len(first or ()), *(at + 1 for at in table.terms), (table.key or 0) + 1])
    header = [table.terms.get(at, "") for at in range(width)]
    if table.key is not None and not header[table.key]:
        header[table.key] = "id" if "occurrenceid" in header or table.kind != "occurrence" else "occurrenceid"
    every = iter(()) if first is None else _chain(first, rows)
    if table.constants or table.fallbacks:
        every = _filled(every, table, width)
    return Table([*header, *table.constants], every, table.header_lines + 1)


def _chain(first: list[str], rows: Iterator[list[str]]) -> Iterator[list[str]]:
    yield first
    yield from rows


def _filled(rows: Iterator[list[str]], table: ArchiveTable, width: int) -> Iterator[list[str]]:
    constants = list(table.constants.values())
    for row in rows:
        if len(row) < width:
            if not any(row):
                continue  # an empty line is no row
            row.extend([""] * (width - len(row)))
        for at, value in table.fallbacks.items():
            row[at] = row[at] or value
        row[width:width] = constants
        yield row


def _with_events(table: Table, occurrences: ArchiveTable, core: ArchiveTable, rows: Iterator[list[str]]) -> Table:
    """Occurrences with the cells of their events that they lack themselves."""
    events = _as_table(core, rows)
    lacking = [at for at, term in enumerate(events.header) if term and term not in table.header and plain_term(term) != "id"]
    by_id = {}
    for row in events.rows:
        if core.key is not None and len(row) > core.key:
            by_id[row[core.key]] = [row[at] if at < len(row) else "" for at in lacking]
    nothing, key, width = [""] * len(lacking), occurrences.key or 0, len(table.header)
    joined = ([*row, *[""] * (width - len(row)), *by_id.get(row[key] if key < len(row) else "", nothing)] for row in table.rows if any(row))
    return Table([*table.header, *(events.header[at] for at in lacking)], joined, table.first)
