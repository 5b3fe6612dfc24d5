"""One guide, read and checked, for the length of a command."""

from __future__ import annotations

import difflib
import gc
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

import click

from guidebuild.clock import find_today
from guidebuild.errors import SaidInOneLineError
from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.guide.resolve import find_account
from guidebuild.later import imported_when_used
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.reading.memory import Memory, NoMemory, is_worth_keeping
from guidebuild.reading.whole import GuideReading, read_guide, read_unlinted

with imported_when_used():  # most commands ask nothing of the checks; scripts are timed and drafted with much that few guides need
    from guidebuild import rules
    from guidebuild.checks import registry, rule_names
    from guidebuild.fieldwork import published
    from guidebuild.press import foreseen, foreseen_shop
    from guidebuild.press.engine import toolchain
    from guidebuild.press.theme import own_files
    from guidebuild.reading import kept_readings
    from guidebuild.views.posts import posted_facts
    from guidebuild.views.scripts import film_facts, script


class CannotReadError(SaidInOneLineError):
    """The guide cannot be read at all; the message says what stands in the way."""


@dataclass(frozen=True, slots=True)
class Session:
    """A guide and what the checks say of it. `folder` is where it stands."""

    folder: Path
    guide: Guide
    report: registry.Report

    @property
    def titles(self) -> dict[str, str]:
        """Account ids with the names shown for them."""
        return {a.id: a.vernacular or a.name.plain for a in self.guide.accounts.values()}

    def publishable(self) -> Guide:
        """The guide without the accounts that have an error: each is left out whole, the rest is published."""
        blocked = self.report.blocked()
        kept = {account_id: a for account_id, a in self.guide.accounts.items() if account_id not in blocked}
        left_out = tuple(account for account_id, account in self.guide.accounts.items() if account_id in blocked)
        return replace(self.guide, accounts=kept, unpublished=left_out)


def open_session(folder: Path, *, anew: bool = False) -> Session:
    """Read and check the guide in a folder; `anew`: nothing that an earlier command has kept of it is trusted.

    Raises CannotReadError where there is no guide, or its guide.yaml cannot be read.
    """
    must_be_guide(folder)
    with _cycles_let_be(), _recalled(folder, anew=anew) as memory:
        reading = read_guide(folder, as_of=find_today(), memory=memory)
    with _cycles_let_be():
        return check_reading(folder, reading)


def read_unchecked(folder: Path, *, with_sightings: bool = True) -> Guide:
    """The guide without what the checks say of it, which is all that most commands ask.

    Raises CannotReadError where there is no guide, or its guide.yaml cannot be read.
    """
    must_be_guide(folder)
    with _cycles_let_be(), _recalled(folder) as memory:
        reading = read_unlinted(folder, as_of=find_today(), memory=memory, with_sightings=with_sightings)
    if reading.guide is None:
        raise CannotReadError("\n".join(_lines(reading.findings)))
    return reading.guide


def read_for_draft(folder: Path) -> Guide:
    """The same without its sightings, of which a draft asks nothing."""
    return read_unchecked(folder, with_sightings=False)


def is_empty_folder(folder: Path) -> bool:
    """Whether a guide could be begun in a folder: nothing stands in it, or nothing but what is hidden."""
    return folder.is_dir() and all(path.name.startswith(".") for path in folder.iterdir())


@contextmanager
def _recalled(folder: Path, *, anew: bool = False) -> Iterator[Memory]:
    """What was read of a large guide before; for `anew`, nothing is read again from what is written there."""
    if anew or not is_worth_keeping(folder):
        yield NoMemory()
        return
    key_file = Path(click.get_app_dir("guidebuild")) / "readings.key"
    with kept_readings.kept_readings(folder, folder / WORKSHOP, key_file, toolchain.digest_tool_stamps()) as memory:
        yield memory


