"""What was published before stays where it cannot be made anew: a slip costs a line, never a species.

The texts that a guide was last published from without an error are kept in its workshop. Where an account, an episode or a
record has an error now, what it said then goes into the guide instead, before anything is decided: so today's secrets are
kept from it as from all else, and every list, link, card and table still has it.
"""

from __future__ import annotations

import datetime as dt
import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath
from typing import TypeVar

from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import UNREADABLE, Place
from guidebuild.press.engine.durable import write_safely
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.reading.notes import Notes
from guidebuild.reading.photo_files import match_photos
from guidebuild.reading.secrecy_lines import is_of_secrecy
from guidebuild.reading.sightings import read_sightings
from guidebuild.reading.whole import read_guide
from guidebuild.session import Session

R = TypeVar("R")
_TEXTS = "published-texts"
_KEPT_FILES = (
    "*.yaml",
    "accounts/*.md",
    "episodes/*.md",
    "posts/*.md",
    "walks/*.yaml",
    "films/*.yaml",
    "films/*.vtt",
    "films/*.srt",
    "takes/*.vtt",
    "takes/*.srt",
)
_KEY = re.compile(r"^[\s\-{\"']*([^\W\d_]+)[\"']?\s*:", re.MULTILINE)
_ABOUT_SECRECY = ("secrecy-unclear", "unreadable-sensitivity")


@dataclass(frozen=True, slots=True)
class Kept:
    """An account that is published as it was, since when, and why."""

    account: str
    title: str
    since: dt.date
    why: str

    def __str__(self) -> str:
        """In a line for the author."""
        return f"{self.title} is kept from {_write_day(self.since)}: {self.why}"


@dataclass(frozen=True, slots=True)
class Standing:
    """A guide to publish, with what is kept in it and what is not."""

    guide: Guide
    kept: tuple[Kept, ...] = ()
    withheld: tuple[str, ...] = ()
    """Accounts that are not kept, as they may have become secret; in the author's words."""
    scripts: tuple[str, ...] = ()
    """What is said of own scripts with an error: each is kept as it was, or has nothing to be kept."""
    anyway: bool = False
    """Whether nothing was to be kept."""


def keep_standing(session: Session, *, anyway: bool = False) -> Standing:
    """The guide as it can be published, with what was published before where it has errors now; `anyway` keeps nothing."""
    errors = [finding for finding in session.report.findings if finding.level is Level.ERROR]
    today = session.publishable()
    texts = _texts_of(session.folder)
    if not errors:
        return Standing(today)
    # Where nothing was published before, nothing is kept; an episode's error costs the episode all the same.
    former = (read_guide(texts, as_of=today.as_of).guide if (texts / "guide.yaml").is_file() else None) or Guide(today.settings)
    if anyway:
        return Standing(today, anyway=True)
    return _Keeper(session, former, errors).keep(today)


