"""One run of publishing: what every output needs to get its work done and its files put in place."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Photo
from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.digest import digest, folder_digest, toolchain
from guidebuild.press.engine.jobs import Job, Progress, Result, begin, run_jobs
from guidebuild.press.engine.problems import NameRefusedError, Problem
from guidebuild.press.engine.staging import WORKSHOP, Staging
from guidebuild.press.engine.store import Made, Store
from guidebuild.press.photos.jobs import copies_of, photo_job, photos_with_files, picture_set, published_name, recipe_for
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.shipped import on_disk, themes

_TOLD = "problems.json"
_COSTS = {"page": 4.0, "card": 150.0, "script": 400.0, "picture": 200.0, "sheet": 1000.0, "font": 800.0, "share": 40.0}
"""Roughly how many milliseconds one takes; cheap ones travel to the workers in batches."""


def theme_folders(folder: Path) -> tuple[Path, ...]:
    """Where the templates of a guide are looked for; a theme that is a link out of the guide is passed over."""
    home = folder.resolve()
    own, shipped = home / "theme", on_disk(themes().joinpath("plate"))
    return (own, shipped) if own.is_dir() and not _leads_out(home) else (shipped,)


def look_of(folder: Path) -> str:
    """Digest of everything but its content that a published guide depends on: the tool and the theme."""
    return digest(toolchain(), *(folder_digest(theme) for theme in theme_folders(folder)))


def _leads_out(home: Path) -> bool:
    own = home / "theme"
    return own.is_symlink() and not own.resolve().is_relative_to(home)


@dataclass(frozen=True, slots=True)
class Work:
    """A job and where its parts are published, in the order of its parts; a part with an empty path is not published."""

    job: Job
    paths: tuple[str, ...]


@dataclass
class Run:
    """A guide on its way to its published folder. Outputs call `make` and `add`; problems gather here."""

    folder: Path
    guide: Guide
    today: dt.date
    staging: Staging
    store: Store
    progress: Progress
    crew: Crew
    high_contrast: bool = False
    problems: list[Problem] = field(default_factory=list)
    failed: set[str] = field(default_factory=set)
    """Keys of jobs that could not be done: a file that lacks what they should have given is no file to keep."""
    _said: set[Problem] = field(default_factory=set)
    _told: dict[str, list[list[str]]] = field(default_factory=dict)
    _sets: dict[str, dict[str, PictureSet]] = field(default_factory=dict)

    @cached_property
    def theme_folders(self) -> tuple[Path, ...]:
        """Where templates are looked for: the guide's own `theme/`, then the shipped one."""
        if _leads_out(self.folder.resolve()):
            self._tell([Problem("theme", "theme", "the theme is a link that leads out of the guide's folder; copy it into the guide")])
        return theme_folders(self.folder)

    @cached_property
    def theme(self) -> str:
        """Digest of everything that the look depends on."""
        return look_of(self.folder)

    def job(self, kind: str, function: str, payload: object, *, seen: object, where: str) -> Job:
        """A job whose key depends on `seen` (all that its result shows), the theme and the tool."""
        return Job(digest(kind, function, seen, self.theme), kind, function, payload, where, _COSTS.get(kind, 5.0))

    def make(self, work: Iterable[Work]) -> Iterator[Result]:
        """Do what has to be done and put it in place; what stands already from the last run is kept and gives no result."""
        todo: dict[str, list[tuple[str, ...]]] = {}  # two works may be the same job: one picture of two accounts

        def wanted() -> Iterator[Job]:
            for one in work:
                published = tuple(path for path in one.paths if path)
                if self.staging.keep_all(published, one.job.key):
                    self._tell(Problem(*told) for told in self._former_problems.get(one.job.key, ()))
                    self._remember(one.job.key, self._former_problems.get(one.job.key, []))
                    self.progress.advance(one.job.kind)
                elif one.job.key in todo:
                    todo[one.job.key].append(one.paths)
                else:
                    todo[one.job.key] = [one.paths]
                    yield one.job

        for result in self.do(wanted()):
            key = result.job.key
            if result.failed:
                self.failed.add(key)
            self._tell(result.made.problems)
            self._remember(key, [[p.what, p.where, p.message] for p in result.made.problems])
            for paths in todo.pop(key):
                for path, part in zip(paths, result.made.parts, strict=False):
                    if path:
                        self._put(path, part, key, result.job.where)
            yield result

    def do(self, jobs: Iterable[Job]) -> Iterator[Result]:
        """What each job gave, from the store or made now."""
        return run_jobs(jobs, self.store, self.crew, self.progress)

    def begin(self, job: Job) -> Callable[[], Made]:
        """Begin a job that is kept in no store beside what this process does next; what is answered waits for it."""
        result = begin(job, self.crew)

        def made() -> Made:
            found = result().made
            self._tell(found.problems)
            return found

        return made

    def add(self, path: str, data: bytes) -> None:
        """Publish bytes that cost nothing to make."""
        self._put(path, data, None, path)

    def add_whole(self, path: str, data: bytes, key: str, works: Iterable[Work]) -> None:
        """Publish a file made of what several jobs gave; where one of them failed, the next run makes it anew."""
        self._put(path, data, None if any(work.job.key in self.failed for work in works) else key, path)

    def _put(self, path: str, data: bytes, key: str | None, where: str) -> None:
        try:
            self.staging.add(path, data, key)
        except NameRefusedError as error:
            self._tell([Problem("name", where, str(error))])

    def published(self, path: str) -> bytes | None:
        """The bytes that will stand at a path, from this run or kept from the last; None where there is no such file."""
        fresh, former = self.staging.built / path, self.staging.place / path
        if path in self.staging.added_paths():
            return fresh.read_bytes()
        return former.read_bytes() if path in self.staging.kept_paths() else None

    def standing(self, path: str) -> tuple[Path, str] | None:
        """Where a file stands until it is published, and its digest; for jobs that read it themselves, so that no list of jobs holds it."""
        mark = self.staging.digest_of(path)
        fresh = path in self.staging.added_paths()
        return None if mark is None else ((self.staging.built if fresh else self.staging.place) / path, mark)

    def files_below(self, folder: str) -> dict[str, tuple[int, str]]:
        """Size and digest of every file that will stand below a folder so far, by its path from there."""
        told = self.staging.digests_below(folder)
        built, place, fresh = self.staging.built, self.staging.place, self.staging.added_paths()
        sizes = {path: ((built if path in fresh else place) / path).stat().st_size for path in told}
        return {path.removeprefix(f"{folder}/"): (sizes[path], mark) for path, mark in told.items()}

    def pictures(
        self, purpose: str, wanted: Iterable[str] | None = None, *, folder: str = "", publish: str = ""
    ) -> Mapping[str, PictureSet]:
        """Copies of photos for a purpose, by photo id; `publish` is the output folder that they are put into.

        Paths in the sets count from that folder, under `folder`.
        """
        known = self._sets.setdefault(f"{purpose} {publish} {folder}", {})
        chosen = [(photo, path) for photo, path in photos_with_files(self.guide, self.folder, wanted) if photo.id not in known]
        jobs: dict[str, tuple[list[Photo], Job]] = {}  # one file under two ids is one job
        for photo, path in chosen:
            try:
                job = photo_job(photo, path, recipe_for(self.guide, photo, purpose), self.store)
            except OSError as error:
                self._tell([Problem("not-readable", photo.file, f"the photo cannot be read: {error.strerror}")])
                continue
            kept = self._kept_set(photo, job, folder=folder, publish=publish)
            if kept:
                known[photo.id] = kept
                self.progress.advance(job.kind)
            else:
                jobs.setdefault(job.key, ([], job))[0].append(photo)
        for result in self.do(job for _, job in jobs.values()):
            self._tell(result.made.problems)
            for photo in jobs[result.job.key][0]:
                made = self._place_copies(photo, result, folder=folder, publish=publish)
                if made:
                    known[photo.id] = made
        return known

    def _kept_set(self, photo: Photo, job: Job, *, folder: str, publish: str) -> PictureSet | None:
        """The set as it was published last time, without reading its bytes."""
        told = self.store.get(_told_key(job.key))
        if told is None:
            return None
        found = picture_set(photo.id, told, folder)
        paths = [f"{publish}/{variant.path}" for variant in found.variants] if found else []
        return found if self.staging.keep_all(paths, job.key) else None

    def _place_copies(self, photo: Photo, result: Result, *, folder: str, publish: str) -> PictureSet | None:
        found = picture_set(photo.id, result.made, folder)
        if found is None:
            return None
        for copy in copies_of(result.made):
            path = published_name(photo.id, copy.encoding, copy.width, folder)
            self._put(f"{publish}/{path}", copy.data, result.job.key, photo.file)
        # What is known of the copies alone, so that the next run need not read their bytes.
        self.store.put(_told_key(result.job.key), Made(result.made.parts[:1], result.made.problems))
        return found

    def close(self) -> None:
        """Write down what the next run wants to know."""
        self.store.close()
        file = self._told_file
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(json.dumps(self._told), encoding="utf-8")
        except OSError:
            return

    @property
    def _told_file(self) -> Path:
        return self.folder / WORKSHOP / f"{self.staging.place.name}-{_TOLD}"

    @cached_property
    def _former_problems(self) -> dict[str, list[list[str]]]:
        try:
            read = json.loads(self._told_file.read_text(encoding="utf-8"))
            return {str(key): [[str(t) for t in told] for told in listed if len(told) == 3] for key, listed in read.items()}
        except (OSError, ValueError, AttributeError, TypeError):
            return {}

    def _remember(self, key: str, told: list[list[str]]) -> None:
        if told:
            self._told[key] = told

    def _tell(self, problems: Iterable[Problem]) -> None:
        fresh = [problem for problem in dict.fromkeys(problems) if problem not in self._said]
        self._said.update(fresh)
        self.problems += fresh


def _told_key(key: str) -> str:
    return digest("told", key)
