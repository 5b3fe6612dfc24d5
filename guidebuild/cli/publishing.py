"""Commands that publish."""

from __future__ import annotations

from pathlib import Path

import click
from rich.console import Console

from guidebuild.cli.options import FAIL_ON, FINE, FOUND, example
from guidebuild.guide.findings import Level
from guidebuild.press.progress import progress_shown
from guidebuild.press.publish import OUTPUTS, Wishes, publish
from guidebuild.session import open_session, today
from guidebuild.terminal import console
from guidebuild.terminal.publishing import print_published

_KNOWN = [name for name, _ in OUTPUTS]


@click.command(epilog=example("guidebuild make my_guide cards scripts"))
@click.argument("words", nargs=-1, metavar=f"[DIR] [{' '.join(_KNOWN)}]")
@click.option("--workers", type=click.IntRange(1, 64), default=None, help="Processes at work; without it one a core.")
@click.option("--quiet", is_flag=True, help="Say nothing but what went wrong.")
@click.option("--high-contrast", is_flag=True, help="Cards for bright sun: black, white, heavier lines.")
@FAIL_ON
def make(words: tuple[str, ...], workers: int | None, quiet: bool, high_contrast: bool, fail_on: str) -> int:
    """Publish the guide, all of it or some outputs, into its folder published/."""
    outputs = tuple(word for word in words if word in _KNOWN)
    folders = [word for word in words if word not in _KNOWN]
    if len(folders) > 1:
        raise click.UsageError(f"“{folders[1]}” is not an output. Known: {', '.join(_KNOWN)}.")
    folder = Path(folders[0] if folders else ".")
    session = open_session(folder)
    with progress_shown(Console(stderr=True, quiet=quiet)) as progress:
        wishes = Wishes(outputs, workers, high_contrast)
        published = publish(folder, session.publishable(), today=today(), progress=progress, wishes=wishes)
    place = str(folder / "published")
    print_published(console(quiet=quiet), published, session.report, titles=session.titles, place=place)
    return FOUND if published.failed or session.report.worst() >= Level(fail_on).weight else FINE
