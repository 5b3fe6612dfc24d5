"""Files of sightings, streamed, → tallies, totals and findings. A million rows need neither much time nor memory."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.guide.sighting_records import SightingRecord
from guidebuild.guide.sightings import FileCount, Tally
from guidebuild.later import imported_when_used
from guidebuild.reading.sighting_columns import find_columns
from guidebuild.reading.sighting_gathering import Gathering
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.sighting_records import Recorder
from guidebuild.reading.sighting_rows import RowReader
from guidebuild.reading.sighting_tables import open_table
from guidebuild.reading.sighting_totals import Ledger
from guidebuild.reading.table_errors import UnreadableTableError

with imported_when_used():
    from guidebuild.reading import archive_about


@dataclass(frozen=True, slots=True)
class SightingsReading:
    """What files of sightings say: tallies, what became of the rows of each file, and findings."""

    tallies: tuple[Tally, ...] = ()
    counts: tuple[FileCount, ...] = ()
    findings: tuple[Finding, ...] = ()


def read_records(folder: Path, guide: Guide) -> tuple[SightingRecord, ...]:
    """The rows of a guide's species, one by one in the order of their files; what is wrong with others a check has told."""
    recorder = Recorder(guide.settings.date_order, guide.settings.zone)
    read_sightings(folder, guide.sighting_files, guide, recorder)
    return tuple(recorder.records)


def read_sightings(folder: Path, files: Iterable[str], guide: Guide, recorder: Recorder | None = None) -> SightingsReading:
    """Read files of sightings (relative to the guide's folder). A `recorder` keeps the rows themselves.

    A row that cannot be used is told with its number (as a spreadsheet counts, the header is row 1); the rest counts.
    """
    names = tuple(files)
    gathering = Gathering(guide, recorder)
    findings: list[Finding] = []
    counts: list[FileCount] = []
    for number, file in enumerate(names):
        notes = SightingNotes(file)
        count = _read_file(folder / file, gathering, notes, number)
        counts.append(replace(count, unknown=tuple(notes.list_unknown())))
        findings += notes.findings()
    return SightingsReading(gathering.tallies(names), tuple(counts), tuple(findings))


def _read_file(path: Path, gathering: Gathering, notes: SightingNotes, number: int) -> FileCount:
    """What became of the rows of one file. What cannot be read at all is a finding."""
    ledger = Ledger(notes.file)
    reader = None
    if path.suffix.lower() == ".zip" and path.name not in gathering.words.data_sets and gathering.recorder is None:
        archive_about.tell_uncited(path, notes)
    try:
        with open_table(path, notes, gathering.words.sheets.get(path.name, "")) as table:
            columns = find_columns(table.header, notes, gathering.words)
            if columns is not None:
                reader = RowReader(gathering, columns, notes, ledger, number)
                reader.read(table)
    except OSError as trouble:
        notes.add("sightings-not-readable", f"The file cannot be opened: {trouble.strerror or trouble}", 0)
    except UnreadableTableError as trouble:
        notes.add("sightings-not-readable", str(trouble), 0, mend=trouble.mend)
    return ledger.close(reader.rows, reader.counted) if reader else ledger.close(0, 0)
