"""Whether all that a run would publish stands already. Little is imported here: nothing that reads a guide, and nothing that draws."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.own_places import refuse_links_out
from guidebuild.press.engine.staging import Staging
from guidebuild.press.engine.unchanged import Checked, LastRun, read_last_run
from guidebuild.press.publication import Publication, Wishes
from guidebuild.press.theme.look import digest_look
from guidebuild.press.theme.trust import has_closed_theme


def find_unchanged(folder: Path, *, today: dt.date, wishes: Wishes) -> tuple[Publication, Checked] | None:
    """What the last run published and told, where nothing that it depended on has changed since; else None.

    Nothing of the guide is read for it. Raises `PressError` as `publish` does.
    """
    refuse_links_out(folder)
    with Staging(wishes.place or folder / "published") as staging:
        note = read_run(digest_run_look(folder), folder, staging.place, today, wishes).recall() if staging.is_intact() else None
        return None if note is None else (Publication(staging.leave(), note.problems), note.checked)


def digest_run_look(folder: Path) -> str:
    """Digest of the tool, the theme and whether its scripts may run."""
    return digest(digest_look(folder), has_closed_theme(folder))


def read_run(look: str, folder: Path, place: Path, today: dt.date, wishes: Wishes) -> LastRun:
    """What is known of the last run of a guide into a place, where it had these wishes on this day."""
    return read_last_run(folder, place, wishes.begun, (look, today, wishes.name_outputs(), wishes.high_contrast, wishes.anyway))
