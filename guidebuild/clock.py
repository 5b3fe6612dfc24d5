"""The day on which a command runs."""

from __future__ import annotations

import datetime as dt
import os


def find_today() -> dt.date:
    """The day it is: SOURCE_DATE_EPOCH's where that is set (reproducible-builds.org), else the clock's."""
    given = os.environ.get("SOURCE_DATE_EPOCH", "")
    if given.isdigit():
        return dt.datetime.fromtimestamp(int(given), tz=dt.UTC).date()
    return dt.datetime.now(tz=dt.UTC).astimezone().date()
