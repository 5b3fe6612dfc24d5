"""The command line: parse, call, print. What a command does stands in the rooms.

Each command lives in a module of its own kind and is imported only when it is asked for, so that `check` does not wait for
what only `make` needs.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
from importlib import import_module
from types import FrameType
from typing import Any

import click

from guidebuild import __version__
from guidebuild.cli.options import FINE, STOPPED, UNREADABLE
from guidebuild.cli.plain_signs import print_plainly
from guidebuild.errors import SaidInOneLineError

COMMANDS = {
    "start": "guidebuild.cli.writing",
    "bring": "guidebuild.cli.writing",
    "account": "guidebuild.cli.writing",
    "episode": "guidebuild.cli.writing",
    "rename": "guidebuild.cli.writing",
    "mend": "guidebuild.cli.mending",
    "desk": "guidebuild.cli.desk",
    "check": "guidebuild.cli.checking",
    "make": "guidebuild.cli.publishing",
    "preview": "guidebuild.cli.publishing",
    "compare": "guidebuild.cli.telling",
    "key": "guidebuild.cli.telling",
    "season": "guidebuild.cli.outdoors",
    "walk": "guidebuild.cli.outdoors",
    "fieldlist": "guidebuild.cli.outdoors",
    "pace": "guidebuild.cli.speaking",
    "film": "guidebuild.cli.filming",
    "plan": "guidebuild.cli.outdoors",
    "posted": "guidebuild.cli.posting",
    "schema": "guidebuild.cli.checking",
    "explain": "guidebuild.cli.helping",
    "handbook": "guidebuild.cli.helping",
}
"""Commands in the order of a week's work, and the module that each stands in under its own name."""


_VALUES_BEFORE_CYCLES = 200_000
"""Nearly all that a command makes stays to its end: looking for what may go at every 700 values, as Python does, is in vain.
More than these let 170 MB of what printing leaves behind stand about."""


class Commands(click.Group):
    """The commands of the table."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the table's order."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """A command by its name, imported now."""
        module = COMMANDS.get(cmd_name)
        if module is None:
            return None
        found: click.Command = getattr(import_module(module), cmd_name)
        return found


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="guidebuild")
def main() -> None:
    """Turn checked species accounts into a website, printable field cards and timed scripts for episodes."""


def run(argv: list[str] | None = None) -> None:
    """Run the command line and leave with its exit code."""
    signal.signal(signal.SIGINT, _stop)
    print_plainly()
    gc.set_threshold(_VALUES_BEFORE_CYCLES, 50, 50)
    code = exit_code(argv)
    gc.freeze()  # at the end all goes: a last look for cycles in it takes longer than letting go of it
    sys.exit(code)


def _stop(number: int, frame: FrameType | None) -> None:
    """The first Ctrl-C lets what has begun come to its end; a second ends everything at once, which is safe at any moment."""
    signal.signal(signal.SIGINT, _stop_at_once)
    raise KeyboardInterrupt


def _stop_at_once(number: int, frame: FrameType | None) -> None:
    os.write(sys.stderr.fileno(), b"\nStopped.\n")
    os._exit(STOPPED)


def exit_code(argv: list[str] | None = None) -> int:
    """Run a command and answer its exit code; whatever goes wrong is said in a line, never a traceback."""
    try:
        answer: Any = main.main(args=argv, prog_name="guidebuild", standalone_mode=False)
    except SaidInOneLineError as error:
        click.echo(f"guidebuild: {error}", err=True)
        return UNREADABLE
    except click.ClickException as error:
        error.show()
        return UNREADABLE
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped.", err=True)
        return STOPPED
    except BrokenPipeError:
        # The reader of our lines has seen enough (`guidebuild check | head`); nothing is left to say to it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return UNREADABLE
    except OSError as error:
        place = f"{error.filename}: " if error.filename else ""
        click.echo(f"guidebuild: {place}{error.strerror or error}", err=True)
        return UNREADABLE
    return answer if isinstance(answer, int) else FINE
