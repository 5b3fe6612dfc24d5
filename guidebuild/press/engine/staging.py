"""Publishing a whole folder at once: built beside the old one, then put in its place in a single step.

A kill at any moment leaves the former output or the new one, never a mix.  Only where a few files of thousands have
changed are they replaced by themselves (`few_files.py`); a kill just then leaves a note, by which the next run first
finishes that.  A list in the published folder says which files are ours; all others belong to the author and are carried
over as they are.  Files that have not changed are linked, not written, and when nothing has changed nothing is touched.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterable, KeysView, Mapping, Sequence
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from guidebuild.press.engine.claims import Claims
from guidebuild.press.engine.coming import Coming
from guidebuild.press.engine.digest import digest_bytes, digest_file
from guidebuild.press.engine.durable import sync_folder, sync_tree
from guidebuild.press.engine.few_files import Change, Replacing, finish_replacing, replace_few_files, suits_few_files
from guidebuild.press.engine.former import Former, Noted, read_former, read_notes, read_stamp, write_notes
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.press.engine.piecemeal import NOT_AS_A_WHOLE, replace_one_by_one
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.retire import retire_files
from guidebuild.press.engine.swap import only_one, put_back, put_in_place, told_in_one_line
from guidebuild.press.engine.trees import MANIFEST, ON_ITS_WAY, OwnList, read_list

_STATE = "published.json"
_NOTE = "replacing.json"


def has_begun_replacing(published: Path) -> bool:
    """Whether a run that ended midway has left a folder in which some files are new and others not yet."""
    place = published.resolve()
    return (place.parent / WORKSHOP / f"{place.name}-{_NOTE}").exists()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a run changed."""

    written: tuple[str, ...]
    """Files that are new or have other bytes than before."""
    kept: int
    """Files that are as they were."""
    removed: tuple[str, ...]
    """Files of ours that are no longer made."""
    set_aside: tuple[Path, ...] = ()
    """The author's own files that could not be carried over, and where they are now."""
    at_once: bool = True
    """False where the folder is a disk of its own, and many files were exchanged one by one."""


