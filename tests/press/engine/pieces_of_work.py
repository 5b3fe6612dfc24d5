"""Functions that jobs of the tests name; in a module of their own, so that worker processes can import them."""

import gc
import os
import signal
import time
from contextlib import suppress
from pathlib import Path

from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem


def double(payload: object) -> Made:
    return Made((str(payload).encode() * 2,))


def note(payload: object) -> Made:
    """Adds a line to a file for each call, so that tests can count."""
    assert isinstance(payload, tuple)
    path, text = payload
    with Path(path).open("a") as file:
        file.write(f"{text}\n")
    return Made((text.encode(), b"second"), (Problem("soft-print", text, "looks soft"),))


def note_slowly(payload: object) -> Made:
    """Takes a while for each call, so that others wait."""
    time.sleep(0.05)
    return note(payload)


def fail(payload: object) -> Made:
    raise ValueError(f"no {payload}")


def die(payload: object) -> Made:
    os._exit(9)


def process(payload: object) -> Made:
    return Made((str(os.getpid()).encode(),))


def read_file(payload: object) -> Made:
    """What a file or the files of a folder hold."""
    assert isinstance(payload, Path)
    return Made((b"".join(path.read_bytes() for path in sorted(payload.iterdir())) if payload.is_dir() else payload.read_bytes(),))


def fail_while_it_stands(payload: object) -> Made:
    """Fails for as long as a file is there."""
    assert isinstance(payload, str)
    if Path(payload).exists():
        raise ValueError("no room")
    return Made((b"made at last",))


def surroundings(payload: object) -> Made:
    """The names of what the process is told of the machine."""
    return Made((" ".join(sorted(os.environ)).encode(),))


def habits(payload: object) -> Made:
    """When this process looks for cycles, whether the modules are left out of that, whether it hears Ctrl-C; what ends it in the end."""
    deaf = signal.getsignal(signal.SIGINT) is signal.SIG_IGN
    return Made((f"{gc.get_threshold()} {gc.get_freeze_count() > 0} {deaf} {round(signal.getitimer(signal.ITIMER_PROF)[0])}".encode(),))


def fill_memory(payload: object) -> Made:
    return Made((b"x" * (64 * 2**30),))


def work_on(payload: object) -> Made:
    """Works without end where Python can be heard."""
    while True:
        pass


def work_in_a_library(payload: object) -> Made:
    """Works without end, as far as anyone would wait, where Python hears nothing."""
    return Made((str(sum(range(10**12))).encode(),))


def work_on_deaf(payload: object) -> Made:
    """Works without end and takes no notice of errors."""
    while True:
        with suppress(Exception):
            work_on(payload)
