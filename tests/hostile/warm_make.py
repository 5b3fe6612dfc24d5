"""Starts real makes quickly, for the test that kills them: all that one imports is here already when it begins.

Reads lines with the words of a command, runs each in a process and session of its own, and answers two lines: its number, and
when it has ended its exit code, or minus the signal that ended it.
"""

from __future__ import annotations

import os
import sys

from guidebuild.cli import publishing, run
from guidebuild.press.outputs.data.output import publish_data
from guidebuild.press.outputs.site.output import publish_site
from guidebuild.terminal.publishing import print_published

WARMED = publishing.make, publishing.publish.publish, publishing.session.open_session, print_published, publish_data, publish_site
"""Modules that are imported when used are here only once they are used."""


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
