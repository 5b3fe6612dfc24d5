"""Where on the desk a line of a file is seen to."""

from __future__ import annotations

import re
from collections.abc import Iterable
from urllib.parse import quote

from guidebuild.desk.controls import make_field_id
from guidebuild.desk.desk import Desk
from guidebuild.desk.guard import DESK
from guidebuild.desk.part import Part
from guidebuild.guide.findings import At

_WRITTEN = re.compile(r"(?P<file>[^:]+)(?::(?P<line>\d+))?(?::(?P<column>\d+))?")


def read_place(written: str) -> At | None:
    """A place as findings write it, `accounts/parent-bug.md:12:3`; None where it is none."""
    read = _WRITTEN.fullmatch(written)
    return At(read["file"], int(read["line"] or 0), int(read["column"] or 0)) if read else None


def find_address(desk: Desk, at: At, parts: Iterable[Part], *, key: str = "") -> str | None:
    """The page and field of the desk where this line is mended, or where a key is said that is not there yet; None where no part has it."""
    for part in parts:
        found = part.locate(desk, at) if part.locate else None
        if found is not None:
            page, mark, fragment = found.partition("#")
            mark, fragment = ("#", make_field_id((key,))) if key else (mark, fragment)
            return f"{DESK}{part.name}/{quote(page)}{mark}{quote(fragment)}"
    return None
