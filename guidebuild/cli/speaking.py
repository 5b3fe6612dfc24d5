"""The command that learns how fast someone speaks."""

from __future__ import annotations

from pathlib import Path

import click
from rich.table import Table

from guidebuild.authoring import save_pace
from guidebuild.cli.options import FINE, FOUND, IN, example
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.findings import Level
from guidebuild.session import open_session
from guidebuild.speech.caption_files import read_captions
from guidebuild.speech.pace import fit_take
from guidebuild.terminal import make_console
from guidebuild.views.scripts.script import caption_view, make_script_views


@click.command(epilog=example("guidebuild pace take-12.vtt --script parent-bug-full --save"))
@click.argument("take", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--script", "script_id", default="", metavar="ID", help="The script that was spoken, such as parent-bug-full.")
@click.option(
    "--retime", type=click.Path(path_type=Path), default=None, metavar="FILE", help="Write that script's captions with the take's times."
)
@click.option("--save", is_flag=True, help="Write the pace into guide.yaml.")
@IN
def pace(take: Path, script_id: str, retime: Path | None, save: bool, folder: Path) -> int:
    """Fit your pace to a recorded take (WebVTT or SubRip), and say how far to trust it."""
    guide = open_session(folder).guide
    known = {view.id: view for view in make_script_views(make_published(guide))} if script_id or retime else {}
    if script_id and script_id not in known:
        raise click.UsageError(f"There is no script “{script_id}”. Known: {', '.join(list(known)[:6])} …")
    if retime and not script_id:
        raise click.UsageError("--retime needs --script.")
    captions = read_captions(take.read_bytes(), file=take.name)
    script = known[script_id].script if script_id else None
    names = [account.name.plain for account in guide.accounts.values()]
    fit = fit_take(captions.cues, script, code=guide.settings.language, names=names, file=take.name)
    out = make_console()
    table = Table(box=None, show_header=False, pad_edge=False)
    for label, value in fit.describe().items():
        shown = ", ".join(f"{k} {v}" for k, v in value.items()) if isinstance(value, dict) else value
        table.add_row(label, ", ".join(map(str, shown)) if isinstance(shown, list) else str(shown))
    out.print(table)
    findings = [*captions.findings, *fit.findings]
    for finding in findings:
        out.print(str(finding), highlight=False, soft_wrap=True)
    failed = any(finding.level is Level.ERROR for finding in findings)
    if retime and not failed:
        made = caption_view(known[script_id], captions.cues)
        retime.write_text(made.subrip if retime.suffix.lower() == ".srt" else made.webvtt, encoding="utf-8", newline="\n")
        out.print(f"Captions with the take's times: {retime}", highlight=False, soft_wrap=True)
    if save and not failed:
        save_pace(folder, fit.pace)
        out.print(f"Saved in {folder / 'guide.yaml'}", highlight=False, soft_wrap=True)
    return FOUND if failed else FINE
