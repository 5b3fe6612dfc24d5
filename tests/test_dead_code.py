"""The names that the search for dead code lets pass are all still there."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
ALLOWED = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["vulture"]["ignore_names"]


def words_of(folder: str, *endings: str) -> set[str]:
    files = (path for path in (ROOT / folder).rglob("*") if path.suffix in endings)
    return {word for path in files for word in re.findall(r"\w+", path.read_text(encoding="utf-8"))}


def test_every_name_that_is_let_pass_is_in_the_package() -> None:
    assert sorted(set(ALLOWED) - words_of("guidebuild", ".py")) == []
    assert len(ALLOWED) == len(set(ALLOWED))


def test_what_templates_alone_read_is_read_by_one() -> None:
    listed = (ROOT / "pyproject.toml").read_text(encoding="utf-8").partition("# Read by templates")[2].partition("# Read by their names")[0]
    names = re.findall(r'"(\w+)"', listed)
    assert len(names) > 10
    assert sorted(set(names) - words_of("themes", ".html", ".css", ".xml", ".txt")) == []
