"""Commands that publish."""

from __future__ import annotations

import time
from pathlib import Path

import click
from rich.console import Console

from guidebuild.cli.options import FAIL_ON, FINE, FOUND, GUIDE, example
from guidebuild.guide.findings import Level
from guidebuild.keeping import keep_standing, remember_texts
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.press.engine.progress import Silence, progress_shown
from guidebuild.press.engine.unchanged import Checked
from guidebuild.press.engine.verify import verify_published
from guidebuild.press.preview.follow import Options
from guidebuild.press.preview.follow import preview as serve
from guidebuild.press.preview.server import Drawn, Note
from guidebuild.press.publish import MILD, Publication, Readiness, Wishes, expect_much, find_unchanged, publish
from guidebuild.press.table import OUTPUTS
from guidebuild.press.theme.sandbox import forget_templates
from guidebuild.press.theme.trust import trust_theme
from guidebuild.session import open_session, today
from guidebuild.terminal import make_console
from guidebuild.terminal.publishing import print_published, print_verified

PREVIEWED = "preview"
_TRUST = click.option(
    "--trust-theme",
    "trust",
    is_flag=True,
    help="Let the scripts of the guide's own theme run, as they are now; asked once for each change.",
)
_KNOWN = [output.name for output in OUTPUTS]


@click.command(epilog=example("guidebuild make my_guide cards scripts"))
@click.argument("words", nargs=-1, metavar=f"[DIR] [{' '.join(_KNOWN)}]")
@click.option("--workers", type=click.IntRange(1, 64), default=None, help="Processes at work; without it one a core.")
@click.option("--quiet", is_flag=True, help="Say nothing but what went wrong.")
@click.option("--high-contrast", is_flag=True, help="Cards for bright sun: black, white, heavier lines.")
@click.option("--anew", is_flag=True, help="Make everything again and trust nothing that was stored.")
@click.option("--verify", is_flag=True, help="Make nothing: read every published byte back and say what differs.")
@click.option("--anyway", is_flag=True, help="Take away what has errors or is no longer made, and list it; without it that stays.")
@_TRUST
@FAIL_ON
def make(  # noqa: PLR0913 - the options, each by its name
    words: tuple[str, ...],
    workers: int | None,
    *,
    quiet: bool,
    high_contrast: bool,
    anew: bool,
    verify: bool,
    anyway: bool,
    trust: bool,
    fail_on: str,
) -> int:
    """Publish the guide, all of it or some outputs, into its folder published/."""
    outputs = tuple(word for word in words if word in _KNOWN)
    folders = [word for word in words if word not in _KNOWN]
    if len(folders) > 1:
        raise click.UsageError(f"“{folders[1]}” is not an output. Known: {', '.join(_KNOWN)}.")
    folder = Path(folders[0] if folders else ".")
    if verify:
        return FINE if print_verified(make_console(quiet=quiet), verify_published(folder / "published")) else FOUND
    if trust:
        trust_theme(folder)
    wishes = Wishes(outputs, workers, high_contrast, begun=time.time_ns(), anyway=anyway, anew=anew)
    published, checked = (None if anew else _standing(folder, wishes)) or _published(folder, wishes, Console(stderr=True, quiet=quiet))
    print_published(make_console(quiet=quiet), published, checked, place=str(folder / "published"), anyway=anyway)
    return FOUND if published.failed or checked.worst >= Level(fail_on).weight else FINE


def _standing(folder: Path, wishes: Wishes) -> tuple[Publication, Checked] | None:
    """What stands already, where nothing has changed since it was published."""
    there = (folder / "guide.yaml").is_file() and (folder / "published").is_dir()
    return find_unchanged(folder, today=today(), wishes=wishes) if there else None


def _published(folder: Path, wishes: Wishes, console: Console) -> tuple[Publication, Checked]:
    """The guide read, checked and published."""
    expect_much(folder, wishes)
    session = open_session(folder)
    report, titles = session.report, session.titles
    standing = keep_standing(session, anyway=wishes.anyway)
    left_out = (titles.get(account, account) for account in sorted(report.blocked()) if account not in standing.guide.accounts)
    kept = (*map(str, standing.kept), *(f"{title} is not kept: it may have become secret." for title in standing.withheld))
    checked = Checked(tuple(left_out), report.count(Level.WARNING), report.worst(), kept)
    days = {one.account: one.since.isoformat() for one in standing.kept}
    readiness = Readiness(checked, days, bool(standing.withheld))
    with progress_shown(console) as progress:
        published = publish(folder, standing.guide, today=today(), progress=progress, wishes=wishes, readiness=readiness)
    if published.outcome is not None:
        remember_texts(session, standing)
    return published, checked


@click.command(epilog=example("guidebuild preview my_guide"))
@GUIDE
@click.option("--port", type=click.IntRange(0, 65535), help="A port of this machine; without it the first that is free.")
@_TRUST
def preview(folder: Path, port: int | None, *, trust: bool) -> None:
    """Show the pages on this machine and draw them anew while you write. Ctrl-C ends it."""
    open_session(folder)
    if trust:
        trust_theme(folder)
    place = folder / WORKSHOP / PREVIEWED
    out = make_console()
    out.print("Drawing the pages …")
    serve(
        folder,
        place / "site",
        lambda changed: _redrawn(folder, place),
        announce=lambda address: out.print(f"{address}  (Ctrl-C ends it)", highlight=False),
        options=Options(port=port),
    )


def _redrawn(folder: Path, place: Path) -> Drawn:
    """The pages drawn anew, and every finding for the page to show."""
    forget_templates()
    session = open_session(folder)
    # One process: starting others takes longer than one edit's pages.
    published = publish(
        folder, session.publishable(), today=today(), progress=Silence(), wishes=Wishes(("site",), 1, place=place, anyway=True)
    )
    notes = [Note(f.level.value, str(f.at), f"{f.message} {f.mend}".strip()) for f in session.report.findings]
    notes += [Note("warning" if p.what in MILD else "error", p.where, p.message) for p in (*published.leaks, *published.problems)]
    written = published.outcome.written if published.outcome else ()
    return Drawn(tuple(notes), tuple(path.removeprefix("site/") for path in written))
