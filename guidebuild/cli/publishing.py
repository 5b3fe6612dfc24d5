"""Commands that publish."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

import click

from guidebuild.cli.options import FAIL_ON, FINE, FOUND, GUIDE, example
from guidebuild.guide.field_declaration import OutputName
from guidebuild.guide.findings import Level
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import clock, keeping, resident, session
    from guidebuild.press import host_files, publication, publish, standing
    from guidebuild.press.engine import crew as crews
    from guidebuild.press.engine import own_places, unchanged, web_copy
    from guidebuild.press.engine import progress as watching
    from guidebuild.press.engine import verify as reading_back
    from guidebuild.press.preview import follow
    from guidebuild.press.theme import trust
    from guidebuild.reading import sightings
    from guidebuild.terminal import console
    from guidebuild.terminal import publishing as lines
    from guidebuild.views.site import page

_TRUST = click.option(
    "--trust-theme",
    "trusted",
    is_flag=True,
    help="Let the scripts of the guide's own theme run, as they are now; asked once for each change.",
)
_KNOWN = [name.value for name in OutputName]


@click.command(epilog=example("guidebuild make my_guide cards scripts"))
@click.argument("words", nargs=-1, metavar=f"[DIR] [{' '.join(_KNOWN)}]")
@click.option("--workers", type=click.IntRange(1, 64), default=None, help="Processes at work; without it one a core.")
@click.option("--quiet", is_flag=True, help="Say nothing but what went wrong.")
@click.option("--high-contrast", is_flag=True, help="Cards for bright sun: black, white, heavier lines.")
@click.option("--anew", is_flag=True, help="Make everything again and trust nothing that was stored.")
@click.option("--verify", is_flag=True, help="Make nothing: read every published byte back and say what differs.")
@click.option("--anyway", is_flag=True, help="Take away what has errors or is no longer made, and list it; without it that stays.")
@click.option("--to", "copy_to", type=click.Path(path_type=Path), metavar="FOLDER", help="Copy the site into a folder for the web, too.")
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
    copy_to: Path | None,
    trusted: bool,
    fail_on: str,
) -> int:
    """Publish the guide, all of it or some outputs, into its folder published/."""
    outputs = tuple(word for word in words if word in _KNOWN)
    folders = [word for word in words if word not in _KNOWN]
    if len(folders) > 1:
        raise click.UsageError(f"“{folders[1]}” is not an output. Known: {', '.join(_KNOWN)}.")
    folder = Path(folders[0] if folders else ".")
    if verify:
        return (
            FINE if lines.print_verified(console.make_console(quiet=quiet), reading_back.verify_published(folder / "published")) else FOUND
        )
    if trusted:
        trust.trust_theme(folder)
    wishes = publication.Wishes(outputs, workers, high_contrast, begun=time.time_ns(), anyway=anyway, anew=anew)
    published, checked = (None if anew else _standing(folder, wishes)) or _published(folder, wishes, quiet=quiet)
    out = console.make_console(quiet=quiet)
    lines.print_published(out, published, checked, place=str(folder / "published"), anyway=anyway)
    if published.outcome is not None:
        lines.print_openings(out, folder / "published", outputs)
    if copy_to is not None and not published.failed:
        base = page.base_path(session.read_unchecked(folder).settings.address)
        copied = web_copy.copy_site(folder / "published", copy_to, host_files.make_host_files(base))
        lines.print_copied(out, copied, str(copy_to))
    return FOUND if published.failed or checked.worst >= Level(fail_on).weight else FINE


def _standing(folder: Path, wishes: publication.Wishes) -> tuple[publication.Publication, unchanged.Checked] | None:
    """What stands already, where nothing has changed since it was published."""
    there = (folder / "guide.yaml").is_file() and (folder / "published").is_dir()
    return standing.find_unchanged(folder, today=clock.find_today(), wishes=wishes) if there else None


def _published(folder: Path, wishes: publication.Wishes, *, quiet: bool) -> tuple[publication.Publication, unchanged.Checked]:
    """The guide read, checked and published."""
    with publish.gather_crew(folder, wishes) as crew:
        return _published_by(crew, folder, wishes, quiet=quiet)


def _published_by(
    crew: crews.Crew, folder: Path, wishes: publication.Wishes, *, quiet: bool
) -> tuple[publication.Publication, unchanged.Checked]:
    opened = session.open_session(folder, anew=wishes.anew)
    report, titles = opened.report, opened.titles
    stands = keeping.keep_standing(opened, anyway=wishes.anyway)
    left_out = (titles.get(account, account) for account in sorted(report.blocked()) if account not in stands.guide.accounts)
    kept = (
        *map(str, stands.kept),
        *(f"{title} is not kept: it may have become secret." for title in stands.withheld),
        *stands.scripts,
    )
    checked = unchanged.Checked(tuple(left_out), report.count(Level.WARNING), report.worst(), kept)
    guide = stands.guide
    if publish.makes_data(wishes, guide, folder):
        guide = replace(guide, records=sightings.read_records(folder, guide))
    days = {one.account: one.since.isoformat() for one in stands.kept}
    readiness = publish.Readiness(checked, days, bool(stands.withheld))
    with watching.progress_shown(console.make_progress_console(quiet=quiet)) as progress:
        today = clock.find_today()
        published = publish.publish(folder, guide, today=today, progress=progress, wishes=wishes, readiness=readiness, gathered=crew)
    if published.outcome is not None:
        keeping.remember_texts(opened, stands)
    return published, checked


@click.command(epilog=example("guidebuild preview my_guide"))
@GUIDE
@click.option("--port", type=click.IntRange(0, 65535), help="A port of this machine; without it the first that is free.")
@_TRUST
def preview(folder: Path, port: int | None, *, trusted: bool) -> None:
    """Show the pages on this machine and draw them anew while you write. Ctrl-C ends it."""
    session.must_be_guide(folder)
    own_places.refuse_links_out(folder)
    if trusted:
        trust.trust_theme(folder)
    out = console.make_console()
    out.print("Reading the guide …")

    def announce(address: str) -> None:
        out.print(f"{address}  (Ctrl-C ends it)", highlight=False)

    with resident.Resident(folder) as shown:
        follow.preview(folder, shown, announce=announce, options=follow.Options(port=port))
