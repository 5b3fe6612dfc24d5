"""A workbook's sheet → the table of its cells as a person would type them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from guidebuild.later import imported_when_used
from guidebuild.reading.archive_members import open_zip
from guidebuild.reading.table_errors import UnreadableTableError
from guidebuild.reading.tables import Table

with imported_when_used():  # most guides have no workbook
    import python_calamine

Cell = int | float | str | bool | dt.time | dt.date | dt.datetime | dt.timedelta


@contextmanager
def open_sheet(path: Path, wanted: str) -> Iterator[Table]:
    """The sheet of that name, or the first. Raises UnreadableTableError where there is none."""
    if path.suffix.lower() != ".xls":
        with open_zip(path):
            pass  # it holds nothing that would swell
    try:
        book = python_calamine.CalamineWorkbook.from_path(str(path))
        names = book.sheet_names
        if not names or (wanted and wanted not in names):
            raise UnreadableTableError(f"It has no sheet “{wanted}”", f"Its sheets are: {', '.join(names)}.")
        sheet = book.get_sheet_by_name(wanted or names[0])
        cells = iter(sheet.to_python(skip_empty_area=False))
    except (python_calamine.CalamineError, OSError) as trouble:
        raise UnreadableTableError("The workbook cannot be read", "Save it again, as .xlsx, .ods or CSV.") from trouble
    rows = ([_typed(cell) for cell in row] for row in cells)
    filled = ((number, row) for number, row in enumerate(rows, 1) if any(cell.strip() for cell in row))
    number, header = next(filled, (0, []))
    if not header:
        raise UnreadableTableError("The sheet is empty")
    yield Table(header, rows, number + 1)


def _typed(cell: Cell) -> str:
    """A cell as it would be typed: days and times after ISO 8601, whole numbers without a point."""
    if isinstance(cell, str):
        return cell
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    if isinstance(cell, dt.datetime):
        return cell.date().isoformat() if cell.time() == dt.time() else cell.isoformat(timespec="seconds")
    return cell.isoformat() if isinstance(cell, dt.date | dt.time) else str(cell)
