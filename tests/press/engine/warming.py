"""What a worker calls as it starts: notes which process it is."""

from __future__ import annotations

import os
from pathlib import Path


def warm_up() -> None:
    """Note this process in the file that the test names."""
    with Path(os.environ["NOTED_IN"]).open("a", encoding="utf-8") as noted:
        noted.write(f"{os.getpid()}\n")
