"""What is brought in, as its author reads it."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

from rich.console import Console

from guidebuild.bringing.plan import BringingPlan, Coming, Unused
from guidebuild.guide.sightings import FileCount
from guidebuild.terminal.bringing import print_bringing


def _printed(plan: BringingPlan, counts: tuple[FileCount, ...] = (), *, done: bool = False, width: int = 100) -> list[str]:
    out = StringIO()
    print_bringing(Console(file=out, width=width, markup=False), plan, counts, done=done)
    return [line.rstrip() for line in out.getvalue().split("\n")]


def test_each_file_what_it_is_and_what_was_left() -> None:
    files = (
        Coming("accounts/redshank.md", "draft: Redshank", text="---"),
        Coming("photos/redshank.jpg", "Redshank, adult", Path("card/IMG_1.JPG")),
        Coming("photos/redshank-2.jpg", "Redshank", Path("card/IMG_2.JPG")),
    )
    plan = BringingPlan(files, {"photos.yaml": "x"}, {"accounts/knot.md": b"x"}, (Unused("a.txt", "is empty"),), ("Ask Ann.",))
    counts = (FileCount("sightings/s.csv", 3, 3),)
    assert _printed(plan, counts) == [
        "",
        "accounts/",
        "accounts/redshank.md      draft: Redshank",
        "",
        "photos/",
        "photos/redshank.jpg       Redshank, adult  from IMG_1.JPG",
        "photos/redshank-2.jpg     Redshank         from IMG_2.JPG",
        "",
        "Sightings        rows  the first of them",
        "sightings/s.csv     3",
        "  counted           3",
        "",
        "Not used",
        "  a.txt: is empty",
        "",
        "To know",
        "  Ask Ann.",
        "",
        "Gets new lines: photos.yaml, accounts/knot.md",
        "",
        "Would bring: 1 draft account, 2 photos. Nothing is written yet.",
        "",
    ]
    assert _printed(plan, done=True)[-2] == "Brought: 1 draft account, 2 photos. Next: guidebuild check"


def test_nothing_to_bring() -> None:
    assert _printed(BringingPlan((), {}, {}, (), ())) == ["", "There is nothing to bring.", ""]


def test_many_files_are_counted() -> None:
    files = tuple(Coming(f"photos/p{number}.jpg", "no account yet", Path(f"{number}.jpg")) for number in range(55))
    lines = _printed(BringingPlan(files, {}, {}, (), ()))
    assert lines[-4].strip() == "and 15 more"
    assert lines[-2] == "Would bring: 55 photos. Nothing is written yet."
