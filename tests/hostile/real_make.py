"""The real command in processes of its own, and what stands on the disk afterwards."""

from __future__ import annotations

import hashlib
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import pytest

REPOSITORY = Path(__file__).parents[2]
LONGEST = 120.0
"""Seconds after which something must have gone wrong."""
_A_MOMENT = 0.005

Process = subprocess.Popen[Any]


def command(guide: Path, *words: str) -> list[str]:
    """A make that says nothing but what went wrong."""
    return [sys.executable, "-m", "guidebuild", "make", str(guide), *words, "--quiet"]


def made(guide: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """A make from its start to its end."""
    return subprocess.run(command(guide, *words), check=False, capture_output=True, text=True, cwd=REPOSITORY, timeout=LONGEST)


@contextmanager
def running(arguments: list[str], **options: Any) -> Iterator[Process]:
    """A command at work in a session of its own; whatever is left of it at the end is killed."""
    told: dict[str, Any] = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "text": True, "cwd": REPOSITORY, **options}
    with subprocess.Popen(arguments, start_new_session=True, **told) as process:
        try:
            yield process
        finally:
            with suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)


def until(condition: Callable[[], object], process: Process) -> None:
    """Wait until a condition holds; the process must not end before."""
    for _ in range(round(LONGEST / _A_MOMENT)):
        if condition():
            return
        with suppress(subprocess.TimeoutExpired):
            process.wait(_A_MOMENT)
            break
    assert condition(), f"it never came to that: exit code {process.returncode}"


def until_all_ended(leader: int) -> None:
    """Wait until no process of a session is left; one that is still importing when its parent dies looks up a moment later."""
    for _ in range(round(LONGEST / _A_MOMENT)):
        if not session(leader):
            return
        time.sleep(_A_MOMENT)
    assert session(leader) == []


def holder(guide: Path) -> int:
    """The process that wrote itself beside the lock; 0 where none did."""
    with suppress(OSError, ValueError):
        return int((guide / ".guidebuild/published.holder").read_text())
    return 0


def fingerprint(folder: Path) -> dict[str, str]:
    """Every file below a folder, with its digest."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


def session(number: int) -> list[int]:
    """The processes at work in a session, those that have ended and were not yet fetched left out."""
    if not Path("/proc/self/stat").exists():
        pytest.skip("processes are told by /proc, which this system has not")
    found = []
    for place in Path("/proc").glob("[0-9]*"):
        with suppress(OSError):
            state = (place / "stat").read_text().rpartition(")")[2].split()
            if int(state[3]) == number and state[0] != "Z":
                found.append(int(place.name))
    return found


def in_one_line(told: str) -> str:
    """What was said, which must be one line and no traceback."""
    assert "Traceback" not in told
    assert told.count("\n") == 1, told
    return told.strip()