class _Keeper:
    """Puts into a guide what it lacks of the former one."""

    def __init__(self, session: Session, former: Guide, errors: list[Finding]) -> None:
        self._session = session
        self._former = former
        self._errors = errors
        self._texts = _texts_of(session.folder)

    def keep(self, today: Guide) -> Standing:
        """The guide of today and what is kept in it."""
        faulty = {error.at.file for error in self._errors}
        # An episode's error costs the episode: its account is as it stands now.
        only_episodes = {
            account: self._session.guide.accounts[account]
            for account in self._session.report.blocked()
            if account in self._session.guide.accounts
            and all(error.at.file.startswith("episodes/") for error in self._errors if error.account == account)
        }
        accounts = self._in_order({**today.accounts, **only_episodes})
        episodes = {key: episode for key, episode in today.episodes.items() if f"episodes/{key}.md" not in faulty}
        guide = replace(today, accounts=accounts, episodes=episodes)
        return replace(self._with_accounts(self._with_records(guide)), scripts=tuple(self._tell_scripts(faulty)))

    def _tell_scripts(self, faulty: Collection[str]) -> Iterator[str]:
        for file in sorted(file for file in faulty if file.startswith("episodes/")):
            error = next(error for error in self._errors if error.at.file == file)
            kept = PurePosixPath(file).stem in self._former.episodes
            what = f"is kept from {_write_day(self._day_of(file))}" if kept else "is not published"
            yield f"{file} {what}: there is an error at {error.at}: {error.message}"

    def _with_records(self, guide: Guide) -> Guide:
        former, fill = self._former, self._with_former
        return replace(
            guide,
            plants=fill(former.plants, guide.plants),
            places=self._places(guide.places),
            characters=fill(former.characters, guide.characters),
            terms=fill(former.terms, guide.terms),
            sources=fill(former.sources, guide.sources),
            # Their files are those of today: in the workshop there are only texts.
            photos=fill(match_photos(former.photos, tuple(guide.photo_files), Notes()), guide.photos),
            films=fill(former.films, guide.films),
            sounds=fill(former.sounds, guide.sounds),
            walks=fill(former.walks, guide.walks),
            episodes=fill(former.episodes, guide.episodes),
        )

    def _with_accounts(self, guide: Guide) -> Standing:
        accounts, kept, withheld, closed = dict(guide.accounts), [], [], list(guide.unpublished)
        by_name = {account.name.plain: account for account in guide.accounts.values()}
        for account in self._former.accounts.values():
            if account.id in accounts:
                continue
            renamed = by_name.get(account.name.plain)
            if renamed and not (self._session.folder / account.at.file).exists():
                accounts[renamed.id] = replace(renamed, formerly=(*renamed.formerly, account.id))
            elif self._may_be_secret_now(account):
                withheld.append(_title(account))
                closed.append(replace(account, sensitivity=UNREADABLE))
            else:
                accounts[account.id] = account
                kept.append(Kept(account.id, _title(account), self._since(account), self._why(account)))
        whole = replace(guide, accounts=self._in_order(accounts), unpublished=tuple(closed))
        if kept:  # rows of an account that cannot be read have found none
            whole = replace(whole, sightings=read_sightings(self._session.folder, whole.sighting_files, whole).tallies)
        return Standing(whole, tuple(kept), tuple(withheld))

    def _in_order(self, accounts: Mapping[str, Account]) -> Mapping[str, Account]:
        """In the order of their files, as a guide without an error has them."""
        return dict(sorted(accounts.items(), key=lambda item: item[1].at.file))

    def _with_former(self, former: Mapping[str, R], today: Mapping[str, R]) -> Mapping[str, R]:
        return {**{key: record for key, record in former.items() if key not in today}, **today}

    def _places(self, today: Mapping[str, Place]) -> Mapping[str, Place]:
        """Former places too; where it is in doubt what is secret now, all that cannot be read is.

        Where there is no such doubt, a place with another slip is what it was.
        """
        unclear = any(error.code in _ABOUT_SECRECY and error.at.file == "places.yaml" for error in self._errors)
        if unclear or _more_secrecy(self._read("places.yaml"), self._read_former("places.yaml")):
            former = {key: replace(place, sensitivity=place.sensitivity or UNREADABLE) for key, place in self._former.places.items()}
            return self._with_former(former, today)
        sure = {key: place for key, place in today.items() if place.sensitivity != UNREADABLE or key not in self._former.places}
        return self._with_former(self._former.places, sure)

    def _may_be_secret_now(self, account: Account) -> bool:
        now = self._session.guide.accounts.get(account.id)
        if now is not None and now.sensitivity != account.sensitivity:
            return True
        return _more_secrecy(self._read(account.at.file), self._read_former(account.at.file))

    def _read(self, file: str) -> str:
        return _read_leniently(self._session.folder / file)

    def _read_former(self, file: str) -> str:
        return _read_leniently(self._texts / file)

    def _since(self, account: Account) -> dt.date:
        return self._day_of(account.at.file)

    def _day_of(self, file: str) -> dt.date:
        """The day on which a text was last published."""
        return dt.datetime.fromtimestamp((self._texts / file).stat().st_mtime, tz=dt.UTC).astimezone().date()

    def _why(self, account: Account) -> str:
        own = next((error for error in self._errors if account.id == error.account or error.at.file == account.at.file), None)
        if own is not None:
            return f"account {account.id} has an error at {own.at}: {own.message}"
        return f"{account.at.file} is gone, and nothing is taken away while there is an error at {self._errors[0].at}"


def remember_texts(session: Session, standing: Standing) -> None:
    """Keep the texts that were published, for the day when one of them has an error. What a disk refuses is not kept."""
    texts, faulty = _texts_of(session.folder), {f.at.file for f in session.report.findings if f.level is Level.ERROR}
    as_were = {account.account for account in standing.kept}
    now: dict[str, bytes | None] = {}
    for pattern in _KEPT_FILES:
        for path in session.folder.glob(pattern):
            file = path.relative_to(session.folder).as_posix()
            # Of what has an error the former text stays, if there is one.
            account = path.name.partition(".")[0] if file.startswith("accounts/") else ""
            left = file in faulty or (account and (account in as_were or account not in standing.guide.accounts))
            now[file] = None if left else _read_bytes(path)
    try:
        _write_texts(texts, now, keep_all=bool(faulty) and not standing.anyway)
    except OSError:
        return


def _write_texts(texts: Path, now: Mapping[str, bytes | None], *, keep_all: bool) -> None:
    for file, data in now.items():
        target = texts / file
        if data is not None and _read_bytes(target) != data:
            target.parent.mkdir(parents=True, exist_ok=True)
            write_safely(target, data)
    for path in () if keep_all else [path for pattern in _KEPT_FILES for path in texts.glob(pattern)]:
        if now.get(path.relative_to(texts).as_posix()) is None:
            path.unlink()


def _read_bytes(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None


def _read_leniently(path: Path) -> str:
    """A text in whatever encoding, as far as keys in plain letters go; nothing where it cannot be opened."""
    return (_read_bytes(path) or b"").replace(b"\0", b"").decode("utf-8", errors="replace").replace("\r", "\n")


def _more_secrecy(now: str, former: str) -> bool:
    """Whether a text has a line about secrecy that its former one had not."""
    return bool(_secrecy_lines(now) - _secrecy_lines(former))


def _secrecy_lines(text: str) -> Counter[str]:
    return Counter(line.strip() for line in text.splitlines() if any(map(is_of_secrecy, _KEY.findall(line))))


def _write_day(day: dt.date) -> str:
    return f"{day.day} {day:%B %Y}"


def _title(account: Account) -> str:
    return account.vernacular or account.name.plain


def _texts_of(folder: Path) -> Path:
    return folder / WORKSHOP / _TEXTS
