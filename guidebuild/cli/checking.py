"""Commands that say what is wrong or missing."""

from __future__ import annotations

from pathlib import Path

import click

from guidebuild.cli.options import FAIL_ON, FINE, FOUND, GUIDE, example
from guidebuild.guide.findings import Level
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import editor_schemas, rules, session
    from guidebuild.checks import sarif
    from guidebuild.press import online as on_web
    from guidebuild.press.engine import web_copy
    from guidebuild.reading import schema as schemas
    from guidebuild.terminal import console, findings, publishing

FORMAT = click.option("--format", "form", type=click.Choice(["text", "json", "sarif"]), default="text", help="How findings are written.")


@click.command(epilog=example("guidebuild check my_guide --by rule"))
@GUIDE
@FORMAT
@click.option("--by", type=click.Choice(["account", "rule"]), default="account", help="How findings are grouped.")
@FAIL_ON
@click.option(
    "--online",
    metavar="FOLDER|ADDRESS",
    help="Compare what stands there with the site as it was made here, and change nothing.",
)
@click.option("--rules", "list_rules", is_flag=True, help="List every rule instead.")
def check(folder: Path, form: str, by: str, fail_on: str, online: str | None, *, list_rules: bool) -> int:  # noqa: PLR0913 (the options, each by its name)
    """Say what is missing, wrong or contradictory, with file and line."""
    out = console.make_console()
    if list_rules:
        findings.print_rules(out, rules.gather_rules())
        return FINE
    if online is not None:
        return _compare_online(folder, online)
    opened = session.open_session(folder)
    report = opened.report
    editor_schemas.refresh_schemas(folder, opened.guide)
    if form != "text":
        made = findings.as_json(report, opened.guide.sighting_counts) if form == "json" else sarif.as_sarif(report, rules.gather_rules())
        click.echo(findings.json_text(made))
    else:
        if by == "account":
            findings.print_by_account(out, report, opened.titles)
        else:
            findings.print_by_rule(out, report, {rule.code: rule.title for rule in rules.gather_rules()})
        findings.print_more(out, report)
        findings.print_counts(out, opened.guide.sighting_counts)
        findings.print_total(out, report)
    return FOUND if report.worst() >= Level(fail_on).weight else FINE


def _compare_online(folder: Path, place: str) -> int:
    session.must_be_guide(folder)
    site = web_copy.list_site(folder / "published")
    compared = on_web.compare_address(site, place) if "://" in place else on_web.compare_folder(site, Path(place))
    return FINE if publishing.print_compared(console.make_console(), compared, place) else FOUND


@click.command(epilog=example("guidebuild schema --write --in my_guide"))
@click.argument("kind", required=False)
@click.option("--in", "folder", type=click.Path(path_type=Path), help="A guide whose own ids and words are the only ones taken.")
@click.option("--write", is_flag=True, help="Write all schemas into the guide's folder, and into its YAML files where editors find them.")
def schema(kind: str | None, folder: Path | None, *, write: bool) -> None:
    """Print the JSON Schema of a kind of file, for editors; without a kind, list them."""
    if write:
        place = folder or Path()
        for file in editor_schemas.write_schemas(place, session.read_unchecked(place)):
            console.make_console().print(f"Written: {place / file}", highlight=False, soft_wrap=True)
        return
    known = schemas.make_schemas(schemas.list_known(session.read_unchecked(folder)) if folder else None)
    if kind is None:
        click.echo("\n".join(known))
    elif kind in known:
        click.echo(findings.json_text(known[kind]))
    else:
        raise click.UsageError(f"There is no schema “{kind}”. Known: {', '.join(known)}.")
