"""The command line: parse, call, print. What a command does stands in the rooms."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click
from rich.console import Console

from guidebuild import __version__, commands
from guidebuild.authoring import CannotWriteError, add_account, start_guide
from guidebuild.checks.sarif import as_sarif
from guidebuild.guide.findings import Level
from guidebuild.press.problems import PressError
from guidebuild.press.progress import progress_shown
from guidebuild.press.publish import OUTPUTS, Wishes, publish
from guidebuild.reading.schema import schemas
from guidebuild.session import CannotReadError, accounts_named, open_session, today
from guidebuild.terminal import findings as told
from guidebuild.terminal.publishing import print_published
from guidebuild.terminal.telling import print_comparison, print_key
from guidebuild.views.compare import compare_view
from guidebuild.views.key import key_view

FINE, FOUND, UNREADABLE = 0, 1, 2

GUIDE = click.argument("folder", type=click.Path(path_type=Path), default=".", metavar="[DIR]")
FORMAT = click.option("--format", "form", type=click.Choice(["text", "json", "sarif"]), default="text", help="How findings are written.")
IN = click.option("--in", "folder", type=click.Path(path_type=Path), default=".", metavar="DIR", help="The guide's folder.")


class Group(click.Group):
    """Lists commands in the order of a week's work, not of the alphabet."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Command names as they were added."""
        return list(self.commands)


def example(text: str) -> str:
    """The closing lines of a help page."""
    return f"Example:  {text}"


@click.group(cls=Group, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="guidebuild")
def main() -> None:
    """Turn checked species accounts into a website, printable field cards and episode scripts."""


@main.command(epilog=example("guidebuild start my_guide"))
@click.argument("folder", type=click.Path(path_type=Path), metavar="DIR")
def start(folder: Path) -> None:
    """Write a small guide to begin with into a new folder."""
    written = start_guide(folder)
    out = Console()
    for file in written.files:
        out.print(f"  {folder / file}", highlight=False)
    out.print(f"Next: guidebuild make {folder}", highlight=False)


@main.command(epilog=example('guidebuild account "Elasmucha grisea (Linnaeus, 1758)" --vernacular "Parent Bug"'))
@click.argument("name")
@click.option("--vernacular", default="", help="What people call it; also gives the file its name.")
@IN
def account(name: str, vernacular: str, folder: Path) -> None:
    """Add a draft account with every heading and every question to answer."""
    session = open_session(folder)
    written = add_account(folder, session.guide, name, vernacular=vernacular)
    Console().print(f"Written: {folder / written.files[0]}", highlight=False)


@main.command(epilog=example("guidebuild check my_guide --by rule"))
@GUIDE
@FORMAT
@click.option("--by", type=click.Choice(["account", "rule"]), default="account", help="How findings are grouped.")
@click.option("--fail-on", type=click.Choice([level.value for level in Level]), default="error", help="Exit with 1 from this level on.")
@click.option("--rules", "list_rules", is_flag=True, help="List every rule instead.")
def check(folder: Path, form: str, by: str, fail_on: str, list_rules: bool) -> int:
    """Say what is missing, wrong or contradictory, with file and line."""
    out = Console()
    if list_rules:
        told.print_rules(out, commands.rule_rows())
        return FINE
    session = open_session(folder)
    report = session.report
    if form == "text":
        if by == "account":
            told.print_by_account(out, report, session.titles)
        else:
            told.print_by_rule(out, report, {code: title for code, title, *_ in commands.rule_rows()})
        told.print_total(out, report)
    else:
        click.echo(told.json_text(told.as_json(report) if form == "json" else as_sarif(report, commands.rule_helps())))
    return FOUND if report.worst() >= Level(fail_on).weight else FINE


@main.command(epilog=example("guidebuild compare birch-shieldbug parent-bug"))
@click.argument("names", nargs=-1, required=True)
@IN
def compare(names: tuple[str, ...], folder: Path) -> None:
    """Say what tells two or more species apart, easiest first; any name will do."""
    guide = open_session(folder).guide
    print_comparison(Console(), compare_view(guide, accounts_named(guide, names)))


@main.command(epilog=example("guidebuild key --layout bracketed"))
@click.argument("names", nargs=-1)
@click.option("--layout", type=click.Choice(["indented", "bracketed"]), default="indented", help="How the leads stand.")
@click.option("--several", is_flag=True, help="Allow couplets with more than two leads.")
@IN
def key(names: tuple[str, ...], layout: str, several: bool, folder: Path) -> None:
    """Print the identification key of the whole guide, or of some of its species."""
    guide = open_session(folder).guide
    view = key_view(guide, dichotomous=not several, accounts=accounts_named(guide, names))
    print_key(Console(), view, layout=layout)


@main.command(epilog=example("guidebuild make my_guide cards scripts"))
@click.argument("words", nargs=-1, metavar="[DIR] [site cards scripts posts data]")
@click.option("--workers", type=click.IntRange(1, 64), default=None, help="Processes at work; without it one a core.")
@click.option("--quiet", is_flag=True, help="Say nothing but what went wrong.")
@click.option("--high-contrast", is_flag=True, help="Cards for bright sun: black, white, heavier lines.")
@click.option("--fail-on", type=click.Choice([level.value for level in Level]), default="error", help="Exit with 1 from this level on.")
def make(words: tuple[str, ...], workers: int | None, quiet: bool, high_contrast: bool, fail_on: str) -> int:
    """Publish the guide, all of it or some outputs, into its folder published/."""
    known = [name for name, _ in OUTPUTS]
    outputs = tuple(word for word in words if word in known)
    folders = [word for word in words if word not in known]
    if len(folders) > 1:
        raise click.UsageError(f"“{folders[1]}” is not an output. Known: {', '.join(known)}.")
    folder = Path(folders[0] if folders else ".")
    session = open_session(folder)
    console = Console(stderr=True, quiet=quiet)
    with progress_shown(console) as progress:
        wishes = Wishes(outputs, workers, high_contrast)
        published = publish(folder, session.publishable(), today=today(), progress=progress, wishes=wishes)
    print_published(Console(quiet=quiet), published, session.report, titles=session.titles, place=str(folder / "published"))
    failed = published.outcome is None or published.failed or session.report.worst() >= Level(fail_on).weight
    return FOUND if failed else FINE


@main.command(epilog=example("guidebuild schema account > account.schema.json"))
@click.argument("kind", required=False)
def schema(kind: str | None) -> None:
    """Print the JSON Schema of a kind of file, for editors; without a kind, list them."""
    known = schemas()
    if kind is None:
        click.echo("\n".join(known))
    elif kind in known:
        click.echo(told.json_text(known[kind]))
    else:
        raise click.UsageError(f"There is no schema “{kind}”. Known: {', '.join(known)}.")


def run(argv: list[str] | None = None) -> None:
    """Run the command line and leave with its exit code: 0 fine, 1 findings, 2 not readable."""
    sys.exit(exit_code(argv))


def exit_code(argv: list[str] | None = None) -> int:
    """Run a command and answer its exit code; whatever goes wrong is one line, never a traceback."""
    try:
        answer: Any = main.main(args=argv, prog_name="guidebuild", standalone_mode=False)
    except (CannotReadError, CannotWriteError, PressError) as error:
        click.echo(f"guidebuild: {error}", err=True)
        return UNREADABLE
    except click.ClickException as error:
        error.show()
        return UNREADABLE
    except click.Abort:
        click.echo("Stopped.", err=True)
        return UNREADABLE
    return answer if isinstance(answer, int) else FINE
