"""What a module of ours is made of: the modules and libraries that it imports, and those that they import, found in their texts.

Nothing is imported for it: a page does not wait for the libraries of PDFs only to learn that it does not need them.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import guidebuild

_HOME = Path(guidebuild.__file__).parent
_OURS = guidebuild.__name__
# Views travel to what draws them, which need not name the class of each: a folder of them counts as a whole.
_VIEWS = f"{_OURS}.views."
# Docstrings may hold words like an import; of them only names of modules that are really there are taken.
_IMPORTS = re.compile(r"^[ \t]*(?:from[ \t]+([\w.]+)[ \t]+import[ \t]+(\([^)]*\)|[^\n#]*)|import[ \t]+([^\n#]+))", re.MULTILINE)
_REMARK = re.compile(r"#[^\n]*")


@dataclass(frozen=True, slots=True)
class Imports:
    """The files of ours and the libraries, by the names that are imported, that a module depends on."""

    files: tuple[Path, ...]
    libraries: frozenset[str]


@cache
def find_imports(module: str) -> Imports | None:
    """All that a module of ours imports, however far; None where it is not ours, so that nothing is known of it."""
    if not _find_file(module):
        return None
    files: dict[str, Path] = {}
    libraries: set[str] = set()
    waiting = [module]
    while waiting:
        name = waiting.pop()
        file = _find_file(name)
        if name in files or file is None:
            continue
        files[name] = file
        waiting.append(name.rpartition(".")[0])
        if name.startswith(_VIEWS):
            waiting += [f"{name.rpartition('.')[0]}.{other.stem}" for other in file.parent.glob("*.py") if file.stem != "__init__"]
        for wanted in _read_names(file):
            top = wanted.partition(".")[0]
            if top == _OURS:
                waiting.append(wanted)
            elif top not in sys.stdlib_module_names:
                libraries.add(top)
    return Imports(tuple(files[name] for name in sorted(files)), frozenset(libraries))


@cache
def _find_file(module: str) -> Path | None:
    """The file of a module of ours; None for what is none."""
    top, *parts = module.split(".")
    if top != _OURS:
        return None
    place = _HOME.joinpath(*parts)
    found = (place.with_suffix(".py") if parts else place, place / "__init__.py")
    return next((file for file in found if file.is_file()), None)


@cache
def _read_names(file: Path) -> tuple[str, ...]:
    """Every name that a file may import: modules, and what it takes from them, which may be modules too."""
    return tuple(dict.fromkeys(_names_in(file.read_text(encoding="utf-8"))))


def _names_in(text: str) -> Iterator[str]:
    for origin, taken, plain in _IMPORTS.findall(text):
        names = [part.split()[0] for part in re.split(r"[,()\n]", _REMARK.sub("", taken or plain)) if part.split()]
        if origin:
            yield origin
        yield from (f"{origin}.{name}" if origin else name for name in names)
