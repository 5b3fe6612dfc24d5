"""Helpers get ready while a guide is read for the first time, and only where they will be needed."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.press.engine.crew import Crew
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import gather_crew


@pytest.fixture
def begun(monkeypatch: pytest.MonkeyPatch) -> list[Crew]:
    begun: list[Crew] = []
    monkeypatch.setattr(Crew, "begin", lambda crew: begun.append(crew))  # noqa: PLW0108 - a method is given its crew by a function only
    return begun


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "accounts").mkdir()
    for number in range(11):
        (tmp_path / "accounts" / f"bug-{number}.md").touch()
    return tmp_path


def test_helpers_begin_with_a_first_make_of_many_accounts_and_where_all_is_made_anew(folder: Path, begun: list[Crew]) -> None:
    first = gather_crew(folder, Wishes(("cards", "data"), workers=2))
    (folder / "published").mkdir()
    anew = gather_crew(folder, Wishes(("cards", "data"), workers=2, anew=True))
    assert begun == [first, anew]


def test_with_few_accounts_one_worker_or_a_later_make_no_helper_begins(folder: Path, begun: list[Crew]) -> None:
    gather_crew(folder, Wishes(workers=1))
    (folder / "accounts" / "bug-0.md").unlink()
    gather_crew(folder, Wishes(workers=2))
    (folder / "accounts" / "bug-0.md").touch()
    (folder / "published").mkdir()
    gather_crew(folder, Wishes(workers=2))
    assert begun == []


def test_a_folder_that_holds_no_guide_is_left_to_the_reader(tmp_path: Path, begun: list[Crew]) -> None:
    gather_crew(tmp_path / "nowhere", Wishes(workers=2))
    assert begun == []


@pytest.mark.parametrize(("outputs", "set_type"), [(("site", "data"), False), (("site", "slides"), True)])
def test_only_helpers_that_will_lay_out_pages_get_ready_for_it(
    folder: Path, begun: list[Crew], outputs: tuple[str, ...], *, set_type: bool
) -> None:
    crew = gather_crew(folder, Wishes(outputs, workers=2))
    assert begun == [crew]
    assert bool(crew.warmed) is set_type
