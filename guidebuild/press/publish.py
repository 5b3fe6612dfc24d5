"""Publishing: the guide's views through the press into `published/`, all of it or nothing."""

from __future__ import annotations

import datetime as dt
import logging
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from guidebuild.counting import count_of
from guidebuild.errors import SaidInOneLineError
from guidebuild.fieldwork.asked import ask_of
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.field_declaration import OutputName
from guidebuild.guide.findings import Level
from guidebuild.guide.guide import Guide
from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Progress
from guidebuild.press.engine.kept_problems import KeptProblems
from guidebuild.press.engine.maker import Maker
from guidebuild.press.engine.own_places import WORKSHOP, refuse_links_out
from guidebuild.press.engine.problems import NameRefusedError, PressError, Problem, Problems, gather_failures
from guidebuild.press.engine.staging import Staging
from guidebuild.press.engine.store import Store
from guidebuild.press.engine.unchanged import Checked, RunNote
from guidebuild.press.engine.workbench import Workbench
from guidebuild.press.leak_check import find_leaks, forget_what_was_looked_for, has_other_secrets, looks_anew
from guidebuild.press.photos.maker import PictureMaker
from guidebuild.press.publication import MILD, Publication, Wishes
from guidebuild.press.standing import digest_run_look, read_run
from guidebuild.press.table import LAST_LOOK, OUTPUTS, SHARE_OF_LAST_LOOK, TYPESETTING, Order, Output
from guidebuild.press.theme.folders import find_theme, has_own_theme, leads_out
from guidebuild.press.theme.sandbox import ThemeError
from guidebuild.press.theme.trust import close_page, has_closed_theme, tell_of_scripts

_LOG = logging.getLogger(__name__)
_TOLD = "problems.json"
_WITH_ROWS = (OutputName.DATA, OutputName.SITE)
_AT_THE_NEXT_TRY = ("failed", "no-typesetter")
"""What may be mended by something else than an edit of the guide."""
_FEW_ACCOUNTS = 10
"""What so many take is done before helpers have begun."""


@dataclass(frozen=True, slots=True)
class Readiness:
    """How the guide stood when it was read: what the checks said, and what of the last run is published again."""

    checked: Checked = field(default_factory=Checked)
    """What the checks said, for a later run that finds nothing changed."""
    kept_since: Mapping[str, str] = field(default_factory=dict)
    """Accounts that are published as they were before, each with the day from which it stands."""
    withheld: bool = False
    """Whether something is not kept, as it may have become secret: then nothing stays that is not made."""


def gather_crew(folder: Path, wishes: Wishes) -> Crew:
    """The crew for a run. Where much is to be made, as nothing of it stands, it gets ready while the guide is still being read."""
    chosen = _chosen(wishes)
    # Templates of a guide's own are filled in by processes of their own, whoever has sent them.
    crew = Crew(
        wishes.workers,
        (*(output.module for output in chosen), LAST_LOOK),
        warmed=(TYPESETTING,) if any(output.sets_type for output in chosen) else (),
        confined=has_own_theme(folder),
    )
    from_nothing = wishes.anew or not (wishes.place or folder / "published").exists()
    if crew.workers > 1 and from_nothing and sum(1 for _ in (folder / "accounts").glob("*.md")) > _FEW_ACCOUNTS:
        crew.begin()
    return crew