def must_be_guide(folder: Path) -> None:
    """Raises CannotReadError where there is no guide in a folder."""
    if not folder.is_dir():
        raise CannotReadError(f"{folder} is not a folder. Give the folder that holds guide.yaml.")
    if not (folder / "guide.yaml").is_file():
        raise CannotReadError(f"There is no guide.yaml in {folder}. Begin a guide with: guidebuild start {folder}")


def check_reading(folder: Path, reading: GuideReading, give_way: Callable[[], None] = lambda: None) -> Session:
    """A guide that has been read, with what the checks say of it; raises CannotReadError where it could not be read.

    `give_way` is called now and then, and may raise to end the checks.
    """
    if reading.guide is None:
        raise CannotReadError("\n".join(_lines(reading.findings)))
    guide = reading.guide
    unknown = rule_names.find_unknown_rules(guide, (rule.code for rule in rules.gather_rules()))
    give_way()
    found = (*reading.findings, *unknown, *_script_findings(guide), *own_files.find_theme_faults(folder), *_refused(folder, guide))
    return Session(folder, guide, registry.check_guide(guide, found, give_way=give_way))


@contextmanager
def _cycles_let_be() -> Iterator[None]:
    """A guide is hundreds of thousands of values that stay and hold no cycles: looking for some meanwhile takes a tenth of a check."""
    looking = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if looking:
            # Count all as old at once: else the first look after this goes through every value.
            gc.freeze()
            gc.unfreeze()
            gc.enable()


def _refused(folder: Path, guide: Guide) -> Iterator[Finding]:
    """What `make` would refuse."""
    cards = [(walk.card_format, walk.positions.get("card", walk.at)) for walk in guide.walks.values() if walk.card_format]
    photos = {photo.file: photo.at for photo in guide.photos.values() if photo.file in guide.photo_files}
    sounds = {sound.file: sound.where("file") for sound in guide.sounds.values() if sound.file in guide.sound_files}
    films = {film.file: film.where("file") for film in guide.films.values() if film.file in guide.film_files}
    yield from foreseen.find_refused(folder, guide.settings, cards, photos.items(), (sounds | films).items())
    if foreseen.is_for_shop(guide.settings):
        yield from foreseen_shop.find_refused_by_shop(folder, published.make_published(guide))


def _script_findings(guide: Guide) -> tuple[Finding, ...]:
    if not (guide.episodes or guide.films or guide.posted):
        return ()
    shown = published.make_published(guide)
    outdated = (*film_facts.find_outdated(shown, guide.films.values()), *posted_facts.find_outdated_posts(shown))
    return (*script.find_own_script_faults(shown), *outdated)


def accounts_named(guide: Guide, names: Sequence[str]) -> tuple[str, ...]:
    """Ids of the accounts meant by ids or names of any kind; raises CannotReadError naming the first that is not known."""
    named: list[str] = []
    for name in names:
        account = find_account(guide, name)
        if account is None:
            known = [*guide.accounts, *(a.vernacular for a in guide.accounts.values()), *(a.name.plain for a in guide.accounts.values())]
            near = difflib.get_close_matches(name, known, n=1)
            raise CannotReadError(f"There is no account “{name}”." + (f" Did you mean “{near[0]}”?" if near else ""))
        named.append(account.id)
    return tuple(dict.fromkeys(named))


def find_stage(guide: Guide, named: str) -> str:
    """The id of a life stage meant by its id or its word, of any group of the guide; raises CannotReadError if none is."""
    groups = [guide.stage_set(account) for account in guide.accounts.values()]
    known = dict.fromkeys(stage for group in groups for stage in group.stages)
    found = next((stage for stage, word in known if named.casefold() in (stage.casefold(), word.casefold())), "")
    if not found:
        listed = ", ".join(dict.fromkeys(stage if stage == word else f"{stage} ({word})" for stage, word in known))
        raise CannotReadError(f"There is no life stage “{named}”. The stages of this guide are: {listed}.")
    return found


def _lines(findings: tuple[Finding, ...]) -> list[str]:
    return ["guide.yaml cannot be read:", *(f"  {finding}" for finding in findings)]
