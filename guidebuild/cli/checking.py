"""Commands that say what is wrong or missing."""

from __future__ import annotations

from pathlib import Path

import click

from guidebuild.checks.sarif import as_sarif
from guidebuild.cli.options import FAIL_ON, FINE, FOUND, GUIDE, example
from guidebuild.guide.findings import Level
from guidebuild.reading.schema import make_schemas
from guidebuild.rules import gather_rules
from guidebuild.session import open_session
from guidebuild.terminal import findings as told
from guidebuild.terminal import make_console

FORMAT = click.option("--format", "form", type=click.Choice(["text", "json", "sarif"]), default="text", help="How findings are written.")


@click.command(epilog=example("guidebuild check my_guide --by rule"))
@GUIDE
@FORMAT
@click.option("--by", type=click.Choice(["account", "rule"]), default="account", help="How findings are grouped.")
@FAIL_ON
@click.option("--rules", "list_rules", is_flag=True, help="List every rule instead.")
def check(folder: Path, form: str, by: str, fail_on: str, list_rules: bool) -> int:
    """Say what is missing, wrong or contradictory, with file and line."""
    out = make_console()
    if list_rules:
        told.print_rules(out, gather_rules())
        return FINE
    session = open_session(folder)
    report = session.report
    if form != "text":
        click.echo(told.json_text(told.as_json(report) if form == "json" else as_sarif(report, gather_rules())))
    else:
        if by == "account":
            told.print_by_account(out, report, session.titles)
        else:
            told.print_by_rule(out, report, {rule.code: rule.title for rule in gather_rules()})
        told.print_total(out, report)
    return FOUND if report.worst() >= Level(fail_on).weight else FINE


@click.command(epilog=example("guidebuild schema account > account.schema.json"))
@click.argument("kind", required=False)
def schema(kind: str | None) -> None:
    """Print the JSON Schema of a kind of file, for editors; without a kind, list them."""
    known = make_schemas()
    if kind is None:
        click.echo("\n".join(known))
    elif kind in known:
        click.echo(told.json_text(known[kind]))
    else:
        raise click.UsageError(f"There is no schema “{kind}”. Known: {', '.join(known)}.")
