"""One output's own folder of the published ones: where its files are put, kept and found again."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.engine.problems import NameRefusedError, Problem, Problems
from guidebuild.press.engine.staging import Staging

_PAGE = ".html"


class Files:
    """The files of one output. All paths count from its folder."""

    def __init__(self, staging: Staging, folder: str, problems: Problems, close_page: Callable[[bytes], bytes] | None = None) -> None:
        """`close_page` is put to every page before it is published, where scripts of the theme may not run."""
        self._close_page = close_page
        self._staging = staging
        self._folder = folder
        self._problems = problems

    def add(self, path: str, data: bytes, *, key: str | None = None, where: str = "") -> None:
        """Publish these bytes; with a key, the next run can keep them unseen. `where` names them in problems."""
        try:
            page = self._close_page(data) if self._close_page and path.endswith(_PAGE) else data
            self._staging.add(self._full(path), page, None if key is None else self._marked(key))
        except NameRefusedError as error:
            self._problems.tell(Problem("name", where or self._full(path), str(error)))

    def keep(self, paths: Iterable[str], key: str) -> bool:
        """Keep what was published at these paths last time, all or none, if it was made under this key."""
        return self._staging.keep_all([self._full(path) for path in paths], self._marked(key))

    def stands(self, paths: Iterable[str], key: str) -> bool:
        """Whether all of these were published last time and made under this key, so that they could be kept."""
        return self._staging.stands([self._full(path) for path in paths], self._marked(key))

    def find_note_file(self, name: str) -> Path:
        """Where this output writes down what its next run may want to know."""
        return self._staging.find_note_file(f"{self._folder}-{name}")

    @property
    def trusts_notes(self) -> bool:
        """Whether what former runs wrote down counts in this one."""
        return self._staging.trusts_notes

    def find(self, path: str) -> KnownFile | None:
        """A file that is new or kept so far, where it stands until it is published; for jobs that read it themselves."""
        full = self._full(path)
        mark = self._staging.digest_of(full)
        return None if mark is None else KnownFile(self._staging.standing(full), mark)

    def of(self, output: str) -> Files:
        """The files of another output, made before in this run, or kept from a former one where this run does not make it."""
        return Files(self._staging, output, self._problems)

    def read(self, path: str) -> bytes | None:
        """The bytes of such a file; None where there is none."""
        found = self.find(path)
        return None if found is None else found.path.read_bytes()

    def read_standing(self, path: str) -> bytes | None:
        """What stands at a path of the published folder, of any output: new, kept, or as the last run left it."""
        return self._staging.read_standing(path)

    def scratch(self) -> Path:
        """A folder for what this run alone needs, see `Staging.scratch`."""
        return self._staging.scratch()

    def list_files(self) -> dict[str, tuple[int, str]]:
        """Size and digest of every file that is new or kept so far, by its path."""
        marks = self._staging.digests_below(self._folder)
        return {path.removeprefix(f"{self._folder}/"): (self._staging.standing(path).stat().st_size, mark) for path, mark in marks.items()}

    def _marked(self, key: str) -> str:
        return f"{key}-closed" if self._close_page else key

    def _full(self, path: str) -> str:
        return f"{self._folder}/{path}"