class Staging:
    """One run of publishing; use as a context, call `publish` at its end, or leave without and nothing has happened.

    Every method raises `PressError`, with one line for the author, when the disk refuses, and those that take a path
    `NameRefusedError` where nothing can be published there.
    """

    def __init__(self, published: Path, *, anew: bool = False) -> None:
        """`anew`: nothing that stands is trusted to be as it was left; files whose bytes are right stay all the same."""
        self._anew = anew
        self._place = published.resolve()
        self._workshop = self._place.parent / WORKSHOP
        self._coming = Coming(self._workshop / f"{self._place.name}.coming", self._place)
        self._gone = self._workshop / f"{self._place.name}.former"
        self._exits = ExitStack()
        self._scratch = self._workshop / f"{self._place.name}.scratch"
        self._replacing = Replacing(
            self._place, self._coming.tree, self._workshop / f"{self._place.name}.replaced", self._workshop / f"{self._place.name}-{_NOTE}"
        )
        self._listed: OwnList | None = None
        self._former: dict[str, Former] = {}
        self._kept: dict[str, tuple[str, str | None]] = {}
        self._added: dict[str, tuple[str, str | None]] = {}
        self._noted: Noted = {}
        self._stayed: dict[str, None] = {}
        self._claims = Claims()

    def __enter__(self) -> Staging:
        with told_in_one_line(self._place), ExitStack() as exits:
            exits.enter_context(only_one(self._workshop / f"{self._place.name}.lock", self._place))
            self._noted = read_notes(self._workshop / f"{self._place.name}-{_STATE}")
            self._retire()  # whatever a run that was killed has left
            self._listed = read_list(self._place)
            known = OwnList() if self._listed is None and not self._is_list_damaged() else self._listed
            self._former = read_former(self._place, known, self._noted, anew=self._anew)
            self._refuse_what_is_not_ours()
            self._exits = exits.pop_all()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        with self._exits, suppress(OSError):
            # Whatever cannot be removed now is removed when the next run starts.
            self._retire()

    def keep(self, path: str, key: str) -> bool:
        """Keep the file published at this path last time if it was made under this key and has not been touched since."""
        former = self._former.get(path)
        if former is None or former.key != key or not former.unchanged:
            return False
        self._claims.claim(path)
        self._kept[path] = former.digest, key
        return True

    def keep_all(self, paths: Sequence[str], key: str) -> bool:
        """Keep all of these or none: what one piece of work made belongs together."""
        return self.stands(paths, key) and all(self.keep(path, key) for path in paths)

    def stands(self, paths: Sequence[str], key: str) -> bool:
        """Whether all of these could be kept."""
        found = [self._former.get(path) for path in paths]
        return bool(paths) and all(former is not None and former.key == key and former.unchanged for former in found)

    def find_note_file(self, name: str) -> Path:
        """A file of the workshop for what a run wants the next one to know of this published folder."""
        return self._workshop / f"{self._place.name}-{name}.json"

    @property
    def trusts_notes(self) -> bool:
        """Whether what former runs left in the workshop counts."""
        return not self._anew

    def standing(self, path: str) -> Path:
        """Where a file that is new or kept so far stands until it is published."""
        return (self._coming.tree if path in self._added else self._place) / path

    @property
    def place(self) -> Path:
        """The published folder."""
        return self._place

    def read_standing(self, path: str) -> bytes | None:
        """The bytes of a file of ours that is new, or that was published last time; None where there is none."""
        if path not in self._added and path not in self._former:
            return None
        with suppress(OSError):
            return self.standing(path).read_bytes()
        return None

    def added_paths(self) -> KeysView[str]:
        """Files that are new or changed in this run so far."""
        return self._added.keys()

    def kept_paths(self) -> KeysView[str]:
        """Files that stay as they were, so far."""
        return self._kept.keys()

    def digest_of(self, path: str) -> str | None:
        """Digest of a file that is new or kept so far; None where there is none."""
        told = self._added.get(path) or self._kept.get(path)
        return told[0] if told else None

    def digests_below(self, folder: str) -> dict[str, str]:
        """Digests of all files below a folder that are new or kept so far, by path."""
        return {path: told[0] for path, told in sorted({**self._kept, **self._added}.items()) if path.startswith(f"{folder}/")}

    def is_intact(self) -> bool:
        """Whether all that was published last time still stands as it was left."""
        return bool(self._former) and all(former.unchanged for former in self._former.values())

    def leave(self) -> Outcome:
        """What a run that finds all as it was left has done: nothing."""
        return Outcome((), len(self._former), ())

    def keep_below(self, folder: str) -> int:
        """Keep all our former files below a folder, for a run that does not make that part; how many there are."""
        count = 0
        for path, former in self._former.items():
            if path.startswith(f"{folder.rstrip('/')}/") and path not in self._added and path not in self._kept:
                now = former.digest if former.unchanged else self._digest_now(path)
                if now is not None:
                    self._claims.claim(path)
                    # Where nothing is trusted, what should stand there is what the list goes on to say.
                    self._kept[path] = former.digest if self._anew else now, former.key if former.unchanged else None
                    count += 1
        return count

    def let_stay(self, folder: str) -> None:
        """Keep all that was published below a folder and is not made in this run, as far as there is room for it."""
        for path in self._claims.find_free(path for path in self._former if path.startswith(f"{folder}/")):
            former = self._former[path]
            digest = former.digest if former.unchanged else self._digest_now(path)
            if digest is not None:
                self._claims.claim(path)
                self._kept[path] = digest, None
                self._stayed[path] = None

    def stayed_paths(self) -> tuple[str, ...]:
        """Files of former runs that stay though they are not made."""
        return tuple(self._stayed)

    def let_go(self, paths: Iterable[str]) -> None:
        """Take away such files after all."""
        for path in paths:
            del self._stayed[path], self._kept[path]

    def add(self, path: str, data: bytes, key: str | None = None) -> None:
        """Publish these bytes at a path; with a key, the next run can `keep` them unseen."""
        self._claims.claim(path)
        former = self._former.get(path)
        digest = digest_bytes(data)
        with told_in_one_line(self._place):
            if former is not None and former.digest == digest and (former.unchanged or self._digest_now(path) == digest):
                self._kept[path] = digest, key
            else:
                self._coming.write(path, data)
                self._added[path] = digest, key

    def publish(self, kept_accounts: Mapping[str, str] | None = None) -> Outcome:
        """Put everything kept and added in place of what was there; the list names accounts that are as they were, each since when."""
        removed = tuple(sorted(self._former.keys() - self._kept.keys() - self._added.keys()))
        written = tuple(sorted(self._added))
        set_aside: tuple[Path, ...] = ()
        at_once = True
        with told_in_one_line(self._place):
            if written or removed or self._listed is None or (kept_accounts or {}) != self._listed.kept:
                digests = {path: digest for path, (digest, _) in (self._kept | self._added).items()}
                listed = OwnList(digests, kept_accounts or {})
                at_once = self._replace_few(listed, removed) or self._replace_folder(listed)
                set_aside = self._retire()
            else:
                self._write_notes(self._place)
        return Outcome(written, len(self._kept), removed, set_aside, at_once)

    def _replace_few(self, listed: OwnList, removed: Iterable[str]) -> bool:
        """Replace single files, where that suits."""
        now = {path: Change(self._stands_now(path), None) for path in removed}
        changes = {path: change for path, change in now.items() if change.former}
        changes |= {path: Change(self._stands_now(path), digest) for path, (digest, _) in self._added.items()}
        if self._listed is None or not suits_few_files(self._replacing, changes, len(self._kept)):
            return False
        self._coming.write_list(listed)
        changes[MANIFEST] = Change(self._digest_now(MANIFEST), digest_file(self._coming.tree / MANIFEST))
        self._write_notes(self._coming.tree)
        try:
            replace_few_files(self._replacing, changes)
        except OSError:
            if self._replacing.note.exists():
                raise
            self._coming.take_back_list()
            return False
        return True

    def _replace_folder(self, listed: OwnList) -> bool:
        """Replace the whole folder; false where its files had to be exchanged one by one."""
        self._coming.finish(self._kept, self._former.keys(), listed, list_is_lost=self._list_is_lost())
        self._write_notes(self._coming.tree)
        # All of it is on the disk before anything takes its place, and that too before what stood is removed.
        sync_tree(self._coming.tree, [*self._added, MANIFEST])
        at_once = self._put_in_place()
        sync_folder(self._workshop)
        sync_folder(self._place.parent)
        return at_once

    def _put_in_place(self) -> bool:
        try:
            put_in_place(self._coming.tree, self._place, self._gone)
        except OSError as error:
            if error.errno not in NOT_AS_A_WHOLE or not self._place.is_dir():
                raise
            replace_one_by_one(self._coming.tree, self._place, {path: former.digest for path, former in self._former.items()})
            return False
        return True

    def scratch(self) -> Path:
        """A folder for what this run alone needs; it is gone when the run ends, or, if that was killed, when the next begins."""
        with told_in_one_line(self._scratch):
            self._scratch.mkdir(exist_ok=True)
        return self._scratch

    # Opening and closing.

    def _retire(self) -> tuple[Path, ...]:
        """Take away what was built and what stood before; nothing of that where nothing else stands."""
        finish_replacing(self._replacing)
        put_back(self._place, self._gone)
        shutil.rmtree(self._scratch, ignore_errors=True)
        with suppress(OSError):
            (self._place / ON_ITS_WAY).unlink()
        trees = [tree for tree in (self._gone, self._coming.tree) if tree.exists()]
        return tuple(path for tree in trees for path in retire_files(tree, self._place, self._workshop, self._noted.keys()))

    def _refuse_what_is_not_ours(self) -> None:
        if not self._place.exists():
            return
        if not self._place.is_dir():
            raise PressError(f"cannot publish in {self._place}: it is a file, not a folder")
        if not (self._place / MANIFEST).exists() and any(self._place.iterdir()):
            raise PressError(
                f"cannot publish in {self._place}: the folder is not empty and holds no {MANIFEST}, so its files are not ours to replace; "
                "move them away, or choose another folder"
            )

        if self._list_is_lost() and not self._anew and any(path.name != MANIFEST for path in self._place.iterdir()):
            raise PressError(
                f"cannot publish in {self._place}: its list of what is ours ({MANIFEST}) is damaged; `guidebuild make --anew` makes "
                f"everything again and moves what is in the way to {self._workshop / 'set aside'}"
            )

    def _list_is_lost(self) -> bool:
        """Whether nothing tells any more which of the files that stand are ours."""
        return not self._former and self._is_list_damaged()

    def _is_list_damaged(self) -> bool:
        return self._listed is None and (self._place / MANIFEST).exists()

    def _stands_now(self, path: str) -> str | None:
        """Digest of a file of ours as it stands; None where there is none."""
        former = self._former.get(path)
        return None if former is None else former.digest if former.unchanged else self._digest_now(path)

    def _digest_now(self, path: str) -> str | None:
        try:
            return digest_file(self._place / path)
        except OSError:
            return None

    def _stamp_of(self, path: str, tree: Path) -> list[int]:
        former = self._former.get(path)
        known = path in self._kept and former is not None and former.unchanged
        return self._noted[path][2:] if known else read_stamp(f"{tree}/{path}")

    def _write_notes(self, tree: Path) -> None:
        """Note what the files of this run are known again by, which stand in a tree."""
        now = sorted((self._kept | self._added).items())
        noted = {path: [key, digest, *self._stamp_of(path, tree)] for path, (digest, key) in now}
        if noted != self._noted:
            write_notes(self._workshop / f"{self._place.name}-{_STATE}", noted)
