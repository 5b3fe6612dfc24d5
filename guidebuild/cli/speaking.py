"""The command that learns how fast someone speaks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

import click
from rich.console import Console
from rich.table import Table

from guidebuild.authoring import save_pace
from guidebuild.cli.options import FINE, FOUND, IN, example
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.findings import Finding, Level
from guidebuild.session import open_session
from guidebuild.speech.caption_files import read_captions
from guidebuild.speech.codes import TAKE_NOT_OF_SCRIPT
from guidebuild.speech.cues import Cue
from guidebuild.speech.pace import PaceFit, fit_take
from guidebuild.speech.timing import fill_pace
from guidebuild.terminal import make_console
from guidebuild.views.scripts.script import ScriptView, caption_view, make_script_views


@click.command(epilog=example("guidebuild pace take-12.vtt --script parent-bug-full --save"))
@click.argument("take", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--script", "script_id", default="", metavar="ID", help="The script that was spoken, such as parent-bug-full.")
@click.option(
    "--retime", type=click.Path(path_type=Path), default=None, metavar="FILE", help="Write that script's captions with the take's times."
)
@click.option("--save", is_flag=True, help="Write the pace into guide.yaml, where it is better than the one there.")
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
    names, standing = [account.name.plain for account in guide.accounts.values()], fill_pace(guide.settings.pace)
    fit = fit_take(captions.cues, script, code=guide.settings.language, names=names, file=take.name, standing=standing)
    out = make_console()
    _print_fit(out, fit)
    # Captions take the times of the take, whatever pace can be learnt from it.
    unread = _print_findings(out, captions.findings)
    unfitted = _print_findings(out, fit.findings) and (save or not retime)
    failed = unread or unfitted
    if retime and not unread:
        failed |= not _retime(out, known[script_id], captions.cues, retime)
    if save and not failed:
        _save(out, folder, fit)
    return FOUND if failed else FINE


def _print_fit(out: Console, fit: PaceFit) -> None:
    table = Table(box=None, show_header=False, pad_edge=False)
    for label, value in fit.describe().items():
        shown = ", ".join(f"{k} {v}" for k, v in value.items()) if isinstance(value, dict) else value
        table.add_row(label, ", ".join(map(str, shown)) if isinstance(shown, list) else str(shown))
    out.print(table)


def _print_findings(out: Console, findings: Iterable[Finding]) -> bool:
    """Print them; whether one is an error."""
    listed = list(findings)
    for finding in listed:
        out.print(str(finding), highlight=False, soft_wrap=True)
    return any(finding.level is Level.ERROR for finding in listed)


def _retime(out: Console, view: ScriptView, cues: Sequence[Cue], file: Path) -> bool:
    """Write a script's captions with a take's times; False where it is the take of something else."""
    made = caption_view(view, cues)
    strange = [finding for finding in made.findings if finding.code == TAKE_NOT_OF_SCRIPT.code]
    _print_findings(out, strange)
    if strange:
        return False
    file.write_text(made.subrip if file.suffix.lower() == ".srt" else made.webvtt, encoding="utf-8", newline="\n")
    out.print(f"Captions with the take's times: {file}", highlight=False, soft_wrap=True)
    return True


def _save(out: Console, folder: Path, fit: PaceFit) -> None:
    """Write a pace into guide.yaml where it is better than the one there; both errors are said in either case."""
    new, old = f"{fit.held_out:.1%}", f"{fit.standing_error:.1%}"
    if fit.is_better:
        save_pace(folder, fit.pace)
        message = f"Saved in {folder / 'guide.yaml'}: on parts held out the new pace is off by {new}, the one before by {old}."
    else:
        message = f"Not saved: on parts held out the new pace is off by {new}, the one that stands by {old}. Give a longer take."
    out.print(message, highlight=False, soft_wrap=True)
