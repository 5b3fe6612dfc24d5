"""Bounds on what one piece of work may take: time of the processor, and for strangers' templates memory and surroundings too.

A piece is asked to end by an error that Python raises when its time is up, which can say where in a template it was. Work
inside a library, where Python cannot raise anything, ends a little later with its process. Where a machine knows no such
timers, what bounds templates by itself (`theme/limits.py`) stays.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import FrameType

from guidebuild.errors import SaidInOneLineError

try:
    import resource
except ImportError:  # Windows has none
    resource = None  # type: ignore[assignment]

OWN_THEME_PATIENCE = 1.0
"""What a piece made with a guide's own templates may take, in its craft's seconds."""
PATIENCE = 10.0
"""What any other piece may take: these are our own templates, perhaps on a slow machine."""
MEMORY = 4 * 2**30
"""Bytes of addresses that a process may have which fills in templates of a guide's own."""
_GRACE = 1.4
"""How much later than the error the process is ended."""
_KEPT = frozenset(("LANG", "LANGUAGE", "TMPDIR", "TEMP", "TMP", "TZ", "SOURCE_DATE_EPOCH", "SYSTEMROOT", "PYTHONHASHSEED"))
_KEPT_ALL = ("LC_", "FONTCONFIG_")
_HAS_TIMERS = hasattr(signal, "setitimer")


class OverdueError(SaidInOneLineError):
    """A piece of work takes too long."""


def confine_process() -> None:
    """Leave this process nothing to tell of its surroundings, and only so much memory. There is no way back."""
    kept = {name: value for name, value in os.environ.items() if name in _KEPT or name.startswith(_KEPT_ALL)}
    # Fontconfig complains in the author's terminal where it knows no place for what it has found out about typefaces.
    kept["XDG_CACHE_HOME"] = os.environ.get("XDG_CACHE_HOME") or str(Path("~/.cache").expanduser())
    os.environ.clear()
    os.environ.update(kept)
    if resource is not None:
        with suppress(OSError, ValueError):  # macOS refuses: the step count stays
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


@contextmanager
def bounded_time(seconds: float, *, in_a_worker: bool) -> Iterator[None]:
    """Raise `OverdueError` in the block once it has used so many seconds of the processor.

    In a worker the process ends where that is not heard.
    """
    if not _HAS_TIMERS or threading.current_thread() is not threading.main_thread():
        yield
        return

    def tell(_number: int, _frame: FrameType | None) -> None:
        raise OverdueError(too_long(seconds))

    former = signal.signal(signal.SIGVTALRM, tell)
    try:
        # Once a second again: a library may have caught the error and gone on.
        signal.setitimer(signal.ITIMER_VIRTUAL, seconds, 1.0)
        if in_a_worker:
            signal.setitimer(signal.ITIMER_PROF, seconds * _GRACE + 1)
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGVTALRM, former)


def too_long(seconds: float) -> str:
    """Why a piece was given up."""
    return f"it took more than {seconds:g} s"


def explain_end(exit_code: int | None, seconds: float, *, confined: bool) -> str:
    """Why a process ended in the middle of a piece of work, as far as its exit code tells."""
    if _HAS_TIMERS and exit_code == -signal.SIGPROF:
        return too_long(seconds)
    if confined and resource is not None:
        return f"the process that made it ended without a word, perhaps as it needed more than {MEMORY // 2**30} GB of memory"
    return "the process that made it ended without a word, perhaps for want of memory"


def explain_error(error: Exception) -> str:
    """What a piece of work raised, for its author."""
    if isinstance(error, SaidInOneLineError):
        return str(error)
    if isinstance(error, MemoryError):
        return "it needed more memory than it may have"
    if isinstance(error, RecursionError):
        return "something in it contains or calls itself without end"
    return f"{type(error).__name__}: {error}"
