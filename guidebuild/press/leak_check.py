"""Looking through everything that is about to be published, by all helpers at once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from guidebuild.fieldwork.leaks import Secrets, positions_with, secrets_of
from guidebuild.fieldwork.telling_texts import find_telling_texts
from guidebuild.guide.guide import Guide
from guidebuild.later import imported_when_used
from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.jobs import Craft, Job, Progress, run_jobs
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.staging import Staging
from guidebuild.press.engine.store import NoStore
from guidebuild.press.engine.toolchain import digest_tools

with imported_when_used():  # opens PDFs, with libraries that a run which changes nothing has no use for
    from guidebuild.press import leak_scan

LOOK = Craft("file looked through", "files looked through", cost=3.0)
_LOOKED_FOR = "secrets-looked-for"
_NAMED = 3
"""So many places of one leak are named one by one."""
_TAG = re.compile(r"<[^<>]*>")


def find_leaks(  # noqa: PLR0913, PLR0917 - what is looked through, for what, and by whom
    guide: Guide, folder: Path, staging: Staging, crew: Crew, progress: Progress, told: frozenset[str] = frozenset()
) -> tuple[Problem, ...]:
    """What must stay secret and yet stands in a file that is about to be published.

    Files kept from the last run were looked through then; they are again only where what is secret, or how it is looked for, has
    changed. What stays though it is not made is looked through in any case, and is let go where
    it tells something, or where what is secret has changed. `told` are the positions of rows that were decided to tell nothing.
    """
    secrets = replace(secrets_of(guide), told=told)
    state = _state_of(folder, staging.place)
    now, known = _digest_what_is_looked_for(guide), _read_lines(state)
    if known[1:] != now[1:]:
        staging.let_go(staging.stayed_paths())
    paths = [*staging.added_paths(), *(staging.stayed_paths() if known == now else staging.kept_paths())]
    works = [leak_scan.LeakWork(path, staging.standing(path), held) for path in paths for held in (secrets, *hold_apart(guide, path))]
    jobs = (Job(LOOK, leak_scan.look_through, work, work.name, f"{number}") for number, work in enumerate(works))
    leaks: list[Problem] = []
    for result in run_jobs(jobs, NoStore(), crew, progress):
        if result.made.problems and result.job.where in staging.stayed_paths():
            staging.let_go([result.job.where])
        else:
            leaks += result.made.problems
    if leaks:
        return name_sources(guide, leaks)
    with suppress(OSError):  # without it the next run looks through everything
        state.write_text("\n".join(now), encoding="utf-8")
    return ()


def find_leaks_in(guide: Guide, path: str, content: bytes, told: frozenset[str]) -> tuple[Problem, ...]:
    """The same of one file that leaves the guide by itself."""
    secrets = replace(secrets_of(guide), told=told)
    return tuple(leak for held in (secrets, *hold_apart(guide, path)) for leak in leak_scan.file_leaks(path, content, held))


def hold_apart(guide: Guide, path: str) -> Iterator[Secrets]:
    """What a file must not tell for being of a sensitive species: a page, a card, a script or posts that carry the account's id."""
    parts = [part.partition(".")[0] for part in path.split("/")]
    for account in guide.accounts.values() if guide.keeps_secrets else ():
        if account.sensitivity and _carries(parts, account.id):
            longer = (other for other in guide.accounts if other != account.id and other.startswith(f"{account.id}-"))
            if not any(_carries(parts, other) for other in longer) and (held := _positions_with(guide, account.id)):
                yield held


def _carries(parts: list[str], ident: str) -> bool:
    return any(part == ident or part.startswith(f"{ident}-") for part in parts)


@lru_cache(maxsize=32)
def _positions_with(guide: Guide, account: str) -> Secrets:
    return positions_with(guide, guide.accounts[account])


def digest_hidden(guide: Guide) -> str:
    """What is kept secret: places, species with where they are, and spots of sightings."""
    places = [place for place in guide.places.values() if place.sensitivity]
    species = [account for account in (*guide.accounts.values(), *guide.unpublished) if account.sensitivity]
    spots = [(tally.account, tally.place, tally.spots) for tally in guide.sightings if tally.spots]
    named = [(a.id, a.vernacular, a.name, a.sensitivity, a.places, a.absent_from, a.photos) for a in species]
    return digest("hidden", places, named, spots)


def looks_anew(guide: Guide, folder: Path, place: Path) -> bool:
    """Whether what stands in a published folder will be looked through again: something else is looked for, or in another way."""
    return _read_lines(_state_of(folder, place)) != _digest_what_is_looked_for(guide)


def _digest_what_is_looked_for(guide: Guide) -> list[str]:
    """What is secret with how it is looked for; what is secret with what is public; what is secret."""
    hidden = digest_hidden(guide)
    public = guide.settings.region_box, guide.settings.public_positions
    secret = digest("secrets", list(guide.places.values()), hidden, public)
    return [digest(secret, digest_tools(__name__)), secret, hidden]


def has_other_secrets(guide: Guide, folder: Path, place: Path) -> bool:
    """Whether what stands in a published folder was made while something else was secret: no view of it was decided for today."""
    known = _read_lines(_state_of(folder, place))[2:]
    return bool(known) and known != [digest_hidden(guide)]


def _state_of(folder: Path, place: Path) -> Path:
    return folder / WORKSHOP / f"{place.name}-{_LOOKED_FOR}"


def name_sources(guide: Guide, leaks: Iterable[Problem]) -> tuple[Problem, ...]:
    """Leaks of finished files told where the author can mend them: at the texts of the guide with the same words, if there are any.

    One text stands in many files: it is told once, with the first of them.
    """
    telling = [(_bare_words(str(found.leak)), str(found.at)) for found in find_telling_texts(guide)]
    gathered: dict[tuple[str, str], list[Problem]] = {}
    for leak in leaks:
        words = _bare_words(leak.message)
        sources = list(dict.fromkeys(at for said, at in telling if words.startswith(said)))
        where = ", ".join(sources[:_NAMED]) + (f" and {len(sources) - _NAMED} more" if len(sources) > _NAMED else "")
        gathered.setdefault((where, words if where else f"{leak}"), []).append(leak)
    return tuple(_at_source(where, same) for (where, _), same in gathered.items())


def _at_source(where: str, same: list[Problem]) -> Problem:
    first = same[0]
    more = f" and in {len(same) - 1} more" if len(same) > 1 else ""
    return replace(first, where=where, message=f"{first.message} It would stand in {first.where}{more}.") if where else first


def _bare_words(message: str) -> str:
    """A leak's sentence without signs and tags: what was joined by a hyphen in a text may be joined by a tag on the page."""
    return " ".join(re.findall(r"\w+", _TAG.sub(" ", message).replace("_", " ")))


def forget_what_was_looked_for(folder: Path, staging: Staging) -> None:
    """Have every file looked through again."""
    with suppress(OSError):
        _state_of(folder, staging.place).unlink()


def _read_lines(state: Path) -> list[str]:
    try:
        return state.read_text(encoding="utf-8").split()
    except OSError:
        return []