def publish(  # noqa: PLR0913 - where, what, when, for whom to see, and how
    folder: Path,
    guide: Guide,
    *,
    today: dt.date,
    progress: Progress,
    wishes: Wishes | None = None,
    readiness: Readiness | None = None,
    gathered: Crew | None = None,
) -> Publication:
    """Publish a guide into `folder/published` (or where it is wished); what was there stays until everything new stands beside it.

    `gathered` is a crew that was gathered before; it is at its end afterwards.

    Raises `PressError`, with one line for the author, where the disk refuses or another run is at work.
    """
    refuse_links_out(folder)
    asked, ready, problems, look = wishes or Wishes(), readiness or Readiness(), Problems(), digest_run_look(folder)
    store, chosen = Store(folder / WORKSHOP / "store"), _chosen_with(asked, guide, folder)
    # The crew is at its end before the staging is: no helper is left at work on what is put in place or taken away.
    with Staging(asked.place or folder / "published", anew=asked.anew) as staging, gathered or gather_crew(folder, asked) as crew:
        last = read_run(look, folder, staging.place, today, asked)
        if asked.anew:
            store.empty()
            forget_what_was_looked_for(folder, staging)
        bench = Workbench(store, crew, progress, problems, KeptProblems(folder / WORKSHOP / f"{staging.place.name}-{_TOLD}"))
        published, theme = make_published(guide), find_theme(folder)
        noting = ask_of(published)
        close = close_page if has_closed_theme(folder) else None
        problems.tell(*tell_of_scripts(folder))
        if any(output.name in _WITH_ROWS for output in chosen):
            problems.tell(*_tell_left_out_rows(published))
        progress.foresee([*(output.share for output in OUTPUTS if output in chosen), SHARE_OF_LAST_LOOK])
        for output in OUTPUTS:
            if output not in chosen:
                staging.keep_below(output.name)
                continue
            progress.begin_part()
            files = Files(staging, output.name, problems, close)
            maker, pictures = Maker(bench, files), PictureMaker(published, folder, bench, files)
            _publish_output(output, Order(published, noting, folder, today, theme, asked.high_contrast, files, maker, pictures, problems))
        if _has_errors(problems, ready) and not (asked.anyway or ready.withheld):
            for output in chosen:
                staging.let_stay(output.name)
        progress.begin_part()
        leaks = find_leaks(guide, folder, staging, crew, progress, published.told_positions())
        outcome = None if leaks else staging.publish(ready.kept_since)
        _tell_what_stays(staging, problems)
        bench.close()
    # What could not be made may be at the next try: such a run is not one to stand by.
    if outcome and not any(problem.what in _AT_THE_NEXT_TRY for problem in problems.all):
        last.remember(RunNote(problems.all, ready.checked))
    else:
        last.forget()
    hindrance = [Problem("store", WORKSHOP, store.hindrance)] if store.hindrance else []
    return Publication(outcome, (*gather_failures(problems.all), *hindrance), leaks)


def _tell_left_out_rows(guide: Published) -> Iterator[Problem]:
    for left_out in guide.rows_left_out:
        are = "is" if left_out.rows == 1 else "are"
        yield Problem("rows-left-out", left_out.file, f"{count_of(left_out.rows, 'row')} {are} not published: {left_out.why}")


def _has_errors(problems: Problems, ready: Readiness) -> bool:
    return ready.checked.worst >= Level.ERROR.weight or any(problem.what not in MILD for problem in problems.all)


def _tell_what_stays(staging: Staging, problems: Problems) -> None:
    if stayed := staging.stayed_paths():
        message = f"{len(stayed)} files that are no longer made stay as this run has errors; `guidebuild make --anyway` takes them away"
        problems.tell(Problem("stays", stayed[0] + (" and others" if len(stayed) > 1 else ""), message))


def makes_data(wishes: Wishes, guide: Guide, folder: Path) -> bool:
    """Whether a run publishes the rows of sightings, for which they must be read one by one: the site offers them too.

    They must be as well where those that stand are looked through again: which of their positions tell nothing, only the rows say.
    """
    place = wishes.place or folder / "published"
    stand = any((place / output.name).is_dir() for output in OUTPUTS if output.name in _WITH_ROWS)
    is_looked_through = stand and looks_anew(guide, folder, place)
    return is_looked_through or any(output.name in _WITH_ROWS for output in _chosen_with(wishes, guide, folder))


def _chosen(wishes: Wishes) -> tuple[Output, ...]:
    return tuple(output for output in OUTPUTS if output.name in wishes.name_outputs())


def _chosen_with(wishes: Wishes, guide: Guide, folder: Path) -> tuple[Output, ...]:
    """The outputs asked for; where other things are secret than when the others were made, those that stand too."""
    chosen, place = _chosen(wishes), wishes.place or folder / "published"
    if not has_other_secrets(guide, folder, place):
        return chosen
    return tuple(output for output in OUTPUTS if output in chosen or (place / output.name).is_dir())


def _publish_output(output: Output, order: Order) -> None:
    """One output; whatever goes wrong in it loses that output, not the others. A disk that refuses stops the run."""
    tell = order.problems.tell
    if leads_out(order.folder):
        tell(Problem("theme", "theme", "the theme is a link that leads out of the guide's folder; copy it into the guide"))
    try:
        output.publish(order)
    except ThemeError as error:
        tell(Problem("theme", output.name, str(error)))
    except SaidInOneLineError as error:
        if isinstance(error, PressError) and not isinstance(error, NameRefusedError):
            raise
        tell(Problem("failed", output.name, str(error)))
    except Exception as error:  # the others go on
        _LOG.debug("%s", output.name, exc_info=True)
        tell(Problem("failed", output.name, f"{output.name} could not be made ({type(error).__name__}: {error})"))
