"""One output's files from run to run: what is kept, what is made anew, and what its author is told each time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.digest import KnownFile, digest_bytes
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.kept_problems import KeptProblems
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.maker import Maker, Piece
from guidebuild.press.engine.problems import Problem, Problems
from guidebuild.press.engine.staging import Outcome, Staging
from guidebuild.press.engine.store import Store
from guidebuild.press.engine.workbench import Workbench
from tests.press.engine.pieces_of_work import double, fail, fail_while_it_stands, note, process, read_file

PAGE = Craft("page", "pages")
SOFT = Problem("soft-print", "toad", "looks soft")


@dataclass
class Counting:
    """What a bar would show."""

    expected: Counter[str] = field(default_factory=Counter)
    done: Counter[str] = field(default_factory=Counter)

    def foresee(self, shares: Sequence[float]) -> None:
        pass

    def begin_part(self) -> None:
        pass

    def expect(self, craft: Craft, count: int) -> None:
        self.expected[craft.plural] += count

    def advance(self, craft: Craft, count: int = 1) -> None:
        self.done[craft.plural] += count


class Run:
    """One run into a folder, with all that it is made of."""

    def __init__(self, folder: Path, staging: Staging, crew: Crew) -> None:
        self.staging, self.problems, self.progress = staging, Problems(), Counting()
        self.bench = Workbench(Store(folder / "store"), crew, self.progress, self.problems, KeptProblems(folder / "told" / "told.json"))
        self.files = Files(staging, "site", self.problems)
        self.maker = Maker(self.bench, self.files)
        self.outcome: Outcome | None = None

    def piece(self, function: Callable[[object], Made], payload: object, *paths: str, where: str = "toad") -> Piece:
        return Piece(self.maker.job(PAGE, function, payload, where=where), paths)


@contextmanager
def run_in(folder: Path) -> Iterator[Run]:
    """A run that publishes at its end."""
    with Staging(folder / "published") as staging, Crew(1) as crew:
        run = Run(folder, staging, crew)
        yield run
        run.outcome = staging.publish()
        run.bench.close()


def test_what_stands_is_kept_unmade_and_its_problems_are_told_again_every_time(tmp_path: Path) -> None:
    log = tmp_path / "log"
    for number in range(3):
        with run_in(tmp_path) as run:
            run.maker.make([run.piece(note, (str(log), "toad"), "toad.html", "toad.txt")])
            assert run.problems.all == (SOFT,)
            assert run.progress.done == {"pages": 1}
            assert run.progress.expected == ({} if number else {"pages": 1})
        assert run.outcome is not None
        assert run.outcome.written == (() if number else ("site/toad.html", "site/toad.txt"))
        (tmp_path / "store").rename(tmp_path / f"store {number}")  # so that only what is published can be kept
        (tmp_path / "store").mkdir()
    assert log.read_text() == "toad\n"
    assert (tmp_path / "published/site/toad.html").read_bytes() == b"toad"
    assert (tmp_path / "published/site/toad.txt").read_bytes() == b"second"


def test_what_is_lost_comes_back_from_the_store_and_is_told_of(tmp_path: Path) -> None:
    log = tmp_path / "log"
    for _ in range(2):
        with run_in(tmp_path) as run:
            run.maker.make([run.piece(note, (str(log), "toad"), "toad.html", "toad.txt")])
            assert run.problems.all == (SOFT,)
        (tmp_path / "published/site/toad.txt").unlink()  # one of the two parts: both are put in place again
    with run_in(tmp_path) as run:
        assert [result.from_store for result in run.maker.make_each([run.piece(note, (str(log), "toad"), "toad.html", "toad.txt")])] == [
            True
        ]
    assert log.read_text() == "toad\n"
    assert (tmp_path / "published/site/toad.txt").read_bytes() == b"second"


def test_a_change_of_the_payload_is_made_anew(tmp_path: Path) -> None:
    for payload in ("toad", "newt"):
        with run_in(tmp_path) as run:
            run.maker.make([run.piece(double, payload, "page.html")])
        assert (tmp_path / "published/site/page.html").read_text() == payload * 2


def test_one_job_of_two_accounts_is_made_once_and_put_in_both_places(tmp_path: Path) -> None:
    log = tmp_path / "log"
    with run_in(tmp_path) as run:
        pieces = [run.piece(note, (str(log), "toad"), f"{name}.html", "") for name in ("toad", "newt")]
        assert len(list(run.maker.make_each(pieces))) == 1
    assert log.read_text() == "toad\n"
    assert sorted(path.name for path in (tmp_path / "published/site").iterdir()) == ["newt.html", "toad.html"]


def test_a_part_without_a_path_is_not_published_and_the_rest_is_kept(tmp_path: Path) -> None:
    log = tmp_path / "log"
    for _ in range(2):
        with run_in(tmp_path) as run:
            results = list(run.maker.make_each([run.piece(note, (str(log), "toad"), "", "toad.txt")]))
        assert [path.name for path in (tmp_path / "published/site").iterdir()] == ["toad.txt"]
    assert results == []


def test_what_failed_is_told_known_and_tried_again_next_time(tmp_path: Path) -> None:
    bar = tmp_path / "bar"
    bar.write_text("")
    with run_in(tmp_path) as run:
        bad, good = run.piece(fail_while_it_stands, str(bar), "bad.html", where="accounts/bad.md"), run.piece(double, "a", "good.html")
        run.maker.make([bad, good])
        assert not run.maker.all_made([good, bad])
        assert run.maker.all_made([good])
        assert [str(told) for told in run.problems.all] == ["accounts/bad.md: the page could not be made (ValueError: no room)"]
    assert [path.name for path in (tmp_path / "published/site").iterdir()] == ["good.html"]
    bar.unlink()
    with run_in(tmp_path) as run:
        bad = run.piece(fail_while_it_stands, str(bar), "bad.html")
        run.maker.make([bad])
        assert run.maker.all_made([bad])
        assert run.problems.all == ()
    assert (tmp_path / "published/site/bad.html").read_text() == "made at last"


def test_a_problem_that_is_mended_is_told_no_more(tmp_path: Path) -> None:
    for function, told in ((note, (SOFT,)), (double, ()), (double, ())):
        with run_in(tmp_path) as run:
            run.maker.make([run.piece(function, (str(tmp_path / "log"), "toad"), "toad.html")])
            assert run.problems.all == told


def test_what_is_begun_beside_the_run_tells_its_problems_when_it_is_waited_for(tmp_path: Path) -> None:
    with run_in(tmp_path) as run:
        wait = run.maker.begin(run.piece(note, (str(tmp_path / "log"), "toad")).job)
        assert len(run.problems.all) == 0
        assert wait().parts == (b"toad", b"second")
        assert list(run.problems.all) == [SOFT]
        assert run.maker.begin(run.piece(fail, "good", where="deck").job)().parts == ()
        assert str(run.problems.all[1]) == "deck: the page could not be made (ValueError: no good)"


def test_a_file_counts_by_what_it_holds_not_by_where_it_stands(tmp_path: Path) -> None:
    photo, copy = tmp_path / "toad.jpg", tmp_path / "elsewhere.jpg"
    photo.write_bytes(b"first")
    copy.write_bytes(b"first")
    with run_in(tmp_path) as run:
        key = run.maker.key(double, photo)
        assert run.maker.key(double, copy) == key
        assert run.maker.key(double, KnownFile(photo, digest_bytes(b"first"))) == run.maker.key(
            double, KnownFile(copy, digest_bytes(b"first"))
        )
        assert run.maker.key(double, KnownFile(photo, "one")) != run.maker.key(double, KnownFile(photo, "other"))
        assert run.maker.key(note, photo) != key
        copy.write_bytes(b"other")
        assert run.maker.key(double, copy) != key
        with pytest.raises(FileNotFoundError):
            run.maker.job(PAGE, read_file, tmp_path / "gone.jpg", where="toad")


def test_a_folder_counts_by_all_its_files(tmp_path: Path) -> None:
    theme = tmp_path / "theme"
    (theme / "site").mkdir(parents=True)
    keys = set()
    for file, text in (("a.css", "a"), ("site/b.css", "b"), ("site/b.css", "c")):
        (theme / file).write_text(text)
        with run_in(tmp_path) as run:
            keys.add(run.maker.key(double, theme))
            assert run.maker.key(double, theme) in keys
    assert len(keys) == 3


def test_two_functions_of_one_payload_are_two_jobs(tmp_path: Path) -> None:
    with run_in(tmp_path) as run:
        jobs = [run.piece(function, "toad").job for function in (double, fail, double)]
        assert jobs[0].key != jobs[1].key
        assert jobs[0].key == jobs[2].key


def test_another_version_of_the_tool_makes_all_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    log, made = tmp_path / "log", []
    for day in ("", "1", "1"):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", day)
        with run_in(tmp_path) as run:
            made.append(len(list(run.maker.make_each([run.piece(note, (str(log), "toad"), "toad.html")]))))
    assert made == [1, 1, 0]
    assert log.read_text() == "toad\ntoad\n"


def test_two_things_of_one_name_are_told_by_what_the_author_calls_them(tmp_path: Path) -> None:
    with run_in(tmp_path) as run:
        run.files.add("toad.html", b"a")
        run.files.add("toad.html", b"b", where="accounts/toad.md")
        run.files.add("Toad.html", b"c")
        run.maker.make([run.piece(double, "d", "toad.html", where="accounts/newt.md")])
        assert [(told.what, told.where) for told in run.problems.all] == [
            ("name", "accounts/toad.md"),
            ("name", "site/Toad.html"),
            ("name", "accounts/newt.md"),
        ]
        assert "two things would be published as “site/toad.html”" in run.problems.all[0].message
    assert (tmp_path / "published/site/toad.html").read_bytes() == b"a"


def test_files_of_an_output_are_found_where_they_stand_until_they_are_published(tmp_path: Path) -> None:
    with run_in(tmp_path) as run:
        run.files.add("old.txt", b"old", key="one")
    with run_in(tmp_path) as run:
        assert run.files.find("old.txt") is None
        assert run.files.read("old.txt") is None
        assert not run.files.keep(["old.txt"], "other")
        assert run.files.list_files() == {}
        assert run.files.keep(["old.txt"], "one")
        run.files.add("deep/new.txt", b"newer")
        run.staging.add("site2/other.txt", b"of another output")
        for path, data in (("old.txt", b"old"), ("deep/new.txt", b"newer")):
            found = run.files.find(path)
            assert found is not None
            assert (found.path.read_bytes(), found.mark) == (data, digest_bytes(data))
            assert run.files.read(path) == data
        assert run.files.list_files() == {"old.txt": (3, digest_bytes(b"old")), "deep/new.txt": (5, digest_bytes(b"newer"))}
        assert list(run.files.list_files()) == ["deep/new.txt", "old.txt"]


def test_nothing_at_all_is_never_kept(tmp_path: Path) -> None:
    with run_in(tmp_path) as run:
        assert not run.files.keep([], "one")
        run.files.add("a.txt", b"a", key="one")
        run.files.add("b.txt", b"b", key="two")
    with run_in(tmp_path) as run:
        assert not run.files.keep(["a.txt", "b.txt"], "one")
        assert not run.files.keep(["a.txt", "c.txt"], "one")
        assert run.staging.kept_paths() == set()
        assert run.files.keep(["a.txt"], "one")


@pytest.mark.parametrize("text", ["{", "[]", '{"a": 3}', '{"a": [["one", "two"]]}'])
def test_a_damaged_note_of_what_was_told_counts_as_none(text: str, tmp_path: Path) -> None:
    (tmp_path / "told.json").write_text(text)
    assert KeptProblems(tmp_path / "told.json").recall("a") == ()


def test_a_note_that_cannot_be_written_hinders_nothing(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    kept = KeptProblems(tmp_path / "file" / "told.json")
    kept.remember("a", [SOFT])
    kept.write()
    assert KeptProblems(tmp_path / "file" / "told.json").recall("a") == ()


def test_a_workbench_spreads_its_jobs_over_its_crew(tmp_path: Path) -> None:
    with Staging(tmp_path / "published") as staging, Crew(2) as crew:
        run = Run(tmp_path, staging, crew)
        jobs = [run.maker.job(Craft("deck", "decks", 800.0), process, number, where="deck") for number in range(2)]
        told = {result.made.parts[0] for result in run.bench.do(jobs)}
        assert run.maker.begin(jobs[0])().parts[0] in told
