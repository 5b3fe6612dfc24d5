"""What everything published depends on beside the guide and its theme: the tool itself, the libraries, the day that is set."""

from __future__ import annotations

import ctypes
import os
import re
import sys
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path

import guidebuild
from guidebuild.press.engine.digest import digest, digest_file
from guidebuild.press.engine.imports import find_imports
from guidebuild.press.engine.libraries import name_packages
from guidebuild.shipped import content, on_disk

_HOME = Path(guidebuild.__file__).parent
_OF_PACKAGES = (".dist-info", ".egg-info")
_SETS_TYPE = "weasyprint"
_READS_SHIPPED = Path("shipped.py")
"""The module of ours without which no other finds `content/`; below `_HOME`."""
_DRAWING = {
    "pango_version": ("libpango-1.0.so.0", "libpango-1.0.dylib", "libpango-1.0-0.dll"),
    "FcGetVersion": ("libfontconfig.so.1", "libfontconfig.1.dylib", "libfontconfig-1.dll"),
}
"""Libraries of the machine that set type in PDFs: the function that tells each one's version, and its names."""


def digest_toolchain() -> str:
    """Digest of all that may change any file though guide and theme stay as they are."""
    return digest(_installed(), os.environ.get("SOURCE_DATE_EPOCH", ""))


def digest_tools(module: str) -> str:
    """The same for what one module makes: it depends on the modules of ours and the libraries that it imports, and on no others.

    A module that is not ours depends on all there is.
    """
    return digest(_tools_of(module), os.environ.get("SOURCE_DATE_EPOCH", ""))


def digest_tool_stamps() -> str:
    """The same by names, sizes and times alone, for what only the author's own machine ever asks."""
    own = [(path, *_stamp(path)) for folder in (_HOME, on_disk(content())) for path in sorted(_paths(str(folder)))]
    return digest(sys.version, _packages(), own)


def _stamp(path: str) -> tuple[int, int]:
    state = Path(path).stat()
    return state.st_size, state.st_mtime_ns


@cache
def _installed() -> str:
    return digest(sys.version, _packages(), _setters(), _files(_HOME), _shipped())


@cache
def _tools_of(module: str) -> str:
    imported = find_imports(module)
    needed = name_packages(imported.libraries) if imported else None
    if imported is None or needed is None:
        return _installed()
    files = [(os.path.relpath(file, _HOME), _digest_own(file)) for file in imported.files]
    packages = [entry for entry in _packages() if _package_name(entry) in needed]
    setters = _setters() if _SETS_TYPE in imported.libraries else ()
    return digest(sys.version, packages, setters, files, _shipped() if _HOME / _READS_SHIPPED in imported.files else ())


@cache
def _shipped() -> list[tuple[str, str]]:
    """What the tool brings beside its code: words, formats, lists."""
    return _files(on_disk(content()))


@cache
def _digest_own(file: Path) -> str:
    return digest_file(file)


@cache
def _setters() -> list[int | None]:
    return [_version(*library) for library in _DRAWING.items()]


def _files(folder: Path) -> list[tuple[str, str]]:
    """Names and contents of the tool's own files, so that someone who changes them never sees what it made before."""
    return [(os.path.relpath(path, folder), digest_file(Path(path))) for path in sorted(_paths(str(folder)))]


def _paths(folder: str) -> Iterator[str]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                if entry.name != "__pycache__":
                    yield from _paths(entry.path)
            else:
                yield entry.path


def _packages() -> list[str]:
    """Names and versions of all installed packages, as the folders of their descriptions tell them."""
    names: set[str] = set()
    for folder in sys.path:
        with suppress(OSError), os.scandir(folder or ".") as entries:
            names.update(entry.name for entry in entries if entry.name.endswith(_OF_PACKAGES))
    return sorted(names)


def _package_name(entry: str) -> str:
    """`pydantic_core-2.41.5.dist-info` → `pydantic-core`."""
    return re.sub(r"[-_.]+", "-", entry.rsplit(".", 1)[0].partition("-")[0]).lower()


def _version(function: str, names: tuple[str, ...]) -> int | None:
    """What a library says of its version; nothing where it is not found, as then it is not used either."""
    for name in names:
        with suppress(OSError, AttributeError):
            found: int = getattr(ctypes.CDLL(name), function)()
            return found
    return None
