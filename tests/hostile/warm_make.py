"""Starts real makes quickly, for the test that kills them: all that one imports is here already when it begins.

Reads lines with the words of a command, runs each in a process and session of its own, and answers two lines: its number, and
when it has ended its exit code, or minus the signal that ended it.
"""

from __future__ import annotations

import os
import sys

import guidebuild.cli.publishing
import guidebuild.press.outputs.data.output
import guidebuild.press.outputs.site.output  # noqa: F401 - to have it
from guidebuild.cli import run


def main() -> None:
    """One command after the other."""
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            os.setsid()
            os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
            os.dup2(2, 1)
            run(line.split())
        print(child, flush=True)
        _, status = os.waitpid(child, 0)
        print(os.waitstatus_to_exitcode(status), flush=True)


if __name__ == "__main__":
    main()
