"""The command that learns how fast someone speaks."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from guidebuild.cli.options import FINE, FOUND, IN, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import authoring, session
    from guidebuild.fieldwork import published
    from guidebuild.speech import caption_files, codes, cues, timing
    from guidebuild.speech import pace as paces
    from guidebuild.terminal import console
    from guidebuild.terminal import speaking as lines
    from guidebuild.views.scripts import script as scripts


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
    guide = session.read_unchecked(folder)
    known = {view.id: view for view in scripts.make_script_views(published.make_published(guide))} if script_id or retime else {}
    if script_id and script_id not in known:
        raise click.UsageError(f"There is no script “{script_id}”. Known: {', '.join(list(known)[:6])} …")
    if retime and not script_id:
        raise click.UsageError("--retime needs --script.")
    captions = caption_files.read_captions(take.read_bytes(), file=take.name)
    script = known[script_id].script if script_id else None
    names, standing = [account.name.plain for account in guide.accounts.values()], timing.fill_pace(guide.settings.pace)
    fit = paces.fit_take(captions.cues, script, code=guide.settings.language, names=names, file=take.name, standing=standing)
    out = console.make_console()
    lines.print_fit(out, fit)
    # Captions take the times of the take, whatever pace can be learnt from it.
    unread = lines.print_findings(out, captions.findings)
    unfitted = lines.print_findings(out, fit.findings) and (save or not retime)
    failed = unread or unfitted
    if retime and not unread:
        failed |= not _retime(known[script_id], captions.cues, retime)
    if save and not failed:
        _save(folder, fit)
    return FOUND if failed else FINE


def _retime(view: scripts.ScriptView, cues: Sequence[cues.Cue], file: Path) -> bool:
    """Write a script's captions with a take's times; False where it is the take of something else."""
    out, made = console.make_console(), scripts.caption_view(view, cues)
    strange = [finding for finding in made.findings if finding.code == codes.TAKE_NOT_OF_SCRIPT.code]
    lines.print_findings(out, strange)
    if strange:
        return False
    file.write_text(made.subrip if file.suffix.lower() == ".srt" else made.webvtt, encoding="utf-8", newline="\n")
    out.print(f"Captions with the take's times: {file}", highlight=False, soft_wrap=True)
    return True


def _save(folder: Path, fit: paces.PaceFit) -> None:
    """Write a pace into guide.yaml where it is better than the one there; both errors are said in either case."""
    new, old = f"{fit.held_out:.1%}", f"{fit.standing_error:.1%}"
    if fit.is_better:
        authoring.save_pace(folder, fit.pace)
        message = f"Saved in {folder / 'guide.yaml'}: on parts held out the new pace is off by {new}, the one before by {old}."
    else:
        message = f"Not saved: on parts held out the new pace is off by {new}, the one that stands by {old}. Give a longer take."
    console.make_console().print(message, highlight=False, soft_wrap=True)
