"""Tables for others to use: CSV files, and Darwin Core archives of them."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable

from guidebuild.press.cells import write_cell
from guidebuild.views.data.darwin_core import Archive, meta_xml
from guidebuild.views.data.eml import FILE as ABOUT

_LONG_AGO = (1980, 1, 1, 0, 0, 0)  # the oldest date a zip file can hold: same guide, same bytes


def as_csv(rows: Iterable[tuple[str, ...]]) -> bytes:
    """Rows as CSV (RFC 4180) in UTF-8; a cell that a spreadsheet would run as a formula is made plain text."""
    written = io.StringIO(newline="")
    csv.writer(written, lineterminator="\r\n").writerows([write_cell(value) for value in row] for row in rows)
    return written.getvalue().encode()


def archive_file(archive: Archive) -> bytes:
    """A Darwin Core archive: its tables, meta.xml and eml.xml in one zip file."""
    files = {"meta.xml": meta_xml(archive)}
    if archive.about:
        files[ABOUT] = archive.about
    files |= {table.file: as_csv([table.columns, *(tuple(map(_one_line, row)) for row in table.rows)]) for table in archive.tables}
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as target:
        for name, content in files.items():
            info = zipfile.ZipInfo(name, _LONG_AGO)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.create_system, info.external_attr = 3, 0o644 << 16
            target.writestr(info, content)
    return written.getvalue()


def _one_line(value: str) -> str:
    """Line breaks inside a cell stop many readers of archives, so paragraphs are joined."""
    return " ".join(value.split())
