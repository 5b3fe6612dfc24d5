"""What stands in the way of reading a table."""

from __future__ import annotations


class UnreadableTableError(Exception):
    """A file is no table; the message says why, `mend` what helps."""

    def __init__(self, message: str, mend: str = "") -> None:
        super().__init__(message)
        self.mend = mend
