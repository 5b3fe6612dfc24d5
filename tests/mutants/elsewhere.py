"""What runs beside the first process (workers, commands that a test starts): its lines are noted, and a change is put in there too.

Such a process reads `hook/sitecustomize.py` before anything else, however it was started; it is told what to do by its environment.
"""

from __future__ import annotations

import ast
import contextlib
import os
import pickle
from collections.abc import Iterable, Iterator
from multiprocessing import forkserver
from pathlib import Path

import coverage
from coverage.exceptions import CoverageException

from tests.mutants.operators import ROOT
from tests.mutants.patching import module_name

_NOTE = "COVERAGE_PROCESS_START"
"""The name that coverage itself looks for."""
HOOK = Path(__file__).with_name("hook")
CONFIG = """
[run]
data_file = {folder}/lines
parallel = true
patch = _exit, fork
include = {files}
"""


class Elsewhere:
    """The other processes of the tests, by way of a folder that they write to and read from."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._files: tuple[str, ...] = ()
        os.environ["PYTHONPATH"] = os.pathsep.join(filter(None, (str(HOOK), os.environ.get("PYTHONPATH"))))

    def note_lines(self, files: Iterable[str]) -> None:
        """From now on, note which lines of these files run in other processes."""
        self._files = tuple(files)
        config = self._folder / "coverage.ini"
        config.write_text(CONFIG.format(folder=self._folder, files=", ".join(str(ROOT / f) for f in self._files)), encoding="utf-8")
        os.environ[_NOTE] = str(config)

    @property
    def noting(self) -> bool:
        """Whether lines are noted now."""
        return _NOTE in os.environ

    @contextlib.contextmanager
    def left_alone(self) -> Iterator[None]:
        """Note nothing in the block."""
        config = os.environ.pop(_NOTE)
        yield
        os.environ[_NOTE] = config

    def take_lines(self) -> Iterator[tuple[str, int]]:
        """The files and lines that ran in other processes since this was asked last; the workers' server is ended for it."""
        if forkserver._forkserver._forkserver_pid is not None:  # type: ignore[attr-defined]
            forkserver._forkserver._stop()  # type: ignore[attr-defined]
        for path in self._folder.glob("lines.*"):
            noted = coverage.CoverageData(str(path))
            with contextlib.suppress(CoverageException):  # its process may have been killed while it wrote
                noted.read()
                yield from [(file, line) for file in self._files for line in noted.lines(str(ROOT / file)) or ()]
            path.unlink()

    def stop_noting(self) -> None:
        """Note no more lines."""
        os.environ.pop(_NOTE, None)

    def put_in(self, file: str, changed: ast.Module) -> None:
        """Have every process that is started from now on import this file as changed."""
        path = self._folder / "changed.pickle"
        path.write_bytes(pickle.dumps((module_name(file), str(ROOT / file), changed)))
        os.environ["GUIDEBUILD_CHANGED"] = str(path)


def begin_anew() -> None:
    """After a fork: forget the server of workers of the process above, which is not ours and knows no change."""
    forkserver._forkserver.__init__()  # type: ignore[misc]
