"""What a worker calls as it starts: notes which process it is."""

from __future__ import annotations

import os
import time
from pathlib import Path


def warm_up() -> None:
    """Note this process in the file that the test names."""
    with Path(os.environ["NOTED_IN"]).open("a", encoding="utf-8") as noted:
        noted.write(f"{os.getpid()}\n")
    time.sleep(0.3)  # none is ready before the next one is started
