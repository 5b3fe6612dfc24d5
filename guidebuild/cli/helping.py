"""Commands that say how things are written and what they mean."""

from __future__ import annotations

import webbrowser
from importlib import import_module
from pathlib import Path

import click

from guidebuild.cli.options import FINE, FOUND, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild.handbook import book, explaining
    from guidebuild.terminal import console
    from guidebuild.terminal import explaining as told

_EXAMPLE = "Example:  "


@click.command(epilog=example("guidebuild explain measured"))
@click.argument("word", nargs=-1, required=True)
def explain(word: tuple[str, ...]) -> int:
    """Say what a key, a rule, a word of the trade or a command means, and how it is written.

    WORD may be a key of any file (measured), with what leads to it (diagnostics at) or with its file (photos licence); the word in
    square brackets at the end of a finding (no-pointer); or a word of the handbook.
    """
    out = console.make_console()
    found = explaining.explain_word(" ".join(word), list_commands())
    told.print_explained(out, " ".join(word), found)
    return FOUND if found.is_empty else FINE


@click.command(epilog=example("guidebuild handbook"))
@click.option("--to", "folder", type=click.Path(path_type=Path), help="A folder for its pages, in place of one of the tool's own.")
@click.option("--no-browser", is_flag=True, help="Only write the pages and say where they are; open no browser.")
def handbook(folder: Path | None, *, no_browser: bool) -> None:
    """Open the handbook in the browser: the first hour, the weekly round, every key and every rule. It needs no network."""
    out = console.make_console()
    home = folder or Path(click.get_app_dir("guidebuild")) / "handbook"
    first = book.write_book(home, list_commands())
    book.write_typefaces(home)
    out.print(f"{first}", highlight=False, soft_wrap=True)
    if not no_browser:
        webbrowser.open(first.resolve().as_uri())


def list_commands() -> tuple[explaining.CommandTold, ...]:
    """Every command with its help, as the handbook tells it."""
    table = import_module("guidebuild.cli").COMMANDS
    return tuple(_tell(name, getattr(import_module(module), name)) for name, module in table.items())


def _tell(name: str, command: click.Command) -> explaining.CommandTold:
    context = click.Context(command, info_name=f"guidebuild {name}")
    options = [
        (_typed(option, context), option.help or "") for option in command.params if isinstance(option, click.Option) and not option.hidden
    ]
    help_text = "\n\n".join(" ".join(part.split()) for part in (command.help or "").split("\n\n"))
    usage = f"guidebuild {name} {' '.join(command.collect_usage_pieces(context))}"
    return explaining.CommandTold(name, help_text, usage, tuple(options), (command.epilog or "").removeprefix(_EXAMPLE))


def _typed(option: click.Option, context: click.Context) -> str:
    return " ".join(filter(None, ["/".join(option.opts), "" if option.is_flag else option.make_metavar(context)]))
